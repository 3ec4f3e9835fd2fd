package audit_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/constraints/audit"

	"github.com/google/go-cmp/cmp"
)

// Gaps name checks that there are.
func TestGapsNameChecks(t *testing.T) {
	known := append(constraints.CheckNames(), "bms", "switch", "fuse", "charger", "box", "pack-current", "sensor")
	var b strings.Builder
	b.WriteString("schema = 1\n")
	for _, p := range []string{
		"motor:kv = 150", "controller:", "cell:nominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 3\ncapacity_ah = 5", "battery:series = 10\ncell = 'cell'",
		"pulley:side = 'motor'\nprofile = 't5'\nteeth = 15\nshaft_key = 'flat'", "belt:profile = 't5'\nteeth = 60", "mount:centre_min_mm = 60\ncentre_max_mm = 90", "gear_drive:ratio = 3",
		"wheel:diameter_mm = 90", "profile:pitch_mm = 4", "bms:series = 10", "switch:", "fuse:rated_a = 60", "connector:", "wire:awg = 10", "charger:full_v = 42\ncurrent_a = 4",
		"remote:", "box:length_mm = 300\nwidth_mm = 100\nheight_mm = 50",
	} {
		kind, keys, _ := strings.Cut(p, ":")
		fmt.Fprintf(&b, "[[%s]]\nid = %q\n%s\n", kind, strings.ReplaceAll(kind, "_", "."), keys)
	}
	c, err := catalog.Read(catalog.Source{Name: "bare.toml", Data: []byte(b.String())})
	if err != nil {
		t.Fatal(err)
	}
	gaps := audit.Gaps(c)
	for i, g := range gaps {
		for _, name := range g.Checks {
			if !slices.Contains(known, name) {
				t.Errorf("%s.%s leaves %q open, which is no check", g.Kind, g.Key, name)
			}
		}
		info := false
		for _, k := range catalog.Kinds() {
			for _, f := range k.Fields {
				info = info || k.Name == g.Kind && f.Key == g.Key && !f.Required
			}
		}
		if !info || len(g.IDs) != 1 || len(g.Checks) == 0 && g.Instead.Stand == constraints.NothingStands {
			t.Errorf("not a gap: %+v", g)
		}
		if i > 0 && len(gaps[i-1].Checks) < len(g.Checks) {
			t.Errorf("%s.%s leaves more checks open than %s.%s before it", g.Kind, g.Key, gaps[i-1].Kind, gaps[i-1].Key)
		}
	}
	if first := gaps[0]; first.Key != "resistance_mohm" && len(first.Checks) < 4 {
		t.Errorf("the first gap is %+v", first)
	}
}

func TestGaps(t *testing.T) {
	const cell = "[[cell]]\nid = 'cell'\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 3\ncapacity_ah = 5\nresistance_mohm = 20\ndischarge_a = 20\ncharge_a = 5\ndiameter_mm = 21\nlength_mm = 70\n"
	const pulley = "[[pulley]]\nid = 'p'\nside = 'motor'\nprofile = 't5'\nteeth = 15\nbore_mm = 8\n"
	const gear = "[[gear_drive]]\nid = 'g'\nratio = 3\n"
	tests := []struct {
		why, body string
		is        string // kind.key that is a gap, with the ids
		not       string // kind.key that is none
	}{
		{"shaft for pulleys", "[[motor]]\nid = 'm'\nkv = 190\n" + pulley, "motor.shaft_mm m", "motor.shaft_key"},
		{"key for a pulley that needs one", "[[motor]]\nid = 'm'\nkv = 190\nshaft_mm = 8\n" + pulley + "shaft_key = 'flat'", "motor.shaft_key m", "motor.shaft_mm"},
		{"no key for a pulley of another bore", "[[motor]]\nid = 'm'\nkv = 190\nshaft_mm = 10\n" + pulley + "shaft_key = 'flat'", "", "motor.shaft_key"},
		{"no shaft for drives that name motors", "[[motor]]\nid = 'm'\nkv = 190\n" + gear + "fits_motors = 'm'", "", "motor.shaft_mm"},
		{"no bore of drives that name motors", "[[motor]]\nid = 'm'\nkv = 190\n" + gear + "fits_motors = 'm'", "gear_drive.hub g", "gear_drive.bore_mm"},
		{"no hub for drives that name wheels", "[[wheel]]\nid = 'w'\ndiameter_mm = 90\n" + gear + "fits_wheels = 'w'", "gear_drive.bore_mm g", "wheel.hub"},
		{"no hub of drives that name wheels", "[[wheel]]\nid = 'w'\ndiameter_mm = 90\n" + gear + "fits_wheels = 'w'", "", "gear_drive.hub"},
		{"hub of wheels where there is no drive yet", "[[wheel]]\nid = 'w'\ndiameter_mm = 90\n", "wheel.hub w", ""},
		{"no hub of motor pulleys", pulley, "", "pulley.hub"},
		{"price of what is not owned", "[[belt]]\nid = 'a'\nprofile = 't5'\nteeth = 60\n[[belt]]\nid = 'b'\nprofile = 't5'\nteeth = 65\nowned = true", "belt.price a", ""},
		{"mass of what is owned too", "[[belt]]\nid = 'b'\nprofile = 't5'\nteeth = 65\nowned = true", "belt.mass_g b", "belt.price"},
		{"price of a cell in packs without one", cell + "[[battery]]\nid = 'b'\nseries = 10\ncell = 'cell'", "cell.price cell", "battery.price"},
		{"no price of a cell in packs with one", cell + "[[battery]]\nid = 'b'\nseries = 10\ncell = 'cell'\nprice = 200", "cell.mass_g cell", "cell.price"},
		{"no gap in a cell of no pack", cell, "", "cell.price"},
		{"mass of a pack without cells", "[[battery]]\nid = 'b'\nseries = 10\nnominal_v = 36\nfull_v = 42\nprice = 1", "battery.mass_g b", "battery.price"},
		{"nobody's volts", "[[motor]]\nid = 'm'\nkv = 190\n[[controller]]\nid = 'c'", "motor.max_volts m", ""},
		{"controllers' volts, one unknown", "[[motor]]\nid = 'm'\nkv = 190\n[[controller]]\nid = 'c'\nmax_volts = 60\n[[controller]]\nid = 'd'", "motor.max_volts m", ""},
		{"accessories", "[[switch]]\nid = 's'\nmax_volts = 60\n[[remote]]\nid = 'r'", "switch.continuous_a s", "switch.max_volts"},
		{"wire of a plug, in either unit", "[[connector]]\nid = 'c'\nwire_max_awg = 10", "connector.max_volts c", "connector.wire_max_mm2"},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			c, err := catalog.Read(catalog.Source{Name: "parts.toml", Data: []byte("schema = 1\n" + test.body)})
			if err != nil {
				t.Fatal(err)
			}
			found := test.is == ""
			for _, g := range audit.Gaps(c) {
				key := g.Kind + "." + g.Key
				found = found || key+" "+strings.Join(g.IDs, " ") == test.is
				if key == test.not {
					t.Errorf("%s is a gap: %+v", key, g)
				}
			}
			if !found {
				t.Errorf("%s is no gap", test.is)
			}
		})
	}
}

// Where one key answers for another, the checks are left out; what stands
// instead is still said.
func TestGapsAnsweredFor(t *testing.T) {
	c, err := catalog.Read(catalog.Source{Name: "parts.toml", Data: []byte("schema = 1\n[[motor]]\nid = 'm'\nkv = 190\n[[controller]]\nid = 'c'\nmax_volts = 60\nmotor_current_a = 80\n")})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string][]string{}
	for _, g := range audit.Gaps(c) {
		got[g.Kind+"."+g.Key] = g.Checks
	}
	for key, want := range map[string][]string{
		"motor.max_volts":              nil,
		"motor.peak_current_a":         nil,
		"motor.resistance_mohm":        {"top-speed", "top-speed-max", "climb", "range", "hill-torque", "launch", "route", "route-heat", "route-brakes"},
		"controller.battery_current_a": {"top-speed", "top-speed-max", "climb", "range", "hill-torque", "launch", "route", "route-heat", "route-brakes", "pack-current"},
	} {
		if diff := cmp.Diff(want, got[key]); diff != "" {
			t.Errorf("%s (-want +got):\n%s", key, diff)
		}
	}
}
