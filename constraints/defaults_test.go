package constraints

import (
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
)

// promised is a key of a part that the reference says a default of.
type promised struct {
	key    string   // kind.key
	drive  string   // the kit; "": belts
	change []string // of the kit
	value  string   // the default, written out
	other  string   // a value under which the build is another; "": none
	says   string   // in the reference
}

func promises() []promised {
	wired := []string{"board.motors = [4]"}
	own := []string{"-battery.parallel"}
	climb := []string{"target.climb_grade_pct = 15"}
	return []promised{
		{"motor.pole_pairs", "", nil, "7", "8", "7"},
		{"controller.channels", "", wired, "1", "2", "1"},
		{"controller.max_duty", "", nil, "0.95", "0.9", "0.95"},
		{"controller.efficiency", "", nil, "0.97", "0.9", "0.97"},
		{"controller.commutation", "", climb, `"foc"`, `"six-step"`, "foc"},
		{"battery.parallel", "", own, "1", "2", "1"},
		{"battery.overhead_pct", "", nil, "12", "13", "12"},
		{"battery.wiring_mohm", "", nil, "0", "5", "0"},
		{"cell.chemistry", "", []string{"-cell.resistance_mohm"}, `"li-ion"`, `"lfp"`, "li-ion"},
		{"sprocket.shaft_key", onChains, []string{"-motor.shaft_key"}, `"plain"`, `"keyway"`, "plain"},
		{"chain.breaking_n", onChains, climb, "7900", "500", "ISO 606"},
		{"pulley.shaft_key", "", []string{"-motor.shaft_key"}, `"plain"`, `"keyway"`, "plain"},
		{"gear_drive.shaft_key", onGears, []string{"-motor.shaft_key"}, `"plain"`, `"keyway"`, "plain"},
		{"gear_drive.efficiency", onGears, nil, "0.97", "0.9", "0.97"},
		{"gear_drive.efficiency", onGears, []string{"gear.in_wheel = true"}, "1.0", "0.9", "in-wheel 1"},
		{"gear_drive.in_wheel", onGears, []string{"board.hanger_mm = 150", "motor.can_length_mm = 80"}, "false", "true", "false"},
		{"mount.idler", "", []string{"small.teeth = 12"}, "false", "true", "false"},
		{"wheel.tyre", "", nil, `"urethane"`, `"rubber"`, "urethane"},
		{"wheel.rolling_radius_ratio", "", nil, "1.0", "0.9", "1,"},
		{"wheel.rolling_radius_ratio", "", []string{`wheel.tyre = "pneumatic"`}, "0.97", "1.0", "pneumatic 0.97"},
		{"motor.sold_in", "", nil, "1", "2", "1"},
		{"controller.sold_in", "", nil, "1", "2", "1"},
		{"cell.sold_in", "", nil, "1", "3", "1"},
		{"battery.sold_in", "", []string{"battery.price = 100"}, "1", "", "1"}, // a board has one, and one lot is enough
		{"pulley.sold_in", "", nil, "1", "2", "1"},
		{"belt.sold_in", "", nil, "1", "2", "1"},
		{"sprocket.sold_in", onChains, nil, "1", "2", "1"},
		{"chain.sold_in", onChains, nil, "1", "2", "1"},
		{"mount.sold_in", "", nil, "1", "2", "1"},
		{"gear_drive.sold_in", onGears, nil, "1", "2", "1"},
		{"wheel.sold_in", "", nil, "4", "2", "4"},
		{"motor.owned", "", nil, "false", "true", "false"},
		{"controller.owned", "", nil, "false", "true", "false"},
		{"cell.owned", "", nil, "false", "true", "false"},
		{"battery.owned", "", []string{"battery.price = 100"}, "false", "true", "false"},
		{"pulley.owned", "", nil, "false", "true", "false"},
		{"belt.owned", "", nil, "false", "true", "false"},
		{"sprocket.owned", onChains, nil, "false", "true", "false"},
		{"chain.owned", onChains, nil, "false", "true", "false"},
		{"mount.owned", "", nil, "false", "true", "false"},
		{"gear_drive.owned", onGears, nil, "false", "true", "false"},
		{"wheel.owned", "", nil, "false", "true", "false"},
	}
}

// noValue are defaults that are no value to write.
var noValue = []string{"name", "cell", "ratio", "fits_motors", "fits_wheels", "rolling_resistance", "made"}

// theCells is what a pack with a cell has, and may then not say of itself.
const theCells = "the cells'"

// TestPackIsItsCells: a pack without a cell that says what ten times two of
// them make is the same pack: 36 V, 42 V, 30 V, 2 × 5 Ah, 10 × 20/2 mΩ, 2 × 20 A.
func TestPackIsItsCells(t *testing.T) {
	asked := []string{"target.range_km = 20", "limit.price = 700", "limit.mass_kg = 10"}
	own := []string{
		"-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42", "battery.cutoff_v = 30", "battery.capacity_ah = 10",
		"battery.resistance_mohm = 100", "battery.discharge_a = 40", "battery.charge_a = 6", "battery.mass_g = 1120", "battery.price = 100",
	}
	of, alone := described(build(t, onBelts, asked...)), described(build(t, onBelts, slices.Concat(asked, own)...))
	if of != alone {
		t.Errorf("of cells\n%s, by itself\n%s", of, alone)
	}
}

// TestDefaultsArePromised: what the reference says a key is unless given is
// what the program uses: the build is the same with it written out, and another
// with another value. Every key of a part of a build is there.
func TestDefaultsArePromised(t *testing.T) {
	said := map[string]string{}
	for _, kind := range catalog.Kinds() {
		if kind.Accessory || kind.Name == "profile" {
			continue // no part of a ranked build, or none that is bought
		}
		for _, k := range kind.Fields {
			if k.Default != "" && k.Default != theCells && !slices.Contains(noValue, k.Key) {
				said[kind.Name+"."+k.Key] = k.Default
			}
		}
	}
	tested := map[string]bool{}
	for _, p := range promises() {
		tested[p.key] = true
		if !strings.Contains(said[p.key], p.says) {
			t.Errorf("%s: the reference says %q, not %q", p.key, said[p.key], p.says)
		}
		if p.drive == "" {
			p.drive = onBelts
		}
		kind, key, _ := strings.Cut(p.key, ".")
		name := map[string]string{"pulley": "small", "sprocket": "small", "gear_drive": "gear"}[kind]
		if name == "" {
			name = kind
		}
		out := func(value string) string {
			k := newKit(p.drive, p.change...)
			if k.Has(name, key) {
				k.Change("-" + name + "." + key)
			}
			if value != "" {
				k.Change(name + "." + key + " = " + value)
			}
			return described(first(problemOf(t, k)))
		}
		unless, written, other := out(""), out(p.value), out(p.other)
		if unless != written {
			t.Errorf("%s: not given\n%s, as %s\n%s", p.key, unless, p.value, written)
		}
		if p.other != "" && unless == other {
			t.Errorf("%s of %s is the same build as of %s", p.key, p.value, p.other)
		}
	}
	for key, text := range said {
		if !tested[key] {
			t.Errorf("%s is said to be %q unless given, and is not tested", key, text)
		}
	}
}

// described is a build in its figures, words and verdicts.
func described(b *Build) string {
	var out strings.Builder
	for _, f := range Figures() {
		if f.Value != nil {
			out.WriteString(f.Name + " " + exact(f.Value(b)) + "\n")
		} else {
			out.WriteString(f.Name + " " + f.Word(b) + "\n")
		}
	}
	for _, r := range b.Results() {
		out.WriteString(r.Name + " " + r.Verdict.String() + "\n")
	}
	return out.String()
}
