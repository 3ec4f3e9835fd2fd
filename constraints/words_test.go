package constraints

import (
	"slices"
	"strings"
	"testing"
)

// TestAssumptionsReadAloud: what is assumed of a catalog and of a build, in
// words.
func TestAssumptionsReadAloud(t *testing.T) {
	bare := []string{
		"-motor.pole_pairs", "-motor.no_load_current_a", "-motor.mass_g", "-controller.max_duty", "-controller.efficiency",
		"-controller.channels", "-controller.commutation", "-controller.mass_g", "-cell.resistance_mohm", "-cell.mass_g",
		"-wheel.tyre", "-wheel.mass_g",
	}
	many := `[[motor]]
id = ["a", "b", "c"]
kv = [100, 110, 120]
`
	var tr record
	for _, c := range []struct {
		name, kit string
		change    []string
	}{
		{"all given on belts", onBelts, []string{"ground.grip = 0.7", "board.driven_share = 0.5", "ground.rolling_resistance = 0.02", "battery.mass_g = 1200"}},
		{"all given on gears", onGears, []string{"ground.grip = 0.7", "board.driven_share = 0.5", "ground.rolling_resistance = 0.02", "battery.mass_g = 1200"}},
		{"nothing given on belts", onBelts, append(bare, "-small.mass_g", "-large.mass_g", "-belt.mass_g", "-mount.mass_g")},
		{"nothing given on gears", onGears, append(bare, "-gear.efficiency", "-gear.mass_g")},
		{"in the wheel", onGears, []string{"gear.in_wheel = true", "-gear.efficiency"}},
		{"a pneumatic tyre on gravel, one motor", onGears, []string{`wheel.tyre = "pneumatic"`, `ground.surface = "gravel"`, "board.motors = [1]"}},
		{"a pack without a cut-off", onBelts, []string{"-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42", "battery.resistance_mohm = 80", "battery.mass_g = 1200"}},
		{"four motors without pole pairs", onBelts, []string{many, "-motor.pole_pairs", "board.motors = [1, 2, 4]"}},
	} {
		p := problem(t, c.kit, c.change...)
		tr.add(c.name, strings.Join(c.change, "\n"), strings.Join(p.Assumptions(), "\n"))
		if of := first(p).Assumptions(); !slices.Equal(of, p.Assumptions()) {
			tr.add("a build of it", "", strings.Join(of, "\n"))
		}
	}
	tr.check(t, "assumptions.txt")
}

// TestCautionsReadAloud: what a builder should know of a build, in words.
func TestCautionsReadAloud(t *testing.T) {
	var tr record
	for _, c := range []struct {
		name, kit string
		change    []string
	}{
		{"nothing to say", onGears, []string{"motor.kv = 100"}},
		{"fast", onGears, nil},
		{"few teeth in mesh", onBelts, []string{"motor.kv = 100", "small.teeth = 12"}},
		{"few teeth in mesh, an idler", onBelts, []string{"motor.kv = 100", "small.teeth = 12", "mount.idler = true"}},
		{"no belt", onBelts, []string{"motor.kv = 100", "belt.teeth = 20"}},
		{"pulleys that touch", onBelts, []string{"motor.kv = 40", "small.teeth = 30", "large.teeth = 30", "belt.teeth = 48", "mount.centre_min_mm = 40"}},
		{"charged above full", onGears, []string{"motor.kv = 100", "target.charge = 4.3"}},
		{"slipping on the flat", onGears, []string{"motor.kv = 100", "ground.grip = 0.1"}},
		{"slipping on a grade", onGears, []string{"motor.kv = 100", "ground.grip = 0.1", "target.climb_grade_pct = 5"}},
		{"demoted", onBelts, []string{"motor.kv = 100", `limit.demote = ["bore", "hub", "profile"]`, "motor.shaft_mm = 10", "-wheel.hub"}},
		{"all at once", onBelts, []string{"small.teeth = 12", "mount.idler = true", "target.charge = 4.3", "ground.grip = 0.2", "target.climb_grade_pct = 20", `limit.demote = ["mesh"]`}},
	} {
		tr.add(c.name, c.kit+"\n"+strings.Join(c.change, "\n"), strings.Join(build(t, c.kit, c.change...).Cautions(nil), "\n"))
	}
	tr.add("every board", "", strings.Join(GeneralCautions(), "\n"))
	tr.check(t, "cautions.txt")
}

// TestExplanationsReadAloud: every figure with its value and how it came about.
func TestExplanationsReadAloud(t *testing.T) {
	var tr record
	for _, c := range []struct {
		name, kit string
		change    []string
	}{
		{"a build on belts", onBelts, street},
		{"a build on gears, nothing asked for", onGears, nil},
		{"what is not known", onBelts, append(street, "-motor.resistance_mohm", "-controller.battery_current_a", "-cell.discharge_a", "-motor.price", "-wheel.mass_g", "belt.teeth = 20")},
		{"held by the ceiling", onGears, append(street, "limit.erpm_ceiling = 20000")},
		{"does not move off", onGears, append(street, "ground.rolling_resistance = 0.9")},
		{"cannot cruise", onGears, append(street, "cell.resistance_mohm = 600", "target.cruise_kmh = 14", `target.charge = "full"`)},
		{"capacity not known", onGears, []string{"-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42", "battery.discharge_a = 40"}},
	} {
		b := build(t, c.kit, c.change...)
		var lines []string
		for _, f := range Figures() {
			shown := ""
			if f.Word != nil {
				shown = f.Word(b)
			} else if shown = num(f.Value(b)); shown != "unknown" && f.Unit != "" {
				shown += " " + f.Unit
			}
			lines = append(lines, f.Name+": "+shown+"\n    "+f.Put(b))
		}
		tr.add(c.name, c.kit+"\n"+strings.Join(c.change, "\n"), strings.Join(lines, "\n"))
	}
	tr.check(t, "explanations.txt")
}

// TestNum: numbers as explanations write them.
func TestNum(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 3: "3", 0.05: "0.05", 0.0636620: "0.06366", 97.048596: "97.05", 999.96: "1000", 44100: "44100", 33422.538: "33423",
		-12.345678: "-12.35", 1e-5: "1e-05", 1e9: "1000000000", 40 / 3.6 * 3.6: "40",
	} {
		if got := num(x); got != want {
			t.Errorf("%v is written %q, want %q", x, got, want)
		}
	}
	if num(nan) != "unknown" {
		t.Errorf("NaN is written %q", num(nan))
	}
}
