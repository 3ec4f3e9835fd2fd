package field

import "strings"

// A spreadsheet runs a cell that begins with = + - @, a tab or a carriage
// return as a formula, and a semicolon may begin a cell for it where the file
// is separated by commas. In CSV a text gets an apostrophe put before such a
// character, at its beginning and after a semicolon; where apostrophes stand
// there already, one more. Reading takes one away. So every text reads back as
// it was, no text begins a formula, and what people type without apostrophes
// is read as it stands.

// harmless is a text as it stands in a CSV file.
func harmless(s string) string {
	if !strings.ContainsAny(s, formulaMarks) {
		return s
	}
	var b strings.Builder
	for i := range len(s) {
		if beginsCell(s, i) && beginsFormula(s[i:]) {
			b.WriteByte('\'')
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

// original is the text that stands in a CSV file as s.
func original(s string) string {
	if strings.IndexByte(s, '\'') < 0 {
		return s
	}
	var b strings.Builder
	for i := range len(s) {
		if s[i] != '\'' || !beginsCell(s, i) || !beginsFormula(s[i:]) {
			b.WriteByte(s[i])
		}
	}
	return b.String()
}

const formulaMarks = "=+-@\t\r"

func beginsCell(s string, i int) bool { return i == 0 || s[i-1] == ';' }

// beginsFormula reports whether s begins with a formula's mark, apostrophes
// before it left out.
func beginsFormula(s string) bool {
	s = strings.TrimLeft(s, "'")
	return s != "" && strings.IndexByte(formulaMarks, s[0]) >= 0
}
