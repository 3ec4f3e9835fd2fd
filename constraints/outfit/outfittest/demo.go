package outfittest

import (
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"

	"pgregory.net/rapid"
)

// accessories are parts of all sizes to go with the demo's builds, some with gaps.
const accessories = `
schema = 1
[[bms]]
id = "b"
series = [8, 10, 11, 12, 13, 14]
charge_a = 10
cell_full_v = 4.25
discharge_a = [30, 60, 60, 200, 60, 200]
price = [20, 22, 24, 26, 28, 30]
[[switch]]
id = "s"
max_volts = [45, 60]
continuous_a = [60, 60]
precharge = true
price = [20, 40]
[[switch]]
id = "bare"
max_volts = 80
continuous_a = 300
price = 15
[[fuse]]
id = "f"
rated_a = [20, 30, 40, 50, 60, 80, 100, 120, 150]
max_volts_dc = 80
breaking_a = 2000
[[connector]]
id = "c"
continuous_a = [30, 60, 90]
peak_a = [60, 120, 180]
max_volts = 100
wire_max_awg = [14, 10, 6]
price = [1, 2, 3]
[[wire]]
id = "w"
awg = [16, 14, 12, 10, 8, 6]
insulation_c = 200
max_volts = 600
price = [1, 1.5, 2, 3, 4, 5]
[[charger]]
id = "l"
full_v = [33.6, 42, 46.2, 50.4, 54.6, 58.8]
current_a = [2, 4, 4, 6, 4, 8]
[[remote]]
id = "r"
failsafe = true
price = 40
[[box]]
id = "x"
length_mm = [200, 300, 400]
width_mm = [120, 160, 180]
height_mm = [40, 60, 80]
price = [20, 30, 40]
`

// Demo returns the demo catalog, with accessories, under each of its briefs.
func Demo(t testing.TB) []*constraints.Problem {
	t.Helper()
	c, err := catalog.Read(append(catalog.DemoSources(), catalog.Source{Name: "accessories.toml", Data: []byte(accessories)})...)
	if err != nil {
		t.Fatal(err)
	}
	var problems []*constraints.Problem
	for _, src := range catalog.DemoBriefs() {
		b, err := constraints.ReadBrief(src)
		if err != nil {
			t.Fatal(err)
		}
		p, err := constraints.NewProblem(c, b)
		if err != nil {
			t.Fatal(err)
		}
		problems = append(problems, p)
	}
	return problems
}

// Draw draws a build of one of the problems, whether it passes their checks or
// not.
func Draw(t *rapid.T, problems []*constraints.Problem) *constraints.Build {
	p := rapid.SampledFrom(problems).Draw(t, "brief")
	b := &constraints.Build{Problem: p}
	b.Electrify(rapid.SampledFrom(p.Batteries).Draw(t, "battery"), rapid.SampledFrom(p.Controllers).Draw(t, "controller"),
		rapid.SampledFrom(p.Motors).Draw(t, "motor"), rapid.IntRange(0, len(p.Counts)-1).Draw(t, "count"))
	b.Roll(rapid.SampledFrom(p.Drives).Draw(t, "drive"), rapid.SampledFrom(p.Wheels).Draw(t, "wheel"))
	return b
}
