package constraints

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/drive"
)

var nan = math.NaN()

// kit is the text of a catalog with one part in each slot, and of a brief:
// one build. Its round numbers make the figures easy to work out by hand.
type kit struct {
	parts, brief []*table
	extra        []string // more of the catalog
}

// table is one table of TOML. A part's table is named after its id.
type table struct {
	name, header string
	keys         []string
	values       map[string]string
}

// common are the parts that belt and gear builds share. The controller is
// six-step and the windings are at 20 °C, so that amperes and ohms are those
// written here.
const common = `
motor: [[motor]] kv=150 pole_pairs=7 resistance_mohm=50 no_load_current_a=1 peak_current_a=80 continuous_current_a=40 max_volts=60 shaft_mm=8 shaft_key="keyway" can_diameter_mm=63 can_length_mm=70 price=90 mass_g=700
controller: [[controller]] erpm_ceiling=150000 max_volts=60 motor_current_a=70 battery_current_a=30 continuous_current_a=50 channels=1 max_duty=0.95 efficiency=0.97 commutation="six-step" price=80 mass_g=100
cell: [[cell]] nominal_v=3.6 full_v=4.2 cutoff_v=3 capacity_ah=5 resistance_mohm=20 discharge_a=20 price=5 mass_g=50
battery: [[battery]] series=10 parallel=2 cell="cell"
wheel: [[wheel]] diameter_mm=100 hub="spoke" tyre="urethane" price=60 mass_g=250
`

const beltParts = common + `
small: [[pulley]] side="motor" profile="htd-5m" teeth=15 width_mm=15 bore_mm=8 shaft_key="keyway" price=12 mass_g=30
large: [[pulley]] side="wheel" profile="htd-5m" teeth=45 width_mm=15 hub="spoke" price=20 mass_g=90
belt: [[belt]] profile="htd-5m" teeth=70 width_mm=15 price=9 mass_g=15
mount: [[mount]] centre_min_mm=60 centre_max_mm=120 angle_deg=0 price=30 mass_g=120
`

const gearParts = common + `
gear: [[gear_drive]] ratio=3 efficiency=0.97 bore_mm=8 shaft_key="keyway" hub="spoke" max_torque_nm=40 outside_mm=76 angle_deg=0 price=150 mass_g=500
`

// The two kits.
const (
	onBelts = "belts"
	onGears = "gears"
)

// unknownMotor takes a motor's resistance out of a kit, and its mass and its can,
// from which one could be told; the board weighs as much more. nothingKnown takes
// all limits of current out too.
var (
	unknownMotor = []string{"-motor.resistance_mohm", "-motor.mass_g", "-motor.can_diameter_mm", "board.mass_kg = 6.4"}
	nothingKnown = append([]string{"-motor.peak_current_a", "-controller.motor_current_a", "-controller.battery_current_a", "-cell.discharge_a"}, unknownMotor...)
)

// newKit makes a kit and changes it. A change is "part.key = value" or
// "section.key = value" to set a key, "-part.key" to take it out, "-part" to
// take out a part, and "[[kind]] …" for more of the catalog, line breaks and
// all.
func newKit(drive string, changes ...string) *kit {
	text := beltParts
	if drive == onGears {
		text = gearParts
	}
	k := &kit{}
	for line := range strings.Lines(strings.TrimSpace(text)) {
		name, rest, ok := strings.Cut(strings.TrimSpace(line), ": ")
		if !ok {
			continue
		}
		words := strings.Fields(rest)
		t := &table{name: name, header: words[0], values: map[string]string{}}
		t.set("id", fmt.Sprintf("%q", name))
		for _, word := range words[1:] {
			key, value, _ := strings.Cut(word, "=")
			t.set(key, value)
		}
		k.parts = append(k.parts, t)
	}
	for _, name := range sectionNames() {
		k.brief = append(k.brief, &table{name: name, header: "[" + name + "]", values: map[string]string{}})
	}
	k.change("limit.winding_c = 20")
	k.change(changes...)
	return k
}

func (t *table) set(key, value string) {
	if _, ok := t.values[key]; !ok {
		t.keys = append(t.keys, key)
	}
	t.values[key] = value
}

func (t *table) unset(key string) {
	if _, ok := t.values[key]; !ok {
		panic("no such key of a kit: " + t.name + "." + key)
	}
	t.keys = slices.DeleteFunc(t.keys, func(s string) bool { return s == key })
	delete(t.values, key)
}

// change makes changes as newKit takes them.
func (k *kit) change(changes ...string) {
	for _, c := range changes {
		if strings.HasPrefix(c, "[[") {
			k.extra = append(k.extra, c)
			continue
		}
		what, value, set := strings.Cut(c, " = ")
		what, out := strings.CutPrefix(what, "-")
		name, key, _ := strings.Cut(what, ".")
		i := slices.IndexFunc(k.parts, func(t *table) bool { return t.name == name })
		j := slices.IndexFunc(k.brief, func(t *table) bool { return t.name == name })
		switch {
		case i < 0 && j < 0 || set == out:
			panic("no such change of a kit: " + c)
		case out && key == "":
			k.parts = slices.Delete(k.parts, i, i+1)
		case out && i >= 0:
			k.parts[i].unset(key)
		case out:
			k.brief[j].unset(key)
		case i >= 0:
			k.parts[i].set(key, value)
		default:
			k.brief[j].set(key, value)
		}
	}
}

func text(tables []*table) string {
	s := "schema = 1\n"
	for _, t := range tables {
		s += "\n" + t.header + "\n"
		for _, key := range t.keys {
			s += key + " = " + t.values[key] + "\n"
		}
	}
	return s
}

func (k *kit) catalogText() string { return text(k.parts) + "\n" + strings.Join(k.extra, "\n") + "\n" }

func (k *kit) briefText() string { return text(k.brief) }

// source is a text as a file.
func source(name, text string) field.Source { return field.Source{Name: name, Data: []byte(text)} }

// read reads the kit's two files.
func (k *kit) read(t testing.TB) (*catalog.Catalog, *Brief) {
	t.Helper()
	c, err := catalog.Read(source("catalog.toml", k.catalogText()))
	if err != nil {
		t.Fatalf("catalog: %v", err)
	}
	b, err := ReadBrief(source("brief.toml", k.briefText()))
	if err != nil {
		t.Fatalf("brief: %v", err)
	}
	return c, b
}

func (k *kit) problem(t testing.TB) *Problem {
	t.Helper()
	p, err := NewProblem(k.read(t))
	if err != nil {
		t.Fatalf("problem: %v", err)
	}
	return p
}

// problem is the problem of a changed kit.
func problem(t testing.TB, drive string, changes ...string) *Problem {
	t.Helper()
	return newKit(drive, changes...).problem(t)
}

// build is the first build of a changed kit, its only one unless the changes
// add parts.
func build(t testing.TB, drive string, changes ...string) *Build {
	t.Helper()
	return first(problem(t, drive, changes...))
}

// first is a problem's first build.
func first(p *Problem) *Build {
	b := &Build{Problem: p}
	b.Electrify(p.Batteries[0], p.Controllers[0], p.Motors[0], 0)
	b.Roll(p.Drives[0], p.Wheels[0])
	return b
}

// eachBuild yields every build of a problem.
func eachBuild(p *Problem, visit func(b *Build)) {
	for _, battery := range p.Batteries {
		for _, controller := range p.Controllers {
			for _, motor := range p.Motors {
				for count := range p.Counts {
					for _, d := range p.Drives {
						for _, w := range p.Wheels {
							b := &Build{Problem: p}
							b.Electrify(battery, controller, motor, count)
							b.Roll(d, w)
							visit(b)
						}
					}
				}
			}
		}
	}
}

// near reports whether two numbers agree to a relative error, and numbers next
// to 0 to a thousandth of it; NaN agrees with NaN.
func near(got, want, tolerance float64) bool {
	if math.IsNaN(want) || math.IsNaN(got) {
		return math.IsNaN(want) && math.IsNaN(got)
	}
	return math.Abs(got-want) <= tolerance*math.Max(math.Abs(want), 1e-3)
}

// checkCase is a build and what one check says of it.
type checkCase struct {
	name   string
	why    string
	drive  string   // the kit; "": belts
	change []string // of the kit
	// want is the verdict, "absent" where the check is not listed.
	want string
	// value and limit in the check's unit, to 1e-6; NaN: null.
	value, limit float64
	// margin in percent, to 1e-6; NaN: null.
	margin float64
}

// testCheck runs the cases of one check.
func testCheck(t *testing.T, name string, cases []checkCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if c.drive == "" {
				c.drive = onBelts
			}
			r, listed := result(build(t, c.drive, c.change...), name)
			if c.want == "absent" {
				if listed {
					t.Fatalf("%s is listed, should not be: %s", name, c.why)
				}
				return
			}
			if !listed {
				t.Fatalf("%s is not listed, should be: %s", name, c.why)
			}
			if got := r.Verdict.String(); got != c.want {
				t.Errorf("%s, want %s: %s (value %v, limit %v)", got, c.want, c.why, r.Value*r.PerSI, r.Limit*r.PerSI)
			}
			if got := r.Value * r.PerSI; !near(got, c.value, 1e-6) {
				t.Errorf("value %v, want %v: %s", got, c.value, c.why)
			}
			if got := r.Limit * r.PerSI; !near(got, c.limit, 1e-6) {
				t.Errorf("limit %v, want %v: %s", got, c.limit, c.why)
			}
			if got := r.MarginPct(r.Outcome); !near(got, c.margin, 1e-6) {
				t.Errorf("margin %v, want %v: %s", got, c.margin, c.why)
			}
		})
	}
}

// yesNoCase is a checkCase of a check without a value.
func yesNoCase(name, why, drive, want string, change ...string) checkCase {
	return checkCase{name: name, why: why, drive: drive, want: want, change: change, value: nan, limit: nan, margin: nan}
}

// result finds the result of a check among those of a build.
func result(b *Build, name string) (r Result, listed bool) {
	for _, r := range b.Results() {
		if r.Name == name {
			return r, true
		}
	}
	return Result{}, false
}

// testBoundary holds a check's verdict around its limit: a value within 1e-9
// of it is equal to it and passes, on whichever side; one beyond does not
// pass. changed makes the kit in which value over limit is a ratio.
func testBoundary(t *testing.T, name, kitName string, lower bool, changed func(ratio float64) []string) {
	t.Helper()
	const within, beyond = 0.9 * drive.Tolerance, 1.1 * drive.Tolerance
	side := 1.0
	if lower {
		side = -1
	}
	for _, c := range []struct {
		off  float64 // of the value from the limit, on the side that fails
		want Verdict
	}{{-1e-3, Pass}, {-beyond, Pass}, {-within, Pass}, {0, Pass}, {within, Pass}, {beyond, Fail}, {1e-3, Fail}} {
		r, listed := result(build(t, kitName, changed(1+side*c.off)...), name)
		if !listed {
			t.Fatalf("%s is not listed", name)
		}
		if ratio := r.Value / r.Limit; math.Abs(ratio-1-side*c.off) > 1e-12 {
			t.Fatalf("%s: value over limit is 1%+.3e, the test means 1%+.3e", name, ratio-1, side*c.off)
		}
		if r.Verdict != c.want {
			t.Errorf("%s: value over limit 1%+.1e: %v, want %v", name, side*c.off, r.Verdict, c.want)
		}
	}
}

// exact writes a number so that it reads back the same.
func exact(x float64) string { return fmt.Sprintf("%.17g", x) }

// at is a change that sets a key to a number.
func at(key string, x float64) string {
	s := exact(x)
	if !strings.ContainsAny(s, ".e") {
		s += ".0"
	}
	return key + " = " + s
}
