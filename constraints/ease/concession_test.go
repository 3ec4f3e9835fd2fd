package ease

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
)

// top is the top speed of the kit on belts, km/h: the balance of thrust and load,
// as the check of the top speed has it.
const top = 30.784987517066714

// full is that with a full pack, likewise.
const full = 35.88875468886191

// near reports whether two numbers agree to a relative error; NaN agrees with NaN.
func near(got, want, tolerance float64) bool {
	if math.IsNaN(want) || math.IsNaN(got) {
		return math.IsNaN(want) && math.IsNaN(got)
	}
	return math.Abs(got-want) <= tolerance*math.Abs(want)
}

// conceded is the concession of a key, which must be there.
func conceded(t *testing.T, p *constraints.Problem, key string) *Concession {
	t.Helper()
	list := Concessions(p)
	i := slices.IndexFunc(list, func(c Concession) bool { return c.Key == key })
	if i < 0 {
		t.Fatalf("%s is no concession", key)
	}
	return &list[i]
}

// anywhere is no bound on how far a concession goes.
func anywhere(c *Concession) float64 { return math.Inf(c.Eases) }

// TestConcessions: what a brief may give way on is what it asks, in order.
func TestConcessions(t *testing.T) {
	asked := []string{
		"limit.price = 600", "limit.mass_kg = 9", "target.top_speed_kmh = 30", "target.top_speed_max_kmh = 40",
		"target.climb_grade_pct = 15", "target.stop_m = 40", "target.hill_torque_nm = 10", "target.launch_speed_kmh = 20", "target.launch_s = 2",
		"target.range_km = 20", "board.hanger_mm = 150", "limit.erpm_ceiling = 50000",
	}
	all := []string{
		"board.hanger_mm", "target.top_speed_kmh", "target.top_speed_max_kmh", "target.climb_grade_pct", "target.climb_speed_kmh",
		"target.stop_m", "target.stop_from_kmh", "target.hill_torque_nm", "target.launch_speed_kmh", "target.launch_s", "target.range_km", "target.cruise_kmh",
		"limit.erpm_ceiling", "limit.erpm_headroom_pct", "limit.price", "limit.mass_kg",
		"limit.mesh_teeth", "limit.ground_clearance_mm", "limit.heat_factor",
	}
	without := func(keys ...string) []string {
		return slices.DeleteFunc(slices.Clone(all), func(key string) bool { return slices.Contains(keys, key) })
	}
	for _, c := range []struct {
		why    string
		drive  string
		change []string
		want   []string
	}{
		{"everything asked", kittest.Belts, asked, all},
		{"nothing asked: what has a default, and concerns a check that applies", kittest.Belts, nil, []string{"limit.erpm_headroom_pct", "limit.mesh_teeth", "limit.ground_clearance_mm"}},
		{
			"what is demoted rejects nothing, nor does what only it needs", kittest.Belts,
			append(slices.Clone(asked), `limit.demote = ["price", "range"]`), without("limit.price", "target.range_km", "target.cruise_kmh"),
		},
		{
			"one of the checks of a key still rejects", kittest.Belts,
			append(slices.Clone(asked), `limit.demote = ["climb"]`), all,
		},
		{
			"a ceiling that only the controller has is not the brief's to ease", kittest.Belts,
			slices.DeleteFunc(slices.Clone(asked), func(s string) bool { return s == "limit.erpm_ceiling = 50000" }), without("limit.erpm_ceiling"),
		},
	} {
		var got []string
		for _, c := range Concessions(kittest.Problem(t, c.drive, c.change...)) {
			got = append(got, c.Key)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, diff)
		}
	}
}

// reachCase is one build and how far one key must go for it.
type reachCase struct {
	key    string // in the key's own unit
	drive  string // the kit; "": belts
	change []string
	want   float64 // NaN: there is none
	why    string
}

// The weight on belts is 89.23 g = 875.0474 N, the drag at 12 km/h 3.743056 N,
// Crr 0.018: a force F holds tan(asin((F − 3.743056)/(875.0474 √(1 + 0.018²))) −
// atan 0.018). What the checks find stands with their own tests.
func reachCases() []reachCase {
	climb := func(pct string, more ...string) []string {
		return append([]string{"target.climb_grade_pct = " + pct}, more...)
	}
	atSpeed := []string{`limit.erpm_rule = "at-speed"`, "target.top_speed_kmh = 30", "limit.erpm_ceiling = 30000"}
	return []reachCase{
		{"board.hanger_mm", "", []string{"board.hanger_mm = 130"}, 140, "2 × 70"},
		{"board.hanger_mm", "", []string{"board.hanger_mm = 150"}, 150, "passes already: the brief's own"},
		{"board.hanger_mm", "", []string{"board.hanger_mm = 130", "-motor.can_length_mm"}, 130, "not known, which rejects only where it must be known"},
		{"target.top_speed_kmh", "", []string{"target.top_speed_kmh = 35"}, top, "30.78"},
		{"target.top_speed_kmh", "", []string{"target.top_speed_kmh = 30", "ground.rolling_resistance = 0.9"}, math.NaN(), "it does not move: no target is as low"},
		{"target.top_speed_kmh", "", atSpeed, 30000 * 0.95 / 33_422.538049298026 * 30, "at the ceiling: 28 500 of 33 423 rpm at 30 km/h"},
		{"target.top_speed_max_kmh", "", []string{"target.top_speed_max_kmh = 25"}, full, "35.89"},
		{"target.climb_grade_pct", "", climb("40", "motor.continuous_current_a = 50"), 33.920959642011354, "299.752082 N of thrust"},
		{"target.climb_grade_pct", "", climb("15", "controller.continuous_current_a = 20"), 13.844132314686236, "(20 − 1) A × k × 2 × 3 × 0.96 / 0.05 m = 139.343336 N"},
		{"target.climb_grade_pct", "", climb("40", "controller.continuous_current_a = 20"), 13.844132314686236, "the climb would be passed at 33.9, the heat is the further"},
		{"target.climb_grade_pct", "", climb("15", "small.teeth = 9", "belt.width_mm = 9", "limit.mesh_teeth = 3"), 7.911994331754187, "64.332 N × 9 × 5 mm/2π × 2 × 5 × 0.96 / 0.05 m = 88.462850 N"},
		{"target.climb_grade_pct", kittest.Gears, climb("15", "gear.max_torque_nm = 3"), 11.500319325553003, "3 N·m × 2 / 0.05 m = 120 N at 89.72 kg"},
		{"target.climb_grade_pct", "", climb("15", "ground.rolling_resistance = 0.9"), math.NaN(), "not even the flat"},
		{"target.hill_torque_nm", "", []string{"target.hill_torque_nm = 15"}, 299.75208228136574 * 0.05, "299.752082 N on 50 mm"},
		{"target.launch_s", "", []string{"target.launch_speed_kmh = 20", "target.launch_s = 1.5"}, 1.7444407775150634, "1.74 s"},
		{"target.launch_s", "", []string{"target.launch_speed_kmh = 35", "target.launch_s = 1.5"}, math.NaN(), "never"},
		{"target.range_km", "", []string{"target.range_km = 25"}, 22.249653630303264, "22.25 km"},
		{"target.cruise_kmh", "", []string{"target.range_km = 15", "motor.resistance_mohm = 600", "ground.rolling_resistance = 0.04"}, math.NaN(), "farther than it goes at any speed"},
		{"limit.erpm_ceiling", "", []string{"limit.erpm_ceiling = 45000"}, 44_100 / 0.95, "44 100 rpm and 5 % above"},
		{"limit.erpm_ceiling", "", []string{"limit.erpm_ceiling = 45000", "controller.erpm_ceiling = 45000"}, math.NaN(), "the controller's stays"},
		{"limit.erpm_ceiling", "", []string{"limit.erpm_ceiling = 30000", "limit.erpm_headroom_pct = 0", `limit.erpm_rule = "at-speed"`, "target.top_speed_kmh = 30"}, 33_422.538049298026, "what 30 km/h take; the ceiling holds the top speed, too"},
		{"limit.erpm_headroom_pct", "", []string{"limit.erpm_ceiling = 45000"}, 2, "1 − 44 100/45 000"},
		{"limit.erpm_headroom_pct", "", []string{"limit.erpm_ceiling = 44000"}, math.NaN(), "beyond the ceiling itself"},
		{"limit.price", "", []string{"limit.price = 600"}, 642, "its price"},
		{"limit.mass_kg", "", []string{"limit.mass_kg = 9"}, 9.23, "its mass"},
		{"limit.mesh_teeth", "", []string{"small.teeth = 12"}, 4, "whole teeth of 4.99"},
		{"limit.ground_clearance_mm", "", []string{"limit.ground_clearance_mm = 15"}, 12.761637804, "50 − 35.24 − 2"},
		{"limit.ground_clearance_mm", "", []string{"wheel.diameter_mm = 60"}, math.NaN(), "below the ground: no limit is as low"},
		{"limit.heat_factor", "", climb("15", "limit.heat_factor = 0.5"), 21.33370907543435 / 40, "21.3 of 40 A"},
	}
}

// TestReachByHand: the value nearest to the brief's at which the build passes,
// worked out by hand.
func TestReachByHand(t *testing.T) {
	for _, c := range reachCases() {
		if c.drive == "" {
			c.drive = kittest.Belts
		}
		b := kittest.Build(t, c.drive, c.change...)
		k := conceded(t, b.Problem, c.key)
		got, ok := k.Reach(b, anywhere(k), false)
		if !ok {
			got = math.NaN()
		}
		if got *= k.PerSI; !near(got, c.want, 1e-6) {
			t.Errorf("%s: %v, want %v: %s", c.key, got, c.want, c.why)
		}
	}
}

// TestReachOfSpeeds: at the speed that is found the check passes, in a problem
// made anew, and a millionth nearer to the brief's it does not.
func TestReachOfSpeeds(t *testing.T) {
	for _, c := range []struct {
		key    string
		check  string
		change []string
	}{
		{"target.climb_speed_kmh", "climb", []string{"target.climb_grade_pct = 30", "target.climb_speed_kmh = 25"}},
		{"target.climb_speed_kmh", "hill-torque", []string{"target.hill_torque_nm = 14", "target.climb_speed_kmh = 28"}},
		{"target.launch_speed_kmh", "launch", []string{"target.launch_speed_kmh = 25", "target.launch_s = 1.5"}},
		{"target.cruise_kmh", "range", []string{"target.range_km = 25"}},
		{"target.cruise_kmh", "range", []string{"target.range_km = 15", "target.cruise_kmh = 40"}},
		// Thin copper is worst at a stroll: farthest at about 13 km/h, some 14.9 km.
		{"target.cruise_kmh", "range", []string{"target.range_km = 14.9", "motor.resistance_mohm = 600", "ground.rolling_resistance = 0.04"}},
	} {
		b := kittest.Build(t, kittest.Belts, c.change...)
		k := conceded(t, b.Problem, c.key)
		v, ok := k.Reach(b, anywhere(k), false)
		if !ok {
			t.Errorf("%s is not reached", c.key)
			continue
		}
		for off, want := range map[float64]constraints.Verdict{0: constraints.Pass, 1e-6: constraints.Fail} {
			change := append(slices.Clone(c.change), fmt.Sprintf("%s = %.17g", c.key, v*k.PerSI*(1+off)))
			results := kittest.Build(t, kittest.Belts, change...).Results()
			i := slices.IndexFunc(results, func(r constraints.Result) bool { return r.Name == c.check })
			if got := results[i].Verdict; got != want {
				t.Errorf("%s of %v, %+.0e: %s says %v, want %v", c.key, v*k.PerSI, off, c.check, got, want)
			}
		}
	}
}

// TestReachWithin: no further than asked, nor beyond what a brief may have.
func TestReachWithin(t *testing.T) {
	b := kittest.Build(t, kittest.Belts, "limit.price = 600")
	k := conceded(t, b.Problem, "limit.price")
	for within, want := range map[float64]bool{641: false, 642: true, 700: true, 500: false} {
		if x, ok := k.Reach(b, within, false); ok != want || ok && x != 642 {
			t.Errorf("within %v: %v %v, want %v", within, x, ok, want)
		}
	}
	if x, ok := k.Reach(b, anywhere(k), false, "price"); !ok || x != 600 {
		t.Errorf("leaving the price to others: %v %v, want the brief's own", x, ok)
	}
	// A missing price rejects a strict question, and no limit helps.
	b = kittest.Build(t, kittest.Belts, "limit.price = 600", "-motor.price")
	k = conceded(t, b.Problem, "limit.price")
	for strict, want := range map[bool]bool{false: true, true: false} {
		if x, ok := k.Reach(b, anywhere(k), strict); ok != want {
			t.Errorf("a price missing, strict %v: %v %v, want %v", strict, x, ok, want)
		}
	}
}

// TestShown: rounded to what asks for less.
func TestShown(t *testing.T) {
	for _, c := range []struct {
		eases  int
		per    float64
		value  float64
		digits int
		want   float64
		why    string
	}{
		{+1, 1, 641.2, 3, 642, "a higher price opens, a lower one does not"},
		{+1, 1, 641.2, 4, 641.2, "exact already"},
		{-1, 1, 29.88, 3, 29.8, "a lower speed"},
		{-1, 3.6, 8.5, 2, 30, "30.6 km/h, in the key's unit"},
		{+1, 1000, 0.1234, 2, 130, "millimetres"},
		{+1, 1, 46421.05, 3, 46500, "digits before the point"},
		{-1, 1, 46421.05, 3, 46400, "down"},
		{-1, 1, 0.009876, 2, 0.0098, "digits far behind it"},
		{+1, 1, 0.009876, 2, 0.0099, "up"},
		{+1, 1, 4.0000000001, 2, 4, "a hair off is whole"},
		{-1, 1, 3.9999999999, 2, 4, "on the other side, too"},
		{-1, 1, 0, 3, 0, "nothing"},
		{-1, 1, -1.25, 2, -1.3, "below 0, down is away from 0"},
	} {
		k := Concession{Eases: c.eases, PerSI: c.per}
		if got := k.Shown(c.value, c.digits); !near(got, c.want, 1e-12) {
			t.Errorf("%v to %d digits: %v, want %v: %s", c.value, c.digits, got, c.want, c.why)
		}
	}
	up, down := Concession{Eases: +1}, Concession{Eases: -1}
	if up.Furthest(2, 3) != 3 || up.Furthest(3, 2) != 3 || down.Furthest(2, 3) != 2 || down.Furthest(3, 2) != 2 {
		t.Error("the furthest asks for the least")
	}
}
