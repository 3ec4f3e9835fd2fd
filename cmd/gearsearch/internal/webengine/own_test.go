package webengine

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/search"
)

// draft is a part that somebody fills in, key by key.
func draft(kind string, cells ...string) M {
	in := M{}
	for i := 0; i < len(cells); i += 2 {
		in[cells[i]] = cells[i+1]
	}
	return M{"kind": kind, "cells": in}
}

// TestOwnParts: parts that are filled in are read as a catalog reads them, and make
// a file that the engine takes beside the demo parts.
func TestOwnParts(t *testing.T) {
	e := newEngine(t)
	rows := []M{
		draft("motor", "name", "Mine 180", "kv", "180", "resistance_mohm", "34,5"),
		draft("wheel", "id", "w8", "diameter_mm", "8in"),
		draft("wheel", "id", "w9", "diameter_mm", "8 V"),
	}
	got := answer[ownParts](t, e, M{"ask": "own", "drafts": rows, "demo": true})
	if r := got.Rows[0]; r.ID != "mine-180" || r.Said["resistance_mohm"] != "34.5 mΩ" || len(r.Wrong) > 0 {
		t.Errorf("the motor: %+v", r)
	}
	if r := got.Rows[1]; r.Said["diameter_mm"] != "203.2 mm" || len(r.Wrong) > 0 {
		t.Errorf("the wheel: %+v", r)
	}
	if w := got.Rows[2].Wrong; len(w) != 1 || w[0].Key != "diameter_mm" || w[0].Hint != "known: mm cm in m ft" {
		t.Errorf("the other wheel: %+v", w)
	}
	if got.File == nil || got.File.Name != OwnName {
		t.Fatalf("the file is %+v", got.File)
	}
	before := answer[contents](t, e, M{"ask": "catalog"})
	file := M{"name": got.File.Name, "data": got.File.Data}
	after := answer[contents](t, e, M{"ask": "catalog", "files": []M{file}, "demo": true})
	if after.Total != before.Total+2 || !after.Demo {
		t.Errorf("%d parts of their own and the demo's, %d before", after.Total, before.Total)
	}
	// The file in use is not beside itself.
	if again := answer[ownParts](t, e, M{"ask": "own", "drafts": rows, "files": []M{file}, "demo": true}); len(again.Rows[1].Wrong) > 0 {
		t.Errorf("read again: %+v", again.Rows[1])
	}
	// It opens again as what was filled in.
	back := answer[sorted](t, e, M{"ask": "file", "file": M{"name": "own (1).toml", "data": got.File.Data}})
	if back.Is != isOwn || len(back.Drafts) != 2 || back.Drafts[1].Cells["diameter_mm"] != "203.2" {
		t.Errorf("opened again: %+v", back)
	}
	text := answer[saved](t, e, M{"ask": "save", "what": "own", "drafts": rows, "demo": true})
	if text.Name != OwnName || text.Text != string(got.File.Data) {
		t.Errorf("saved as %+v", text)
	}
	if r := ask[saved](t, e, M{"ask": "save", "what": "own", "drafts": rows[2:], "demo": true}); len(r.Problems) != 1 {
		t.Errorf("without a part that is right: %+v", r)
	}
}

// TestOwnCopies: a copy of a demo part is invented until it has a name of its own.
func TestOwnCopies(t *testing.T) {
	e := newEngine(t)
	p := answer[shelf](t, e, M{"ask": "shelf", "slot": "motor"}).Parts[0]
	p.Cells["id"] = p.ID + "-own"
	for name, copied := range map[string]bool{p.Cells["name"]: true, "Other": false} {
		p.Cells["name"] = name
		got := answer[ownParts](t, e, M{"ask": "own", "drafts": []M{{"kind": "motor", "cells": p.Cells}}, "demo": true})
		if r := got.Rows[0]; len(r.Wrong) > 0 || r.Copied != copied {
			t.Errorf("called %s: %+v", name, r)
		}
	}
}

// TestShelfKeys: a shelf has a row for each key of its kind, as the field tables say.
func TestShelfKeys(t *testing.T) {
	e := newEngine(t)
	for _, k := range catalog.Kinds() {
		s := answer[shelf](t, e, M{"ask": "shelf", "kind": k.Name})
		if len(s.Keys) != len(k.Fields) {
			t.Errorf("%s has %d keys, %d on its shelf", k.Name, len(k.Fields), len(s.Keys))
		}
		for _, x := range s.Keys {
			in := k.Field(x.Key)
			if in == nil || x.Meaning != in.Meaning || x.Unit != in.Unit || x.Range != in.Range() || x.Required != in.Required || x.Label == "" {
				t.Errorf("%s.%s: %+v", k.Name, x.Key, x)
			}
		}
		for _, p := range s.Parts {
			if p.Cells["id"] != p.ID || p.File != "" {
				t.Errorf("%+v", p)
			}
			for key := range p.Cells {
				if k.Field(key) == nil {
					t.Errorf("%s has %s", p.ID, key)
				}
			}
		}
	}
}

func TestSortSpreadsheets(t *testing.T) {
	e := newEngine(t)
	for _, tt := range []struct{ why, name, text, is string }{
		{"a name that says the kind", "motor.csv", "id,kv\nm,170\n", isCatalog},
		{"a mistake in a value is for the reader of catalogs", "motor.csv", "id,kv\nm,one\n", isCatalog},
		{"the name does not tell", "motor (1).csv", "id,kv\nm,170\n", isSheet},
		{"nor does this one", "my build - motor.csv", "id,kv\nm,170\n", isSheet},
		{"a heading that is no key", "motor.csv", "id,kv,Price EUR\nm,170,80\n", isSheet},
		{"tabs, in a text file", "motors.txt", "name\tkv\nm\t170\n", isSheet},
		{"a column of kinds and keys", "parts.csv", "kind,id,kv\nmotor,m,170\n", isCatalog},
		{"a column of kinds and a heading that is no key", "parts.csv", "kind,id,KV (rpm/V)\nmotor,m,170\n", isSheet},
		{"a workbook by what it begins with", "motors", "PK\x03\x04....", isBook},
		{"a catalog of any name", "parts.txt", "schema = 1\n[[motor]]\nid = \"m\"\nkv = 170\n", isCatalog},
		{"a catalog with a mistake", "parts.toml", "schema = 1\n[[motor]\nid = \"m\"\n", isCatalog},
	} {
		got := answer[sorted](t, e, M{"ask": "file", "file": files(tt.name, tt.text)[0]})
		if got.Is != tt.is {
			t.Errorf("%s: %s is %s, want %s", tt.why, tt.name, got.Is, tt.is)
		}
	}
	for text, says := range map[string]string{
		"\xd0\xcf\x11\xe0\xa1\xb1": "old .xls form",
		"PK\x03\x04\x14\x00\x00\x08\x00\x00....mimetypeapplication/vnd.oasis.opendocument.spreadsheet": "OpenDocument",
		"%PDF-1.7": "PDF",
		"\x89PNG":  "picture",
	} {
		r := ask[sorted](t, e, M{"ask": "file", "file": files("parts", text)[0]})
		if len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Text, says) || r.Problems[0].Hint == "" {
			t.Errorf("%q: %+v", text, r.Problems)
		}
	}
}

// TestOwnFileIsBytes: the file goes to the page as the page gives files.
func TestOwnFileIsBytes(t *testing.T) {
	e := newEngine(t)
	request, _ := json.Marshal(M{"ask": "own", "drafts": []M{draft("wheel", "id", "w", "diameter_mm", "90")}})
	var r struct {
		Answer struct{ File struct{ Data string } }
	}
	if err := json.Unmarshal(e.Answer(request, nil), &r); err != nil {
		t.Fatal(err)
	}
	text, err := base64.StdEncoding.DecodeString(r.Answer.File.Data)
	if err != nil || !strings.Contains(string(text), "diameter_mm = 90\n") {
		t.Fatalf("%v %s", err, text)
	}
	name := filepath.Join(t.TempDir(), OwnName)
	if err := os.WriteFile(name, text, 0o600); err != nil {
		t.Fatal(err)
	}
	if c, err := catalog.Load([]string{name}); err != nil || len(c.Wheels) != 1 {
		t.Error(err)
	}
}

// TestGrid: rows of a spreadsheet are drafts, their columns matched; a page may take
// one for another key.
func TestGrid(t *testing.T) {
	e := newEngine(t)
	text := "Name\tKV (rpm/V)\tcolour\tcan width\nBig\t170\tred\t63\n"
	g := answer[grid](t, e, M{"ask": "grid", "text": text})
	if g.Kind != "motor" || !g.Head || len(g.Drafts) != 1 || g.Columns[1].Key != "kv" || g.Columns[2].Why == "" {
		t.Errorf("%+v", g)
	}
	g = answer[grid](t, e, M{"ask": "grid", "text": text, "kind": "motor", "columns": []string{"name", "kv", "", "can_diameter_mm"}})
	if g.Drafts[0].Cells["can_diameter_mm"] != "63" {
		t.Errorf("%+v", g.Drafts)
	}
	g = answer[grid](t, e, M{"ask": "grid", "text": "Bare\t97\n", "kind": "wheel", "order": []string{"name", "diameter_mm"}})
	if g.Head || g.Kinds == nil || g.Drafts[0].Cells["diameter_mm"] != "97" {
		t.Errorf("without headings: %+v", g)
	}
	g = answer[grid](t, e, M{"ask": "grid", "text": "teeth\tprofile\n16\thtd-5m\n", "kind": "pulley", "slot": "wheel_pulley"})
	if g.Drafts[0].Cells["side"] != "wheel" {
		t.Errorf("a pulley for the wheel: %+v", g.Drafts)
	}
	var many strings.Builder
	many.WriteString("name,diameter_mm\n")
	for range mostRows + 3 {
		many.WriteString("w,97\n")
	}
	if g = answer[grid](t, e, M{"ask": "grid", "text": many.String()}); len(g.Drafts) != mostRows || g.More != 3 {
		t.Errorf("of many rows %d, %d more", len(g.Drafts), g.More)
	}
	if r := ask[grid](t, e, M{"ask": "grid", "text": " \n"}); len(r.Problems) != 1 {
		t.Errorf("of nothing: %+v", r)
	}
}

// TestGridOfKinds: rows that say their kinds are parted by them, under any of the words
// that people have, each with its own columns.
func TestGridOfKinds(t *testing.T) {
	e := newEngine(t)
	text := "My board\nPart;Name;KV (rpm/V);Diameter;Teeth;Price;Currency\n" +
		"Motor;Big;170;63;;80;\n" +
		"catalog;;;;;;USD\n" +
		"wheel;Round;;97;;12,5;\n" +
		"motors;Small;190;50;;70;\n" +
		"ESC;Box;;;;120;\n" +
		";Lost;;;;3;\n" +
		"Sprocket;Star;;;40;26;\n" +
		"chaim;Roller;;;;9;\n"
	g := answer[grid](t, e, M{"ask": "grid", "text": text, "kind": "wheel", "slot": "wheel_pulley"})
	type piece struct {
		said, kind string
		cells      []map[string]string
	}
	want := []piece{
		{"motor", "motor", []map[string]string{{"name": "Big", "kv": "170", "can_diameter_mm": "63", "price": "80 USD"}, {"name": "Small", "kv": "190", "can_diameter_mm": "50", "price": "70 USD"}}},
		{"wheel", "wheel", []map[string]string{{"name": "Round", "diameter_mm": "97", "price": "12,5 USD"}}},
		{"esc", "controller", []map[string]string{{"name": "Box", "price": "120 USD"}}},
		{"", "", nil},
		{"sprocket", "sprocket", []map[string]string{{"name": "Star", "teeth": "40", "price": "26 USD", "side": "wheel"}}},
		{"chaim", "chain", []map[string]string{{"name": "Roller", "price": "9 USD"}}},
	}
	var got []piece
	for _, part := range g.Parts {
		p := piece{said: part.Said, kind: part.Kind}
		own := answer[grid](t, e, M{"ask": "grid", "text": part.Text, "kind": part.Kind, "slot": "wheel_pulley", "part": true})
		for _, d := range own.Drafts {
			p.cells = append(p.cells, d.Cells)
		}
		got = append(got, p)
	}
	if d := cmp.Diff(want, got, cmp.AllowUnexported(piece{})); d != "" || g.Above != 1 || len(g.Drafts) > 0 {
		t.Errorf("%d rows above (-want +got):\n%s", g.Above, d)
	}
	for why, text := range map[string]string{
		"a type that is no kind":  "Name\tType\tKV\nBig\toutrunner\t170\nSmall\tinrunner\t190\n",
		"no headings":             "motor\t170\n",
		"no rows below headings":  "kind\tname\n",
		"a column without a cell": "kind\tname\n\tBig\n",
	} {
		if g := answer[grid](t, e, M{"ask": "grid", "text": text}); g.Parts != nil {
			t.Errorf("%s: parted into %+v", why, g.Parts)
		}
	}
	var many strings.Builder
	many.WriteString("kind,name\n")
	for range mostRows + 3 {
		many.WriteString("wheel,w\n")
	}
	if g := answer[grid](t, e, M{"ask": "grid", "text": many.String()}); len(g.Parts) != 1 || strings.Count(g.Parts[0].Text, "\n") != mostRows+1 || g.More != 3 {
		t.Errorf("of many rows %d are taken, %d more", strings.Count(g.Parts[0].Text, "\n")-1, g.More)
	}
}

// TestBuildWithParts: the file of a build with its parts and its brief opens by itself, of
// an embedded catalog and of the reader's, and is the same build under the same brief.
func TestBuildWithParts(t *testing.T) {
	e := newEngine(t)
	for _, of := range []struct {
		files []M
		brief M
	}{{nil, harbour(t, e)}, {files("shop.toml", little), M{"target.top_speed_kmh": "20"}}, {files("chains.toml", chains), M{"target.top_speed_kmh": "20", "keep.motor_pulley": "pin"}}} {
		answer[contents](t, e, M{"ask": "catalog", "files": of.files})
		values := map[string]string{}
		for key, text := range of.brief {
			values[key] = fmt.Sprint(text)
		}
		r := &request{Brief: values}
		p, err := r.problem(e.parts())
		if err != nil {
			t.Fatal(err)
		}
		found, err := search.Rank(t.Context(), p, search.Options{Top: 8})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for s := range found.Builds() {
			n++
			got := answer[saved](t, e, M{"ask": "save", "what": "build", "brief": of.brief, "build": string(s.Build.File().TOML())})
			src := catalog.Source{Name: got.Name, Data: []byte(got.Text)}
			is := answer[sorted](t, e, M{"ask": "file", "file": files(got.Name, got.Text)[0]})
			if is.Is != isBuild || !is.Carries || is.Build != string(s.Build.File().TOML()) || is.Values["target.top_speed_kmh"] != values["target.top_speed_kmh"] {
				t.Errorf("dropped on a page it is %+v", is)
			}
			c, err := catalog.Read(src)
			if err != nil {
				t.Fatalf("%v\n%s", err, got.Text)
			}
			file, err := constraints.ReadBuild(src)
			if err != nil {
				t.Fatalf("%v\n%s", err, got.Text)
			}
			brief, err := constraints.ReadBrief(src)
			if err != nil {
				t.Fatalf("%v\n%s", err, got.Text)
			}
			q, err := constraints.NewBuildProblem(c, file.With(brief))
			if err != nil {
				t.Fatal(err)
			}
			b, err := q.Find(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range constraints.Figures() {
				if f.Value == nil || f.Absence(s.Build) == constraints.NotAsked {
					continue
				}
				if was, is := f.Value(s.Build), f.Value(b); was != is && !(math.IsNaN(was) && math.IsNaN(is)) {
					t.Errorf("%s of the build is %v, opened again %v", f.Name, was, is)
				}
			}
			if c.Currency != p.Catalog.Currency {
				t.Errorf("in %s, opened again in %s", p.Catalog.Currency, c.Currency)
			}
		}
		if n == 0 {
			t.Error("no build to open")
		}
	}
}
