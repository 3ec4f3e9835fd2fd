package field

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// Where a text or list is not closed the mark stands right behind the line, its
// ending left out, and never within a character.
func TestColumnOfWhatIsNotClosed(t *testing.T) {
	for _, tt := range []struct {
		why, doc string
		line     int
		column   int
		message  string
	}{
		{"newline", "a = \"bc\n", 1, 8, "text is not closed by a quote"},
		{"carriage return and newline", "a = \"bc\r\n", 1, 8, "text is not closed by a quote"},
		{"three quotes", "a = \"\"\"b\r\n", 1, 9, "text is not closed by three quotes"},
		{"list", "a = [1\r\n", 1, 7, "list is not closed by ]"},
		{"list on the next line", "a = [\r\n1\r\n", 2, 2, "list is not closed by ] (it begins on line 1)"},
		{"inline table", "a = {b = 1\r\n", 1, 11, "table is not closed by }"},
		{"the file ends with a character of two bytes", "a = \"né", 1, 7, "text is not closed by a quote"},
		{"a broken byte", "a = \"n\xffb\"\n", 1, 7, "invalid UTF-8"},
		{"a broken byte behind a character of two", "a = \"né\xffb\"\n", 1, 8, "invalid UTF-8"},
	} {
		var r Report
		Parse(Source{Name: "a.toml", Data: []byte(tt.doc)}, &r)
		p := r.Err().(Problems)[0]
		if p.Line != tt.line || p.Column != tt.column || p.Message != tt.message {
			t.Errorf("%s: %d:%d %s, want %d:%d %s", tt.why, p.Line, p.Column, p.Message, tt.line, tt.column, tt.message)
		}
	}
}

// Whatever is wrong with a text, its column is one of the line's, or the one
// behind them.
func TestColumnsLieInTheirLines(t *testing.T) {
	pieces := rapid.SampledFrom([]string{
		"a", "x", "wheel", " = ", "\"", "'", "\"\"\"", "[", "]", "[[", "{", "}", ",", "\n", "\r\n", "\xff", "é", "1", "#", "\t", "\x00", "\\",
	})
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			doc := strings.Join(rapid.SliceOfN(pieces, 1, 12).Draw(t, "pieces"), "")
			var r Report
			Parse(Source{Name: "a.toml", Data: []byte(doc)}, &r, "wheel")
			ParseCSV(Source{Name: "a.csv", Data: []byte(doc)}, &r)
			problems, _ := r.Err().(Problems)
			lines := strings.Split(doc, "\n")
			for _, p := range problems {
				line := strings.TrimSuffix(lines[p.Line-1], "\r")
				if p.Column < 1 || p.Column > utf8.RuneCountInString(line)+1 {
					t.Errorf("%s: column %d of %q", p.File, p.Column, line)
				}
				if p.Message == "invalid UTF-8" && utf8.ValidString(doc) {
					t.Errorf("%q is valid", doc)
				}
			}
		}
	})
}
