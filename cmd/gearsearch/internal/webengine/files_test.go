package webengine

import (
	"fmt"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// files is a list of files as a question has it.
func files(pairs ...string) []M {
	var out []M
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, M{"name": pairs[i], "data": []byte(pairs[i+1])})
	}
	return out
}

// little is a catalog of which one build can be made.
const little = `schema = 1
title = "A little shop"
currency = "CHF"

[[motor]]
id = "m1"
name = "<b onclick=alert(1)>bold</b>"
note = "javascript:alert(1)"
link = "javascript:alert(1)"
kv = 170
resistance_mohm = 60
peak_current_a = 80
continuous_current_a = 50
shaft_mm = 8
price = 99

[[controller]]
id = "c1"
max_volts = 60
motor_current_a = 70
battery_current_a = 40
price = 150

[[battery]]
id = "b1"
series = 10
nominal_v = 36
full_v = 42
cutoff_v = 30
capacity_ah = 10
resistance_mohm = 80
discharge_a = 60
price = 300

[[gear_drive]]
id = "g1"
ratio = 3.5
price = 120
fits_motors = ["m1"]
fits_wheels = ["w1"]

[[wheel]]
id = "w1"
diameter_mm = 100
price = 60
`

func TestCatalogOfTheReader(t *testing.T) {
	e := newEngine(t)
	c := answer[contents](t, e, M{"ask": "catalog", "files": files("shop.toml", little)})
	if c.Title != "A little shop" || c.Currency != "CHF" || c.Demo || c.Total != 5 {
		t.Errorf("read as %+v", c)
	}
	question := M{"ask": "rank", "brief": M{"target.top_speed_kmh": "20"}}
	builds := answer[ranking](t, e, question).Builds
	if len(builds) != 1 || builds[0].Parts[2] != "m1" {
		t.Fatalf("of the little shop these builds: %+v", builds)
	}
	question["ask"], question["build"] = "sheet", builds[0].File
	if text := answer[sheet](t, e, question).Sheet.String(); !strings.Contains(text, "&lt;b onclick=alert(1)&gt;bold&lt;/b&gt;") || strings.Contains(text, "href=\"javascript:") {
		t.Error("what the little shop calls its motor is markup, or its link can be followed")
	}
	delete(question, "build")
	question["ask"] = "rank"
	both := answer[contents](t, e, M{"ask": "catalog", "files": files("shop.toml", strings.Replace(little, "CHF", "EUR", 1)), "demo": true})
	if !both.Demo || both.Total <= c.Total {
		t.Errorf("with the demo parts: %+v", both)
	}
	none := answer[contents](t, e, M{"ask": "catalog"})
	if !none.Demo || none.Total != both.Total-c.Total {
		t.Errorf("without files: %+v", none)
	}
}

func TestWrongCatalogChangesNothing(t *testing.T) {
	e := newEngine(t)
	answer[contents](t, e, M{"ask": "catalog", "files": files("shop.toml", little)})
	wrong := strings.Replace(little, "kv = 170", `kv = "170"`, 1)
	wrong = strings.Replace(wrong, "diameter_mm", "diametre_mm", 1)
	r := ask[contents](t, e, M{"ask": "catalog", "files": files("shop.toml", wrong)})
	_, err := catalog.Read(field.Source{Name: "shop.toml", Data: []byte(wrong)})
	if err == nil {
		t.Fatal("nothing is wrong with it")
	}
	var texts []string
	for _, p := range r.Problems {
		texts = append(texts, p.Text)
	}
	if got := strings.Join(texts, "\n"); got != err.Error() || !strings.Contains(got, "^") {
		t.Errorf("the page says\n%s\nthe program prints\n%s", got, err)
	}
	if n := len(answer[ranking](t, e, M{"ask": "rank", "brief": M{"target.top_speed_kmh": "20"}}).Builds); n != 1 {
		t.Errorf("%d builds of the parts before, want 1", n)
	}
}

func TestManyProblemsAreCounted(t *testing.T) {
	e := newEngine(t)
	text := "schema = 1\n" + strings.Repeat("[[motor]]\nkv = 170\n", 120)
	r := ask[contents](t, e, M{"ask": "catalog", "files": files("many.toml", text)})
	if len(r.Problems) != listed || r.More != 120-listed {
		t.Errorf("%d problems listed and %d more, want %d and %d", len(r.Problems), r.More, listed, 120-listed)
	}
}

func TestCSV(t *testing.T) {
	e := newEngine(t)
	c := answer[contents](t, e, M{"ask": "catalog", "files": files("wheel.csv", "id,diameter_mm\nw7,97\nw8,107\n", "motor.csv", "id,kv\nm7,190\n")})
	if c.Total != 3 {
		t.Errorf("three parts are read as %+v", c)
	}
	if r := ask[contents](t, e, M{"ask": "catalog", "files": files("seats.csv", "id\nx\n")}); len(r.Problems) == 0 {
		t.Errorf("a CSV file of no kind is read as %+v", r.Answer)
	}
}

func TestSortFiles(t *testing.T) {
	e := newEngine(t)
	brief, _ := catalog.DemoBrief("trail")
	for _, tt := range []struct{ name, text, is, why string }{
		{"shop.toml", little, "catalog", "parts"},
		{"motor.csv", "id,kv\n", "catalog", "CSV is always parts"},
		{"trail.toml", string(brief.Data), "brief", "a brief by its sections"},
		{"b.toml", "schema = 1\n[build]\nmotor = \"m1\"\nmotors = 2\ncontroller = \"c1\"\nbattery = \"b1\"\nwheel = \"w1\"\ngear_drive = \"g1\"\n", "build", "a build file"},
		{"x.toml", "schema = 1\nseats = 4\n", "catalog", "anything else is complained about as a catalog"},
	} {
		got := answer[sorted](t, e, M{"ask": "file", "file": files(tt.name, tt.text)[0]})
		if got.Is != tt.is || (len(got.Values) > 0) != (tt.is == "brief") {
			t.Errorf("%s: %s is %+v, want %s", tt.why, tt.name, got, tt.is)
		}
	}
	for _, text := range []string{
		"schema = 1\n[target]\ntop_speed_kmh = 400\n", "schema = 1\n\n[build]\nmotor = 3\n",
		"schema = 1\n[parts]\nschema = 9\n" + "[build]\nmotor = \"m1\"\nmotors = 2\ncontroller = \"c1\"\nbattery = \"b1\"\nwheel = \"w1\"\ngear_drive = \"g1\"\n",
	} {
		if r := ask[sorted](t, e, M{"ask": "file", "file": files("f.toml", text)[0]}); len(r.Problems) == 0 || !strings.Contains(r.Problems[0].Text, "f.toml:3:") {
			t.Errorf("%q: %+v", text, r)
		}
	}
}

func TestShelves(t *testing.T) {
	e := newEngine(t)
	c := answer[contents](t, e, M{"ask": "catalog"})
	for _, size := range c.Shelves {
		seen := map[string]bool{}
		for len(seen) < size.N {
			s := answer[shelf](t, e, M{"ask": "shelf", "slot": size.Slot, "kind": size.Kind, "from": len(seen)})
			if s.Found != size.N || len(s.Parts) == 0 {
				t.Fatalf("%+v has %+v from %d on", size, s, len(seen))
			}
			for _, p := range s.Parts {
				if seen[p.ID] || len(p.Facts) == 0 {
					t.Errorf("%+v: %+v", size, p)
				}
				seen[p.ID] = true
			}
		}
	}
	found := answer[shelf](t, e, M{"ask": "shelf", "slot": "motor", "find": " OSTRIVEL "})
	if found.Found == 0 {
		t.Error("a name is not found by its letters")
	}
	for _, p := range found.Parts {
		if !strings.HasPrefix(p.Name, "Ostrivel") {
			t.Errorf("found %s, %s", p.ID, p.Name)
		}
	}
}

// TestLargeShelf pages through more parts than one reply lists.
func TestLargeShelf(t *testing.T) {
	var text strings.Builder
	text.WriteString("schema = 1\n")
	const n = 2*shelfStretch + 5
	for i := range n {
		fmt.Fprintf(&text, "[[belt]]\nid = \"b%03d\"\nprofile = \"htd-5m\"\nteeth = %d\n", i, 50+i)
	}
	e := newEngine(t)
	answer[contents](t, e, M{"ask": "catalog", "files": files("belts.toml", text.String())})
	got := 0
	for got < n {
		s := answer[shelf](t, e, M{"ask": "shelf", "slot": constraints.SlotBelt.String(), "from": got})
		if len(s.Parts) == 0 || s.Found != n {
			t.Fatalf("%d of %d from %d on", len(s.Parts), s.Found, got)
		}
		got += len(s.Parts)
	}
	if got != n {
		t.Errorf("%d parts in all, want %d", got, n)
	}
}

func TestIntroduction(t *testing.T) {
	in := answer[introduction](t, newEngine(t), M{"ask": "start"})
	if in.Protocol != Protocol || len(in.Keys) != len(constraints.BriefKeys()) || len(in.Slots) != len(constraints.Slots()) {
		t.Errorf("introduced as %+v", in)
	}
	for _, s := range in.Slots {
		if s.Meaning == "" {
			t.Errorf("what fills the slot %s is not said", s.Name)
		}
	}
	for _, b := range in.Briefs {
		if b.Title == "" || strings.ContainsAny(b.Title, "#.\n") {
			t.Errorf("the brief %s is called %q", b.Name, b.Title)
		}
	}
	for _, c := range in.Criteria {
		found := false
		for _, k := range in.Keys {
			found = found || k.Key == "weights."+c.Name
		}
		if !found {
			t.Errorf("the criterion %s has no weight", c.Name)
		}
	}
}
