package webengine

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
	"gearsearch/search"
)

// M is a JSON object.
type M = map[string]any

func newEngine(t testing.TB) *Engine {
	t.Helper()
	e, err := New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// answered is a reply with an answer of a type.
type answered[T any] struct {
	Answer    *T        `json:"answer"`
	Problems  []problem `json:"problems"`
	More      int       `json:"more"`
	Cancelled bool      `json:"cancelled"`
	Fault     string    `json:"fault"`
}

// ask asks the engine and decodes its reply, which has exactly one of the keys
// that a reply may have.
func ask[T any](t testing.TB, e *Engine, question M) answered[T] {
	t.Helper()
	text, err := json.Marshal(question)
	if err != nil {
		t.Fatal(err)
	}
	out := e.Answer(text, nil)
	var r answered[T]
	d := json.NewDecoder(bytes.NewReader(out))
	d.DisallowUnknownFields()
	if err := d.Decode(&r); err != nil {
		t.Fatalf("%s is answered by %s: %v", text, out, err)
	}
	kinds := 0
	for _, has := range []bool{r.Answer != nil, len(r.Problems) > 0, r.Cancelled, r.Fault != ""} {
		if has {
			kinds++
		}
	}
	if kinds != 1 {
		t.Fatalf("%s is answered by %s: %d kinds of reply", text, out, kinds)
	}
	return r
}

// answer is the answer to a question that has one.
func answer[T any](t testing.TB, e *Engine, question M) *T {
	t.Helper()
	r := ask[T](t, e, question)
	if r.Answer == nil {
		t.Fatalf("%v is not answered: %+v", question, r)
	}
	return r.Answer
}

// harbour is the first demo brief as the page holds it.
func harbour(t testing.TB, e *Engine) M {
	t.Helper()
	out := M{}
	for key, text := range answer[sorted](t, e, M{"ask": "demo", "name": "harbour"}).Values {
		out[key] = text
	}
	return out
}

// with is a brief with one key changed.
func with(brief M, key, text string) M {
	out := M{}
	for k, v := range brief {
		out[k] = v
	}
	out[key] = text
	return out
}

// tree is what the page makes its elements of.
func tree(t *testing.T, x *leaf.Node) string {
	t.Helper()
	text, err := x.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestRankEqualsTheSearch holds the page's ranking and count to the search's
// own, which has tests of its own against a plain search.
func TestRankEqualsTheSearch(t *testing.T) {
	e := newEngine(t)
	demo, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	for _, src := range catalog.DemoBriefs() {
		brief, err := constraints.ReadBrief(src)
		if err != nil {
			t.Fatal(err)
		}
		p, err := constraints.NewProblem(demo, brief)
		if err != nil {
			t.Fatal(err)
		}
		for _, strict := range []bool{false, true} {
			every := strict // a switch of its own
			o := search.Options{Top: 30, Strict: strict}
			if !every {
				o.Apart = search.ApartByMotor()
			}
			want, err := search.Rank(context.Background(), p, o)
			if err != nil {
				t.Fatal(err)
			}
			name := catalog.DemoBriefName(src)
			values := answer[sorted](t, e, M{"ask": "demo", "name": name}).Values
			question := M{"brief": values, "strict": strict, "every": every, "top": 30}
			question["ask"] = "rank"
			got := answer[ranking](t, e, question)
			var files, wantFiles []string
			for _, b := range got.Builds {
				files = append(files, b.Score+"\n"+b.File)
			}
			for s := range want.Builds() {
				wantFiles = append(wantFiles, layout.Fixed(s.Score, 1)+"\n"+string(s.Build.File().TOML()))
			}
			if d := cmp.Diff(wantFiles, files); d != "" {
				t.Errorf("%s, strict %v: the page ranks other builds (-search +page):\n%s", name, strict, d)
			}
			table := leaf.New(leaf.Input{Result: want, Strict: strict, Live: true}).Table(leaf.Live)
			if table.String() == "" || tree(t, table) != tree(t, got.Table) {
				t.Errorf("%s, strict %v: the page has another table", name, strict)
			}
			question["ask"] = "count"
			counts := answer[tally](t, e, question)
			if tree(t, leaf.Rejected(want)) != tree(t, counts.Sieve) || counts.Feasible != layout.Count(want.Feasible) || counts.None != (want.Feasible == 0) {
				t.Errorf("%s, strict %v: %s feasible of %d, none %v, or other rejections", name, strict, counts.Feasible, want.Feasible, counts.None)
			}
		}
	}
}

// TestWithoutAsTheProgramDoes: what each wish costs is what the search counts,
// in the words and units of the page.
func TestWithoutAsTheProgramDoes(t *testing.T) {
	e := newEngine(t)
	p := kittest.Demo(t, "harbour")
	values := answer[sorted](t, e, M{"ask": "demo", "name": "harbour"}).Values
	for _, strict := range []bool{false, true} {
		want := search.WithoutEach(t.Context(), p, search.Options{Strict: strict})
		got := answer[wishes](t, e, M{"ask": "without", "brief": values, "strict": strict, "units": "imperial"}).Wishes
		if len(got) != len(want.Each) || len(got) == 0 {
			t.Fatalf("%d wishes, want %d", len(got), len(want.Each))
		}
		for i, w := range want.Each {
			if got[i].Key != w.Key || got[i].Without != w.More || strings.ReplaceAll(got[i].Text, "\u202f", "") != fmt.Sprint(w.More) {
				t.Errorf("strict %t: %s costs %d, not %+v", strict, w.Key, w.More, got[i])
			}
			if w.Key == "target.range_km" && (got[i].Name != "range" || !strings.HasSuffix(got[i].Asked, "\u00a0mi")) {
				t.Errorf("the range is asked as %+v", got[i])
			}
		}
	}
}

// TestBriefKeepsWhatItSays: what a brief says, and which of its keys somebody
// wrote, stays the same through the page and through the file that it saves.
func TestBriefKeepsWhatItSays(t *testing.T) {
	e := newEngine(t)
	asByDefault := catalog.Source{Name: "defaults.toml", Data: []byte(`
schema = 1
[rider]
mass_kg = 80.0
[board]
motors = [2]
sensored = true
[ground]
surface = "asphalt"
[limit]
erpm_rule = "free-spin"
price = "900 EUR"
[weights]
price = 2
`)}
	for _, src := range append(catalog.DemoBriefs(), asByDefault) {
		want, err := constraints.ReadBrief(src)
		if err != nil {
			t.Fatal(err)
		}
		data := base64.StdEncoding.EncodeToString(src.Data)
		values := answer[sorted](t, e, M{"ask": "file", "file": M{"name": src.Name, "data": data}}).Values
		got, err := (&request{Brief: values}).brief()
		if err != nil {
			t.Fatal(err)
		}
		text := answer[saved](t, e, M{"ask": "save", "what": "brief", "brief": values}).Text
		again, err := constraints.ReadBrief(catalog.Source{Name: "saved.toml", Data: []byte(text)})
		if err != nil {
			t.Fatalf("the saved brief cannot be read: %v\n%s", err, text)
		}
		if d := cmp.Diff(written(want), written(got)); d != "" {
			t.Errorf("%s: the values say something else (-file +values):\n%s", src.Name, d)
		}
		if d := cmp.Diff(written(want), written(again)); d != "" {
			t.Errorf("%s: the saved brief says something else (-file +saved):\n%s", src.Name, d)
		}
	}
}

// written are the values of a brief, each key with a mark where it was written.
func written(b *constraints.Brief) map[string]any {
	out := map[string]any{}
	for _, section := range b.Values() {
		for _, k := range section.Keys {
			key := section.Name + "." + k.Key
			if out[key] = k.Value; b.Written(key) {
				out[key+", written"] = true
			}
		}
	}
	return out
}

// TestUnits sets numbers with units. The international mile is 1609.344 m and
// the pound 0.45359237 kg by the agreement of 1959; the tangent of 45° is 1.
func TestUnits(t *testing.T) {
	for _, tt := range []struct {
		key, text, want string
		why             string
	}{
		{"target.top_speed_kmh", "34", "34", "bare: in the key's unit"},
		{"target.top_speed_kmh", " 34 ", "34", "spaces around it"},
		{"target.top_speed_kmh", "10mph", "16.09344", "miles"},
		{"target.top_speed_kmh", "10 m/s", "36", "a space before the unit"},
		{"target.climb_grade_pct", "45deg", "100", "degrees"},
		{"target.climb_grade_pct", "18 %", "18", "its own unit"},
		{"target.range_km", "10mi", "16.09344", "miles"},
		{"rider.mass_kg", "100lb", "45.359237", "pounds"},
		{"board.hanger_mm", "10in", "254", "inches"},
		{"target.hill_torque_nm", "30N.m", "30", "its own unit"},
		{"ground.altitude_m", "1km", "1000", "a length of another size"},
		{"target.top_speed_kmh", "34,5", "34.5", "a decimal comma"},
		{"target.top_speed_kmh", "9,5 m/s", "34.2", "a decimal comma before a unit"},
		{"weights.price", ",5", "0.5", "nothing before the comma"},
		{"ground.rolling_resistance", "0,014", "0.014", "a comma behind a nought, which no thousands are"},
		{"target.charge", "3,9", "3.9", "a number where a word may stand, too"},
		{"board.motors", "1,2", "1,2", "a list"},
		{"target.charge", "full", "full", "a word"},
		{"target.charge", "3.9", "3.9", "or a number"},
		{"avoid.wheel", "foam,quay-90", "foam,quay-90", "parts"},
		{"limit.demote", "heat,mesh", "heat,mesh", "words"},
		{"limit.demote", "none", "none", "a list that is written and empty"},
	} {
		b, err := (&request{Brief: map[string]string{tt.key: tt.text}}).brief()
		if err != nil {
			t.Errorf("%s: %s %q: %v", tt.why, tt.key, tt.text, err)
			continue
		}
		if got := valuesOf(b); got[tt.key] != tt.want || len(got) != 1 {
			t.Errorf("%s: %s %q is %v, want %s", tt.why, tt.key, tt.text, got, tt.want)
		}
	}
}

func TestWrongBriefs(t *testing.T) {
	e := newEngine(t)
	for _, tt := range []struct {
		brief M
		key   string
		says  string
		why   string
	}{
		{M{"target.top_speed_kmh": "400"}, "target.top_speed_kmh", "top_speed_kmh is 400, must be above 0, at most 200 km/h", "out of range"},
		{M{"target.top_speed_kmh": "fast"}, "target.top_speed_kmh", `top_speed_kmh is "fast", must be a number`, "no number"},
		{M{"target.top_speed_kmh": "34 parsec"}, "target.top_speed_kmh", `top_speed_kmh is "34 parsec": "parsec" is no unit of speed`, "no unit of speed"},
		{M{"target.top_speed_kmh": "34kg"}, "target.top_speed_kmh", "is no unit of speed", "a unit of something else"},
		{M{"limit.price": "1,500"}, "limit.price", `"1,500" can be read in two ways`, "a comma of thousands or of decimals"},
		{M{"limit.price": "1.50,5"}, "limit.price", "", "points and commas"},
		{M{"target.top_sped_kmh": "34"}, "target.top_sped_kmh", "top_sped_kmh", "no such key"},
		{M{"target.launch_s": "2"}, "target.launch_s", "launch_s is set without the speed to reach", "half of a target"},
		{M{"target.top_speed_kmh": "30", "target.top_speed_max_kmh": "20"}, "target.top_speed_max_kmh", "top_speed_max_kmh is 20, below top_speed_kmh, which is 30", "a contradiction"},
		{M{"target.top_speed_kmh": "30", "keep.wheel": "none-such"}, "keep.wheel", `"none-such"`, "a part that there is not"},
		{M{}, "", "the brief asks for nothing, so that every build that fits together would do", "nothing asked"},
		{M{"target.top_speed_kmh": " "}, "", "the brief asks for nothing, so that every build that fits together would do", "blanks are not set"},
	} {
		for _, question := range []string{"rank", "count", "without", "relax"} {
			r := ask[any](t, e, M{"ask": question, "brief": tt.brief})
			if len(r.Problems) == 0 {
				t.Errorf("%s: %s has no problem with it", tt.why, question)
				continue
			}
			p := r.Problems[0]
			if p.Key != tt.key || !strings.Contains(p.Message, tt.says) || strings.HasPrefix(p.Message, tt.key+":") && tt.key != "" {
				t.Errorf("%s: %s says %q of key %q, want %q of %q", tt.why, question, p.Message, p.Key, tt.says, tt.key)
			}
		}
	}
}

// TestWhereProblemsArePutRight sends the reader to the screen that has what is
// wrong: parts that are missing are not mended on the ride.
func TestWhereProblemsArePutRight(t *testing.T) {
	for _, tt := range []struct {
		brief M
		files []string // of the catalog, none for the demo
		place string
		why   string
	}{
		{M{"target.top_speed_kmh": "400"}, nil, onRide, "out of range"},
		{M{"target.launch_s": "2"}, nil, onRide, "a contradiction"},
		{M{}, nil, onRide, "nothing asked"},
		{M{"target.top_speed_kmh": "30", "keep.wheel": "none-such"}, nil, onParts, "a part that there is not"},
		{M{"target.top_speed_kmh": "30"}, []string{"motor.csv", "id,kv\nm,90\n"}, onParts, "motors alone"},
	} {
		e := newEngine(t)
		if len(tt.files) > 0 {
			answer[contents](t, e, M{"ask": "catalog", "files": []M{{"name": tt.files[0], "data": []byte(tt.files[1])}}})
		}
		r := ask[any](t, e, M{"ask": "rank", "brief": tt.brief})
		if len(r.Problems) == 0 || r.Problems[0].Place != tt.place {
			t.Errorf("%s: %+v, want a problem that is put right on %s", tt.why, r.Problems, tt.place)
		}
	}
}

// TestMarksOfTheDemo: what the engine hands over with a price is marked as
// invented where it is the demo's, also where the demo was saved and handed in
// again, and only there.
func TestMarksOfTheDemo(t *testing.T) {
	var saved, own []M
	for i, src := range catalog.DemoSources() {
		name := fmt.Sprintf("my%d.toml", i)
		saved = append(saved, M{"name": name, "data": src.Data})
		own = append(own, M{"name": name, "data": bytes.ReplaceAll(src.Data, []byte("\nname = \""), []byte("\nname = \"Own "))})
	}
	for _, tt := range []struct {
		why   string
		files []M
		demo  bool
	}{{"the embedded demo", nil, true}, {"the demo saved and handed in again", saved, true}, {"own parts", own, false}} {
		e := newEngine(t)
		question := M{"ask": "catalog"}
		if tt.files != nil {
			question["files"] = tt.files
		}
		mark := func(what string, marked bool) {
			t.Helper()
			if marked != tt.demo {
				t.Errorf("%s: the mark of %s is %v", tt.why, what, marked)
			}
		}
		c := answer[contents](t, e, question)
		mark("the catalog", strings.Contains(c.Invented, "every maker, part and price here is invented"))
		for _, s := range c.Shelves {
			if s.N > 0 {
				mark("the shelf of "+s.Kind, s.Invented == s.N)
			}
		}
		for _, p := range answer[shelf](t, e, M{"ask": "shelf", "slot": "motor"}).Parts {
			mark(p.ID, p.Invented)
		}
		brief := harbour(t, e)
		b := answer[ranking](t, e, M{"ask": "rank", "brief": brief, "top": 1}).Builds[0]
		s := answer[sheet](t, e, M{"ask": "sheet", "brief": brief, "build": b.File})
		mark("a build", strings.Contains(s.Sheet.String(), `<span class="invented">invented</span>`))
	}
}

// TestCautionsAreSaidOnce: of twenty builds that are fast, one sentence says
// so.
func TestCautionsAreSaidOnce(t *testing.T) {
	e := newEngine(t)
	r := answer[ranking](t, e, M{"ask": "rank", "brief": harbour(t, e), "top": 20})
	speeds := 0
	for _, c := range r.Cautions {
		if strings.Contains(c.Text, "local law") {
			speeds++
		}
	}
	if speeds != 1 {
		t.Errorf("of %d builds their speed is said %d times in %+v", len(r.Builds), speeds, r.Cautions)
	}
}

func TestAllProblemsAtOnce(t *testing.T) {
	e := newEngine(t)
	r := ask[any](t, e, M{"ask": "rank", "brief": M{"target.top_speed_kmh": "400", "limit.price": "-1", "rider.mass_kg": "5"}})
	keys := map[string]bool{}
	for _, p := range r.Problems {
		keys[p.Key] = true
	}
	if len(r.Problems) != 3 || !keys["target.top_speed_kmh"] || !keys["limit.price"] || !keys["rider.mass_kg"] {
		t.Errorf("three mistakes give %+v", r.Problems)
	}
}

func TestTooManyToNumber(t *testing.T) {
	list := func(n int, from float64) string {
		var items []string
		for i := range n {
			items = append(items, fmt.Sprintf("%.3f", from+0.001*float64(i)))
		}
		return "[" + strings.Join(items, ", ") + "]"
	}
	// 9900³ × 3 × 2000² are 1.16·10¹⁹ combinations, more than 2⁶³.
	parts := "schema = 1\n[[motor]]\nid = \"m\"\nkv = " + list(9900, 100) +
		"\n[[controller]]\nid = \"c\"\nmotor_current_a = " + list(9900, 20) +
		"\n[[battery]]\nid = \"b\"\nseries = 10\nfull_v = 42\nnominal_v = " + list(9900, 30) +
		"\n[[wheel]]\nid = \"w\"\ndiameter_mm = " + list(2000, 80) +
		"\n[[gear_drive]]\nid = \"g\"\nratio = " + list(2000, 2)
	e := newEngine(t)
	var err error
	if e.catalog, err = catalog.Read(catalog.Source{Name: "parts.toml", Data: []byte(parts)}); err != nil {
		t.Fatal(err)
	}
	for _, question := range []string{"rank", "count", "without", "relax"} {
		r := ask[any](t, e, M{"ask": question, "brief": M{"target.top_speed_kmh": "30", "board.motors": "1, 2, 4"}})
		if len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Message, "1.16e+19 combinations are more than can be numbered") {
			t.Errorf("%s: %+v", question, r)
		}
	}
}

func TestFaults(t *testing.T) {
	e := newEngine(t)
	for _, tt := range []struct{ text, says string }{
		{``, "this is no request"},
		{`{"ask":"start"} {}`, "something follows"},
		{`{"ask":"start","what":`, "this is no request"},
		{`{"ask":"wat"}`, `there is no question "wat"`},
		{`{"ask":"rank","colour":1}`, "unknown field"},
		{`{"ask":"rank","units":"furlong"}`, "is no system of units"},
		{`{"ask":"demo","name":"none"}`, "there is no embedded brief"},
		{`{"ask":"shelf","slot":"seat"}`, `there is no slot "seat"`},
		{`{"ask":"save","what":"money"}`, "there is nothing to save"},
		{`{"ask":"file"}`, "no file"},
	} {
		var r answered[any]
		if err := json.Unmarshal(e.Answer([]byte(tt.text), nil), &r); err != nil || !strings.Contains(r.Fault, tt.says) {
			t.Errorf("%s: %+v %v, want the fault %q", tt.text, r, err, tt.says)
		}
	}
}

// TestNewerQuestionCancels asks while a search pauses, as a page does whose
// worker gets a turn: the older question ends without an answer.
func TestNewerQuestionCancels(t *testing.T) {
	var e *Engine
	var pauses, inner atomic.Int32
	var newer answered[ranking]
	question := M{"ask": "rank", "brief": M{"target.top_speed_kmh": "30", "target.climb_grade_pct": "10"}}
	e, err := New(func() {
		if pauses.Add(1) == 1 {
			inner.Add(1)
			newer = ask[ranking](t, e, question)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	older := ask[tally](t, e, M{"ask": "count", "brief": M{"target.launch_speed_kmh": "20", "target.launch_s": "2"}})
	if inner.Load() == 0 {
		t.Skip("this machine was done before the first pause")
	}
	if !older.Cancelled {
		t.Errorf("the older question is answered: %+v", older)
	}
	if newer.Answer == nil || len(newer.Answer.Builds) == 0 {
		t.Errorf("the newer question is not answered: %+v", newer)
	}
}

// TestPauses asks a context as often as a search does.
func TestPauses(t *testing.T) {
	n := 0
	ctx, cancel := context.WithCancel(context.Background())
	p := &pausing{Context: ctx, pause: func() { n++ }, last: time.Now().Add(-time.Hour)}
	for range looksEvery {
		if p.Err() != nil {
			t.Fatal("ended before it was cancelled")
		}
	}
	if n != 1 {
		t.Errorf("%d pauses after %d questions an hour after the last, want 1", n, looksEvery)
	}
	for range looksEvery {
		_ = p.Err()
	}
	if n != 1 {
		t.Errorf("%d pauses at once, want 1", n)
	}
	cancel()
	if p.Err() == nil {
		t.Error("goes on after it was cancelled")
	}
}

func TestNothingFeasible(t *testing.T) {
	e := newEngine(t)
	// Strict, for a motor of unknown resistance leaves every range undecided.
	question := M{"ask": "rank", "strict": true, "brief": with(harbour(t, e), "target.range_km", "400")}
	if r := answer[ranking](t, e, question); len(r.Builds) != 0 {
		t.Fatalf("%d builds do what none can", len(r.Builds))
	}
	question["ask"] = "count"
	c := answer[tally](t, e, question)
	if !c.None || c.Nearest == nil || len(c.Nearest.Misses) == 0 {
		t.Fatalf("nothing feasible, but %+v", c)
	}
	question["ask"] = "relax"
	r := answer[relaxed](t, e, question)
	if len(r.Openings) == 0 {
		t.Fatal("nothing to give way on")
	}
	// What relax says is enough must be enough.
	brief := question["brief"].(M)
	for _, g := range r.Openings[0].Gives {
		brief = with(brief, g.Key, g.Value)
	}
	if r := answer[ranking](t, e, M{"ask": "rank", "strict": true, "brief": brief}); len(r.Builds) == 0 {
		t.Errorf("giving way on %+v opens nothing", r)
	}
}

// TestSheetIsTheLeaf: the sheet of a build is that of package leaf, and a build
// has one whatever keep and avoid say of its parts.
func TestSheetIsTheLeaf(t *testing.T) {
	e := newEngine(t)
	brief := harbour(t, e)
	s, file := best(t, e, brief)
	got := answer[sheet](t, e, M{"ask": "sheet", "brief": brief, "build": file, "title": "No. 1"})
	if want := leaf.CardOf(s, "No. 1", quantity.Metric).Sheet(leaf.Live); tree(t, got.Sheet) != tree(t, want) || got.File != file {
		t.Error("the sheet is another")
	}
	best := answer[ranking](t, e, M{"ask": "rank", "brief": brief, "top": 1}).Builds[0]
	// A build that keep and avoid leave no parts of has a sheet all the same.
	aside := with(brief, "avoid.battery", best.Parts[0])
	answer[sheet](t, e, M{"ask": "sheet", "brief": aside, "build": best.File})
	r := ask[sheet](t, e, M{"ask": "sheet", "brief": brief, "build": "schema = 1\n[build]\nmotor = \"no\"\n"})
	if len(r.Problems) == 0 || !strings.Contains(r.Problems[0].Text, "build.toml:") {
		t.Errorf("half a build gives %+v", r)
	}
}

// TestSavedFilesAreThePrograms compares what the page saves with what the
// program writes.
func TestSavedFilesAreThePrograms(t *testing.T) {
	e := newEngine(t)
	brief := harbour(t, e)
	file := answer[saved](t, e, M{"ask": "save", "what": "brief", "brief": brief})
	b, err := constraints.ReadBrief(field.Source{Name: file.Name, Data: []byte(file.Text)})
	if err != nil {
		t.Fatal(err)
	}
	demo, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	p, err := constraints.NewProblem(demo, b)
	if err != nil {
		t.Fatal(err)
	}
	r, err := search.Rank(context.Background(), p, search.Options{Top: 7, Apart: search.ApartByMotor()})
	if err != nil {
		t.Fatal(err)
	}
	measures, _ := search.ToMeasure(context.Background(), r, 0, search.Options{})
	var asJSON, asCSV, one bytes.Buffer
	if err := dataout.WriteRank(&asJSON, r, measures); err != nil {
		t.Fatal(err)
	}
	if err := dataout.WriteCSV(&asCSV, r); err != nil {
		t.Fatal(err)
	}
	first := r.At(0)
	first.Rank = 0
	if err := dataout.WriteSheet(&one, first, true); err != nil {
		t.Fatal(err)
	}
	for what, want := range map[string]string{"ranking": asJSON.String(), "table": asCSV.String(), "sheet": one.String()} {
		got := answer[saved](t, e, M{"ask": "save", "what": what, "brief": brief, "top": 7, "build": string(first.Build.File().TOML())})
		if d := cmp.Diff(want, got.Text); d != "" {
			t.Errorf("%s (-program +page):\n%s", got.Name, d)
		}
	}
	parts := answer[saved](t, e, M{"ask": "save", "what": "demo"})
	if _, err := catalog.Read(catalog.Source{Name: parts.Name, Data: []byte(parts.Text)}); err != nil {
		t.Errorf("the saved demo parts cannot be read: %v", err)
	}
}

func TestImperial(t *testing.T) {
	e := newEngine(t)
	brief := harbour(t, e)
	metric := answer[ranking](t, e, M{"ask": "rank", "brief": brief, "top": 1})
	imperial := answer[ranking](t, e, M{"ask": "rank", "brief": brief, "top": 1, "units": "imperial"})
	if metric.Builds[0].File != imperial.Builds[0].File {
		t.Error("another build is the best in imperial units")
	}
	for unit, r := range map[string]*ranking{"km/h": metric, "mph": imperial} {
		if text := r.Table.String(); strings.Contains(text, "<small>km/h</small>") != (unit == "km/h") || strings.Contains(text, "<small>mph</small>") != (unit == "mph") {
			t.Errorf("the table is not in %s", unit)
		}
	}
}

func BenchmarkChange(b *testing.B) {
	e := newEngine(b)
	brief := harbour(b, e)
	for _, question := range []string{"rank", "count"} {
		b.Run(question, func(b *testing.B) {
			for i := range b.N {
				r := ask[any](b, e, M{"ask": question, "brief": with(brief, "target.top_speed_kmh", []string{"34", "33"}[i%2])})
				if r.Answer == nil {
					b.Fatal(r)
				}
			}
		})
	}
}
