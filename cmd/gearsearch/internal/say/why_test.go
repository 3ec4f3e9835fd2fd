package say

import (
	"slices"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
	"gearsearch/search"
)

// TestExplanationsReadAloud: every figure with its value and how it came about.
func TestExplanationsReadAloud(t *testing.T) {
	var tr record
	for _, c := range []struct {
		name, kit string
		change    []string
	}{
		{"a build on belts", kittest.Belts, street},
		{"a build on gears, nothing asked for", kittest.Gears, nil},
		{"what is not known", kittest.Belts, append(street, "-motor.resistance_mohm", "-controller.battery_current_a", "-cell.discharge_a", "-motor.price", "-wheel.mass_g", "belt.teeth = 20")},
		{"held by the ceiling", kittest.Gears, append(street, "limit.erpm_ceiling = 20000")},
		{"does not move off", kittest.Gears, append(street, "ground.rolling_resistance = 0.9")},
		{"cannot cruise", kittest.Gears, append(street, "cell.resistance_mohm = 600", "target.cruise_kmh = 14", `target.charge = "full"`)},
		{"capacity not known", kittest.Gears, []string{"-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42", "battery.discharge_a = 40"}},
		{"a route", kittest.Belts, []string{`ride.route = "hill.csv"`}},
		{"a route that ends in a stall", kittest.Belts, []string{`ride.route = "hill.csv"`, "rider.mass_kg = 300", "motor.peak_current_a = 8"}},
		{"a route of which nothing is known", kittest.Belts, []string{`ride.route = "hill.csv"`, "-motor.resistance_mohm", "-motor.mass_g", "-motor.can_diameter_mm", "board.mass_kg = 6.4"}},
		{"a route that nobody knows to be held", kittest.Belts, []string{`ride.route = "hill.csv"`, "-cell.charge_a"}},
	} {
		b := kittest.Build(t, c.kit, c.change...)
		var lines []string
		for _, f := range b.Problem.Figures() {
			shown := ""
			if f.Word != nil {
				shown = f.Word(b)
			} else if shown = significant(f.Value(b), 4); shown != "unknown" && f.Unit != "" {
				shown += " " + f.Unit
			}
			lines = append(lines, f.Name+": "+shown+"\n    "+Numbers(f.Put(b)))
		}
		tr.add(c.name, c.kit+"\n"+strings.Join(c.change, "\n"), strings.Join(lines, "\n"))
	}
	tr.check(t, "explanations.txt")
}

// TestRideReadAloud: how a build comes over a way, and what happens on it.
func TestRideReadAloud(t *testing.T) {
	var tr record
	for _, c := range []struct {
		name   string
		change []string
	}{
		{"up and down", nil},
		{"a full pack", []string{"ride.start_pct = 100"}},
		{"a stall", []string{"rider.mass_kg = 300", "motor.peak_current_a = 8"}},
		{"slowly", []string{"target.cruise_kmh = 60"}},
		{"what is not known", []string{"-motor.resistance_mohm", "-motor.mass_g", "-motor.can_diameter_mm", "board.mass_kg = 6.4"}},
	} {
		b := kittest.Build(t, kittest.Belts, append(c.change, `ride.route = "hill.csv"`)...)
		s, ok := b.Story()
		if !ok {
			t.Fatalf("%s: no story", c.name)
		}
		tr.add(c.name, strings.Join(c.change, "\n"), RouteEnd(&s, quantity.Metric)+"\n"+strings.Join(RouteEvents(&s, quantity.Imperial), "\n"))
	}
	tr.check(t, "rides.txt")
	for _, code := range constraints.EventCodes() {
		if routeEvent(constraints.Event{Code: code}, quantity.Metric) == "" {
			t.Errorf("event %s has no words", code)
		}
	}
}

// street asks a climb, a speed and a launch of a kit.
var street = []string{"target.climb_grade_pct = 15", "target.top_speed_kmh = 30", "target.launch_speed_kmh = 20"}

// TestScoresReadAloud: the criteria of which there is more to say than a formula
// with numbers put in.
func TestScoresReadAloud(t *testing.T) {
	asked := slices.Clip(append(street, "target.range_km = 10", "target.launch_s = 4"))
	var tr record
	for _, c := range []struct {
		name, kit string
		change    []string
	}{
		{"pulleys with a divisor", kittest.Belts, asked},
		{"pulleys without a divisor", kittest.Belts, append(asked, "small.teeth = 16")},
		{"gears of unknown teeth", kittest.Gears, asked},
		{"gears with a divisor", kittest.Gears, append(asked, "-gear.ratio", "gear.driver_teeth = 12", "gear.driven_teeth = 36")},
		{"gears without a divisor", kittest.Gears, append(asked, "-gear.ratio", "gear.driver_teeth = 11", "gear.driven_teeth = 36")},
		{"the motor in the wheel", kittest.Gears, append(asked, "gear.in_wheel = true")},
		{"what is not known", kittest.Belts, append(asked, "-motor.resistance_mohm", "-motor.continuous_current_a", "-motor.mass_g", "-motor.can_diameter_mm", "-motor.price", "-wheel.mass_g", "belt.teeth = 20")},
	} {
		b := kittest.Build(t, c.kit, c.change...)
		var lines []string
		for _, x := range search.Criteria() {
			if put := x.Put(b); x.Applies(b.Problem) && len(put.Notes) > 0 {
				lines = append(lines, x.Name+": "+Numbers(put))
			}
		}
		tr.add(c.name, c.kit+"\n"+strings.Join(c.change, "\n"), strings.Join(lines, "\n"))
	}
	tr.check(t, "scores.txt")
}

// TestEveryNoteHasWords: no code of a note and no datum is without, and there
// are no words without a code.
func TestEveryNoteHasWords(t *testing.T) {
	codes := constraints.NoteCodes()
	for _, code := range codes {
		if noteWords[code].text == "" {
			t.Errorf("note %s has no words", code)
		}
	}
	for code := range noteWords {
		if !slices.Contains(codes, code) {
			t.Errorf("there is no note %s", code)
		}
	}
	for _, d := range constraints.Data() {
		if datumWords[d] == "" {
			t.Errorf("datum %d has no name", d)
		}
	}
}
