package catalog

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"gearsearch/catalog/field"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// sheetOf is a sheet of parts of several kinds as somebody keeps it.
const sheetOf = "kind;Name;KV (rpm/V);R [mΩ];Shaft Ø mm;Diameter;Weight, kg;Price €;Colour\r\n" +
	"Motor;Big;170;34,5;8;;0,5;1.089,00;red\r\n" +
	"\r\n" +
	"wheel;Tall;;;;97,5 mm;0,2;;\r\n" +
	"motor;Small;190;;0,315in;;;89;\r\n"

// planOf plans a sheet and fails where it cannot.
func planOf(t *testing.T, src Source, told map[string]field.Target) *Plan {
	t.Helper()
	p, err := PlanSheet(src, "", told)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// headingsTold reads what is told of headings.
func headingsTold(t *testing.T, entries ...string) map[string]field.Target {
	t.Helper()
	out := map[string]field.Target{}
	for _, text := range entries {
		heading, target, ok := field.CutHeading(text)
		if !ok {
			t.Fatal(text)
		}
		out[heading] = target
	}
	return out
}

// planned tells a plan in a line.
func planned(p *Plan) string {
	var out []string
	for _, c := range p.Columns {
		out = append(out, c.Place+" "+c.Target.String())
	}
	return strings.TrimSpace(p.Kind + " " + strings.Join(out, ", "))
}

func TestPlanSheet(t *testing.T) {
	for _, tt := range []struct{ why, name, text, want string }{
		{"all that the parts of several kinds have", "garage.csv", strings.ReplaceAll(sheetOf, ";Colour", ";Note"), "A kind, B name, C kv, D resistance_mohm, E shaft_mm, F diameter_mm, G mass_g in kg, H price in €, I note"},
		{"of one kind, by its name", "motor.csv", "KV,Poles,Name\n170,14,a\n", "motor A kv, B pole_pairs in poles, C name"},
		{"of one kind, by its headings", "mine.csv", "KV,R (mOhm),Can\n170,30,63\n", "motor A kv, B resistance_mohm, C can_diameter_mm"},
		{"the same heading of two kinds", "all.tsv", "Part type\tName\tVoltage\nmotor\ta\t50\ncontroller\tb\t60\ncharger\tc\t\n", "A kind, B name, C max_volts"},
		{"and with a key of its own in each", "all.csv", "type,Name,Diameter (in)\nwheel,a,4\nmotor,b,2\n", "A kind, B name, C can_diameter_mm|diameter_mm in in"},
		{"a title and an empty row above", "all.csv", "My parts\n\nkind,Name,KV\nmotor,a,170\n", "A kind, B name, C kv"},
		{"headings that have line breaks and are quoted", "all.csv", "kind,\"KV\n(rpm/V)\",\"Weight, g\"\nmotor,170,500\n", "A kind, B kv, C mass_g"},
		{"an empty column is left out", "all.csv", "kind,kv,Colour\nmotor,170,\n", "A kind, B kv, C -"},
		{"tabs, Latin-1", "all.csv", "kind\tKV\tR [\xb5\xd8]\nmotor\t170\t\n", "A kind, B kv, C -"},
	} {
		if got := planned(planOf(t, Source{Name: tt.name, Data: []byte(tt.text)}, nil)); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.why, got, tt.want)
		}
	}
}

// TestPlanIsUnsure: nothing is guessed where a heading may be meant for two keys, or
// for none.
func TestPlanIsUnsure(t *testing.T) {
	src := Source{Name: "garage.csv", Data: []byte("kind,KV,kv rating,Colour,lenght\nmotor,170,180,red,70\n")}
	_, err := PlanSheet(src, "", nil)
	want := []string{
		"garage.csv:1:6: row 1, column B: heading \"KV\" may be meant for kv, and so may another",
		"hint: tell it with --map \"KV=KEY\", or leave it out with --map \"KV=-\"",
		"row 1, column C: heading \"kv rating\" may be meant for kv",
		"row 1, column D: heading \"Colour\" is no key",
		"row 1, column E: heading \"lenght\" is no key",
		"hint: the nearest key is can_length_mm or length_mm; tell it",
	}
	for _, w := range want {
		if err == nil || !strings.Contains(err.Error(), w) {
			t.Errorf("%v\ndoes not say %q", err, w)
		}
	}
	p := planOf(t, src, headingsTold(t, "KV=kv", "kv rating = -", "Colour=note", "lenght = can_length_mm in cm"))
	if got, want := planned(p), "A kind, B kv, C -, D note, E can_length_mm in cm"; got != want {
		t.Errorf("told: %s, want %s", got, want)
	}
	for _, tt := range []struct{ why, text, kind, says string }{
		{"no kind", "Name,Price\na,1\n", "", "nothing says what kinds of parts these are"},
		{"a kind that there is not", "kv\n170\n", "moter", "did you mean motor?"},
	} {
		if _, err := PlanSheet(Source{Name: "x.csv", Data: []byte(tt.text)}, tt.kind, nil); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v", tt.why, err)
		}
	}
	for _, tt := range []struct{ why, told, says string }{
		{"a heading that there is not", "Kv = kv", `no column has the heading "Kv"`},
		{"a key that there is not", "KV = kvv", "did you mean kv?"},
	} {
		if _, err := PlanSheet(src, "", headingsTold(t, tt.told)); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v", tt.why, err)
		}
	}
}

// TestRememberedSheet: with the row that remembers the sheet reads as a catalog, and
// as it does without, and what is there of it stays to the byte.
func TestRememberedSheet(t *testing.T) {
	src := Source{Name: "garage.csv", Data: []byte("\ufeff" + sheetOf)}
	p := planOf(t, src, headingsTold(t, "Colour=-"))
	before, err := ReadPlanned([]*Plan{p})
	if err != nil {
		t.Fatal(err)
	}
	got := p.Remembering()
	row, rest, _ := strings.Cut(string(got), "\r\n")
	if want := "\ufeff# gearsearch: Name = name;KV (rpm/V) = kv;R [mΩ] = resistance_mohm;Shaft Ø mm = shaft_mm;Diameter = diameter_mm;\"Weight, kg = mass_g in kg\";Price € = price in €;Colour = -;"; row != want {
		t.Errorf("the row is\n%s, want\n%s", row, want)
	}
	if "\ufeff"+rest != string(src.Data) {
		t.Errorf("the rest is\n%q, want\n%q", rest, src.Data)
	}
	remembering := Source{Name: "garage.csv", Data: got}
	c, err := Read(remembering)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before.Motors, c.Motors, sameParts); diff != "" {
		t.Errorf("it reads differently:\n%s", diff)
	}
	big := c.Motors[0]
	if big.ID != "big" || big.Name != "Big" {
		t.Errorf("the id made of its name is %q", big.ID)
	}
	for _, v := range []struct {
		key       string
		got, want float64
	}{{"kv", big.KV, 170}, {"resistance", big.Resistance, 0.0345}, {"shaft", big.Shaft, 0.008}, {"mass", big.Mass, 0.5}, {"price", big.Price, 1089}} {
		if v.got != v.want {
			t.Errorf("%s is %v, want %v", v.key, v.got, v.want)
		}
	}
	if len(c.Wheels) != 1 || c.Wheels[0].Diameter != 0.0975 {
		t.Errorf("wheels %+v", c.Wheels)
	}
	// Planned again it stays, and columns may be moved.
	if again := planOf(t, remembering, nil); !bytes.Equal(again.Remembering(), got) {
		t.Errorf("remembered twice it is\n%s", again.Remembering())
	}
	moved := "# gearsearch: KV (rpm/V) = kv,Size = can_diameter_mm\nSize,id,kind,KV (rpm/V)\n63,a,motor,170\n"
	if c, err := Read(Source{Name: "x.csv", Data: []byte(moved)}); err != nil || c.Motors[0].CanDiameter != 0.063 {
		t.Errorf("moved columns: %v", err)
	}
}

// TestSheetMistakes: what is wrong with a sheet names file, row and column.
func TestSheetMistakes(t *testing.T) {
	for _, tt := range []struct{ why, text, says string }{
		{"a wrong number", "# gearsearch: KV = kv\nkind,id,KV\nmotor,a,170\nmotor,b,fast\n", "garage.csv:4:9: row 4, column C (KV): kv is \"fast\", must be a number"},
		{"behind a cell of several lines", "kind,id,note,kv\nmotor,a,\"two\nlines\",170\n\nmotor,b,,x\n", "garage.csv:5:10: row 4, column D: kv is \"x\""},
		{"a heading that is remembered no more", "# gearsearch: KV = kv\nkind,id,Kv rating\nmotor,a,170\n", "row 2, column C: column \"Kv rating\" is no key\n    kind,id,Kv rating\n            ^^^^^^^^^\n    hint: it may be kv: gearsearch catalog import says"},
		{"a kind that there is not", "kind,id,kv\nESC,a,170\n", "row 2, column A (kind): \"ESC\" is no kind of parts\n    ESC,a,170\n    ^^^\n    hint: did you mean controller?"},
		{"a row without a kind", "kind,id,kv\n,a,170\n", "row 2: the row says no kind of part"},
		{"a key of another kind", "kind,id,kv,diameter_mm\nmotor,a,170,90\n", "row 2, column D (diameter_mm): a motor has no key diameter_mm\n    motor,a,170,90\n                ^^\n    hint: leave the cell empty"},
		{"a key that is missing", "kind,id,kv\nmotor,a,\n", "row 2: motor \"a\" has no kv"},
		{"two columns of a key", "# gearsearch: KV = kv\nkind,id,KV,kv\nmotor,a,170,180\n", "row 3, column D (kv): key kv has two cells in this row"},
		{"a row that remembers nothing", "# gearsearch: KV\nkind,id,kv\nmotor,a,170\n", "row 1, column A: \"KV\" remembers no heading"},
		{"remembered twice", "# gearsearch: KV = kv,KV = price\nkind,id,KV\nmotor,a,170\n", "heading \"KV\" is remembered twice"},
		{"remembered as no key", "# gearsearch: KV = kvv\nkind,id,KV\nmotor,a,170\n", "did you mean kv?"},
		{"the same id twice", "kind,id,kv,diameter_mm\nmotor,a,170,\nwheel,a,,90\n", "row 3, column B: id \"a\" is given twice, first at garage.csv:2:7"},
		{"ids made of names that are alike", "kind,name,kv\nmotor,Big one,170\nmotor,big-one,180\n", "row 3, column B (name): id \"big-one\" is given twice, first at garage.csv:2:7"},
		{"no id and no name", "kind,kv\nmotor,170\n", "row 2: motor has no id"},
		{"another currency", "# gearsearch: Price $ = price in $\nkind,id,kv,Price $\nmotor,a,170,90\n", "row 3, column D (Price $): price is in \"$\", must be in EUR"},
		{"an amount that can be read in two ways", "kind,id,kv,price\nmotor,a,170,\"1,500\"\n", "hint: write 1500 or 1.5"},
		{"no kind at all", "id,kv\na,170\n", "hint: a CSV file has a column kind, or is named after the kind of its parts"},
	} {
		_, err := Read(Source{Name: "garage.csv", Data: []byte(tt.text)})
		if err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v\ndoes not say %s", tt.why, err, tt.says)
		}
	}
}

// TestThousands: separators of thousands are read where they can be in one way.
func TestThousands(t *testing.T) {
	for text, want := range map[string]float64{
		"1.234,50": 1234.5, "1,234.50": 1234.5, "1 234,5": 1234.5, "1\u00a0234.5": 1234.5, "1'234.5": 1234.5, "1’234": 1234,
		"1,234,567": 0, "1.234,5 €": 1234.5, "€ 1,234.50": 1234.5, "999": 999, "12 500": 12500,
	} {
		src := Source{Name: "x.csv", Data: []byte("kind,id,kv,price\nmotor,a,170,\"" + text + "\"\n")}
		c, err := Read(src)
		switch {
		case want == 0: // beyond the range, and so read
			if err == nil || !strings.Contains(err.Error(), "0 to 1000000") {
				t.Errorf("%s: %v", text, err)
			}
		case err != nil:
			t.Errorf("%s: %v", text, err)
		case c.Motors[0].Price != want:
			t.Errorf("%s is read as %v, want %v", text, c.Motors[0].Price, want)
		}
	}
}

// TestWriteSheet: a catalog as one sheet reads back the same.
func TestWriteSheet(t *testing.T) {
	demo, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	titled, err := Read(Source{Name: "a.toml", Data: []byte("schema = 1\ntitle = \"=mine\"\ncurrency = \"CHF\"\n[[wheel]]\nid = \"w\"\ndiameter_mm = 97\nsold_in = 1\n")})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []*Catalog{demo, titled} {
		for name, comma := range map[string]rune{"all.csv": ',', "all.tsv": '\t'} {
			var b bytes.Buffer
			if err := c.WriteSheet(&b, comma); err != nil {
				t.Fatal(err)
			}
			src := Source{Name: name, Data: b.Bytes()}
			again, err := Read(src)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c, again, sameParts); diff != "" {
				t.Errorf("%s loses something:\n%s", name, diff)
			}
			if !planOf(t, src, nil).Plain() {
				t.Errorf("%s has headings to remember", name)
			}
		}
	}
}

// TestHeadingsAnyOrder: columns in any order, with their own headings, units and
// separators, read as the same parts.
func TestHeadingsAnyOrder(t *testing.T) {
	type column struct {
		titles []string
		cells  [2]string
	}
	columns := []column{
		{[]string{"kind", "Type", "Part type"}, [2]string{"motor", "wheel"}},
		{[]string{"id", "ID"}, [2]string{"a", "b"}},
		{[]string{"KV (rpm/V)", "kv", "KV rating", "Kv"}, [2]string{"170", ""}},
		{[]string{"R [mΩ]", "R (mOhm)", "Resistance, mohm", "resistance_mohm", "Phase resistance"}, [2]string{"34.5", ""}},
		{[]string{"Weight, g", "Mass (g)", "mass_g", "weight"}, [2]string{"500", "200"}},
		{[]string{"Wheel diameter mm", "Size (mm)", "diameter_mm", "Wheel size in mm"}, [2]string{"", "97.5"}},
	}
	want, err := Read(Source{Name: "w.csv", Data: []byte("kind,id,kv,resistance_mohm,mass_g,diameter_mm\nmotor,a,170,34.5,500,\nwheel,b,,,200,97.5\n")})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		order := rapid.Permutation(columns).Draw(t, "order")
		comma := rapid.SampledFrom([]string{",", ";", "\t"}).Draw(t, "comma")
		decimal := comma != "," && rapid.Bool().Draw(t, "decimal comma")
		var rows [3][]string
		for _, c := range order {
			title := rapid.SampledFrom(c.titles).Draw(t, "title")
			for i, cell := range []string{title, c.cells[0], c.cells[1]} {
				if decimal && i > 0 {
					cell = strings.ReplaceAll(cell, ".", ",")
				}
				if i == 0 && strings.Contains(cell, comma) {
					cell = `"` + cell + `"`
				}
				rows[i] = append(rows[i], cell)
			}
		}
		var text strings.Builder
		for _, row := range rows {
			fmt.Fprintln(&text, strings.Join(row, comma))
		}
		p, err := PlanSheet(Source{Name: "x.csv", Data: []byte(text.String())}, "", nil)
		if err != nil {
			t.Fatalf("%s\n%v", text.String(), err)
		}
		got, err := Read(Source{Name: "x.csv", Data: p.Remembering()})
		if err != nil {
			t.Fatalf("%s\n%v", p.Remembering(), err)
		}
		if diff := cmp.Diff(want, got, sameParts); diff != "" {
			t.Fatalf("%s\n%s", p.Remembering(), diff)
		}
	})
}

// FuzzSheet plans and reads any bytes as a sheet of parts of all kinds: it never
// panics, problems have a place and print cleanly, and what is remembered reads as
// what was planned.
func FuzzSheet(f *testing.F) {
	f.Add([]byte(sheetOf))
	f.Add([]byte("# gearsearch: KV = kv,Colour = -\nkind,id,KV,Colour\nmotor,a,170,red\n"))
	f.Add([]byte("# gearsearch motor: KV = kv|price in lb\nid\tKV\na\t170\n"))
	f.Add([]byte("My parts\n\nkind;\"KV\n(rpm/V)\";Price €\nmotor;170;1.089,00\n"))
	f.Add([]byte("\"# gearsearch: a = kv\",b = -\nkind,a,b\n"))
	f.Add([]byte("kind;0,;")) // a heading with another mark in it, and an empty one
	f.Fuzz(func(t *testing.T, data []byte) {
		src := Source{Name: "fuzz.csv", Data: data}
		c, err := Read(src)
		checkRead(t, c, err)
		p, err := PlanSheet(src, "", nil)
		if err != nil {
			checkRead(t, nil, err)
			return
		}
		before, err := ReadPlanned([]*Plan{p})
		if err != nil {
			return
		}
		again := newReader()
		again.sheet(Source{Name: "fuzz.csv", Data: p.Remembering()}, nil)
		if err := again.report.Err(); err != nil {
			t.Fatalf("remembered it has problems: %v\n%s", err, p.Remembering())
		}
		for _, k := range registry {
			if k.count(before) != k.count(again.catalog) {
				t.Fatalf("%d %s are planned, %d remembered\n%s", k.count(before), k.info().Name, k.count(again.catalog), p.Remembering())
			}
		}
	})
}
