package say

import (
	"slices"
	"strings"
	"testing"

	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
)

// TestAssumptionsReadAloud: what is assumed of a catalog and of a build, in
// words.
func TestAssumptionsReadAloud(t *testing.T) {
	bare := []string{
		"-motor.pole_pairs", "-motor.no_load_current_a", "-motor.mass_g", "-motor.can_diameter_mm", "-controller.max_duty", "-controller.efficiency",
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
		{"all given on belts", kittest.Belts, []string{"ground.grip = 0.7", "ground.rolling_resistance = 0.02", "battery.mass_g = 1200"}},
		{"all given on gears", kittest.Gears, []string{"ground.grip = 0.7", "ground.rolling_resistance = 0.02", "battery.mass_g = 1200"}},
		{"nothing given on belts", kittest.Belts, append(bare, "-small.mass_g", "-large.mass_g", "-belt.mass_g", "-mount.mass_g")},
		{"nothing given on gears", kittest.Gears, append(bare, "-gear.efficiency", "-gear.mass_g")},
		{"in the wheel", kittest.Gears, []string{"gear.in_wheel = true", "-gear.efficiency"}},
		{"a pneumatic tyre on gravel, one motor", kittest.Gears, []string{`wheel.tyre = "pneumatic"`, `ground.surface = "gravel"`, "board.motors = [1]"}},
		{"a pack without a cut-off", kittest.Belts, []string{"-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42", "battery.resistance_mohm = 80", "battery.mass_g = 1200"}},
		{"a motor of which neither winding nor mass is known", kittest.Belts, []string{"-motor.resistance_mohm", "-motor.no_load_current_a", "-motor.mass_g", "-motor.can_diameter_mm"}},
		{"no limit of any current", kittest.Belts, []string{"-motor.peak_current_a", "-controller.motor_current_a", "-controller.battery_current_a", "-cell.discharge_a"}},
		{"two motors and a pack without resistance", kittest.Belts, []string{"[[motor]]\nid = \"other\"\nkv = 100\nmass_g = 600\n", "-motor.resistance_mohm", "-cell.resistance_mohm"}},
		{"five motors without resistance", kittest.Belts, []string{"[[motor]]\nid = [\"a\", \"b\", \"c\", \"d\"]\nkv = [90, 100, 110, 120]\nmass_g = 600\nno_load_current_a = 1\n", "-motor.resistance_mohm"}},
		{"four motors without pole pairs", kittest.Belts, []string{many, "-motor.pole_pairs", "board.motors = [1, 2, 4]"}},
	} {
		p := kittest.Problem(t, c.kit, c.change...)
		used := constraints.NewUsed(p)
		for _, m := range p.Motors {
			b := kittest.First(p)
			for n := range p.Counts {
				b.Electrify(b.Battery, b.Controller, m, n)
				b.Roll(b.Drive, b.Wheel)
				used.Add(b)
			}
		}
		all := Assumptions(used.Assumptions())
		tr.add(c.name, strings.Join(c.change, "\n"), oneEach(all))
		if of := Assumptions(kittest.First(p).Assumptions()); !slices.Equal(of, all) {
			tr.add("a build of it", "", oneEach(of))
		}
	}
	tr.check(t, "assumptions.txt")
}

// oneEach writes assumptions line by line, each default on a line of its own.
func oneEach(all []string) string {
	text := strings.Join(all, "\n")
	before, defaults, ok := strings.Cut(text, "by default ")
	if !ok {
		return text
	}
	return before + "by default\n    " + strings.ReplaceAll(defaults, ", ", "\n    ")
}

// TestEveryAssumptionHasWords: no code is without, and there are no words
// without a code.
func TestEveryAssumptionHasWords(t *testing.T) {
	codes := constraints.AssumptionCodes()
	for _, code := range codes {
		if assumptionWords[code] == "" {
			t.Errorf("assumption %s has no words", code)
		}
		if assumptionShort[code] == "" {
			t.Errorf("assumption %s has no short words", code)
		}
	}
	for code := range assumptionWords {
		if !slices.Contains(codes, code) {
			t.Errorf("there is no assumption %s", code)
		}
	}
}
