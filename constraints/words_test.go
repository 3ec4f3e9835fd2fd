package constraints

import (
	"strings"
	"testing"
)

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
