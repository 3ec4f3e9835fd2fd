package outfit

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// gearKit changes the kit to one with a gear drive.
func gearKit(gear string, more ...string) []string {
	return append([]string{"-small", "-large", "-belt", "-mount", "[[gear_drive]]\nid = \"gear\"\n" + gear}, more...)
}

// DIN 6885-1, ISO 773: sides of 2 to 6 mm, keyways in the shaft 1.2, 1.8, 2.5, 3 and
// 3.5 mm deep, so that 0.8, 1.2, 1.5, 2 and 2.5 mm stand above them.
func TestKeySize(t *testing.T) {
	for _, tt := range []struct{ shaft, side, above float64 }{
		{5.9, 0, 0},
		{6, 2, 0.8},
		{7, 2, 0.8},
		{8, 2, 0.8},
		{8.1, 3, 1.2},
		{10, 3, 1.2},
		{10.1, 4, 1.5},
		{12, 4, 1.5},
		{14, 5, 2},
		{17, 5, 2},
		{20, 6, 2.5},
		{22, 6, 2.5},
		{23, 0, 0},
	} {
		width, height, above, ok := KeySize(tt.shaft / mm)
		if ok != (tt.side > 0) {
			t.Errorf("shaft of %g mm: %v", tt.shaft, ok)
		}
		if ok {
			near(t, fmt.Sprintf("width at %g mm", tt.shaft), width*mm, tt.side, 1e-12)
			near(t, fmt.Sprintf("height at %g mm", tt.shaft), height*mm, tt.side, 1e-12)
			near(t, fmt.Sprintf("height above the keyway at %g mm", tt.shaft), above*mm, tt.above, 1e-12)
		}
	}
	if _, _, _, ok := KeySize(nan); ok {
		t.Error("a key for an unknown shaft")
	}
}

// By hand, as DIN 6892, method C, has the pressure, p = 2T/(d l (h − t₁)), with l the
// length less the key's width for its round ends (DIN 6885-1, form A): on 8 mm 10 mm
// bear over 8 mm, 100 N/mm² × 8 mm × 0.8 mm × 4 mm = 2.56 N·m; of 15 mm only 1.3 × 8
// mm count, 3.328 N·m. On 10 mm 15 mm bear over 12, 100 × 12 × 1.2 × 5 = 7.2 N·m, on
// 12 mm over 11, 100 × 11 × 1.5 × 6 = 9.9 N·m.
func TestKeyTorque(t *testing.T) {
	for _, tt := range []struct {
		why                 string
		shaft, length, want float64 // mm, mm, N·m
	}{
		{"10 mm", 8, 10, 2.56},
		{"15 mm", 8, 15, 3.328},
		{"10 mm of shaft", 10, 15, 7.2},
		{"12 mm of shaft", 12, 15, 9.9},
		{"shorter than its ends", 8, 1.5, 0},
		{"no key for 4 mm", 4, 10, nan},
		{"unknown length", 8, nan, nan},
	} {
		got := KeyTorque(tt.shaft/mm, tt.length/mm)
		near(t, tt.why, got, tt.want, 1e-12)
		if got > 0 {
			width, height, above, _ := KeySize(tt.shaft / mm)
			bearing := math.Min(tt.length/mm-width, 1.3*tt.shaft/mm)
			near(t, tt.why+": pressure", 2*got/(tt.shaft/mm*bearing*above), 100e6, 1e-12)
			if above >= height {
				t.Errorf("%s: %g m of %g stand above the keyway", tt.why, above, height)
			}
		}
	}
}

func TestFasteners(t *testing.T) {
	for _, tt := range []struct {
		why    string
		change []string
		key    string // "": no key
		screws string // "": none
	}{
		{"keyed on 8 mm", nil, "buy-keys 2 2 2 8", "buy-screws-on-key motor_pulley 2"},
		{"keyed on 10 mm", []string{"motor.shaft_mm = 10", "small.bore_mm = 10"}, "buy-keys 2 3 3 10", "buy-screws-on-key motor_pulley 2"},
		{"keyed on an unknown shaft", []string{"-motor.shaft_mm"}, "buy-keys-unknown 2", "buy-screws-on-key motor_pulley 2"},
		{"keyed on a shaft that the table does not have", []string{"motor.shaft_mm = 5", "small.bore_mm = 5"}, "buy-keys-of-maker 2 5", "buy-screws-on-key motor_pulley 2"},
		{"on a flat", []string{`small.shaft_key = "flat"`, `motor.shaft_key = "flat"`}, "", "buy-screws-on-flat motor_pulley 2"},
		{"clamped", []string{`small.shaft_key = "plain"`}, "", "buy-screws motor_pulley 2"},
		{"a keyed gear drive", gearKit("ratio = 3\nbore_mm = 8\nshaft_key = \"keyway\""), "buy-keys 2 2 2 8", "buy-screws-on-key gear_drive 2"},
		{"inside the wheel", gearKit("ratio = 3\nin_wheel = true\nshaft_key = \"keyway\""), "", ""},
	} {
		o := outfitOf(t, tt.change...)
		key, screws := "", ""
		if n := o.Need("", "key"); n != nil {
			key = briefly(n.Buy)
		}
		if n := o.Need("", "set screws"); n != nil {
			screws = briefly(n.Buy)
		}
		if key != tt.key {
			t.Errorf("%s: key %q, want %q", tt.why, key, tt.key)
		}
		if screws != tt.screws {
			t.Errorf("%s: screws %q, want %q", tt.why, screws, tt.screws)
		}
	}
}

// A belt is named where the build has none: by hand, pulleys of 15 and 45 teeth
// of 5 mm and shafts 60 to 120 mm apart take belts of 271.6 to 391.4 mm.
func TestBelts(t *testing.T) {
	if n := outfitOf(t).Need("", "belt"); n != nil {
		t.Errorf("a build with a belt needs another: %s", briefly(n.Buy))
	}
	for _, tt := range []struct {
		why    string
		change []string
		state  State
		buy    string
	}{
		{"no belts", []string{"-belt"}, Missing, "buy-belts htd-5m 2 15 45 56 78 15"},
		{"one centre distance, no whole number", []string{"-belt", "mount.centre_min_mm = 60.6", "mount.centre_max_mm = 60.7"}, Misfit, "buy-belts-none 2 15 45 60.6 60.7"},
		{"no mount", []string{"-belt", "-mount"}, Open, "buy-belts-unknown 2 15 45"},
		{"pulleys that do not match", []string{"-belt", `large.profile = "gt-5"`}, Misfit, "buy-belts-of-two htd-5m gt-5 2 15 45"},
	} {
		n := outfitOf(t, tt.change...).Need("", "belt")
		if n == nil {
			t.Errorf("%s: none needed", tt.why)
			continue
		}
		if n.State != tt.state || briefly(n.Buy) != tt.buy {
			t.Errorf("%s: %v %q, want %v %q", tt.why, n.State, briefly(n.Buy), tt.state, tt.buy)
		}
	}
	// Every number of teeth that is named goes round within the mount's range,
	// and the next on either side does not.
	p := drive.Profiles()[1]
	least, most := beltTeeth(p, 15, 45, 0.060, 0.120)
	for teeth := least - 1; teeth <= most+1; teeth++ {
		centre, ok := drive.CentreDistance(float64(teeth)*p.Pitch, p.PitchDiameter(15), p.PitchDiameter(45))
		within := ok && centre >= 0.060 && centre <= 0.120
		if within != (teeth >= least && teeth <= most) {
			t.Errorf("%d teeth: centre %g, named %d to %d", teeth, centre, least, most)
		}
	}
}

// onChain makes the kit's drive one of chain 06C, of 12 and 30 teeth.
func onChain(more ...string) []string {
	return append([]string{
		"-small", "-large", "-belt",
		"[[sprocket]]\nid = \"small\"\nside = \"motor\"\nprofile = \"chain-06c\"\nteeth = 12\nbore_mm = 8\nshaft_key = \"keyway\"",
		"[[sprocket]]\nid = \"large\"\nside = \"wheel\"\nprofile = \"chain-06c\"\nteeth = 30\nhub = \"spoke\"",
	}, more...)
}

// A chain is named where the build has none, of an even number of links: by hand,
// shafts 60 to 120 mm apart take 34.9 to 46.8 links of 9.525 mm round 12 and 30 teeth.
func TestChains(t *testing.T) {
	chain := "[[chain]]\nid = \"belt\"\nprofile = \"chain-06c\"\nlinks = 40"
	for _, tt := range []struct {
		why    string
		change []string
		state  State
		buy    string
	}{
		{"no chains", onChain(), Missing, "buy-chains chain-06c 2 12 30 36 46 NaN"},
		{"one centre distance, no even number", onChain("mount.centre_min_mm = 60", "mount.centre_max_mm = 60.5"), Misfit, "buy-chains-none 2 12 30 60 60.5"},
		{"no mount", onChain("-mount"), Open, "buy-chains-unknown 2 12 30"},
		{"sprockets that do not match", append(onChain()[:4:4], strings.Replace(onChain()[4], "06c", "05b", 1)), Misfit, "buy-chains-of-two chain-06c chain-05b 2 12 30"},
	} {
		o := outfitOf(t, tt.change...)
		n := o.Need("", "chain")
		if n == nil || o.Need("", "belt") != nil {
			t.Errorf("%s: none needed, or a belt", tt.why)
			continue
		}
		if n.State != tt.state || briefly(n.Buy) != tt.buy {
			t.Errorf("%s: %v %q, want %v %q", tt.why, n.State, briefly(n.Buy), tt.state, tt.buy)
		}
	}
	o := outfitOf(t, onChain(chain)...)
	if n := o.Need("", "chain"); n != nil {
		t.Errorf("a build with a chain needs another: %s", briefly(n.Buy))
	}
	// 40 links of 9.525 mm are 381 mm.
	links := o.Need("", "master link")
	if links == nil || briefly(links.Buy) != "buy-master-links chain-06c 2" || briefly(links.Notes...) != "chain-is-cut 40 381" {
		t.Errorf("master links %+v", links)
	}
	var names []string
	for _, tool := range o.Tools() {
		names = append(names, tool.Name)
	}
	if !slices.Contains(names, "chain_oil") || !slices.Contains(names, "chain_breaker") {
		t.Errorf("tools %v", names)
	}
	for _, l := range o.Lines {
		if want := map[string]string{"motor_pulley": "motor_sprocket", "wheel_pulley": "wheel_sprocket", "belt": "chain"}[l.Slot]; want != "" && l.Called != want {
			t.Errorf("%s is called %s", l.Slot, l.Called)
		}
	}
	if o := outfitOf(t); o.Need("", "master link") != nil {
		t.Error("a belt needs a master link")
	}
	for _, r := range o.Results() {
		switch r.Name {
		case "small-pulley":
			t.Error("a sprocket is held to the handbook of belts")
		case "hunting-tooth":
			if briefly(r.Says) != "sprockets-share 12 30 6" {
				t.Errorf("%v", r.Says)
			}
		}
	}
}

// checkCase is what one check says of a changed kit; the value and the limit in
// the check's unit, NaN: null.
type checkCase struct {
	why          string
	change       []string
	want         string // verdict; "absent"
	value, limit float64
	finds        string // part of it
}

func testCheck(t *testing.T, name string, cases []checkCase) {
	t.Helper()
	for _, tt := range cases {
		var found *Result
		for _, r := range Complete(build(t, hill, tt.change...), DefaultWishes()).Results() {
			if r.Name == name {
				found = &r
			}
		}
		if found == nil || tt.want == "absent" {
			if found != nil || tt.want != "absent" {
				t.Errorf("%s: listed %v, want %s", tt.why, found != nil, tt.want)
			}
			continue
		}
		if found.Verdict.String() != tt.want {
			t.Errorf("%s: %v, want %s: value %v, limit %v, %s", tt.why, found.Verdict, tt.want, found.Value, found.Limit, finds(found.Finding))
		}
		near(t, tt.why+": value", found.Value*found.PerSI, tt.value, 1e-6)
		near(t, tt.why+": limit", found.Limit*found.PerSI, tt.limit, 1e-6)
		if got := finds(found.Finding); !strings.Contains(got, tt.finds) {
			t.Errorf("%s: %q, want %q", tt.why, got, tt.finds)
		}
	}
}

func TestPackCurrentCheck(t *testing.T) {
	testCheck(t, "pack-current", []checkCase{
		{"2 × 30 A of 2 × 35 A", nil, "pass", 60, 70, ""},
		{"just as much", []string{"controller.battery_current_a = 35"}, "pass", 70, 70, ""},
		{"more: 35 A for each motor", []string{"controller.battery_current_a = 36"}, "fail", 72, 70, "set-battery-current 35 70 2"},
		{"a limit that does not divide: rounded down", []string{"battery.discharge_a = 41", "controller.battery_current_a = 36"}, "fail", 72, 41, "set-battery-current 20.5 41 2"},
		{"settings not known: what they may be", []string{"-controller.battery_current_a"}, "unknown", nan, 70, "set-battery-current 35 70 2"},
		{"limit not known", []string{"-cell.discharge_a"}, "unknown", 60, nan, "no-settings"},
	})
}

func TestFuseCheck(t *testing.T) {
	testCheck(t, "fuse", []checkCase{
		{"65 A below what AWG 6 and the cells bear", []string{"lead.awg = 6"}, "pass", 65, 70, "chosen melt"},
		{"too large, and others are made", []string{"lead.awg = 6", "melt.rated_a = 80"}, "unknown", nan, 70, "missing (melt: demand-rating; too-much 80 70) buy-fuse 50 70 42 840"},
		{"none", []string{"-melt", "lead.awg = 6"}, "unknown", nan, 70, "missing buy-fuse 50 70 42 840"},
		{"none is made", unmade(), "fail", nan, 63, "misfit (melt: demand-rating; too-much 65 63) buy-fuse-unmade 62 63 42 840"},
		{"limit not known", []string{"-cell.discharge_a"}, "unknown", nan, nan, "open no-discharge"},
	})
}

// unmade are changes of the kit with which its fuse must be of 62 to 63 A.
func unmade(more ...string) []string {
	return append([]string{"-motor.resistance_mohm", "lead.awg = 6", "controller.battery_current_a = 31", "battery.discharge_a = 63"}, more...)
}

// By hand: k = 0.0636620 N·m/A, six-step, 70 A less 1 A at no load: 4.3927 N·m; the
// key bears 3.328, and over 6 mm of a hub of 8 mm 1.92.
func TestKeyCheck(t *testing.T) {
	testCheck(t, "key", []checkCase{
		{"70 A", nil, "fail", 60 / (2 * math.Pi * 150) * 69, 3.328, "key-is-weakest"},
		{"50 A", []string{"controller.motor_current_a = 50"}, "pass", 60 / (2 * math.Pi * 150) * 49, 3.328, ""},
		{"a narrow hub", []string{"controller.motor_current_a = 50", "small.width_mm = 8"}, "fail", 60 / (2 * math.Pi * 150) * 49, 1.92, ""},
		{"hub not known", []string{"-small.width_mm"}, "unknown", 60 / (2 * math.Pi * 150) * 69, nan, "no-hub-length"},
		{"shaft not known", []string{"-motor.shaft_mm"}, "unknown", 60 / (2 * math.Pi * 150) * 69, nan, "no-shaft"},
		{"current not known", []string{"-controller.motor_current_a", "-motor.peak_current_a"}, "unknown", nan, 3.328, "no-key-limit"},
		{"no key", []string{`small.shaft_key = "plain"`}, "absent", nan, nan, ""},
		{"a gear drive's hub", gearKit("ratio = 3\nbore_mm = 8\nshaft_key = \"keyway\""), "unknown", 60 / (2 * math.Pi * 150) * 69, nan, "no-hub-length"},
	})
}

func TestSmallPulleyCheck(t *testing.T) {
	testCheck(t, "small-pulley", []checkCase{
		{"15 of 5 mm at 4900 rpm", nil, "fail", 15, 30, "bends-sharply htd-5m 15 30"},
		{"slow: below 1160 rpm", []string{"motor.kv = 30"}, "fail", 15, 22, "bends-sharply htd-5m 15 22"},
		{"between 1160 and 1750 rpm", []string{"motor.kv = 45"}, "fail", 15, 26, "bends-sharply htd-5m 15 26"},
		{"enough teeth", []string{"small.teeth = 30"}, "pass", 30, 30, ""},
		{"the wheel's is the smaller, and turns slowly", []string{"motor.kv = 15", "small.teeth = 45", "large.teeth = 22", "-belt"}, "pass", 22, 22, ""},
		{"a profile that the table does not have", []string{`small.profile = "gt-5"`, `large.profile = "gt-5"`, "-belt"}, "unknown", 15, nan, "no-handbook-teeth gt-5"},
		{"gears", gearKit("ratio = 3\nbore_mm = 8"), "absent", nan, nan, ""},
	})
}

func TestHuntingToothCheck(t *testing.T) {
	testCheck(t, "hunting-tooth", []checkCase{
		{"15 and 45", nil, "fail", nan, nan, "pulleys-share 15 45 15"},
		{"16 and 45", []string{"small.teeth = 16", "-belt"}, "pass", nan, nan, ""},
		{"16 and 40", []string{"small.teeth = 16", "large.teeth = 40", "-belt"}, "fail", nan, nan, "pulleys-share 16 40 8"},
		{"gears of 15 and 51", gearKit("driver_teeth = 15\ndriven_teeth = 51\nbore_mm = 8"), "fail", nan, nan, "gears-share 15 51 3"},
		{"gears of 13 and 74", gearKit("driver_teeth = 13\ndriven_teeth = 74\nbore_mm = 8"), "pass", nan, nan, ""},
		{"gears of unknown teeth", gearKit("ratio = 3\nbore_mm = 8"), "unknown", nan, nan, "no-gear-teeth"},
		{"inside the wheel", gearKit("ratio = 3\nin_wheel = true"), "absent", nan, nan, ""},
	})
}

// The checks of needs find what the needs come to.
func TestNeedChecks(t *testing.T) {
	for name, part := range map[string]string{"bms": "guard", "switch": "main", "charger": "loader", "box": "tray"} {
		testCheck(t, name, []checkCase{
			{name + " chosen", nil, "pass", nan, nan, "chosen " + part},
			{name + " missing", []string{"-" + part}, "unknown", nan, nan, "missing buy-"},
		})
	}
	for name, misfit := range map[string][]string{"bms": {"guard.series = 12"}, "fuse": unmade()} {
		limit := map[string]float64{"bms": nan, "fuse": 63}[name]
		part := map[string]string{"bms": "guard", "fuse": "melt"}[name]
		testCheck(t, name, []checkCase{
			{name + " for a pack to be built", misfit, "fail", nan, limit, "misfit (" + part + ": "},
			{name + " for a pack with a price", append(misfit[:len(misfit):len(misfit)], "battery.price = 300"), "unknown", nan, limit, "may be inside"},
			{name + " for a pack that is there", append(misfit[:len(misfit):len(misfit)], "battery.owned = true"), "unknown", nan, limit, "may be inside"},
		})
	}
	testCheck(t, "switch", []checkCase{
		{"though the pack has a price", []string{"main.max_volts = 30", "battery.price = 300"}, "fail", nan, nan, "misfit (main: "},
		{"unsure", []string{"-main.precharge"}, "unknown", nan, nan, "unsure (main: not-given precharge)"},
		{"misfit", []string{"main.max_volts = 30"}, "fail", nan, nan, "misfit (main: demand-volts; too-little 30 42) buy-switch 42"},
		{"open", []string{"-cell.discharge_a", "-controller.battery_current_a"}, "unknown", nan, nan, "open no-pack-peak"},
	})
}

func TestRegistry(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Registry() {
		if c.Name == "" || c.Meaning == "" || c.Source == "" || c.PerSI == 0 || seen[c.Name] {
			t.Errorf("check %+v", c)
		}
		seen[c.Name] = true
		for _, ranked := range constraints.CheckNames() {
			if ranked == c.Name {
				t.Errorf("%s is the name of a check that ranks builds", c.Name)
			}
		}
	}
	Registry()[0] = nil
	if Registry()[0] == nil {
		t.Error("the registry can be changed from outside")
	}
	r := Result{&Check{Lower: true}, Finding{Outcome: atLeast(15, 30)}}
	near(t, "margin of a lower limit", r.MarginPct(), -50, 1e-12)
	if !r.Fails() {
		t.Error("15 of 30 teeth do not fail")
	}
}

// The kinds that needs name are kinds of the catalog, and their keys keys of it.
func TestNeedsNameKeysOfTheCatalog(t *testing.T) {
	keys := map[string]map[string]bool{}
	for _, k := range catalog.Kinds() {
		keys[k.Name] = map[string]bool{}
		for _, f := range k.Fields {
			keys[k.Name][f.Key] = true
		}
	}
	for _, n := range outfitOf(t).Needs {
		if n.Kind == "" {
			continue
		}
		for _, d := range n.Demands {
			if !keys[n.Kind][d.Key] {
				t.Errorf("%s has no key %s", n.Kind, d.Key)
			}
		}
	}
}
