package constraints

import (
	"errors"
	"strings"
	"testing"

	"gearsearch/catalog/field"
)

// mistake is a text that is wrong in one way.
type mistake struct{ name, text string }

// wrongBriefs are the ways to write a brief wrong that the text alone shows.
func wrongBriefs() []mistake {
	with := func(section, lines string) string { return "schema = 1\n[" + section + "]\n" + lines }
	return []mistake{
		{"empty", ""},
		{"no schema", "[rider]\nmass_kg = 80"},
		{"schema mistyped", "shema = 1"},
		{"schema of another version", "schema = 2"},
		{"schema in quotes", `schema = "1"`},
		{"not TOML", "schema = 1\n[rider\nmass_kg = 80"},
		{"not TOML at all", "a board that climbs"},
		{"unknown section", "schema = 1\n[targets]\ntop_speed_kmh = 30"},
		{"unknown key at the top", "schema = 1\ntop_speed_kmh = 30"},
		{"a catalog", "schema = 1\n[[wheel]]\nid = \"w\"\ndiameter_mm = 97"},
		{"unknown key", with("target", "top_sped_kmh = 30")},
		{"unknown key, nothing near", with("target", "hovers = true")},
		{"upper case", with("target", "Top_Speed_kmh = 30")},
		{"key twice", with("target", "range_km = 10\nrange_km = 12")},
		{"section as a list", "schema = 1\n[[rider]]\nmass_kg = 80"},
		{"section as a number", "schema = 1\nrider = 80"},
		{"section in one line", `schema = 1
rider = {mass_kg = 500}`},
		{"text for a number", with("target", `top_speed_kmh = "30"`)},
		{"unit of something else", with("target", `top_speed_kmh = "30 kg"`)},
		{"unit without quotes", with("target", "top_speed_kmh = 25mph")},
		{"unit of something else without quotes", with("target", "climb_grade_pct = 25mph")},
		{"out of range in another unit", with("target", `top_speed_kmh = "250 mph"`)},
		{"a wall", with("target", `climb_grade_pct = "90deg"`)},
		{"what people call a key", with("limit", "max_price = 900\nweight = 9\nerpm = 60000")},
		{"what people call a key, in another section", with("limit", "hill = 15\nrider_weight = 80\nspeed = 30")},
		{"key of another section", with("limit", "range_km = 30")},
		{"key with another unit", with("target", "top_speed_mph = 20\nrange_mi = 10")},
		{"decimal comma", with("target", "range_km = 12,5")},
		{"list for a number", with("target", "top_speed_kmh = [30, 40]")},
		{"number for a word", with("ground", "surface = 1")},
		{"metres for millimetres", with("board", "hanger_mm = 0.15")},
		{"grams for kilograms", with("rider", "mass_kg = 80000")},
		{"percent for a share", with("ground", "grip = 80")},
		{"a share for percent, negative", with("target", "climb_grade_pct = -15")},
		{"target of 0", with("target", "top_speed_kmh = 0")},
		{"not a number", with("target", "range_km = nan")},
		{"infinite", with("limit", "price = inf")},
		{"word mistyped", with("ground", `surface = "asfalt"`)},
		{"charge mistyped", with("target", `charge = "ful"`)},
		{"charge of a whole pack", with("target", "charge = 42")},
		{"charge in quotes", with("target", `charge = "3.7"`)},
		{"rule mistyped", with("limit", `erpm_rule = "freespin"`)},
		{"unknown weight", with("weights", "sped = 2")},
		{"negative weight", with("weights", "speed = -1")},
		{"unknown check demoted", with("limit", `demote = ["bore", "top_speed"]`)},
		{"check demoted twice", with("limit", `demote = ["bore", "bore"]`)},
		{"three motors", with("board", "motors = [2, 3]")},
		{"three motors alone", with("board", "motors = 3")},
		{"a count twice", with("board", "motors = [2, 2]")},
		{"half a motor", with("board", "motors = [1.5]")},
		{"no motors", with("board", "motors = []")},
		{"many motors", with("board", "motors = [6]")},
		{"launch without its speed", with("target", "launch_s = 3")},
		{"length of no hill", with("target", "climb_length_m = 300")},
		{"wet, and a grip", with("ground", "wet = true\ngrip = 0.5")},
		{"axles that no stance loads", with("board", "rear_share = 0.9\nlean = 0\naxle_min = 0.3")},
		{"at-speed without a speed", with("limit", `erpm_rule = "at-speed"`)},
		{"launch, its speed misread", with("target", "launch_s = 3\nlaunch_speed_kmh = 0")},
		{"maximum below the target", with("target", "top_speed_kmh = 40\ntop_speed_max_kmh = 30")},
		{"kept and avoided", "schema = 1\n[keep]\nmotor = [\"m1\", \"m2\"]\n[avoid]\nmotor = \"m2\""},
		{"nothing kept", with("keep", "motor = []")},
		{"kept twice", with("keep", `wheel = ["t1", "t1"]`)},
		{"no id", with("keep", `motor = "Big Motor"`)},
		{"no slot", with("keep", `pulley = "p1"`)},
		{"control character", with("keep", `motor = "a\u001b[2J"`)},
		{"key behind a syntax error", with("target", "launch_s = 3\nlaunch_speed_kmh 20")},
		{"several at once", "schema = 1\n[rider]\nmass_kg = 5\nheight_m = 1.8\n[target]\nlaunch_s = 3\nclimb_grade_pct = \"steep\""},
	}
}

// TestBriefMistakes: each mistake in a brief and the whole message to it.
func TestBriefMistakes(t *testing.T) {
	var tr record
	for _, m := range wrongBriefs() {
		b, err := ReadBrief(source("brief.toml", m.text))
		if err == nil {
			err = b.Validate()
		}
		tr.add(m.name, m.text, said(t, m, err))
	}
	tr.check(t, "brief_mistakes.txt")
}

// said is the message of an error, which must be Problems.
func said(t *testing.T, m mistake, err error) string {
	t.Helper()
	var problems field.Problems
	switch {
	case err == nil:
		t.Errorf("%s: accepted", m.name)
		return "accepted"
	case !errors.As(err, &problems):
		t.Errorf("%s: the error is no Problems: %v", m.name, err)
	}
	for i := range problems {
		checkProblem(t, m.text, &problems[i])
	}
	return err.Error()
}

// checkProblem holds a problem to the form of all problems: a place inside the
// text, or none; a caret inside the line; one line, lower case, no full stop.
func checkProblem(t testing.TB, text string, p *field.Problem) {
	t.Helper()
	lines := strings.Split(text, "\n")
	if p.File != "" && (p.Line < 1 || p.Line > len(lines) || p.Column < 1 || p.Column > len(lines[p.Line-1])+2) {
		t.Errorf("%q points outside the text: line %d, column %d of\n%s", p.Message, p.Line, p.Column, text)
	}
	if p.File == "" && (p.Line != 0 || p.Column != 0 || p.Source != "") {
		t.Errorf("%q has no file, but line %d, column %d, %q", p.Message, p.Line, p.Column, p.Source)
	}
	for _, s := range []string{p.Message, p.Hint} {
		// What the text itself has may be quoted.
		stop := strings.HasSuffix(s, ".") && !strings.Contains(text, ".")
		verb := strings.Contains(s, "%!") && !strings.Contains(text, "%!")
		if strings.ContainsAny(s, "\n\r\x1b\x00") || stop || verb {
			t.Errorf("bad text %q", s)
		}
	}
	if p.Message == "" || p.Code == "" {
		t.Errorf("a problem without a message or a code: %+v", p)
	}
}

// wrongAims are briefs that go with no catalog, or not with the kit's.
func wrongAims() []struct {
	name, drive string
	change      []string
} {
	return []struct {
		name, drive string
		change      []string
	}{
		{"kept id mistyped", onBelts, []string{`keep.motor = ["motr"]`}},
		{"kept id of nothing like it", onBelts, []string{`keep.motor = ["turbine-9000"]`}},
		{"avoided id mistyped", onBelts, []string{`avoid.wheel = ["weel"]`}},
		{"part of another slot", onBelts, []string{`keep.motor = ["wheel"]`}},
		{"pulley of the other side", onBelts, []string{`keep.wheel_pulley = ["small"]`}},
		{"part of no slot", onBelts, []string{`keep.battery = ["cell"]`}},
		{"two at once", onBelts, []string{`keep.motor = ["motr"]`, `avoid.belt = ["bel"]`}},
		{"nothing left", onBelts, []string{`avoid.motor = ["motor"]`}},
		{"no drive left", onBelts, []string{`avoid.wheel_pulley = ["large"]`}},
		{"no drive left of gears", onGears, []string{`avoid.gear_drive = ["gear"]`}},
		{"catalog without motors", onBelts, []string{"-motor"}},
		{"catalog without anything", onGears, []string{"-motor", "-controller", "-battery", "-gear", "-wheel"}},
		{"catalog with motor pulleys only", onBelts, []string{"-large"}},
		{"charge at the cut-off", onBelts, []string{"target.charge = 3"}},
		{"charge below the cut-off", onBelts, []string{"target.charge = 2.9"}},
	}
}

// TestAimMistakes: each way in which a brief does not go with a catalog.
func TestAimMistakes(t *testing.T) {
	var tr record
	for _, m := range wrongAims() {
		k := newKit(m.drive, m.change...)
		c, b := read(t, k)
		p, err := NewProblem(c, b)
		if p != nil && err != nil {
			t.Errorf("%s: a problem beside an error", m.name)
		}
		tr.add(m.name, m.drive+": "+strings.Join(m.change, "; "), said(t, mistake{m.name, string(k.Brief().Data)}, err))
	}
	tr.check(t, "aim_mistakes.txt")
}

// TestChargeAboveTheCutOff: just above is enough; a pack whose cut-off is not
// known takes any charge; a pack that is avoided does not matter.
func TestChargeAboveTheCutOff(t *testing.T) {
	ownPack := []string{"-battery.cell", "battery.nominal_v = 36", "battery.full_v = 42"}
	for _, change := range [][]string{
		{"target.charge = 3.01"},
		append(ownPack, "target.charge = 2.5"),
		{`[[battery]]
id = "other"
series = 10
nominal_v = 37
full_v = 42
cutoff_v = 34
`, "target.charge = 3.2", `avoid.battery = ["other"]`},
	} {
		problem(t, onBelts, change...)
	}
}

// TestFlagMistakes: each way to set a key wrong from a command line.
func TestFlagMistakes(t *testing.T) {
	var tr record
	for _, c := range []struct{ name, key, text string }{
		{"no section", "top_speed_kmh", "30"},
		{"no key", "target", "30"},
		{"no key after the point", "target.", "30"},
		{"nothing", "", "30"},
		{"section mistyped", "taget.top_speed_kmh", "30"},
		{"section of nothing like it", "engine.kv", "30"},
		{"key mistyped", "target.top_speed", "30"},
		{"key of a slot", "keep.motr", "a"},
		{"no number", "target.top_speed_kmh", "fast"},
		{"unit of something else", "target.top_speed_kmh", "30kg"},
		{"what people call a key", "speed", "30"},
		{"what people call a key of the section", "limit.budget", "900"},
		{"decimal comma", "target.range_km", "12,5"},
		{"out of range", "rider.mass_kg", "80000"},
		{"not finite", "rider.mass_kg", "NaN"},
		{"word mistyped", "limit.erpm_rule", "atspeed"},
		{"check mistyped", "limit.demote", "bore,hup"},
		{"count twice", "board.motors", "2,2"},
		{"control character", "keep.motor", "a\x1b[2Jb"},
	} {
		b := DefaultBrief()
		err := b.Set(c.key, c.text, "--set")
		var p *field.Problem
		if !errors.As(err, &p) {
			t.Errorf("%s: %v, want a Problem", c.name, err)
			continue
		}
		checkProblem(t, "", p)
		if err := b.Validate(); err != nil {
			t.Errorf("%s: something was set: %v", c.name, err)
		}
		tr.add(c.name, strings.ReplaceAll(c.key+"="+c.text, "\x1b", "<escape>"), err.Error())
	}
	tr.check(t, "flag_mistakes.txt")
}

// TestFlagContradictions: what a flag brings about is said of the flag, what
// the file says at its place in the file.
func TestFlagContradictions(t *testing.T) {
	k := newKit(onBelts, "target.launch_speed_kmh = 20", `keep.motor = ["motor"]`)
	var tr record
	for _, c := range []struct {
		name string
		set  [][3]string // key, text, origin
		add  [][3]string // section, slot, id
	}{
		{name: "at-speed by a flag", set: [][3]string{{"limit.erpm_rule", "at-speed", "--set"}}},
		{name: "three motors by a flag", set: [][3]string{{"board.motors", "1,3", "--motors"}}},
		{name: "a stranger by a flag", set: [][3]string{{"keep.motor", "motr", "--keep"}}},
		{name: "a stranger added by a flag", add: [][3]string{{"keep", "motor", "wheel"}}},
		{name: "avoided by a flag what the file keeps", add: [][3]string{{"avoid", "motor", "motor"}}},
		{name: "a maximum below the target", set: [][3]string{{"target.top_speed_max_kmh", "20", "--top-speed-max"}, {"target.top_speed_kmh", "30", "--top-speed"}}},
		{name: "charge by a flag", set: [][3]string{{"target.charge", "2.8", "--set"}}},
		{name: "nothing left by a flag", set: [][3]string{{"keep.motor", "motor", "--keep"}}, add: [][3]string{{"avoid", "wheel", "wheel"}}},
	} {
		cat, b := read(t, k)
		var words []string
		for _, s := range c.set {
			if err := b.Set(s[0], s[1], s[2]); err != nil {
				t.Fatal(err)
			}
			words = append(words, s[2]+" "+s[0]+"="+s[1])
		}
		for _, s := range c.add {
			if err := b.AddParts(s[0], s[1], []string{s[2]}, "--"+s[0]); err != nil {
				t.Fatal(err)
			}
			words = append(words, "--"+s[0]+" "+s[1]+"="+s[2])
		}
		_, err := NewProblem(cat, b)
		tr.add(c.name, strings.Join(words, " "), said(t, mistake{c.name, string(k.Brief().Data)}, err))
	}
	tr.check(t, "flag_contradictions.txt")
}
