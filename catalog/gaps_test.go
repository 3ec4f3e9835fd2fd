package catalog_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"

	"github.com/google/go-cmp/cmp"
)

// whole is a catalog that leaves nothing open, with a belt drive and a gear
// drive.
const whole = `
[[motor]]
id = "motor"
kv = 150
pole_pairs = 7
resistance_mohm = 50
no_load_current_a = 1
peak_current_a = 80
continuous_current_a = 60
max_power_w = 3000
max_volts = 60
shaft_mm = 8
shaft_key = "keyway"
can_diameter_mm = 63
can_length_mm = 70
sensored = true
price = 90
mass_g = 700
[[controller]]
id = "controller"
erpm_ceiling = 150000
max_volts = 60
motor_current_a = 80
battery_current_a = 30
continuous_current_a = 60
channels = 2
max_duty = 0.95
efficiency = 0.97
commutation = "six-step"
price = 150
mass_g = 200
[[controller]]
id = "other"
erpm_ceiling = 120000
max_volts = 60
motor_current_a = 80
battery_current_a = 30
continuous_current_a = 60
price = 80
mass_g = 100
[[cell]]
id = "cell"
nominal_v = 3.6
full_v = 4.2
cutoff_v = 3
capacity_ah = 5
resistance_mohm = 20
discharge_a = 20
charge_a = 5
diameter_mm = 21
length_mm = 70
price = 5
mass_g = 70
[[battery]]
id = "battery"
series = 10
parallel = 4
cell = "cell"
wiring_mohm = 6
overhead_pct = 12
[[pulley]]
id = "small"
side = "motor"
profile = "own"
teeth = 15
width_mm = 15
bore_mm = 8
shaft_key = "keyway"
price = 12
mass_g = 30
[[pulley]]
id = "large"
side = "wheel"
profile = "own"
teeth = 45
width_mm = 15
hub = "spoke"
price = 20
mass_g = 90
[[belt]]
id = "belt"
profile = "own"
teeth = 70
width_mm = 15
price = 9
mass_g = 15
[[mount]]
id = "mount"
centre_min_mm = 60
centre_max_mm = 120
price = 30
mass_g = 120
[[gear_drive]]
id = "gear"
ratio = 3
efficiency = 0.97
bore_mm = 8
shaft_key = "keyway"
hub = "spoke"
max_torque_nm = 40
outside_mm = 76
price = 150
mass_g = 500
[[wheel]]
id = "wheel"
diameter_mm = 110
width_mm = 50
hub = "spoke"
tyre = "urethane"
rolling_resistance = 0.02
rolling_radius_ratio = 1
price = 60
mass_g = 250
[[profile]]
id = "own"
pitch_mm = 5
pitch_line_mm = 0.57
pull_n_per_mm = 17
`

// allTargets is a brief that makes every check of the ranking apply.
const allTargets = `
schema = 1
[board]
motors = [2]
hanger_mm = 200
[target]
top_speed_kmh = 20
top_speed_max_kmh = 60
climb_grade_pct = 5
climb_speed_kmh = 12
hill_torque_nm = 5
launch_speed_kmh = 10
launch_s = 5
range_km = 5
cruise_kmh = 15
[limit]
erpm_headroom_pct = 5
price = 5000
mass_kg = 50
ground_clearance_mm = 5
`

// keyLine is one line of whole that gives a key which may be left out.
type keyLine struct {
	n         int
	kind, key string
}

// optionalLines lists the lines of whole without which it still reads.
func optionalLines(t *testing.T, lines []string) []keyLine {
	t.Helper()
	required := map[string]bool{}
	for _, k := range catalog.Kinds() {
		for _, f := range k.Fields {
			required[k.Name+"."+f.Key] = f.Required
		}
	}
	var out []keyLine
	kind := ""
	for i, line := range lines {
		if header, ok := strings.CutPrefix(line, "[["); ok {
			kind = strings.TrimSuffix(header, "]]")
			continue
		}
		key, _, ok := strings.Cut(line, " = ")
		if ok && !required[kind+"."+key] && key != "cell" && key != "ratio" {
			out = append(out, keyLine{i, kind, key})
		}
	}
	return out
}

// without reads whole without some lines.
func without(t *testing.T, lines []string, out ...keyLine) *catalog.Catalog {
	t.Helper()
	var kept []string
	for i, line := range lines {
		if !slices.ContainsFunc(out, func(k keyLine) bool { return k.n == i }) {
			kept = append(kept, line)
		}
	}
	c, err := catalog.Read(catalog.Source{Name: "whole.toml", Data: []byte("schema = 1\n" + strings.Join(kept, "\n"))})
	if err != nil {
		t.Fatalf("without %v: %v", out, err)
	}
	return c
}

// undecided lists the checks that are undecided for any build of a catalog.
// None may fail: then what is missing would not show.
func undecided(t *testing.T, c *catalog.Catalog) (names []string, applied map[string]bool) {
	t.Helper()
	brief, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(allTargets)})
	if err != nil {
		t.Fatal(err)
	}
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	applied = map[string]bool{}
	for _, controller := range p.Controllers {
		for _, d := range p.Drives {
			b := &constraints.Build{Problem: p}
			b.Electrify(p.Batteries[0], controller, p.Motors[0], 0)
			b.Roll(d, p.Wheels[0])
			for _, r := range b.Results() {
				applied[r.Name] = true
				switch r.Verdict {
				case constraints.Undecided:
					found[r.Name] = true
				case constraints.Fail:
					t.Fatalf("%s fails: %v, limit %v", r.Name, r.Value, r.Limit)
				}
			}
		}
	}
	return slices.Sorted(maps.Keys(found)), applied
}

// The table of what each key leaves open is right: with one key or two taken
// out of a catalog that leaves nothing open, the checks that its gaps name are
// those that are undecided.
func TestGapsAreWhatChecksNeed(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(whole), "\n")
	ranking := constraints.CheckNames()
	names, applied := undecided(t, without(t, lines))
	if len(names) > 0 {
		t.Fatalf("undecided with all keys: %v", names)
	}
	for _, name := range ranking {
		if !applied[name] {
			t.Fatalf("check %s does not apply", name)
		}
	}
	keys := optionalLines(t, lines)
	open := map[string]bool{}
	hold := func(out ...keyLine) {
		c := without(t, lines, out...)
		var named []string
		for _, g := range catalog.Gaps(c) {
			for _, name := range g.Checks {
				if slices.Contains(ranking, name) {
					named = append(named, name)
				}
			}
			if !slices.ContainsFunc(out, func(k keyLine) bool { return k.kind == g.Kind && k.key == g.Key }) {
				t.Errorf("without %v: %s.%s is said to be missing", out, g.Kind, g.Key)
			}
		}
		slices.Sort(named)
		named = slices.Compact(named)
		want, _ := undecided(t, c)
		for _, name := range want {
			open[name] = true
		}
		if !slices.Equal(named, want) {
			t.Errorf("without %v: gaps leave %v open, undecided are %v", out, named, want)
		}
	}
	for i, a := range keys {
		hold(a)
		for _, b := range keys[i+1:] {
			hold(a, b)
		}
	}
	// Checks that no missing key leaves undecided.
	decided := []string{"profile", "belt", "mesh", "top-speed", "top-speed-max"}
	for _, name := range ranking {
		if open[name] == slices.Contains(decided, name) {
			t.Errorf("check %s: undecided %v", name, open[name])
		}
	}
}

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
	gaps := catalog.Gaps(c)
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
		if !info || len(g.IDs) != 1 || len(g.Checks) == 0 && g.Instead == "" {
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
			for _, g := range catalog.Gaps(c) {
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
	for _, g := range catalog.Gaps(c) {
		got[g.Kind+"."+g.Key] = g.Checks
	}
	for key, want := range map[string][]string{
		"motor.max_volts":              nil,
		"motor.peak_current_a":         nil,
		"motor.resistance_mohm":        {"climb", "hill-torque", "launch", "range"},
		"controller.battery_current_a": {"climb", "hill-torque", "launch", "pack-current"},
	} {
		if diff := cmp.Diff(want, got[key]); diff != "" {
			t.Errorf("%s (-want +got):\n%s", key, diff)
		}
	}
}
