package audit_test

import (
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/audit"
	"gearsearch/constraints/outfit"
)

// around is what the builds of whole need around them, one of each.
const around = `
[[bms]]
id = "bms"
series = 10
charge_a = 10
cell_full_v = 4.25
discharge_a = 100
[[switch]]
id = "switch"
max_volts = 60
continuous_a = 100
precharge = true
[[fuse]]
id = "fuse"
rated_a = 80
max_volts_dc = 58
breaking_a = 2000
[[connector]]
id = "plug"
poles = 2
max_volts = 60
continuous_a = 100
wire_max_mm2 = 20
[[connector]]
id = "phase"
poles = 1
continuous_a = 100
wire_max_mm2 = 20
[[wire]]
id = "wire"
area_mm2 = 10
insulation_c = 200
max_volts = 600
[[charger]]
id = "charger"
full_v = 42
current_a = 5
[[remote]]
id = "remote"
failsafe = true
[[box]]
id = "box"
length_mm = 500
width_mm = 200
height_mm = 100
`

// completed completes the build of a catalog with its belt drive and each controller,
// and lists the checks that are undecided and the kinds of what is chosen around it.
func completed(t *testing.T, c *catalog.Catalog) (open, chosen []string) {
	t.Helper()
	brief, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(allTargets)})
	if err != nil {
		t.Fatal(err)
	}
	p, err := constraints.NewProblem(c, brief)
	if err != nil {
		t.Fatal(err)
	}
	for _, controller := range p.Controllers {
		b := &constraints.Build{Problem: p}
		b.Electrify(p.Batteries[0], controller, p.Motors[0], 0)
		b.Roll(p.Drives[0], p.Wheels[0])
		o := outfit.Complete(b, outfit.DefaultWishes())
		for _, r := range o.Results() {
			switch {
			case r.Verdict == constraints.Undecided && !r.Caution:
				open = append(open, r.Name)
			case r.Fails() && !r.Caution:
				t.Fatalf("%s fails: %v", r.Name, r.Says)
			}
		}
		for _, n := range o.Needs {
			if n.Kind != "" && n.Part != nil {
				chosen = append(chosen, controller.ID+" "+n.Kind+n.For)
			}
		}
	}
	slices.Sort(open)
	return slices.Compact(open), chosen
}

// What each key leaves open around the drivetrain is right: with one taken out
// of a catalog that leaves nothing open, the checks of package outfit that its
// gaps name are those that are undecided, and a part is passed over just where
// a gap says so.
func TestGapsAreWhatOutfitsNeed(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(whole+around), "\n")
	for i, line := range lines {
		lines[i] = strings.Replace(line, "current_a = 80", "current_a = 25", 1) // which the key bears
	}
	var names []string
	for _, check := range outfit.Registry() {
		names = append(names, check.Name)
	}
	open, all := completed(t, without(t, lines))
	if len(open) > 0 || len(all) != 20 {
		t.Fatalf("with all keys %v are undecided, and %v chosen", open, all)
	}
	found := map[string]bool{}
	for _, k := range optionalLines(t, lines) {
		if k.key == "parallel" || k.key == "area_mm2" {
			continue // one row of cells is another pack; a wire has a gauge or an area
		}
		c := without(t, lines, k)
		var named []string
		passed := false
		for _, g := range audit.Gaps(c) {
			for _, name := range g.Checks {
				if slices.Contains(names, name) {
					named = append(named, name)
				}
			}
			passed = passed || g.Kind == k.kind && g.Key == k.key && g.Instead.Stand == constraints.PartIsPassedOver
		}
		slices.Sort(named)
		want, chosen := completed(t, c)
		if !slices.Equal(named, want) {
			t.Errorf("without %s.%s: gaps leave %v open, undecided are %v", k.kind, k.key, named, want)
		}
		accessory := slices.ContainsFunc(outfit.Demanded(), func(n constraints.Need) bool { return n.Kind == k.kind })
		if accessory && passed != (len(chosen) < len(all)) {
			t.Errorf("without %s.%s: a part is said to be passed over: %v; chosen are %v", k.kind, k.key, passed, chosen)
		}
		for _, name := range want {
			found[name] = true
		}
	}
	for _, name := range []string{"bms", "switch", "fuse", "charger", "box", "pack-current", "key"} {
		if !found[name] {
			t.Errorf("no key leaves %s undecided", name)
		}
	}
}
