package constraints

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/constraints/internal/kit"
)

// mixed is a kit with two or more parts in each slot, belts and gears, and
// with data missing here and there.
func mixed(changes ...string) *kit.Kit {
	more := []string{
		`[[motor]]
id = "bare"
kv = 190
shaft_mm = 10
sensored = true
`, `[[motor]]
id = "short"
kv = 100
pole_pairs = 10
resistance_mohm = 90
peak_current_a = 60
continuous_current_a = 15
max_volts = 40
shaft_mm = 8
can_diameter_mm = 90
can_length_mm = 50
sensored = false
`, `[[controller]]
id = "bare-controller"
`, `[[controller]]
id = "duo"
erpm_ceiling = 40000
max_volts = 40
channels = 2
motor_current_a = 50
battery_current_a = 25
`, `[[battery]]
id = "small-pack"
series = 8
nominal_v = 28.8
full_v = 33.6
capacity_ah = 4
discharge_a = 30
`, `[[pulley]]
id = "gt"
side = "motor"
profile = "gt-5"
teeth = 14
`, `[[pulley]]
id = "ten"
side = "motor"
profile = "htd-5m"
teeth = 9
bore_mm = 10
`, `[[pulley]]
id = "gt-wheel"
side = "wheel"
profile = "gt-5"
teeth = 60
hub = "block"
`, `[[mount]]
id = "idler-mount"
centre_min_mm = 90
centre_max_mm = 100
idler = true
angle_deg = 40
`, `[[gear_drive]]
id = "hub-motor"
ratio = 1
in_wheel = true
fits_motors = ["short"]
fits_wheels = ["large-wheel"]
`, `[[gear_drive]]
id = "gear"
ratio = 2.5
bore_mm = 8
hub = ["spoke", "block"]
max_torque_nm = 3
outside_mm = 90
`, `[[wheel]]
id = "large-wheel"
diameter_mm = 150
hub = "block"
tyre = "pneumatic"
`,
	}
	return newKit(onBelts, append(append(more, "board.motors = [1, 2]", "board.hanger_mm = 120", "board.sensored = true", "target.top_speed_kmh = 25",
		"target.top_speed_max_kmh = 30", "target.climb_grade_pct = 12", "target.hill_torque_nm = 5", "target.stop_m = 40", "target.launch_speed_kmh = 15",
		"target.launch_s = 3", "target.range_km = 8", "target.cruise_kmh = 18", "limit.price = 900", "limit.mass_kg = 9", `ride.route = "hill.csv"`), changes...)...)
}

// rules are the rules for the electrical rpm, which change what the check of it
// reads.
var rules = []string{`limit.erpm_rule = "free-spin"`, `limit.erpm_rule = "at-speed"`, `limit.erpm_rule = "at-top"`}

// TestChecksReadOnlyTheirScope: a build that has only the choices in a check's
// scope, the others nil and the motor count out of range, comes out as the
// whole build does.
func TestChecksReadOnlyTheirScope(t *testing.T) {
	for _, rule := range rules {
		p := problemOf(t, mixed(rule))
		for _, c := range Registry() {
			if !slices.Contains(p.Checks(), c) {
				t.Errorf("%s does not apply to the mixed kit", c.Name)
			}
		}
		seen := map[string]map[Verdict]bool{}
		eachBuild(p, func(whole *Build) {
			for _, c := range p.Checks() {
				if !c.Lists(whole.Drive) {
					continue
				}
				want := c.Test(whole)
				if seen[c.Name] == nil {
					seen[c.Name] = map[Verdict]bool{}
				}
				seen[c.Name][want.Verdict] = true
				if scope := c.Scope(p); scope != OnAll {
					if got := c.Test(part(whole, scope)); got != want && !alike(got, want) {
						t.Fatalf("%s, %s: %+v, of its scope alone %+v", rule, c.Name, want, got)
					}
				}
			}
		})
		for _, c := range p.Checks() {
			if len(seen[c.Name]) < 2 {
				t.Errorf("%s, %s: only %v in the whole catalog: the test does not test", rule, c.Name, seen[c.Name])
			}
		}
	}
}

// part is a build with only the choices in a scope.
func part(whole *Build, scope Scope) *Build {
	b := &Build{Problem: whole.Problem, Count: math.MinInt}
	if scope&OnBattery != 0 {
		b.Battery = whole.Battery
	}
	if scope&OnController != 0 {
		b.Controller = whole.Controller
	}
	if scope&OnMotor != 0 {
		b.Motor = whole.Motor
	}
	if scope&OnCount != 0 {
		b.Count = whole.Count
	}
	if scope&OnDrive != 0 {
		b.Drive = whole.Drive
	}
	if scope&OnWheel != 0 {
		b.Wheel = whole.Wheel
	}
	return b
}

// alike reports whether two outcomes have the same bits, NaN being NaN.
func alike(a, b Outcome) bool {
	same := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return a.Verdict == b.Verdict && same(a.Value, b.Value) && same(a.Limit, b.Limit)
}

// TestScopesGrow: what a search tests once for few choices stands before what
// it tests for each build, so that the first failure is found early.
func TestScopesGrow(t *testing.T) {
	p := problemOf(t, mixed())
	hoisted := []Scope{OnMotor | OnCount | OnDrive, OnDrive | OnWheel, OnElectrical}
	whole := ""
	for _, c := range Registry() {
		scope := c.Scope(p)
		if scope == OnAll {
			whole = c.Name
			continue
		}
		if whole != "" {
			t.Errorf("%s reads a part of a build, and stands behind %s, which reads all", c.Name, whole)
		}
		fits := c.Adds != nil
		for _, group := range hoisted {
			fits = fits || scope&^group == 0
		}
		if !fits {
			t.Errorf("%s reads choices that no group of a search has together, and is no sum", c.Name)
		}
	}
	if whole == "" {
		t.Error("no check reads the whole build")
	}
}

// TestRegistry: the names of the checks in the order in which a rejected
// combination is counted, each complete.
func TestRegistry(t *testing.T) {
	want := []string{
		"bore", "sensor", "profile", "hub", "belt", "mesh", "clearance", "hanger", "voltage", "erpm", "can", "price", "mass", "top-speed",
		"top-speed-max", "climb", "heat", "belt-load", "gear-torque", "range", "hill-torque", "launch", "stop",
		"route", "route-heat", "route-brakes",
	}
	if d := cmp.Diff(want, CheckNames()); d != "" {
		t.Errorf("checks (-want +got):\n%s", d)
	}
	for _, c := range Registry() {
		if c.Meaning == "" || c.Scope == nil || c.Applies == nil || c.Lists == nil || (c.Corner == nil) == (c.Decide == nil) {
			t.Errorf("%s is incomplete", c.Name)
		}
		if (c.Unit == "") != (c.PerSI == 0) {
			t.Errorf("%s has a unit without a scale, or a scale without a unit", c.Name)
		}
	}
}

// TestDemotedAndStrict: a demoted check is listed with its verdict and never
// rejects; strict rejects what cannot be decided.
func TestDemotedAndStrict(t *testing.T) {
	for _, c := range []struct {
		name            string
		change          []string
		demoted         bool
		rejects, strict bool
		caution         string
	}{
		{name: "pass", change: nil},
		{name: "fail", change: []string{"motor.shaft_mm = 10"}, rejects: true, strict: true},
		{name: "unknown", change: []string{"-motor.shaft_mm"}, strict: true},
		{name: "demoted pass", change: []string{`limit.demote = ["bore"]`}, demoted: true},
		{
			name: "demoted fail", change: []string{`limit.demote = ["bore"]`, "motor.shaft_mm = 10"}, demoted: true,
			caution: "demoted-fails bore",
		},
		{
			name: "demoted unknown", change: []string{`limit.demote = ["bore"]`, "-motor.shaft_mm"}, demoted: true,
			caution: "demoted-undecided bore",
		},
		{name: "another demoted", change: []string{`limit.demote = ["hub"]`, "motor.shaft_mm = 10"}, rejects: true, strict: true},
	} {
		b := build(t, onBelts, c.change...)
		r, listed := result(b, "bore")
		if !listed || r.Demoted != c.demoted || r.Rejects(false) != c.rejects || r.Rejects(true) != c.strict {
			t.Errorf("%s: listed %v, demoted %v, rejects %v, strictly %v", c.name, listed, r.Demoted, r.Rejects(false), r.Rejects(true))
		}
		if got := cautioned(b, DemotedFails, DemotedUndecided); got != c.caution {
			t.Errorf("%s: caution %q, want %q", c.name, got, c.caution)
		}
	}
}
