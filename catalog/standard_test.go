package catalog

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog/field"
)

// listed reads one list by itself.
func listed(t *testing.T, name string) *Catalog {
	t.Helper()
	c, err := ReadStandards(name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Each list of parts reads, has the kind that it says and no price, and each list says
// its standard and what is from there.
func TestStandardsAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range Standards() {
		if seen[l.Name] || l.Meaning == "" || l.Standard == "" || !strings.HasPrefix(l.Basis, strings.Split(l.Standard, ",")[0]) || (l.Kind == "") != (l.Sizes != nil) {
			t.Errorf("%+v", l)
		}
		seen[l.Name] = true
		if l.Kind == "" {
			continue
		}
		c := listed(t, l.Name)
		n := 0
		for e := range c.Entries() {
			n++
			if p := e.Part; e.Kind != l.Kind || !math.IsNaN(p.Price) || p.Source != "" || p.Priced != "" || p.Note == "" || p.Name == "" {
				t.Errorf("%s: %s %+v", l.Name, e.Kind, p)
			}
		}
		if n == 0 || len(c.Uses) != 1 || c.Uses[0].Parts != n || c.Uses[0].List != l.Name {
			t.Errorf("%s: %d parts, %+v", l.Name, n, c.Uses)
		}
	}
	if got := StandardNames(); len(got)+1 != len(seen) {
		t.Errorf("lists of parts %v, of %d", got, len(seen))
	}
}

// ISO 5296: length codes with pitch lengths in mm, and widths in mm, from memory.
func TestStandardInchBelts(t *testing.T) {
	for name, want := range map[string]struct {
		lengths []float64
		widths  []float64
	}{
		"belts/xl": {[]float64{152.4, 177.8, 203.2, 228.6, 254, 279.4, 304.8, 330.2, 355.6, 381, 406.4, 431.8, 457.2, 482.6, 508, 533.4, 558.8, 584.2, 609.6, 635, 660.4}, []float64{6.4, 7.9, 9.5}},
		"belts/l":  {[]float64{314.33, 381, 476.25, 533.4, 571.5, 609.6, 647.7, 685.8, 723.9, 762, 819.15, 876.3, 933.45, 990.6, 1066.8, 1143, 1219.2, 1295.4, 1371.6, 1524}, []float64{12.7, 19.1, 25.4}},
	} {
		var lengths, widths []float64
		c := listed(t, name)
		for _, b := range c.Belts {
			lengths = append(lengths, math.Round(float64(b.Teeth)*b.Profile.Pitch*1e5)/100)
			widths = append(widths, math.Round(b.Width*1e4)/10)
		}
		slices.Sort(lengths)
		slices.Sort(widths)
		if lengths, widths = slices.Compact(lengths), slices.Compact(widths); !slices.Equal(lengths, want.lengths) || !slices.Equal(widths, want.widths) || len(c.Belts) != len(lengths)*len(widths) {
			t.Errorf("%s: %v mm long, %v mm wide, %d belts", name, lengths, widths, len(c.Belts))
		}
	}
}

// ISO 606, single strand, from memory: pitch in mm and least tensile strength in kN.
// Every number of links closes.
func TestStandardChains(t *testing.T) {
	for name, want := range map[string][2]float64{"chains/04c": {6.35, 3.5}, "chains/05b": {8, 4.4}, "chains/06c": {9.525, 7.9}} {
		c := listed(t, name)
		for _, b := range c.Chains {
			if got := [2]float64{b.Profile.Pitch * 1e3, b.BreakingLoad() / 1e3}; math.Abs(got[0]-want[0]) > 1e-9 || math.Abs(got[1]-want[1]) > 1e-9 || !b.Closes() {
				t.Errorf("%s: %s has %v, want %v", name, b.ID, got, want)
			}
		}
		if n := len(c.Chains); n != 46 {
			t.Errorf("%s: %d chains of 30 to 120 links", name, n)
		}
		if l, _ := StandardNamed(name); !strings.Contains(l.Meaning, field.FormatNumber(want[0])+" mm") || !strings.Contains(l.Meaning, field.FormatNumber(want[1])+" kN") {
			t.Errorf("%s: %s", name, l.Meaning)
		}
	}
}

// ASTM B258, areas in mm², from memory of its tables, and the nominal areas of IEC 60228.
func TestStandardWires(t *testing.T) {
	c := listed(t, "wires/awg")
	for id, area := range map[string]float64{"wire-awg--3awg": 107.2, "wire-awg-0awg": 53.49, "wire-awg-8awg": 8.367, "wire-awg-10awg": 5.261, "wire-awg-12awg": 3.309, "wire-awg-14awg": 2.081, "wire-awg-22awg": 0.3255, "wire-awg-30awg": 0.05093} {
		if w, ok := ByID(c.Wires, id); !ok || math.Abs(w.Area*1e6/area-1) > 5e-4 {
			t.Errorf("%s: %+v, want %v mm²", id, w, area)
		}
	}
	var areas []float64
	for _, w := range listed(t, "wires/mm2").Wires {
		areas = append(areas, math.Round(w.Area*1e8)/100)
	}
	slices.Sort(areas)
	if want := []float64{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120}; !slices.Equal(areas, want) {
		t.Errorf("areas %v", areas)
	}
}

// ISO 8820-3 and -5: ratings in A, and what they break at 32 V in A.
func TestStandardFuses(t *testing.T) {
	ratings := FuseRatings()
	var all []float64
	for name, want := range map[string]struct {
		least, most, breaks float64
		n                   int
	}{"fuses/blade": {5, 80, 1000, 13}, "fuses/strip": {30, 500, 2000, 18}} {
		c := listed(t, name)
		least, most := math.Inf(1), 0.0
		for _, f := range c.Fuses {
			all = append(all, f.Rated)
			least, most = math.Min(least, f.Rated), math.Max(most, f.Rated)
			if f.MaxVoltsDC != 32 || f.Breaking != want.breaks || !slices.Contains(ratings[:], f.Rated) {
				t.Errorf("%+v", f)
			}
		}
		if least != want.least || most != want.most || len(c.Fuses) != want.n {
			t.Errorf("%s: %v to %v A, %d fuses", name, least, most, len(c.Fuses))
		}
	}
	slices.Sort(all)
	if all = slices.Compact(all); !slices.Equal(all, ratings[:]) {
		t.Errorf("the lists have %v, and made are %v", all, ratings)
	}
}

// A size says what it measures: 18650 is 18 mm by 65.0 mm.
func TestStandardCells(t *testing.T) {
	l, _ := StandardNamed("cells/round")
	for name, want := range map[string][2]float64{"18650": {18, 65}, "21700": {21, 70}, "26650": {26, 65}, "18350": {18, 35}} {
		i := slices.IndexFunc(l.Sizes, func(s Size) bool { return s.Name == name })
		if i < 0 || math.Abs(l.Sizes[i].Diameter*1e3-want[0]) > 1e-9 || math.Abs(l.Sizes[i].Length*1e3-want[1]) > 1e-9 {
			t.Errorf("%s: %d of %+v", name, i, l.Sizes)
		}
	}
}

// A list is used in every form of a catalog, once however often it is named.
func TestUse(t *testing.T) {
	toml := Source{Name: "a.toml", Data: []byte("schema = 1\nuse = [\"belts/xl\", \"fuses/blade\"]\n")}
	for _, test := range []struct {
		why   string
		files []Source
		at    Position
	}{
		{"TOML", []Source{toml}, Position{"a.toml", 2, 8}},
		{"a single text", []Source{{Name: "a.toml", Data: []byte("schema = 1\nuse = \"belts/xl\"\n")}, toml}, Position{"a.toml", 2, 7}},
		{"two files", []Source{toml, {Name: "b.toml", Data: toml.Data}}, Position{"a.toml", 2, 8}},
		{"a folder's head", []Source{{Name: "shed/catalog.csv", Data: []byte("title,use\nShed,belts/xl|fuses/blade\n")}}, Position{"shed/catalog.csv", 2, 6}},
		{"one sheet", []Source{{Name: "all.csv", Data: []byte("kind,id,use\ncatalog,,belts/xl|fuses/blade\n")}}, Position{"all.csv", 2, 10}},
		{"a build file that carries its parts", []Source{{Name: "b.toml", Data: []byte("[build]\nmotors = 1\n[parts]\nschema = 1\nuse = [\"belts/xl\", \"fuses/blade\"]\n")}}, Position{"b.toml", 5, 8}},
	} {
		c, err := Read(test.files...)
		if err != nil {
			t.Errorf("%s: %v", test.why, err)
			continue
		}
		if len(c.Belts) != 63 || len(c.Fuses) != 13 || len(c.Uses) != 2 || c.Uses[0].Pos != test.at || c.Belts[0].Pos != test.at {
			t.Errorf("%s: %d belts, %d fuses, %+v, first at %+v", test.why, len(c.Belts), len(c.Fuses), c.Uses, c.Belts[0].Pos)
		}
		if at := c.Places().At("belt-xl-6.4mm-30", "teeth"); positionOf(at) != test.at {
			t.Errorf("%s: a belt stands at %+v", test.why, positionOf(at))
		}
		if slices.Contains(c.Files, "belts/xl") {
			t.Errorf("%s: files %v", test.why, c.Files)
		}
	}
}

// What is wrong stands at the list's name, and says what to do.
func TestUseMistakes(t *testing.T) {
	for _, test := range []struct{ why, text, want, hint string }{
		{"a list that there is not", "use = [\"belts/xl\", \"belts/htd5m\"]", `a.toml:2:20: there is no list "belts/htd5m"`, "did you mean belts/htd-5m?"},
		{"nothing like one", "use = \"sofas\"", `a.toml:2:7: there is no list "sofas"`, "the lists are belts/htd-3m, "},
		{"a list of sizes", "use = [\"cells/round\"]", `a.toml:2:8: the list "cells/round" has sizes, which are no parts`, "gearsearch catalog show --standard cells/round lists them"},
		{"twice in one", "use = [\"belts/xl\", \"belts/xl\"]", `a.toml:2:20: use names "belts/xl" twice`, ""},
		{"none", "use = []", "a.toml:2:7: use is an empty list", ""},
		{"a number", "use = 3", "a.toml:2:7: use is 3", ""},
		{"an own part of that id", "use = [\"belts/xl\"]\n[[belt]]\nid = \"belt-xl-6.4mm-60\"\nprofile = \"xl\"\nteeth = 60", `a.toml:4:6: id "belt-xl-6.4mm-60" is given twice, first at a.toml:2:8`, "it is a part of the list belts/xl: write [[change]] with its kind and id to change it, or give yours another id"},
		{"of another kind", "use = [\"belts/xl\"]\n[[motor]]\nid = \"belt-xl-6.4mm-60\"\nkv = 100", `a.toml:4:6: id "belt-xl-6.4mm-60" is given twice, first at a.toml:2:8`, "the list belts/xl"},
		{"a change that does not go", "use = [\"belts/xl\"]\n[[change]]\nkind = \"belt\"\nid = \"belt-xl-6.4mm\"\nteeth = 1", `a.toml:6:9: teeth is 1`, ""},
	} {
		_, err := Read(Source{Name: "a.toml", Data: []byte("schema = 1\n" + test.text + "\n")})
		if err == nil {
			t.Errorf("%s: is read", test.why)
			continue
		}
		if text := err.Error(); !strings.HasPrefix(text, test.want) || !strings.Contains(text, test.hint) || strings.Count(text, "a.toml:") > 2 {
			t.Errorf("%s: %s", test.why, text)
		}
	}
}

// A part of a list is changed as any other, and so is a family; what is doubted of it
// then stands at the change.
func TestUseChanged(t *testing.T) {
	c, err := Read(Source{Name: "a.toml", Data: []byte(`schema = 1
use = ["belts/xl"]
[[change]]
kind = "belt"
id = "belt-xl-6.4mm"
price = 7
[[change]]
kind = "belt"
id = "belt-xl-6.4mm-60"
price = 9
`)})
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]float64{"belt-xl-6.4mm-55": 7, "belt-xl-6.4mm-60": 9, "belt-xl-7.9mm-60": math.NaN()} {
		if b, ok := ByID(c.Belts, id); !ok || b.Price != want && !(math.IsNaN(want) && math.IsNaN(b.Price)) {
			t.Errorf("%s: %+v", id, b)
		}
	}
	if at := positionOf(c.Places().At("belt-xl-6.4mm-60", "price")); at != (Position{"a.toml", 10, 9}) {
		t.Errorf("the price stands at %+v", at)
	}
	if at := positionOf(c.Places().At("belt-xl-6.4mm-60", "teeth")); at != (Position{"a.toml", 2, 8}) {
		t.Errorf("the teeth stand at %+v", at)
	}
}

// Written and read again, in every form, and merged with itself, a catalog that uses
// lists is the same catalog.
func TestUseIsWritten(t *testing.T) {
	var text strings.Builder
	text.WriteString("schema = 1\nuse = " + field.TOML(StandardNames()) + "\n[[change]]\nkind = \"fuse\"\nid = \"fuse-strip-100a\"\nprice = 4\n")
	src := Source{Name: "a.toml", Data: []byte(text.String())}
	c, err := Read(src)
	if err != nil {
		t.Fatal(err)
	}
	same := func(why string, files ...Source) {
		t.Helper()
		again, err := Read(files...)
		if err != nil {
			t.Errorf("%s: %v", why, err)
			return
		}
		if d := Differences(c, again); len(d) > 0 {
			t.Errorf("%s: %d parts differ: %+v", why, len(d), d[0])
		}
	}
	var toml, sheet bytes.Buffer
	if c.WriteTOML(&toml) != nil || c.WriteSheet(&sheet, ',') != nil {
		t.Fatal("not written")
	}
	same("TOML", Source{Name: "b.toml", Data: toml.Bytes()})
	same("one sheet", Source{Name: "b.csv", Data: sheet.Bytes()})
	same("a folder", c.CSVFiles()...)
	var ids []string
	for _, p := range c.Parts() {
		ids = append(ids, p.ID)
	}
	same("part by part", c.Only("b.toml", ids))
	m, err := Merge([]Source{src}, []Source{{Name: "b.toml", Data: src.Data}})
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Conflicts) > 0 || m.Shared != len(ids) || m.Equal != m.Shared {
		t.Errorf("merged with itself: %d shared, %d equal, %+v", m.Shared, m.Equal, m.Conflicts)
	}
	same("merged", Source{Name: "m.toml", Data: m.Text})
}

// What one catalog changes of a list and another does not, the other's counts, as with
// parts of its own.
func TestUseMerges(t *testing.T) {
	a := []Source{{Name: "a.toml", Data: []byte("schema = 1\nuse = \"belts/xl\"\n[[change]]\nkind = \"belt\"\nid = \"belt-xl-6.4mm-60\"\nwidth_mm = 6.5\nprice = 3\n")}}
	b := []Source{{Name: "b.toml", Data: []byte("schema = 1\nuse = \"belts/xl\"\n")}}
	m, err := Merge(a, b)
	if err != nil {
		t.Fatal(err)
	}
	belt, _ := ByID(m.Catalog.Belts, "belt-xl-6.4mm-60")
	if len(m.Conflicts) != 1 || m.Conflicts[0].Key.Key != "width_mm" || math.Abs(belt.Width-0.0064) > 1e-12 || belt.Price != 3 {
		t.Errorf("%+v, %+v", m.Conflicts, belt)
	}
	if at := m.Conflicts[0].Told; at[0].Pos != (Position{"a.toml", 6, 12}) || at[1].Pos != (Position{"b.toml", 2, 7}) {
		t.Errorf("told at %+v", at)
	}
}
