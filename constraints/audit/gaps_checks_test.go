package audit_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/audit"
	"gearsearch/constraints/route"
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
angle_deg = 10
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
centre_mm = 70
angle_deg = 10
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
sensored = true
[target]
top_speed_kmh = 20
top_speed_max_kmh = 60
climb_grade_pct = 5
climb_speed_kmh = 12
hill_torque_nm = 5
stop_m = 900
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
	brief.Way = &route.Route{Legs: slices.Repeat([]route.Leg{{Length: 25, Rise: 0.2, Speed: 3}, {Length: 25, Rise: -0.2, Speed: 3}}, 10)}
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
// those that are undecided; those that have corners may be decided yet.
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
	cornered := []string{"top-speed", "top-speed-max", "climb", "range", "hill-torque", "launch", "stop", "route", "route-heat", "route-brakes"}
	open := map[string]bool{}
	hold := func(out ...keyLine) {
		c := without(t, lines, out...)
		var named []string
		for _, g := range audit.Gaps(c) {
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
		named = slices.DeleteFunc(named, func(name string) bool {
			return slices.Contains(cornered, name) && !slices.Contains(want, name)
		})
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
	decided := []string{"profile", "belt", "mesh", "top-speed-max"} // such a board is not too fast, whatever is missing
	for _, name := range ranking {
		if open[name] == slices.Contains(decided, name) {
			t.Errorf("check %s: undecided %v", name, open[name])
		}
	}
}
