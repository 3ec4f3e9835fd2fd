package outfit

import (
	"fmt"
	"math"
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

// DIN 6885-1, ISO 773.
func TestKeySize(t *testing.T) {
	for _, tt := range []struct{ shaft, side float64 }{
		{5.9, 0}, {6, 2}, {7, 2}, {8, 2}, {8.1, 3}, {10, 3}, {10.1, 4}, {12, 4}, {14, 5}, {17, 5}, {20, 6}, {22, 6}, {23, 0},
	} {
		width, height, ok := KeySize(tt.shaft / mm)
		if ok != (tt.side > 0) {
			t.Errorf("shaft of %g mm: %v", tt.shaft, ok)
		}
		if ok {
			near(t, fmt.Sprintf("width at %g mm", tt.shaft), width*mm, tt.side, 1e-12)
			near(t, fmt.Sprintf("height at %g mm", tt.shaft), height*mm, tt.side, 1e-12)
		}
	}
	if _, _, ok := KeySize(nan); ok {
		t.Error("a key for an unknown shaft")
	}
}

// By hand: 100 N/mm² on half of 2 mm over 10 mm, 1000 N, at half of 8 mm: 4 N·m;
// of 15 mm only 1.3 × 8 mm count.
func TestKeyTorque(t *testing.T) {
	near(t, "10 mm", KeyTorque(0.008, 0.010), 4, 1e-12)
	near(t, "15 mm", KeyTorque(0.008, 0.015), 4.16, 1e-12)
	near(t, "no key for 4 mm", KeyTorque(0.004, 0.010), nan, 0)
	near(t, "unknown length", KeyTorque(0.008, nan), nan, 0)
}

func TestFasteners(t *testing.T) {
	for _, tt := range []struct {
		why    string
		change []string
		key    string // words; "": no key
		screws string // part of the words; "": none
	}{
		{"keyed on 8 mm", nil, "2 parallel keys of 2 × 2 mm, as long as the hub, for a shaft of 8 mm", "one on the key"},
		{"keyed on 10 mm", []string{"motor.shaft_mm = 10", "small.bore_mm = 10"}, "2 parallel keys of 3 × 3 mm, as long as the hub, for a shaft of 10 mm", "one on the key"},
		{"keyed on an unknown shaft", []string{"-motor.shaft_mm"}, "2 parallel keys, of a size that goes with the unknown shaft", "one on the key"},
		{"keyed on a shaft that the table does not have", []string{"motor.shaft_mm = 5", "small.bore_mm = 5"}, "2 keys as the maker of the motor says: the table has none for a shaft of 5 mm", "one on the key"},
		{"on a flat", []string{`small.shaft_key = "flat"`, `motor.shaft_key = "flat"`}, "", "one on the flat"},
		{"clamped", []string{`small.shaft_key = "plain"`}, "", "set screws and medium thread lock for 2 motor pulleys"},
		{"a keyed gear drive", gearKit("ratio = 3\nbore_mm = 8\nshaft_key = \"keyway\""), "2 parallel keys of 2 × 2 mm, as long as the hub, for a shaft of 8 mm", "2 gear drives"},
		{"inside the wheel", gearKit("ratio = 3\nin_wheel = true\nshaft_key = \"keyway\""), "", ""},
	} {
		o := outfitOf(t, tt.change...)
		key, screws := "", ""
		if n := o.Need("", "key"); n != nil {
			key = n.Words
		}
		if n := o.Need("", "set screws"); n != nil {
			screws = n.Words
		}
		if key != tt.key {
			t.Errorf("%s: key %q, want %q", tt.why, key, tt.key)
		}
		if (screws == "") != (tt.screws == "") || !strings.Contains(screws, tt.screws) {
			t.Errorf("%s: screws %q, want %q", tt.why, screws, tt.screws)
		}
	}
}

// A belt is named where the build has none: by hand, pulleys of 15 and 45 teeth
// of 5 mm and shafts 60 to 120 mm apart take belts of 271.6 to 391.4 mm.
func TestBelts(t *testing.T) {
	if n := outfitOf(t).Need("", "belt"); n != nil {
		t.Errorf("a build with a belt needs another: %s", n.Words)
	}
	for _, tt := range []struct {
		why    string
		change []string
		state  State
		words  string
	}{
		{"no belts", []string{"-belt"}, Missing, "2 belts for pulleys of 15 and 45 teeth, of htd-5m with 56 to 78 teeth, at most 15 mm wide"},
		{"one centre distance, no whole number", []string{"-belt", "mount.centre_min_mm = 60.6", "mount.centre_max_mm = 60.7"}, Misfit, "2 belts for pulleys of 15 and 45 teeth: no whole number of teeth suits shafts 60.6 to 60.7 mm apart"},
		{"no mount", []string{"-belt", "-mount"}, Open, "2 belts for pulleys of 15 and 45 teeth, of an unknown number of teeth"},
		{"pulleys that do not match", []string{"-belt", `large.profile = "gt-5"`}, Misfit, "2 belts for pulleys of 15 and 45 teeth: none goes on both htd-5m and gt-5"},
	} {
		n := outfitOf(t, tt.change...).Need("", "belt")
		if n == nil {
			t.Errorf("%s: none needed", tt.why)
			continue
		}
		if n.State != tt.state || n.Words != tt.words {
			t.Errorf("%s: %v %q, want %v %q", tt.why, n.State, n.Words, tt.state, tt.words)
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

// checkCase is what one check says of a changed kit; the value and the limit in
// the check's unit, NaN: null.
type checkCase struct {
	why          string
	change       []string
	want         string // verdict; "absent"
	value, limit float64
	words        string // part of them
}

func testCheck(t *testing.T, name string, cases []checkCase) {
	t.Helper()
	for _, tt := range cases {
		w := DefaultWishes()
		w.Sensored = name == "sensor"
		var found *Result
		for _, r := range Complete(build(t, hill, tt.change...), w).Results() {
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
			t.Errorf("%s: %v, want %s: value %v, limit %v, %s", tt.why, found.Verdict, tt.want, found.Value, found.Limit, found.Words)
		}
		near(t, tt.why+": value", found.Value*found.PerSI, tt.value, 1e-6)
		near(t, tt.why+": limit", found.Limit*found.PerSI, tt.limit, 1e-6)
		if !strings.Contains(found.Words, tt.words) {
			t.Errorf("%s: %q, want %q", tt.why, found.Words, tt.words)
		}
	}
}

func TestPackCurrentCheck(t *testing.T) {
	testCheck(t, "pack-current", []checkCase{
		{"2 × 30 A of 2 × 35 A", nil, "pass", 60, 70, ""},
		{"just as much", []string{"controller.battery_current_a = 35"}, "pass", 70, 70, ""},
		{"more: 35 A for each motor", []string{"controller.battery_current_a = 36"}, "fail", 72, 70, "set the battery current of each motor to at most 35 A"},
		{"a limit that does not divide: rounded down", []string{"battery.discharge_a = 41", "controller.battery_current_a = 36"}, "fail", 72, 41, "at most 20.5 A"},
		{"settings not known: what they may be", []string{"-controller.battery_current_a"}, "unknown", nan, 70, "at most 35 A"},
		{"limit not known", []string{"-cell.discharge_a"}, "unknown", 60, nan, "discharge_a is not known"},
	})
}

func TestSensorCheck(t *testing.T) {
	testCheck(t, "sensor", []checkCase{
		{"sensored", nil, "pass", nan, nan, ""},
		{"not sensored", []string{"motor.sensored = false"}, "fail", nan, nan, "motor motor has no sensors"},
		{"does not say", []string{"-motor.sensored"}, "unknown", nan, nan, "does not say"},
	})
	for _, r := range outfitOf(t, "motor.sensored = false").Results() {
		if r.Name == "sensor" {
			t.Error("sensors are checked though nobody asks for them")
		}
	}
}

func TestFuseCheck(t *testing.T) {
	testCheck(t, "fuse", []checkCase{
		{"65 A below what AWG 6 and the cells bear", []string{"lead.awg = 6"}, "pass", 65, 70, "melt does"},
		{"too large", []string{"lead.awg = 6", "melt.rated_a = 80"}, "fail", nan, 70, "look for a fuse of 60 to 70 A"},
		{"none", []string{"-melt", "lead.awg = 6"}, "unknown", nan, 70, "the catalog has none: look for a fuse of 60 to 70 A"},
		{"limit not known", []string{"-cell.discharge_a"}, "unknown", nan, nan, "discharge_a is not known"},
	})
}

// By hand: k = 0.0636620 N·m/A, six-step, 70 A less 1 A at no load: 4.3927 N·m; the
// key bears 4.16.
func TestKeyCheck(t *testing.T) {
	testCheck(t, "key", []checkCase{
		{"70 A", nil, "fail", 60 / (2 * math.Pi * 150) * 69, 4.16, "weakest part"},
		{"60 A", []string{"controller.motor_current_a = 60"}, "pass", 60 / (2 * math.Pi * 150) * 59, 4.16, ""},
		{"a narrow hub", []string{"controller.motor_current_a = 60", "small.width_mm = 8"}, "fail", 60 / (2 * math.Pi * 150) * 59, 3.2, ""},
		{"hub not known", []string{"-small.width_mm"}, "unknown", 60 / (2 * math.Pi * 150) * 69, nan, "how long the hub"},
		{"shaft not known", []string{"-motor.shaft_mm"}, "unknown", 60 / (2 * math.Pi * 150) * 69, nan, "shaft_mm is not known"},
		{"current not known", []string{"-controller.motor_current_a", "-motor.peak_current_a"}, "unknown", nan, 4.16, "no limit"},
		{"no key", []string{`small.shaft_key = "plain"`}, "absent", nan, nan, ""},
		{"a gear drive's hub", gearKit("ratio = 3\nbore_mm = 8\nshaft_key = \"keyway\""), "unknown", 60 / (2 * math.Pi * 150) * 69, nan, "how long the hub"},
	})
}

func TestSmallPulleyCheck(t *testing.T) {
	testCheck(t, "small-pulley", []checkCase{
		{"15 of 5 mm at 4900 rpm", nil, "fail", 15, 30, "handbook's 30"},
		{"slow: below 1160 rpm", []string{"motor.kv = 30"}, "fail", 15, 22, "handbook's 22"},
		{"between 1160 and 1750 rpm", []string{"motor.kv = 45"}, "fail", 15, 26, "handbook's 26"},
		{"enough teeth", []string{"small.teeth = 30"}, "pass", 30, 30, ""},
		{"the wheel's is the smaller, and turns slowly", []string{"motor.kv = 15", "small.teeth = 45", "large.teeth = 22", "-belt"}, "pass", 22, 22, ""},
		{"a profile that the table does not have", []string{`small.profile = "gt-5"`, `large.profile = "gt-5"`, "-belt"}, "unknown", 15, nan, "not known"},
		{"gears", gearKit("ratio = 3\nbore_mm = 8"), "absent", nan, nan, ""},
	})
}

func TestHuntingToothCheck(t *testing.T) {
	testCheck(t, "hunting-tooth", []checkCase{
		{"15 and 45", nil, "fail", nan, nan, "share the divisor 15"},
		{"16 and 45", []string{"small.teeth = 16", "-belt"}, "pass", nan, nan, ""},
		{"16 and 40", []string{"small.teeth = 16", "large.teeth = 40", "-belt"}, "fail", nan, nan, "share the divisor 8"},
		{"gears of 15 and 51", gearKit("driver_teeth = 15\ndriven_teeth = 51\nbore_mm = 8"), "fail", nan, nan, "gears of 15 and 51 teeth share the divisor 3"},
		{"gears of 13 and 74", gearKit("driver_teeth = 13\ndriven_teeth = 74\nbore_mm = 8"), "pass", nan, nan, ""},
		{"gears of unknown teeth", gearKit("ratio = 3\nbore_mm = 8"), "unknown", nan, nan, "not known"},
		{"inside the wheel", gearKit("ratio = 3\nin_wheel = true"), "absent", nan, nan, ""},
	})
}

// The checks of needs say what the needs say.
func TestNeedChecks(t *testing.T) {
	for name, part := range map[string]string{"bms": "guard", "switch": "main", "charger": "loader", "box": "tray"} {
		testCheck(t, name, []checkCase{
			{name + " chosen", nil, "pass", nan, nan, part + " does"},
			{name + " missing", []string{"-" + part}, "unknown", nan, nan, "the catalog has none: look for "},
		})
	}
	for name, misfit := range map[string]string{"bms": "guard.series = 12", "fuse": "melt.rated_a = 200"} {
		limit := map[string]float64{"bms": nan, "fuse": 70}[name]
		testCheck(t, name, []checkCase{
			{name + " for a pack to be built", []string{"lead.awg = 6", misfit}, "fail", nan, limit, "none in the catalog will do"},
			{name + " for a pack with a price", []string{"lead.awg = 6", misfit, "battery.price = 300"}, "unknown", nan, limit, "unless the pack has one inside"},
			{name + " for a pack that is there", []string{"lead.awg = 6", misfit, "battery.owned = true"}, "unknown", nan, limit, "unless the pack has one inside"},
		})
	}
	testCheck(t, "switch", []checkCase{
		{"though the pack has a price", []string{"main.max_volts = 30", "battery.price = 300"}, "fail", nan, nan, "none in the catalog will do"},
		{"unsure", []string{"-main.precharge"}, "unknown", nan, nan, "may do: main: precharge not given"},
		{"misfit", []string{"main.max_volts = 30"}, "fail", nan, nan, "none in the catalog will do (main: volts 30 V, less than 42 V): look for "},
		{"open", []string{"-cell.discharge_a", "-controller.battery_current_a"}, "unknown", nan, nan, "is known"},
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
