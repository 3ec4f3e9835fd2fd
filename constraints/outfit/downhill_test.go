package outfit

import (
	"math"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive"

	"pgregory.net/rapid"
)

// By hand, for the kit at 12 km/h: a full pack takes nothing; the motors' 1 A at
// no load holds 2 × 0.0636620 × 3/0.05/0.96 = 7.958 N, the air 3.743 N, of 833.565 N
// of weight, and rolling 0.018 of it: sin θ − 0.018 cos θ = 0.014037, 3.2044 %. At
// 0.9 the volts would allow (42 − 40.8) V / 0.1 Ω = 12 A, the cells 2 × 4 A.
func TestDownhillByHand(t *testing.T) {
	d := outfitOf(t).Downhill
	near(t, "speed", d.Speed, 12/3.6, 1e-12)
	full, most, half := d.Slopes[0], d.Slopes[1], d.Slopes[2]
	near(t, "full", full.Grade, 0.032044, 1e-4)
	near(t, "current at 0.9", most.Intake.Current, 8, 1e-12)
	near(t, "volts at 0.9", most.Intake.OpenCircuit, 40.8, 1e-12)
	near(t, "pack current at 0.9", most.PackCurrent, 8, 1e-9)
	near(t, "volts at half", half.Intake.OpenCircuit, 36, 1e-12)
	if full.By != drive.BatteryCurrent || !full.Intake.Full || most.Intake.Full {
		t.Errorf("limits %+v, %+v", full, most)
	}
	near(t, "setting for braking: 8 A for two motors", d.Regen, 4, 1e-12)
	// μ 0.8 on 0.6 of the weight: 400.1 N and rolling 15.0 N; 0.3369 v² of air.
	v, _ := outfitOf(t).Build.TopSpeed()
	near(t, "from the top speed", d.From, v, 0)
	metres := 85 / (2 * 0.336875) * math.Log(1+0.336875*v*v/(0.48*833.565+0.018*833.565))
	near(t, "stop at the grip limit", d.StopGrip, metres, 1e-5)
	near(t, "the motors brake harder than the tyres grip", d.StopCurrent, metres, 1e-5)
	// 20 A: 2 × 0.0636620 × 60/0.96 × 21 A = 167.1 N.
	d = outfitOf(t, "controller.motor_current_a = 20").Downhill
	near(t, "stop at 20 A", d.StopCurrent, 85/(2*0.336875)*math.Log(1+0.336875*d.From*d.From/(167.113+0.018*833.565)), 1e-5)
	// 150000 rpm of 7 pole pairs: 2244.0 rad/s, ÷ 60/m.
	near(t, "speed of the ceiling", d.CeilingSpeed, 150000.0/7*2*math.Pi/60/60, 1e-9)
	near(t, "speed of the back-EMF", d.BackEMFSpeed, 150*42*2*math.Pi/60/60, 1e-9)
}

func TestDownhillUnknown(t *testing.T) {
	for _, tt := range []struct {
		why    string
		change []string
		open   [3]string // full, nine tenths, half; "": known
	}{
		{"all known", nil, [3]string{}},
		{"charge limit", []string{"-cell.charge_a"}, [3]string{"", "the pack's charge_a is not known", "the pack's charge_a is not known"}},
		{"pack resistance", []string{"-cell.resistance_mohm"}, [3]string{"", "the pack's resistance is not known", "the pack's resistance is not known"}},
		{"motor resistance", []string{"-motor.resistance_mohm"}, [3]string{"the motors' resistance is not known", "the motors' resistance is not known", "the motors' resistance is not known"}},
	} {
		d := outfitOf(t, tt.change...).Downhill
		for i, s := range d.Slopes {
			if s.Open != tt.open[i] || (s.Open != "") != math.IsNaN(s.Grade) {
				t.Errorf("%s, charge %g: %q and %g, want %q", tt.why, s.Charge, s.Open, s.Grade, tt.open[i])
			}
		}
	}
	d := outfitOf(t, "-controller.motor_current_a", "-motor.peak_current_a", "-controller.erpm_ceiling").Downhill
	near(t, "stop without a current limit", d.StopCurrent, nan, 0)
	near(t, "no ceiling", d.CeilingSpeed, nan, 0)
	near(t, "setting", outfitOf(t, "-cell.charge_a").Downhill.Regen, nan, 0)
}

func TestSlopeWords(t *testing.T) {
	slope := func(charge, grade float64, by drive.Limit, in drive.Intake, open string) Slope {
		return Slope{Charge: charge, Intake: in, Descent: drive.Descent{Grade: grade, Braking: drive.Braking{By: by}}, Open: open}
	}
	for _, tt := range []struct {
		slope Slope
		want  string
	}{
		{slope(1, 0.0329, drive.BatteryCurrent, drive.Intake{Full: true}, ""), "3.29 % with a full pack (the pack takes no current)"},
		{slope(1, 0.0002, drive.BatteryCurrent, drive.Intake{Full: true}, ""), "none with a full pack (the pack takes no current)"},
		{slope(0.9, 0.1239, drive.BatteryCurrent, drive.Intake{Current: 6, Full: true}, ""), "12.3 % at 90 % charge (at 6 A its volts are those of the full pack)"},
		{slope(0.5, 0.1239, drive.BatteryCurrent, drive.Intake{Current: 6}, ""), "12.3 % at 50 % charge (the cells may be charged with 6 A)"},
		{slope(0.5, 0.3, drive.Grip, drive.Intake{Current: 60}, ""), "30 % at 50 % charge (the driven wheels grip no more)"},
		{slope(0.5, 0.3, drive.MotorCurrent, drive.Intake{Current: 60}, ""), "30 % at 50 % charge (the motors give no more)"},
		{slope(0.5, math.Inf(1), drive.MotorCurrent, drive.Intake{Current: 60}, ""), "any at 50 % charge (the motors give no more)"},
		{slope(0.5, nan, drive.NoLimit, drive.Intake{}, "this is missing"), "unknown at 50 % charge (this is missing)"},
	} {
		if got := tt.slope.Words(); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestCautions(t *testing.T) {
	for _, tt := range []struct {
		why    string
		change []string
		want   string
		not    bool
	}{
		{"a full pack", nil, "a full pack cannot brake downhill", false},
		{"two brakes", nil, "two brakes that do not depend on each other", false},
		{"the setting for braking", nil, "charge the pack to at most 4 A", false},
		{"charge limit not known", []string{"-cell.charge_a"}, "charge the pack to at most", true},
		{"building a pack", nil, "trained hands", false},
		{"a pack that is not built of cells", []string{"-battery", "[[battery]]\nid = \"battery\"\nseries = 10\nnominal_v = 36\nfull_v = 42\nprice = 300"}, "trained hands", true},
		{"the back-EMF comes before the ceiling", nil, "above 39.6 km/h downhill the motors charge even a full pack", false},
		{"the ceiling comes first: 40000 rpm", []string{"controller.erpm_ceiling = 40000"}, "above 35.9 km/h, downhill too, the electrical rpm passes the controllers' ceiling", false},
		{"no ceiling", []string{"-controller.erpm_ceiling"}, "motors charge even a full pack", false},
		{"a small pulley", nil, "bends the htd-5m belt", false},
		{"common divisors", nil, "share the divisor 15", false},
		{"no common divisor", []string{"small.teeth = 16", "-belt"}, "share the divisor", true},
		{"the fuse's place", nil, "positive pole", false},
		{"charging", nil, "charge under your eyes", false},
	} {
		all := strings.Join(outfitOf(t, tt.change...).Cautions(), "\n")
		if strings.Contains(all, tt.want) == tt.not {
			t.Errorf("%s: %q is there: %v, in\n%s", tt.why, tt.want, tt.not, all)
		}
	}
	// A failed check that is no caution is not said twice.
	if all := strings.Join(outfitOf(t).Cautions(), "\n"); strings.Contains(all, "weakest part") {
		t.Errorf("the key's check is among the cautions:\n%s", all)
	}
}

func TestFacts(t *testing.T) {
	o := outfitOf(t)
	seen := map[string]Fact{}
	for _, f := range o.Facts() {
		if f.Name == "" || f.Unit == "" || f.Meaning == "" || f.Words == "" || f.Source == "" || seen[f.Name].Name != "" {
			t.Errorf("fact %+v", f)
		}
		seen[f.Name] = f
	}
	for name, want := range map[string]float64{
		"pack_peak_a": 60, "pack_steady_a": 16.852, "descent_full_pct": 3.2044, "regen_setting_a": 4,
		"stop_grip_m": o.Downhill.StopGrip, "ceiling_speed_kmh": 134.64, "back_emf_speed_kmh": 39.584,
	} {
		near(t, name, seen[name].Value, want, 1e-4)
	}
}

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

// Of all builds of the demo under all its briefs: nothing is said that is not
// English, every state is consistent, and the sums are of the lines.
func TestDemoOutfits(t *testing.T) {
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
	states := map[State]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(problems).Draw(t, "brief")
		b := &constraints.Build{Problem: p}
		b.Electrify(rapid.SampledFrom(p.Batteries).Draw(t, "battery"), rapid.SampledFrom(p.Controllers).Draw(t, "controller"),
			rapid.SampledFrom(p.Motors).Draw(t, "motor"), rapid.IntRange(0, len(p.Counts)-1).Draw(t, "count"))
		b.Roll(rapid.SampledFrom(p.Drives).Draw(t, "drive"), rapid.SampledFrom(p.Wheels).Draw(t, "wheel"))
		o := Complete(b, DefaultWishes())
		text := script(o)
		for _, bad := range []string{"NaN", "Inf", "%!", "e+", "(MISSING)", "unlimited A", "  A", " s "} {
			if strings.Contains(text, bad) {
				t.Fatalf("%q is said:\n%s", bad, text)
			}
		}
		sum := 0.0
		for _, l := range o.Lines {
			if !math.IsNaN(l.Total) {
				sum += l.Total
			}
		}
		for _, n := range o.Needs {
			states[n.State]++
			if price := n.Price(); !math.IsNaN(price) {
				sum += price
			}
			if (n.State == Chosen) != (n.Part != nil) {
				t.Fatalf("%s: %v with part %v", n.Words, n.State, n.Part)
			}
			if (n.State == Open) != (n.Part == nil && n.open() != "") && n.Kind != "" {
				t.Fatalf("%s: %v, open %q", n.Words, n.State, n.open())
			}
		}
		if math.Abs(sum-o.Total.Known) > 1e-9*sum {
			t.Fatalf("total %g of lines that cost %g", o.Total.Known, sum)
		}
		for i := 1; i < len(o.Downhill.Slopes); i++ {
			if full, less := o.Downhill.Slopes[0].Grade, o.Downhill.Slopes[i].Grade; less < full {
				t.Fatalf("a pack with room holds %g, a full one %g", less, full)
			}
		}
	})
	for _, s := range []State{Chosen, Misfit, Open} {
		if states[s] == 0 && !testing.Short() {
			t.Errorf("no need was %v: %v", s, states)
		}
	}
}
