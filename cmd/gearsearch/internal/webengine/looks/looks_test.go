package looks

import (
	"encoding/json"
	"encoding/xml"
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/webengine"
)

// M is a JSON object.
type M = map[string]any

// replied is what the engine answers.
type replied struct {
	Answer   json.RawMessage
	Problems []struct{ Text string }
	Fault    string
}

func ask(t *testing.T, e *webengine.Engine, question M) replied {
	t.Helper()
	text, err := json.Marshal(question)
	if err != nil {
		t.Fatal(err)
	}
	var r replied
	if err := json.Unmarshal(e.Answer(text, nil), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func newEngine(t *testing.T) *webengine.Engine {
	t.Helper()
	e, err := webengine.New(nil, Questions()...)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// bestFile is the build file of the best build of a brief.
func bestFile(t *testing.T, e *webengine.Engine, brief M) string {
	t.Helper()
	var ranking struct{ Builds []struct{ File string } }
	if err := json.Unmarshal(ask(t, e, M{"ask": "rank", "brief": brief, "top": 1}).Answer, &ranking); err != nil || len(ranking.Builds) != 1 {
		t.Fatalf("%d builds, %v", len(ranking.Builds), err)
	}
	return ranking.Builds[0].File
}

// texts are the texts of a drawing in order; each element may only be of a kind
// that a page takes.
func texts(t *testing.T, e *element) []string {
	t.Helper()
	if e.Name == "" {
		return []string{e.Text}
	}
	if !strings.Contains(" svg g path text ", " "+e.Name+" ") {
		t.Errorf("an element %s", e.Name)
	}
	var out []string
	for _, x := range e.Inside {
		out = append(out, texts(t, x)...)
	}
	return out
}

func TestDrawing(t *testing.T) {
	e := newEngine(t)
	brief := M{"target.top_speed_kmh": "30", "target.climb_grade_pct": "15", "target.climb_length_m": "400"}
	belt := bestFile(t, e, M{"target.top_speed_kmh": "30", "target.climb_grade_pct": "15", "avoid.gear_drive": gears(t, e)})
	for _, k := range plot.Kinds() {
		kind := k.Name
		r := ask(t, e, M{"ask": "drawing", "what": kind, "brief": brief, "build": belt})
		var d drawing
		if err := json.Unmarshal(r.Answer, &d); err != nil {
			t.Fatalf("%s: %v, %+v", kind, err, r)
		}
		if d.SVG == nil || d.Title == "" || d.Summary == "" || d.Width < 300 || len(texts(t, d.SVG)) < 5 {
			t.Errorf("%s is drawn as %+v", kind, d)
		}
	}
	var none drawing
	r := ask(t, e, M{"ask": "drawing", "what": "heat", "brief": M{"target.top_speed_kmh": "30"}, "build": belt})
	if err := json.Unmarshal(r.Answer, &none); err != nil || none.SVG != nil || !strings.Contains(none.Missing, "set target.climb_length_m") {
		t.Errorf("heat without a hill is %+v, %v", none, err)
	}
	if r := ask(t, e, M{"ask": "drawing", "what": "cat", "brief": brief, "build": belt}); !strings.Contains(r.Fault, "there is no drawing \"cat\"") {
		t.Errorf("of no drawing: %+v", r)
	}
	if r := ask(t, e, M{"ask": "drawing", "what": "thrust", "brief": M{"target.top_speed_kmh": "fast"}, "build": belt}); len(r.Problems) == 0 {
		t.Errorf("of a wrong brief: %+v", r)
	}
}

// gears are the ids of all gear drives.
func gears(t *testing.T, e *webengine.Engine) string {
	t.Helper()
	var shelf struct{ Parts []struct{ ID string } }
	if err := json.Unmarshal(ask(t, e, M{"ask": "shelf", "slot": "gear_drive"}).Answer, &shelf); err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, p := range shelf.Parts {
		ids = append(ids, p.ID)
	}
	return strings.Join(ids, ",")
}

// TestElementsAreTexts reads drawings in which texts look like markup.
func TestElementsAreTexts(t *testing.T) {
	const hostile = `<script>alert(1)</script>&"'`
	var quoted strings.Builder
	if err := xml.EscapeText(&quoted, []byte(hostile)); err != nil {
		t.Fatal(err)
	}
	tree, err := elements(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" aria-label="` + quoted.String() + `"><text x="1">` + quoted.String() + "</text>\n</svg>")
	if err != nil {
		t.Fatal(err)
	}
	if got := texts(t, tree); len(got) != 1 || got[0] != hostile || tree.Attributes["aria-label"] != hostile || tree.Attributes["xmlns"] != "" {
		t.Errorf("read as %q in %v", got, tree)
	}
	for _, wrong := range []string{"", "text", "<svg>", "<svg/><svg/>", "<p/>"} {
		if tree, err := elements(wrong); err == nil {
			t.Errorf("%q is the drawing %v", wrong, tree)
		}
	}
}

func TestReport(t *testing.T) {
	e := newEngine(t)
	report := func(more M) (saved, replied) {
		question := M{"ask": "report", "brief": M{"target.top_speed_kmh": "30", "limit.price": "800"}, "top": 3, "made": "2025-11-25"}
		for k, v := range more {
			question[k] = v
		}
		r := ask(t, e, question)
		var s saved
		if len(r.Answer) > 0 {
			if err := json.Unmarshal(r.Answer, &s); err != nil {
				t.Fatal(err)
			}
		}
		return s, r
	}
	got, r := report(nil)
	if got.Name != "shortlist.html" || strings.Count(got.Text, `<article class="card"`) != 3 || !strings.Contains(got.Text, "Made 2025-11-25 in a browser") || !strings.Contains(got.Text, "Where they stand among all") {
		t.Errorf("the report is %.200q, %+v", got.Text, r.Fault)
	}
	if got, _ := report(M{"brief": M{"target.top_speed_kmh": "30", "limit.price": "1"}}); !strings.Contains(got.Text, "The nearest build") {
		t.Errorf("where nothing is feasible: %.200q", got.Text)
	}
	if _, r := report(M{"made": "<b>today"}); !strings.Contains(r.Fault, "is no date") {
		t.Errorf("of no date: %+v", r)
	}
	if _, r := report(M{"brief": M{}}); len(r.Problems) == 0 {
		t.Errorf("of a brief that asks for nothing: %+v", r)
	}
}

func TestCommand(t *testing.T) {
	for _, tt := range []struct {
		name, want string
		why        string
	}{
		{"parts.toml", "parts.toml", "plain"},
		{"my parts.toml", "'./my parts.toml'", "a space"},
		{"it's.toml", `'./it'\''s.toml'`, "a quote"},
		{"-o.toml", "'./-o.toml'", "what looks like a flag"},
		{"$(id).csv", "'./$(id).csv'", "what a shell would run"},
	} {
		if got := quoted(tt.name); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.why, got, tt.want)
		}
	}
}
