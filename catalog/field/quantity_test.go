package field

import (
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"gearsearch/catalog/unit"
)

// measured has quantities of several kinds.
type measured struct {
	Size, Slope, Ratio, Cost, Charge float64
	Currency, Word                   string
	Teeth                            int
}

func measuredTable() *Table[measured] {
	return NewTable("measured", []Field[measured]{
		{Key: "size_mm", Unit: "mm", Per: 1000, Min: 5, Max: 500, Also: []string{"diameter", "width"}, Number: func(m *measured) *float64 { return &m.Size }},
		{Key: "slope_pct", Unit: "%", Per: 100, Max: 200, Kind: &unit.Grade, Number: func(m *measured) *float64 { return &m.Slope }},
		{Key: "ratio", Min: 0.2, Max: 100, Kind: &unit.Ratio, Number: func(m *measured) *float64 { return &m.Ratio }},
		{Key: "cost", Max: 1000, Number: func(m *measured) *float64 { return &m.Cost }, Currency: func(m *measured) *string { return &m.Currency }},
		{Key: "teeth", Min: 6, Max: 300, Kind: &unit.Teeth, Count: func(m *measured) *int { return &m.Teeth }},
		{
			Key: "charge", Unit: "V per cell", Min: 1, Max: 5, Words: []string{"full"}, AlsoWords: map[string]string{"100%": "full", "topped": "full"},
			Number: func(m *measured) *float64 { return &m.Charge }, Text: func(m *measured) *string { return &m.Word },
		},
	})
}

// A text with a unit of the key's kind is that quantity, to the bit what the
// number in the key's unit is.
func TestQuantities(t *testing.T) {
	table := measuredTable()
	read := func(doc string) (measured, []string) {
		var r Report
		m := table.Blank()
		table.Decode(Parse(Source{Name: "a.toml", Data: []byte(doc)}, &r).Root(), &m, &r)
		return m, brief(r.Err())
	}
	for _, tt := range []struct{ text, same string }{
		{`size_mm = "8in"`, "size_mm = 203.2"},
		{`size_mm = " 1 ft "`, "size_mm = 304.8"},
		{`size_mm = "9.7cm"`, "size_mm = 97"},
		{`size_mm = "97mm"`, "size_mm = 97"},
		{`slope_pct = "15%"`, "slope_pct = 15"},
		{`ratio = "15:36"`, "ratio = 2.4"},
		{`ratio = "5:1"`, "ratio = 5"},
		{`teeth = "15T"`, "teeth = 15"},
		{`charge = "3.7V"`, "charge = 3.7"},
		{`charge = "3700 mV"`, "charge = 3.7"},
	} {
		got, wrong := read(tt.text)
		want, also := read(tt.same)
		if diff := cmp.Diff(want, got, cmp.Comparer(func(a, b float64) bool { return a == b || a != a && b != b })); diff != "" || wrong != nil || also != nil {
			t.Errorf("%s: %v %v (-want +got):\n%s", tt.text, wrong, also, diff)
		}
	}
	if m, wrong := read(`cost = "120 EUR"`); wrong != nil || m.Cost != 120 || m.Currency != "EUR" {
		t.Errorf("120 EUR is %v %s, %v", m.Cost, m.Currency, wrong)
	}
	for _, tt := range []struct{ why, doc, want string }{
		{"no unit", `size_mm = "97"`, `1:11 size_mm is the text "97", without a unit | write 97 without quotes, which is in mm, or put the unit behind it; known: mm cm in m ft`},
		{"another kind", `size_mm = "97kg"`, `1:11 size_mm is the text "97kg": "kg" is no unit of length | known: mm cm in m ft`},
		{"out of range", `size_mm = "2ft"`, `1:11 size_mm is the text "2ft", 609.6 mm, must be 5 to 500 mm`},
		{"out of range in its unit", `size_mm = "2mm"`, `1:11 size_mm is the text "2mm", must be 5 to 500 mm`},
		{"a decimal comma", `size_mm = "3,8in"`, `1:11 size_mm is the text "3,8in", must be a number | write 3.8in, with a decimal point`},
		{"a gap between thousands", `size_mm = "1 000mm"`, `1:11 size_mm is the text "1 000mm", must be a number | write it without separators of thousands`},
		{"a wall", `slope_pct = "90deg"`, `1:13 slope_pct is the text "90deg", no possible grade`},
		{"no quotient", `ratio = "2"`, `1:9 ratio is the text "2", without a unit | write 2 without quotes, or "2:1"`},
		{"a bare half in quotes", `teeth = "7.5"`, `1:9 teeth is the text "7.5", must be a whole number`},
		{"a bare number too large in quotes", `teeth = "900"`, `1:9 teeth is the text "900", must be 6 to 300`},
		{"half a tooth", `teeth = "7.5 teeth"`, `1:9 teeth is the text "7.5 teeth", must be a whole number`},
		{"no amount", `cost = "12%"`, `1:8 cost is the text "12%": "%" is no unit of amount of money | known: the catalog's currency`},
		{"a word for the word", `charge = "topped"`, `1:10 charge is "topped", must be "full" or a number, 1 to 5 V per cell | did you mean "full"?`},
		{"without quotes", "size_mm = 8in", `1:11 8in is no number | a number with its unit stands in quotes: write "8in"`},
		{"another kind without quotes", "size_mm = 8kg # heavy", `1:11 size_mm is 8kg: "kg" is no unit of length | known: mm cm in m ft`},
		{"a quotient without quotes", "ratio = 15:36", `1:9 ratio is 15:36, must be a number | two numbers with a colon stand in quotes: write "15:36"`},
		{"another quotient without quotes", "ratio = 5:1", `1:9 5:1 is no number | a number with its unit stands in quotes: write "5:1"`},
		{"what people call it", "diameter = 97", `1:1 unknown key "diameter" in measured | did you mean size_mm?`},
		{"with a unit at its end", "width_mm = 97", `1:1 unknown key "width_mm" in measured | did you mean size_mm?`},
		{"with another unit at its end", "size_in = 4", `1:1 unknown key "size_in" in measured | write size_mm, with the unit in quotes: "…in"`},
		{"without one", "Slope = 4", `1:1 unknown key "Slope" in measured | keys carry their unit: slope_pct`},
	} {
		if _, got := read(tt.doc); !cmp.Equal(got, []string{tt.want}) {
			t.Errorf("%s: %q, want %q", tt.why, got, tt.want)
		}
	}
}

// In cells and on the command line bare numbers stand in the key's unit, and
// decimal commas go with units as without.
func TestQuantitiesInCells(t *testing.T) {
	table := measuredTable()
	for doc, want := range map[string]float64{"size_mm\n8in\n": 203.2 / 1000, "size_mm\n97\n": 0.097, "size_mm;teeth\n9,7cm;15\n": 0.097, "size_mm;teeth\n97,5;15\n": 0.0975} {
		var r Report
		sheet := ParseCSV(Source{Name: "a.csv", Data: []byte(doc)}, &r)
		table.DecodeHeader(sheet, &r)
		for s := range sheet.Rows() {
			m := table.Blank()
			if table.Decode(s, &m, &r); r.Err() != nil || m.Size != want {
				t.Errorf("%q is %v, want %v: %v", doc, m.Size, want, r.Err())
			}
		}
	}
	m := table.Blank()
	if err := table.Assign(&m, "size_mm", "8in"); err != nil || m.Size != 203.2/1000 {
		t.Errorf("8in is %v: %v", m.Size, err)
	}
	var r Report
	family := table.DecodeFamily(Parse(Source{Name: "a.toml", Data: []byte(`size_mm = ["3in", "100mm", 110]`)}, &r).Root(), table.Blank(), &r)
	if r.Err() != nil || len(family.Members) != 3 || family.Members[0].Size != 76.2/1000 || family.Members[1].Size != 0.1 || family.Members[2].Size != 0.11 {
		t.Errorf("a list of sizes is %+v: %v", family.Members, r.Err())
	}
}

// A quantity that is read, written and read again is the same, to the bit.
func TestQuantitiesReadBack(t *testing.T) {
	table := measuredTable()
	rapid.Check(t, func(t *rapid.T) {
		text := strconv.FormatFloat(rapid.Float64Range(1, 10).Draw(t, "x"), 'g', -1, 64) + rapid.SampledFrom([]string{"in", "cm", "0mm", "e-2m"}).Draw(t, "unit")
		m := table.Blank()
		if err := table.Assign(&m, "size_mm", text); err != nil {
			t.Skip()
		}
		value, _ := table.Lookup(&m, "size_mm")
		again := table.Blank()
		if err := table.Assign(&again, "size_mm", Cell(value)); err != nil || again.Size != m.Size {
			t.Fatalf("%s is %v, written %s and read as %v: %v", text, m.Size, Cell(value), again.Size, err)
		}
	})
}
