package constraints

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints/internal/kit"
	"gearsearch/constraints/route"
	"gearsearch/drive"
)

var nan = math.NaN()

// The kits.
const (
	onBelts  = kit.Belts
	onChains = kit.Chains
	onGears  = kit.Gears
)

// unknownMotor takes a motor's resistance out of a kit, and its mass and its can,
// from which one could be told; the board weighs as much more. nothingKnown takes
// all limits of current out too.
var (
	unknownMotor = []string{"-motor.resistance_mohm", "-motor.mass_g", "-motor.can_diameter_mm", "board.mass_kg = 6.4"}
	nothingKnown = append([]string{"-motor.peak_current_a", "-controller.motor_current_a", "-controller.battery_current_a", "-cell.discharge_a"}, unknownMotor...)
)

// newKit makes a kit and changes it, as kit.Change says.
func newKit(drive string, changes ...string) *kit.Kit { return kit.New(drive, changes...) }

// source is a text as a file.
func source(name, text string) field.Source { return field.Source{Name: name, Data: []byte(text)} }

// read reads a kit's two files.
func read(t testing.TB, k *kit.Kit) (*catalog.Catalog, *Brief) {
	t.Helper()
	c, err := catalog.Read(k.Catalog())
	if err != nil {
		t.Fatalf("catalog: %v", err)
	}
	b, err := ReadBrief(k.Brief())
	if err != nil {
		t.Fatalf("brief: %v", err)
	}
	if b.Ride.Route != "" {
		b.Way = hillWay()
	}
	return c, b
}

// hillWay is the way of every kit whose brief names one: a flat start, up a hill, a stop,
// down again on gravel, steeper and steeper, and home.
func hillWay() *route.Route {
	way := &route.Route{Name: "hill.csv"}
	add := func(n int, rise, speed float64, surface string) {
		for range n {
			way.Legs = append(way.Legs, route.Leg{Length: route.Grid, Rise: rise, Speed: speed, Surface: surface})
		}
	}
	add(8, 0, math.NaN(), "")
	add(12, 2, 4, "")
	way.Legs[len(way.Legs)-1].Stop = true
	for i := range 12 {
		add(1, -0.5*float64(i+1), 5, "gravel")
	}
	add(40, 0.1, math.NaN(), "")
	return way
}

// problemOf is the problem of a kit.
func problemOf(t testing.TB, k *kit.Kit) *Problem {
	t.Helper()
	p, err := NewProblem(read(t, k))
	if err != nil {
		t.Fatalf("problem: %v", err)
	}
	return p
}

// problem is the problem of a changed kit.
func problem(t testing.TB, drive string, changes ...string) *Problem {
	t.Helper()
	return problemOf(t, newKit(drive, changes...))
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
