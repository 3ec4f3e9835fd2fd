package catalog

import (
	"fmt"
	"strings"
	"testing"
)

// matched tells a match in a line: kind, columns as key or key[unit], - for one that
// is left out.
func matched(m Match) string {
	var keys []string
	for _, c := range m.Columns {
		key := c.Key
		switch {
		case c.Twice:
			key = "twice"
		case key == "":
			key = "-"
		case c.Unit != "":
			key += "[" + c.Unit + "]"
		}
		keys = append(keys, key)
	}
	return fmt.Sprintf("%s %d: %s", m.Kind, m.Head, strings.Join(keys, " "))
}

func TestMatchGrid(t *testing.T) {
	order := []string{"id", "kv", "resistance_mohm"}
	for _, tt := range []struct{ why, kind, text, want, first string }{
		{"keys as they are", "", "id,kv,shaft_mm\nm,170,8\n", "motor 0: id kv shaft_mm", "map[id:m kv:170 shaft_mm:8]"},
		{"what people call them, units in brackets, any order", "", "R [mΩ]\tKV (rpm/V)\tName\tPrice EUR\tMass (lb)\n34,5\t170\tBig\t89\t1.5\n", "motor 0: resistance_mohm kv name price[EUR] mass_g[lb]", "map[kv:170 mass_g:1.5 lb name:Big price:89 EUR resistance_mohm:34,5]"},
		{"semicolons, commas are decimal", "", "id;diameter (mm);width_mm;tyre\nw;97,5;50;urethane\n", "wheel 0: id diameter_mm width_mm tyre", "map[diameter_mm:97,5 id:w tyre:urethane width_mm:50]"},
		{"unknown columns are left out, a second one of a key too", "motor", "KV\tcolour\trpm/v\tkv\n170\tred\t1\t180\n", "motor 0: kv - - twice", "map[kv:170]"},
		{"a unit of something else: its numbers are not taken for others", "motor", "kv,shaft (kg)\n170,8\n", "motor 0: kv -", "map[kv:170]"},
		{"a title above the headings, empty rows", "", "My motors\n\nname,kv,poles\nBig,170,14\n", "motor 1: name kv pole_pairs[poles]", "map[kv:170 name:Big pole_pairs:14 poles]"},
		{"no headings: the order of the table", "motor", "m\t170\t34.5\tx\n", "motor -1: id kv resistance_mohm -", "map[id:m kv:170 resistance_mohm:34.5]"},
		{"nothing tells the kind", "", "name,price\nx,4\n", " 0: - -", ""},
		{"what is not known is left empty", "motor", "kv,resistance\n170,n/a\n", "motor 0: kv resistance_mohm", "map[kv:170]"},
		{"UTF-16", "", "\xff\xfei\x00d\x00\t\x00k\x00v\x00\n\x00m\x00\t\x001\x007\x000\x00\n\x00", "motor 0: id kv", "map[id:m kv:170]"},
		{"Latin-1", "", "id,kv,note\nm,170,gr\xfcn\n", "motor 0: id kv note", "map[id:m kv:170 note:grün]"},
	} {
		g, _ := ReadGrid([]byte(tt.text))
		m := MatchGrid(g, tt.kind, order)
		if got := matched(m); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.why, got, tt.want)
		}
		first := ""
		if len(m.Drafts) > 0 {
			first = fmt.Sprint(m.Drafts[0].Cells)
		}
		if first != tt.first {
			t.Errorf("%s: the first part is %s, want %s", tt.why, first, tt.first)
		}
	}
}

// TestGridOfEveryKind: a file as the program writes it is told by its headings,
// whatever it is called, but for kinds whose keys are all another's too.
func TestGridOfEveryKind(t *testing.T) {
	demo, err := Demo()
	if err != nil {
		t.Fatal(err)
	}
	for _, src := range demo.CSVFiles() {
		kind := strings.TrimSuffix(src.Name, ".csv")
		if kind == headName {
			continue
		}
		g, more := ReadGrid(src.Data)
		m := MatchGrid(g, "", nil)
		if m.Kind != kind || more != 0 {
			t.Errorf("%s is taken for %q of %q", src.Name, m.Kind, m.Kinds)
		}
		for _, c := range m.Columns {
			if c.Key != c.Title || c.Unit != "" {
				t.Errorf("%s: %+v", src.Name, c)
			}
		}
	}
}

func TestTakeColumn(t *testing.T) {
	g, _ := ReadGrid([]byte("name,kv,diameter across\nBig,170,63\n"))
	m := MatchGrid(g, "motor", nil)
	m.Take(g, 2, "can_diameter_mm")
	m.Take(g, 0, "")
	if got := fmt.Sprint(m.Drafts[0].Cells); got != "map[can_diameter_mm:63 kv:170]" {
		t.Error(got)
	}
}
