package field

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestCSV(t *testing.T) {
	doc := "\xef\xbb\xbftags,size_mm, id ,fast\r\n\"x| y\",97,a,TRUE\r\n\r\n,\"107.5\",b,\r\n"
	var r Report
	table := thingTable()
	sheet := ParseCSV(Source{Name: "thing.csv", Data: []byte(doc)}, &r)
	table.DecodeHeader(sheet, &r)
	var got []thing
	for s := range sheet.Rows() {
		x := thing{}
		table.Decode(s, &x, &r)
		got = append(got, x)
	}
	if err := r.Err(); err != nil {
		t.Fatal(err)
	}
	yes := true
	want := []thing{{ID: "a", Size: 0.097, Fast: &yes, Tags: []string{"x", "y"}}, {ID: "b", Size: 0.1075}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
}

func TestCSVProblems(t *testing.T) {
	tests := []struct {
		why, doc string
		want     []string
	}{
		{"empty file", "", []string{"1:1 file is empty | the first row names the keys, separated by commas"}},
		{"header only", "id,size_mm\n", nil},
		{"unknown header", "id,size_mm,color\na,97,red\nb,97,red\n", []string{`1:12 unknown key "color" in thing | did you mean colour?`}},
		{"upper-case header", "ID,size_mm\na,97\n", []string{
			`1:1 unknown key "ID" in thing | keys are lower case: id`,
		}},
		{"required column missing is said once", "id\na\nb\n", []string{"1:1 thing has no column size_mm | its size, in mm"}},
		{"required cell missing", "id,size_mm\na,\n", []string{`2:1 thing "a" has no size_mm | its size, in mm`}},
		{"header twice", "id,size_mm,id\na,97,b\n", []string{`1:12 column "id" is given twice`}},
		{"column without a header", "id,,size_mm\na,1,97\n", []string{"1:4 column 2 has no header | name the column by its key, or take it out"}},
		{"columns without a header are said once, and only with something below", "id,,,size_mm,\na,,1,97\n,,,,\nb,,2,97\n", []string{"1:5 column 3 has no header | name the column by its key, or take it out"}},
		{"cells beyond the header, empty and not", "id,size_mm\na,97,,\nb,97,,x\n", []string{"3:6 row has 4 cells, the header has 2 | a text with the columns' separator in it needs quotes; the items of a list are separated by |"}},
		{"empty cells only", ",,\n,,\n", []string{"1:1 file is empty | the first row names the keys, separated by commas"}},
		{"first column without a header, between semicolons", ";id\n1;a\n", []string{"1:1 column 1 has no header | name the column by its key, or take it out", "1:1 thing has no column size_mm | its size, in mm"}},
		{"wrong cell", "id,size_mm\na,x\n", []string{`2:3 size_mm is "x", must be a number`}},
		{"wrong quoted cell", "id,size_mm\n\"a\",\"x\"\n", []string{`2:5 size_mm is "x", must be a number`}},
		{"cell out of range", "id,size_mm\nä,0.097\n", []string{
			`2:1 id is "ä", must be small letters, digits, and . _ - after the first`,
			"2:3 size_mm is 0.097, must be 5 to 500 mm | 0.097 m is 97 mm",
		}},
		{"list with commas", "id,size_mm,tags\na,97,\"x, y\"\n", []string{`2:6 tags is "x, y": there is a "," in it | write a list as x|y`}},
		{"list with semicolons", "id,size_mm,tags\na,97,x;y\n", []string{`2:6 tags is "x;y": there is a ";" in it | write a list as x|y`}},
		{"list with commas between semicolons", "id;size_mm;tags\na;97;x,y|z\n", []string{`2:6 tags is "x,y": there is a "," in it | write a list as x|y`}},
		{"wrong item of a list", "id,size_mm,counts\na,97,1|x|9\n", []string{
			`2:8 counts is "x", must be a number`,
			"2:10 counts is 9, must be 1 to 4",
		}},
		{"wrong item of a quoted list", "id,size_mm,counts\na,97,\"1|x\"\n", []string{`2:9 counts is "x", must be a number`}},
		{"decimal comma in quotes", "id,size_mm\na,\"97,5\"\n", []string{`2:3 size_mm is "97,5", must be a number | write 97.5, with a decimal point`}},
		{"decimal comma splits a cell", "id,size_mm\na,97,5\n", []string{"2:6 row has 3 cells, the header has 2 | a decimal comma splits a number in two: write 97.5"}},
		{"too many cells", "id,size_mm\na,97,x\n", []string{"2:6 row has 3 cells, the header has 2 | a text with the columns' separator in it needs quotes; the items of a list are separated by |"}},
		{"too few cells are empty cells", "id,size_mm,colour\na,97\n", nil},
		{"wrong cell between semicolons", "id;size_mm\na;x\n", []string{`2:3 size_mm is "x", must be a number`}},
		{"out of range with a decimal comma", "id;size_mm\na;\"0,097\"\nb;0,5\n", []string{
			`2:3 size_mm is 0,097, must be 5 to 500 mm | 0.097 m is 97 mm`,
			`3:3 size_mm is 0,5, must be 5 to 500 mm | 0.5 m is 500 mm`,
		}},
		{"decimal comma splits no cell between semicolons", "id;size_mm\na;97;5\n", []string{"2:6 row has 3 cells, the header has 2 | a text with the columns' separator in it needs quotes; the items of a list are separated by |"}},
		{"decimal points among decimal commas", "id;size_mm\na;97,5\nb;97.5\nc;9.750\nd;97\n", []string{
			"3:3 size_mm is 97.5: it has a decimal point, where other numbers of the file have a decimal comma | write 97,5",
			"4:3 size_mm is 9.750: it has a decimal point, where other numbers of the file have a decimal comma | write 9,750, or 9750",
		}},
		{"decimal points before decimal commas", "id\tsize_mm\na\t97.5\nb\t97,5\n", []string{
			"2:3 size_mm is 97.5: it has a decimal point, where other numbers of the file have a decimal comma | write 97,5",
		}},
		{"separators of thousands", "id;size_mm\na;1.234,5\nb;1\u202f234\n", []string{
			`2:3 size_mm is 1.234,5, must be 5 to 500 mm`,
			`3:3 size_mm is 1\u202f234, must be 5 to 500 mm`,
		}},
		{"two commas", "id;size_mm\na;9,7,5\n", []string{`2:3 size_mm is "9,7,5", must be a number`}},
		{"commas and semicolons", "id;size_mm,colour\na;97,red\n", []string{"1:11 columns are separated by commas and by semicolons | put one of them between all columns"}},
		{"semicolons and tabs", "\nid;size_mm\tcolour\n", []string{"2:11 columns are separated by semicolons and by tabs | put one of them between all columns"}},
		{"positions below a row that names the separator", "sep=;\nid;size_mm\na;x\n", []string{`3:3 size_mm is "x", must be a number`}},
		{"positions below it, with a mark, CRLF and an empty line", "\xef\xbb\xbfsep=;\r\n\r\nid;size_mm;color\r\nä;97\r\n", []string{
			`3:12 unknown key "color" in thing | did you mean colour?`,
			`4:1 id is "ä", must be small letters, digits, and . _ - after the first`,
		}},
		{"syntax below it", "sep=,\nid,size_mm\na,97,6\" red\n", []string{
			`3:7 quote inside a cell | put the cell in quotes and double those in it: "6"" wheel"`,
		}},
		{"a row that names another separator", "sep=;\nid,size_mm\na,97\n", []string{"2:3 columns are separated by commas, where the row above says sep=; | take the row with sep= out"}},
		{"a row that names no separator", "sep=|\nid|size_mm\na|97\n", []string{"1:1 row says sep=| | columns are separated by commas, semicolons or tabs: write sep=, or sep=; or take the row out"}},
		{"a row that names the separator, and nothing", "sep=;\n", []string{"1:1 file is empty | the first row names the keys, separated by commas"}},
		{"semicolons below a header with commas", "id,size_mm\na;97\n", []string{
			`2:1 id is "a;97", must be small letters, digits, and . _ - after the first`,
			`2:1 thing "a;97" has no size_mm | its size, in mm`,
		}},
		{"quote inside a cell", "id,size_mm,colour\na,97,6\" red\nb,x,\n", []string{
			`2:7 quote inside a cell | put the cell in quotes and double those in it: "6"" wheel"`,
			`3:3 size_mm is "x", must be a number`,
		}},
		{"quote not closed", "id,size_mm\n\"a,97\n", []string{`2:1 quoted cell is not closed, or goes on after its quote | a quoted cell ends with a quote; double the quotes in it: "6"" wheel"`}},
		{"escape sequence in a cell", "id,size_mm,colour\na,97,\x1b[2J\n", []string{"2:6 colour has a control character, U+001B"}},
		{"newline in a cell", "id,size_mm,colour\na,97,\"x\ny\"\nb,x,\n", []string{
			"2:6 colour has a control character, U+000A",
			`4:3 size_mm is "x", must be a number`,
		}},
		{"UTF-16", "\xff\xfei\x00d\x00", []string{"1:1 file is UTF-16, must be UTF-8 | save the file as UTF-8"}},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			var r Report
			table := thingTable()
			sheet := ParseCSV(Source{Name: "thing.csv", Data: []byte(test.doc)}, &r)
			table.DecodeHeader(sheet, &r)
			for s := range sheet.Rows() {
				x := table.Blank()
				table.Decode(s, &x, &r)
			}
			if diff := cmp.Diff(test.want, brief(r.Err())); diff != "" {
				t.Errorf("problems (-want +got):\n%s", diff)
			}
			checkProblems(t, r.Err())
		})
	}
}

// Every cell that encoding/csv writes is read back, and stands where its place
// says.
func TestCSVAgreesWithLibrary(t *testing.T) {
	cell := rapid.StringMatching(`[a-z" ,;|ä\n\t]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, 2, 2), 0, 4).Draw(t, "rows")
		var b strings.Builder
		w := csv.NewWriter(&b)
		w.UseCRLF = rapid.Bool().Draw(t, "crlf")
		w.Comma = rapid.SampledFrom([]rune{',', ';', '\t'}).Draw(t, "separator")
		if err := w.WriteAll(append([][]string{{"one", "two"}}, rows...)); err != nil {
			t.Fatal(err)
		}
		var r Report
		sheet := ParseCSV(Source{Name: "thing.csv", Data: []byte(b.String())}, &r)
		if err := r.Err(); err != nil {
			t.Fatal(err)
		}
		rows = slices.DeleteFunc(rows, blank)
		i := 0
		for s := range sheet.Rows() {
			for j, key := range []string{"one", "two"} {
				v, want := s.Value(key), rows[i][j]
				if strings.TrimSpace(want) == "" {
					want = ""
				}
				if got := v.String(); got != want {
					t.Fatalf("row %d, %s: %q, want %q", i, key, got, want)
				}
				if raw := string(v.Place().source()); want != "" && strings.Trim(strings.ReplaceAll(strings.ReplaceAll(raw, `""`, `"`), "\r\n", "\n"), `"`) != strings.Trim(want, `"`) {
					t.Fatalf("row %d, %s: the place holds %q, the cell %q", i, key, raw, want)
				}
			}
			i++
		}
		if i != len(rows) {
			t.Fatalf("%d rows, want %d", i, len(rows))
		}
	})
}
