package constraints

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// assumed are the assumptions of all builds of a problem in short, the defaults
// of the brief left out.
func assumed(t *testing.T, p *Problem) []string {
	t.Helper()
	u := NewUsed(p)
	eachBuild(p, u.Add)
	var got []string
	for _, a := range u.Assumptions() {
		if !slices.Contains(AssumptionCodes(), a.Code) {
			t.Errorf("%s is not among the codes", a.Code)
		}
		if a.Code != BriefAssumed {
			got = append(got, spelledAssumption(a))
		}
	}
	return got
}

func spelledAssumption(a Assumption) string {
	text := fmt.Sprint(a.Code, " ", a.Key, " ", a.Of, " ", a.IDs, a.Words)
	for _, q := range a.Quantities {
		text += fmt.Sprintf(" %.4g", q.SI*q.PerSI)
	}
	return text
}

// TestAssumptionsJoin: parts that lack the same share an assumption, and those
// of another slot or with another value do not.
func TestAssumptionsJoin(t *testing.T) {
	more := `[[wheel]]
id = "soft"
diameter_mm = 100
hub = "spoke"
tyre = "rubber"
price = 60
`
	got := assumed(t, problem(t, onGears, "-wheel.mass_g", "-gear.mass_g", "ground.grip = 0.5", "battery.mass_g = 1200", more))
	want := []string{
		"mass-counts-none  gear_drive [gear] []",
		"rolling  wheel [soft] [rubber asphalt] 0.022",
		"mass-counts-none  wheel [soft wheel] []",
		"rolling  wheel [wheel] [urethane asphalt] 0.018",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("assumptions (-want +got):\n%s", d)
	}
}

// TestStandInsAreAssumed: each key that a range stands in for is named with the
// range in the key's unit, and one that has none with what it counts as.
func TestStandInsAreAssumed(t *testing.T) {
	heavy := `[[motor]]
id = "heavy"
kv = 60
pole_pairs = 7
mass_g = 1000
peak_current_a = 60
shaft_mm = 8
`
	given := []string{"ground.grip = 0.5", "ground.rolling_resistance = 0.02", "battery.mass_g = 1200"}
	for _, c := range []struct {
		why     string
		changes []string
		want    []string
	}{
		{"all is given", nil, nil},
		{
			"k = 60/(2π kv): 95.49/1000 V·s/rad at 100 rpm/V; k²/0.12 to k²/0.02 at a kilogram",
			[]string{"motor.kv = 100", "motor.mass_g = 1000", "-motor.resistance_mohm"},
			[]string{"motor-span resistance_mohm motor [motor] [] 75.99 455.9"},
		},
		{
			"0.02/k to 0.12/k at a kilogram",
			[]string{"motor.kv = 100", "motor.mass_g = 1000", "-motor.no_load_current_a"},
			[]string{"motor-span no_load_current_a motor [motor] [] 0.2094 1.257"},
		},
		{
			"the ranges of two motors stand behind each other",
			[]string{"motor.kv = 100", "motor.mass_g = 1000", "-motor.resistance_mohm", "motor.no_load_current_a = 1", heavy + "no_load_current_a = 1\n"},
			[]string{"motor-span resistance_mohm motor [heavy motor] [] 211.1 1267 75.99 455.9"},
		},
		{
			"neither mass nor can",
			[]string{"-motor.resistance_mohm", "-motor.no_load_current_a", "-motor.mass_g", "-motor.can_diameter_mm"},
			[]string{"open-resistance resistance_mohm motor [motor] []", "counts-as-none no_load_current_a motor [motor] []", "mass-counts-none  motor [motor] []"},
		},
		{
			"the resistance of the pack's cell, of 4 Ah, for each cell",
			[]string{"-cell.resistance_mohm", "cell.capacity_ah = 4", `cell.chemistry = "li-ion"`},
			[]string{"cell-span resistance_mohm cell [cell] [] 5 40"},
		},
		{
			"a cell of no chemistry is taken for li-ion",
			[]string{"-cell.resistance_mohm", "cell.capacity_ah = 4"},
			[]string{"cell-span resistance_mohm cell [cell] [] 5 40", "word chemistry cell [cell] [li-ion]"},
		},
		{
			"ten in series without a cell, of 8 Ah",
			[]string{"-battery.cell", "battery.series = 10", "battery.nominal_v = 36", "battery.full_v = 42", "battery.cutoff_v = 30", "battery.capacity_ah = 8", "battery.discharge_a = 40"},
			[]string{"pack-span resistance_mohm battery [battery] [] 10 125"},
		},
		{
			"a pack without cell and capacity",
			[]string{"-battery.cell", "battery.series = 10", "battery.nominal_v = 36", "battery.full_v = 42", "battery.cutoff_v = 30", "battery.discharge_a = 40"},
			[]string{"counts-as-none resistance_mohm battery [battery] []"},
		},
		{
			"no limit of the motor current",
			[]string{"-motor.peak_current_a", "-controller.motor_current_a"},
			[]string{"open-motor-current   [] []"},
		},
		{
			"no limit of the battery current",
			[]string{"-cell.discharge_a", "-controller.battery_current_a"},
			[]string{"open-battery-current   [] []"},
		},
	} {
		got := assumed(t, problem(t, onGears, append(slices.Clone(given), c.changes...)...))
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, d)
		}
	}
}

// TestAssumedOfTheBuildsShown: what builds are not made of is not named.
func TestAssumedOfTheBuildsShown(t *testing.T) {
	p := problemOf(t, mixed())
	all := assumed(t, p)
	if !strings.Contains(strings.Join(all, "\n"), "bare") {
		t.Fatalf("nothing is assumed of bare in %q: the test does not test", all)
	}
	seen := 0
	eachBuild(p, func(b *Build) {
		if seen++; seen%97 != 0 {
			return
		}
		ids := map[string]bool{CellKind: true}
		for _, slot := range Slots() {
			ids[b.ID(slot)] = true
		}
		if cell := b.Battery.Cell; cell != nil {
			ids[cell.ID] = true
		}
		for _, a := range b.Assumptions() {
			for _, id := range a.IDs {
				if !ids[id] {
					t.Errorf("%v: %s", ids, spelledAssumption(a))
				}
			}
		}
	})
}

// TestDefaultsOfTheBriefAreAssumed: a default that builds go by is named unless
// somebody wrote the key, be it with the default's own value.
func TestDefaultsOfTheBriefAreAssumed(t *testing.T) {
	for _, c := range []struct {
		why     string
		kit     string
		changes []string
		want    map[string]string // by key; "": not named
	}{
		{"nothing is written", onGears, []string{"-limit.winding_c", "-limit.ride_factor", "-rider.drag_area_m2"}, map[string]string{
			"rider.mass_kg": "80", "rider.posture": "sideways", "board.mass_kg": "5", "limit.winding_c": "60", "limit.usable_pct": "90", "limit.ride_factor": "1",
			"target.cruise_kmh": "25", "target.charge": "nominal", "ground.air_density_kg_m3": "1.225",
			"limit.mesh_teeth": "", "limit.derate": "", "ground.grip": "", "limit.price": "",
		}},
		{"a default that is written", onGears, []string{"rider.mass_kg = 80"}, map[string]string{"rider.mass_kg": ""}},
		{"a drag area", onGears, nil, map[string]string{"rider.posture": ""}},
		{"a belt drive", onBelts, nil, map[string]string{"limit.mesh_teeth": "5"}},
		{"an altitude in place of the density", onGears, []string{"ground.altitude_m = 800"}, map[string]string{"ground.air_density_kg_m3": ""}},
		{"a top speed that is estimated", onGears, []string{"-motor.peak_current_a", "-controller.motor_current_a"}, map[string]string{"limit.derate": "0.85"}},
		{"no ceiling", onGears, []string{"-controller.erpm_ceiling"}, map[string]string{"limit.erpm_headroom_pct": ""}},
		{"a ceiling", onGears, []string{"controller.erpm_ceiling = 60000"}, map[string]string{"limit.erpm_headroom_pct": "5", "limit.erpm_rule": "free-spin"}},
		{"no hill", onGears, nil, map[string]string{"limit.heat_factor": ""}},
		{"a hill", onGears, []string{"target.climb_grade_pct = 10"}, map[string]string{"limit.heat_factor": "1"}},
		{"two numbers of motors", onGears, []string{"board.motors = [1, 2]"}, map[string]string{"board.motors": ""}},
	} {
		got := map[string]string{}
		for _, a := range build(t, c.kit, c.changes...).Assumptions() {
			if a.Code != BriefAssumed {
				continue
			}
			text := strings.Join(a.Words, "")
			for _, q := range a.Quantities {
				text += fmt.Sprint(q.SI * q.PerSI)
			}
			got[a.Key] = text
		}
		for key, want := range c.want {
			if got[key] != want {
				t.Errorf("%s: %s is %q, want %q", c.why, key, got[key], want)
			}
		}
	}
}
