package field

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The same sheet as programs and spreadsheets write it is read alike: the
// header line tells what separates the columns, and where that is no comma, a
// comma is a decimal mark.
func TestDialects(t *testing.T) {
	want := []thing{
		{ID: "a", Size: 0.0975, Tags: []string{"x", "y"}},
		{ID: "b", Size: 0.1075, Colour: "red, matt"},
		{ID: "c", Size: 0.05},
	}
	tests := []struct{ why, doc string }{
		{"commas", "id,size_mm,tags,colour\na,97.5,x|y,\nb,1.075E+02,,\"red, matt\"\nc,50,,\n"},
		{"commas in a quoted header with semicolons in it", "\"id\",\"size_mm\",tags,colour\na,97.5,x|y\nb,107.5,,\"red, matt\"\nc,50\n"},
		{"semicolons and decimal points", "id;size_mm;tags;colour\na;97.5;x|y;\nb;107.5;;red, matt\nc;50.00\n"},
		{"semicolons and decimal commas", "id;size_mm;tags;colour\na;97,5;x|y;\nb;1,075E+02;;red, matt\nc;50,\n"},
		{"quoted", "\"id\";\"size_mm\";\"tags\";\"colour\"\n\"a\";\"97,5\";\"x|y\";\"\"\n\"b\";\"107,5\";\"\";\"red, matt\"\n\"c\";\"50\";\"\";\"\"\n"},
		{"byte order mark and CRLF", "\xef\xbb\xbfid;size_mm;tags;colour\r\na;97,5;x|y;\r\nb;107,5;;red, matt\r\nc;50;;\r\n"},
		{"empty lines first", "\n\r\nid;size_mm;tags;colour\na;97,5;x|y;\nb;107,5;;red, matt\nc;50;;\n"},
		{"a row that names semicolons", "sep=;\nid;size_mm;tags;colour\na;97,5;x|y;\nb;107,5;;red, matt\nc;50;;\n"},
		{"a row that names commas", "sep=,\nid,size_mm,tags,colour\na,97.5,x|y,\nb,1.075E+02,,\"red, matt\"\nc,50,,\n"},
		{"a row that names tabs", "sep=\t\nid\tsize_mm\ttags\tcolour\na\t97,5\tx|y\t\nb\t107,5\t\tred, matt\nc\t50\t\t\n"},
		{"a row that lost its tab", "sep=\nid\tsize_mm\ttags\tcolour\na\t97,5\tx|y\t\nb\t107,5\t\tred, matt\nc\t50\t\t\n"},
		{"a row in quotes, capitals, a mark, CRLF", "\xef\xbb\xbf\"SEP=;\"\r\nid;size_mm;tags;colour\r\na;97,5;x|y;\r\nb;107,5;;red, matt\r\nc;50;;\r\n"},
		{"a row with empty cells, empty lines about it", "\n\nsep=;;;\n\nid;size_mm;tags;colour\na;97,5;x|y;\nb;107,5;;red, matt\nc;50;;\n"},
		{"rows and columns of empty cells, as a spreadsheet leaves them", ",,,,\nid,,size_mm,tags,colour,,\n,,,,,,\na,,97.5,x|y,,,\nb, ,107.5,,\"red, matt\"\nc,,50,,,,,,\n,,\n"},
		{"the same between semicolons", ";;;\nid;size_mm;tags;colour;;\na;97,5;x|y;\n;;;;;\nb;107,5;;red, matt;;;;\nc;50;;\n\"\";;\n"},
		{"tabs", "id\tsize_mm\ttags\tcolour\na\t97,5\tx|y\t\nb\t107,5\t\tred, matt\nc\t50\t\t\n"},
		{"tabs and decimal points", "id\tsize_mm\ttags\tcolour\na\t97.5\tx|y\t\nb\t107.5\t\tred, matt\nc\t50\t\t\n"},
	}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			got, err := readThings(test.doc)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("rows (-want +got):\n%s", diff)
			}
		})
	}
}

// Where the header has one column, the row above alone says what a comma is.
func TestNamedSeparatorOfOneColumn(t *testing.T) {
	for mark, want := range map[string]bool{",": false, ";": true, "\t": true} {
		var r Report
		sheet := ParseCSV(Source{Name: "thing.csv", Data: []byte("sep=" + mark + "\nid\na\n")}, &r)
		if err := r.Err(); err != nil || sheet.tree.localised != want {
			t.Errorf("sep=%s: decimal commas %v, want %v; %v", mark, sheet.tree.localised, want, err)
		}
	}
}

// readThings reads a CSV file of things.
func readThings(doc string) ([]thing, error) {
	var r Report
	table := thingTable()
	sheet := ParseCSV(Source{Name: "thing.csv", Data: []byte(doc)}, &r)
	table.DecodeHeader(sheet, &r)
	var out []thing
	for s := range sheet.Rows() {
		x := thing{}
		table.Decode(s, &x, &r)
		out = append(out, x)
	}
	return out, r.Err()
}
