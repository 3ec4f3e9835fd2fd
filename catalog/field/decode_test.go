package field

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// thing has a field for every accessor.
type thing struct {
	ID      string
	Size    float64 // m
	Turns   float64
	Teeth   int
	Colour  string
	Finish  string // by Set and Get, "-" put before
	Fast    *bool
	Owned   bool
	Tags    []string
	Counts  []float64
	Charge  float64
	ChargeW string
}

func thingTable() *Table[thing] { return NewTable("thing", thingFields()) }

func thingFields() []Field[thing] {
	return []Field[thing]{
		{Key: "id", Required: true, ID: true, Spread: true, Meaning: "its name", Text: func(t *thing) *string { return &t.ID }},
		{Key: "size_mm", Required: true, Unit: "mm", Per: 1000, Min: 5, Max: 500, Meaning: "its size", Number: func(t *thing) *float64 { return &t.Size }},
		{Key: "turns", Min: 0, Above: true, Max: 1, Number: func(t *thing) *float64 { return &t.Turns }},
		{Key: "teeth", Min: 6, Max: 300, Count: func(t *thing) *int { return &t.Teeth }},
		{Key: "colour", Text: func(t *thing) *string { return &t.Colour }},
		{
			Key: "finish", Words: []string{"raw", "anodised"},
			Set: func(t *thing, s string) { t.Finish = "-" + s },
			Get: func(t *thing) string { return strings.TrimPrefix(t.Finish, "-") },
		},
		{Key: "fast", Flag: func(t *thing) **bool { return &t.Fast }},
		{Key: "owned", Bool: func(t *thing) *bool { return &t.Owned }},
		{Key: "tags", Filled: true, Once: true, Texts: func(t *thing) *[]string { return &t.Tags }},
		{Key: "counts", Min: 1, Max: 4, Whole: true, Once: true, Numbers: func(t *thing) *[]float64 { return &t.Counts }},
		{
			Key: "charge", Unit: "V", Min: 1, Max: 5, Words: []string{"full", "nominal"},
			Number: func(t *thing) *float64 { return &t.Charge }, Text: func(t *thing) *string { return &t.ChargeW },
		},
		{Key: "part", Section: true},
		{Key: "parts", Sections: true},
	}
}

// brief is a problem on one line: place, message, hint.
func brief(err error) []string {
	var problems Problems
	if !errors.As(err, &problems) {
		return nil
	}
	var out []string
	for _, p := range problems {
		s := fmt.Sprintf("%d:%d %s", p.Line, p.Column, p.Message)
		if p.Hint != "" {
			s += " | " + p.Hint
		}
		out = append(out, s)
	}
	return out
}

func TestDecode(t *testing.T) {
	yes := true
	doc := `id = "a"
size_mm = 97
turns = 0.5
teeth = 15
colour = "red"
finish = "raw"
fast = true
owned = true
tags = ["x", "y"]
counts = [1, 2]
charge = 4.1
`
	var r Report
	table := thingTable()
	got := table.Blank()
	given := table.Decode(Parse(Source{Name: "a.toml", Data: []byte(doc)}, &r).Root(), &got, &r)
	if err := r.Err(); err != nil {
		t.Fatal(err)
	}
	want := thing{"a", 0.097, 0.5, 15, "red", "-raw", &yes, true, []string{"x", "y"}, []float64{1, 2}, 4.1, ""}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("decoded value (-want +got):\n%s", diff)
	}
	if !given.Has("turns") || given.Has("part") {
		t.Error("given is wrong about turns or part")
	}
	if _, line, column := given.Place("turns").Position(); line != 3 || column != 9 {
		t.Errorf("turns stands at %d:%d", line, column)
	}
	if _, line, column := given.Place("part").Position(); line != 1 || column != 1 {
		t.Errorf("an absent key has the place of its section, not %d:%d", line, column)
	}
}

// Absent keys leave what the value held, so that defaults can be put there.
func TestDecodeKeepsDefaults(t *testing.T) {
	var r Report
	table := thingTable()
	got := thing{Turns: 0.25, Colour: "blue", ChargeW: "nominal", Charge: math.NaN()}
	table.Decode(Parse(Source{Name: "a.toml", Data: []byte("id='a'\nsize_mm=10")}, &r).Root(), &got, &r)
	if r.Err() != nil || got.Turns != 0.25 || got.Colour != "blue" || got.ChargeW != "nominal" {
		t.Errorf("defaults are lost: %+v, %v", got, r.Err())
	}
}

func TestDecodeProblems(t *testing.T) {
	tests := []struct {
		why, doc string // id and size_mm are put before
		want     []string
	}{
		{"key without its unit", "size = 1", []string{`3:1 unknown key "size" in thing | keys carry their unit: size_mm`}},
		{"unknown key", "flavour = 1", []string{`3:1 unknown key "flavour" in thing`}},
		{"mistyped key", "color = 'x'", []string{`3:1 unknown key "color" in thing | did you mean colour?`}},
		{"upper-case key", "COLOUR = 'x'", []string{`3:1 unknown key "COLOUR" in thing | keys are lower case: colour`}},
		{"unknown table", "[prat]", []string{`3:2 unknown table "prat" in thing | did you mean part?`}},
		{"key with an escape", `"\u001b" = 1`, []string{`3:1 unknown key "\x1b" in thing`}},
		{"quoted number", `turns = "0.5"`, []string{`3:9 turns is the text "0.5", must be a number | write 0.5 without quotes`}},
		{"quoted decimal comma", `turns = "0,5"`, []string{`3:9 turns is the text "0,5", must be a number | write 0.5 without quotes, with a decimal point`}},
		{"quoted number with a unit", `turns = "0.5 mm"`, []string{`3:9 turns is the text "0.5 mm", must be a number: the key has no unit`}},
		{"text for a number", `turns = "some"`, []string{`3:9 turns is the text "some", must be a number`}},
		{"flag for a number", "turns = true", []string{"3:9 turns is true, must be a number"}},
		{"date for a number", "turns = 2020-01-01", []string{"3:9 turns is 2020-01-01, must be a number"}},
		{"list for a number", "turns = [1]", []string{"3:9 turns is a list, must be a number"}},
		{"table for a number", "turns = {}", []string{"3:9 turns is a table, must be a number"}},
		{"nan", "turns = nan", []string{"3:9 turns is nan, must be a finite number | leave the key out where there is no value"}},
		{"minus infinity", "turns = -inf", []string{"3:9 turns is -inf, must be a finite number | leave the key out where there is no value"}},
		{"too large", "turns = 1.5", []string{"3:9 turns is 1.5, must be above 0, at most 1"}},
		{"percent for a share", "turns = 97", []string{"3:9 turns is 97, must be above 0, at most 1 | 97 % is 0.97"}},
		{"exclusive limit", "turns = 0", []string{"3:9 turns is 0, must be above 0, at most 1"}},
		{"negative", "turns = -1", []string{"3:9 turns is -1, must be above 0, at most 1"}},
		{"number beyond all", "turns = 1e999", []string{"3:9 number is too large"}},
		{"not whole", "teeth = 15.5", []string{"3:9 teeth is 15.5, must be a whole number"}},
		{"whole as a float", "teeth = 15.0", nil},
		{"as written", "teeth = 1_000", []string{"3:9 teeth is 1_000, must be 6 to 300"}},
		{"number for a text", "colour = 5", []string{`3:10 colour is 5, must be text | write "5"`}},
		{"flag for a text", "colour = true", []string{`3:10 colour is true, must be text | write "true"`}},
		{"list for a text", "colour = ['a']", []string{"3:10 colour is a list, must be text"}},
		{"escape in a text", `colour = "\u001b[31m"`, []string{"3:10 colour has a control character, U+001B"}},
		{"newline in a text", "colour = \"\"\"a\nb\"\"\"", []string{"3:10 colour has a control character, U+000A"}},
		{"override in a text", "colour = \"a\u202eb\"", []string{"3:10 colour has a control character, U+202E"}},
		{"unknown word", `finish = "row"`, []string{`3:10 finish is "row", must be "raw" or "anodised" | did you mean "raw"?`}},
		{"word in capitals", `finish = "RAW"`, []string{`3:10 finish is "RAW", must be "raw" or "anodised" | did you mean "raw"?`}},
		{"text for a flag", `fast = "yes"`, []string{`3:8 fast is the text "yes", must be true or false | write true without quotes`}},
		{"number for a flag", "owned = 1", []string{"3:9 owned is 1, must be true or false"}},
		{"one text for a list", "tags = 'x'", nil},
		{"empty list", "tags = []", []string{"3:8 tags is an empty list | leave the key out where there is none"}},
		{"empty text in a list", "tags = ['a', '']", []string{"3:14 tags is empty"}},
		{"twice in a list", "tags = ['a', 'a']", []string{`3:14 tags names "a" twice`}},
		{"twice in a list but for blanks", "tags = ['a', ' a ']", []string{`3:14 tags names "a" twice`}},
		{"separator in a list", "tags = ['a|b']", []string{"3:9 tags has | in it, which separates the items of a list in CSV"}},
		{"comma in an item", "tags = ['a', 'b, c']", []string{`3:14 tags is "b, c": there is a "," in it | write a list as ["b", "c"]`}},
		{"semicolon alone", "tags = ';'", []string{`3:8 tags is ";": there is a ";" in it`}},
		{"number in a list of texts", "tags = ['a', 1]", []string{`3:14 tags is 1, must be text | write "1"`}},
		{"one number for a list", "counts = 2", nil},
		{"number twice", "counts = [2, 2]", []string{"3:14 counts has 2 twice"}},
		{"list in a list", "counts = [[2]]", []string{"3:11 counts is a list, must be a number"}},
		{"word for a number or word", "charge = 'full'", nil},
		{"wrong word for a number or word", "charge = 'ful'", []string{`3:10 charge is "ful", must be "full" or "nominal" or a number, 1 to 5 V | did you mean "full"?`}},
		{"quoted number for a number or word", "charge = '4.1'", []string{`3:10 charge is the text "4.1", without a unit | write 4.1 without quotes, which is in V, or put the unit behind it; known: V mV`}},
		{"millivolts for a number or word", "charge = 4100", []string{"3:10 charge is 4100, must be 1 to 5 V | 4100 mV is 4.1 V"}},
		{"value for a table", "part = 1", []string{"3:8 part is 1, must be a table | write [part]"}},
		{"list of tables for a table", "[[part]]", []string{"3:3 part is a list of tables, must be one table | write [part]"}},
		{"table for a list of tables", "[parts]", []string{"3:2 parts is one table, must be a list of tables | write [[parts]], once for each"}},
		{"values for a list of tables", "parts = [1, {}]", []string{"3:10 parts has a number in its list, must have tables only | write [[parts]], once for each"}},
		{
			"key twice", "turns = 1\nturns = 1",
			[]string{`4:1 key "turns" is given twice, first on line 3`},
		},
		{
			"all at once", "turns = 2\nfinish = 'x'\nflavour = 1",
			[]string{
				"3:9 turns is 2, must be above 0, at most 1",
				`4:10 finish is "x", must be "raw" or "anodised"`,
				`5:1 unknown key "flavour" in thing`,
			},
		},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			var r Report
			table := thingTable()
			into := table.Blank()
			doc := "id = 'a'\nsize_mm = 97\n" + test.doc
			table.Decode(Parse(Source{Name: "a.toml", Data: []byte(doc)}, &r).Root(), &into, &r)
			if diff := cmp.Diff(test.want, brief(r.Err())); diff != "" {
				t.Errorf("problems (-want +got):\n%s", diff)
			}
			checkProblems(t, r.Err())
		})
	}
}

func TestDecodeMissing(t *testing.T) {
	var r Report
	table := thingTable()
	into := table.Blank()
	table.Decode(Parse(Source{Name: "a.toml", Data: []byte("# nothing\n")}, &r).Root(), &into, &r)
	want := []string{"1:1 thing has no id | its name", "1:1 thing has no size_mm | its size, in mm"}
	if diff := cmp.Diff(want, brief(r.Err())); diff != "" {
		t.Errorf("problems (-want +got):\n%s", diff)
	}
}

// Speeds, grades and temperatures come in no thousandfold.
func TestUnitHintsKeepToUnitsThatAre(t *testing.T) {
	for _, unit := range []string{"km/h", "%", "°C"} {
		in := Info{Key: "key", Unit: unit, Per: 1, Min: 0, Max: 200}
		if got := in.unitHint(20000); got != "" {
			t.Errorf("20000 %s: %s", unit, got)
		}
	}
}

func TestUnitHints(t *testing.T) {
	tests := []struct{ value, hint string }{
		{"0.097", "0.097 m is 97 mm"},
		{"1.2", "1.2 m is 1200 mm"},
		{"3.8", "3.8 cm is 38 mm"},
		{"97000", "97 would fit: is the unit mm?"},
		{"-97", ""},
		{"0", ""},
	}
	for _, test := range tests {
		var r Report
		in := Info{Key: "size_mm", Unit: "mm", Per: 1000, Min: 5, Max: 500}
		if test.value == "1.2" {
			in.Max = 2000
		}
		d := Parse(Source{Name: "a.toml", Data: []byte("size_mm = " + test.value)}, &r)
		if _, ok := in.number(d.Root().Value("size_mm"), &r); ok {
			t.Errorf("%s mm is let pass", test.value)
		}
		if got := r.problems()[0].Hint; got != test.hint {
			t.Errorf("hint for %s mm is %q, want %q", test.value, got, test.hint)
		}
	}
}

func TestDecodeFamily(t *testing.T) {
	tests := []struct {
		why, doc string
		ids      []string
		sizes    []float64
		want     []string
	}{
		{why: "no lists", doc: "id='a'\nsize_mm=97", ids: []string{"a"}, sizes: []float64{0.097}},
		{why: "one list", doc: "id='a'\nsize_mm=[97,107]", ids: []string{"a", "a"}, sizes: []float64{0.097, 0.107}},
		{why: "two lists", doc: "id=['a','b']\nsize_mm=[97,107]", ids: []string{"a", "b"}, sizes: []float64{0.097, 0.107}},
		{why: "list of one", doc: "id='a'\nsize_mm=[97]", ids: []string{"a"}, sizes: []float64{0.097}},
		{why: "lists by nature are no families", doc: "id='a'\nsize_mm=97\ntags=['x','y']\ncounts=[1,2]", ids: []string{"a"}, sizes: []float64{0.097}},
		{
			why: "lengths differ", doc: "id='a'\nsize_mm=[97,107]\nteeth=[9,10,11]",
			ids: []string{"a", "a", "a"}, sizes: []float64{0.097, 0.107, math.NaN()},
			want: []string{"3:7 teeth has 3 items, size_mm has 2 | all lists of a table have one length, one item for each part"},
		},
		{
			why: "empty list", doc: "id='a'\nsize_mm=[]", ids: []string{"a"}, sizes: []float64{math.NaN()},
			want: []string{"2:9 size_mm is an empty list | leave the key out where there is no value"},
		},
		{
			why: "wrong item", doc: "id='a'\nsize_mm=[97,'x',2]", ids: []string{"a", "a", "a"}, sizes: []float64{0.097, math.NaN(), math.NaN()},
			want: []string{`2:13 size_mm is the text "x", must be a number`, "2:17 size_mm is 2, must be 5 to 500 mm | 2 cm is 20 mm"},
		},
		{
			why: "texts are no lists", doc: "id='a'\nsize_mm=[97,107]\ncolour=['x','y']", ids: []string{"a", "a"}, sizes: []float64{0.097, 0.107},
			want: []string{"3:8 colour is a list, must be text"},
		},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			var r Report
			table := thingTable()
			f := table.DecodeFamily(Parse(Source{Name: "a.toml", Data: []byte(test.doc)}, &r).Root(), table.Blank(), &r)
			var ids []string
			var sizes []float64
			for _, m := range f.Members {
				ids, sizes = append(ids, m.ID), append(sizes, m.Size)
			}
			if diff := cmp.Diff(test.ids, ids); diff != "" {
				t.Errorf("ids (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(test.sizes, sizes, cmpopts.EquateNaNs()); diff != "" {
				t.Errorf("sizes (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(test.want, brief(r.Err())); diff != "" {
				t.Errorf("problems (-want +got):\n%s", diff)
			}
			if f.Listed("size_mm") != strings.Contains(test.doc, "size_mm=[") {
				t.Error("Listed is wrong about size_mm")
			}
		})
	}
}

func TestAssign(t *testing.T) {
	table := thingTable()
	set := func(key, text string) (thing, string) {
		into := table.Blank()
		err := table.Assign(&into, key, text)
		if err != nil {
			return into, err.Error()
		}
		return into, ""
	}
	if got, err := set("size_mm", "97"); err != "" || got.Size != 0.097 {
		t.Errorf("size_mm: %v %s", got.Size, err)
	}
	if got, err := set("tags", "a, b"); err != "" || !cmp.Equal(got.Tags, []string{"a", "b"}) {
		t.Errorf("tags: %v %s", got.Tags, err)
	}
	if got, err := set("counts", "1,2"); err != "" || !cmp.Equal(got.Counts, []float64{1, 2}) {
		t.Errorf("counts: %v %s", got.Counts, err)
	}
	if got, err := set("charge", "full"); err != "" || got.ChargeW != "full" {
		t.Errorf("charge: %v %s", got.ChargeW, err)
	}
	if got, err := set("owned", "TRUE"); err != "" || !got.Owned {
		t.Errorf("owned: %v %s", got.Owned, err)
	}
	full := thing{Tags: []string{"a"}}
	if err := table.Assign(&full, "tags", ""); err != nil || full.Tags != nil {
		t.Errorf("tags emptied: %v %v", full.Tags, err)
	}
	if got, err := set("counts", " "); err != "" || len(got.Counts) != 0 {
		t.Errorf("counts emptied: %v %s", got.Counts, err)
	}
	wrong := []struct{ key, text, want string }{
		{"tags", "a;b", "tags is \"a;b\": there is a \";\" in it\n    hint: write a list as a,b"},
		{"sise_mm", "1", "unknown key \"sise_mm\" in thing\n    hint: did you mean size_mm?"},
		{"size_mm", "0,5", "size_mm is \"0,5\", must be a number\n    hint: write 0.5, with a decimal point"},
		{"size_mm", "", "size_mm is \"\", must be a number"},
		{"size_mm", "nan", "size_mm is \"nan\", must be a number"},
		{"size_mm", "1e999", "size_mm is \"1e999\": number is too large"},
		{"tags", "a,,b", "tags is empty"},
		{"colour", "\x1b", "colour has a control character, U+001B"},
		{"part", "x", "part is x, must be a table\n    hint: write [part]"},
	}
	for _, w := range wrong {
		if _, err := set(w.key, w.text); err != w.want {
			t.Errorf("Assign(%s, %q) says\n%s\nwant\n%s", w.key, w.text, err, w.want)
		}
	}
}

func TestValues(t *testing.T) {
	table := thingTable()
	no := false
	x := thing{ID: "a", Size: 0.097, Turns: math.NaN(), Teeth: 15, Finish: "-raw", Fast: &no, Tags: []string{"x", "y"}, Counts: []float64{1, 2}, Charge: math.NaN(), ChargeW: "full"}
	got := map[string]any{}
	cells := map[string]string{}
	for in, v := range table.Values(&x) {
		got[in.Key], cells[in.Key] = v, Cell(v)
	}
	want := map[string]any{
		"id": "a", "size_mm": 97.0, "turns": nil, "teeth": 15, "colour": nil, "finish": "raw", "fast": false, "owned": nil,
		"tags": []string{"x", "y"}, "counts": []float64{1, 2}, "charge": "full",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("values (-want +got):\n%s", diff)
	}
	wantCells := map[string]string{
		"id": "a", "size_mm": "97", "turns": "", "teeth": "15", "colour": "", "finish": "raw", "fast": "false", "owned": "",
		"tags": "x|y", "counts": "1|2", "charge": "full",
	}
	if diff := cmp.Diff(wantCells, cells); diff != "" {
		t.Errorf("cells (-want +got):\n%s", diff)
	}
	if v, ok := table.Lookup(&x, "size_mm"); !ok || v != 97.0 {
		t.Errorf("Lookup: %v %v", v, ok)
	}
	if v, ok := table.Lookup(&x, "turns"); ok {
		t.Errorf("Lookup finds %v for a key that is absent", v)
	}
}

func TestLift(t *testing.T) {
	type holder struct{ inner thing }
	table := NewTable("holder", Lift(thingFields(), func(h *holder) *thing { return &h.inner }))
	if diff := cmp.Diff(thingTable().Infos(), table.Infos()); diff != "" {
		t.Errorf("lifted fields differ (-plain +lifted):\n%s", diff)
	}
	var r Report
	h := table.Blank()
	table.Decode(Parse(Source{Name: "a.toml", Data: []byte("id='a'\nsize_mm=97\nfinish='raw'")}, &r).Root(), &h, &r)
	if r.Err() != nil || h.inner.Size != 0.097 || h.inner.Finish != "-raw" {
		t.Errorf("%+v %v", h, r.Err())
	}
}

func TestNewTableRefusesNonsense(t *testing.T) {
	for why, fields := range map[string][]Field[thing]{
		"a key twice":              {{Key: "a", Section: true}, {Key: "a", Section: true}},
		"a row that leads nowhere": {{Key: "a"}},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("NewTable takes %s", why)
				}
			}()
			NewTable("t", fields)
		}()
	}
}
