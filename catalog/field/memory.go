package field

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
)

// A sheet whose headings are not keys carries a row above them that remembers what
// each is taken for, one heading in a cell:
//
//	# gearsearch: Part = kind,KV (rpm/V) = kv,"Weight, kg = mass_g in kg",Colour = -
//
// Columns may be moved, since a heading is looked up by its words. Behind the equals
// sign stands a key, and behind in the unit of bare numbers, where that is not the
// key's own; - leaves the column out. Where a heading means another key in rows of
// another kind, the keys have a stroke between them. "# gearsearch motor:" says that
// all rows are of that kind.

// Remembered is what is known of the headings of a sheet.
type Remembered struct {
	Kind string            // of all rows; "" where a column tells it
	Keys map[string]Target // by heading, as HeadingName has it
}

// Target is what a heading is taken for.
type Target struct {
	Keys []string // of which a row takes the first that its kind has; none: the column is left out
	Unit string   // of bare numbers below, "" for the key's own
}

// LeftOut stands for a key where a column is left out.
const LeftOut = "-"

// The words and marks of the row.
const (
	memoryMark  = "# gearsearch"
	inUnit      = " in "
	memoryLines = 6 // it stands in one of the first
)

var memoryCell = regexp.MustCompile(`^#\s*gearsearch(?:\s+([^:\s]+))?\s*:\s*(.*)$`)

// String is the target as the row writes it.
func (t Target) String() string {
	switch {
	case len(t.Keys) == 0:
		return LeftOut
	case t.Unit != "":
		return strings.Join(t.Keys, ListSeparator) + inUnit + t.Unit
	}
	return strings.Join(t.Keys, ListSeparator)
}

// ParseTarget reads what String writes; ok is false where it names no key.
func ParseTarget(text string) (t Target, ok bool) {
	keys, unit, _ := strings.Cut(strings.TrimSpace(text), inUnit)
	t.Unit = strings.TrimSpace(unit)
	for _, key := range strings.Split(keys, ListSeparator) {
		if key = strings.TrimSpace(key); key != "" {
			t.Keys = append(t.Keys, key)
		}
	}
	if len(t.Keys) == 1 && t.Keys[0] == LeftOut {
		return Target{}, t.Unit == ""
	}
	return t, len(t.Keys) > 0
}

// CutHeading takes a heading and its target apart at the last equals sign.
func CutHeading(text string) (heading string, t Target, ok bool) {
	i := strings.LastIndexByte(text, '=')
	if i < 0 {
		return "", Target{}, false
	}
	heading = HeadingName(text[:i])
	t, ok = ParseTarget(text[i+1:])
	return heading, t, ok && heading != ""
}

// HeadingName is a heading in one line: what is blank between its words is one space.
func HeadingName(title string) string { return strings.Join(strings.Fields(title), " ") }

// Row is the row that remembers headings, of which only those with a target stand in
// it, in their order; width is how many cells it has at least.
func (m Remembered) Row(headings []string, width int) []string {
	mark := memoryMark
	if m.Kind != "" {
		mark += " " + m.Kind
	}
	row := []string{mark + ":"}
	for _, h := range headings {
		t, ok := m.Keys[h]
		if !ok {
			continue
		}
		if cell := h + " = " + t.String(); len(row) == 1 && row[0] == mark+":" {
			row[0] += " " + cell
		} else {
			row = append(row, cell)
		}
	}
	for len(row) < width {
		row = append(row, "")
	}
	return row
}

// MemoryText is the row as a file has it, without a line break. A cell with any mark in
// it that may separate cells stands in quotes, so that only the file's own is outside.
func MemoryText(row []string, comma rune) string {
	var cells []string
	for _, cell := range row {
		if strings.ContainsAny(cell, ",;\t\"\r\n") {
			cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
		}
		cells = append(cells, cell)
	}
	return strings.Join(cells, string(comma))
}

// memoryLine is where the row that remembers begins in a text, from start on; ok is
// false where there is none.
func memoryLine(data []byte, start int) (at int, ok bool) {
	at = start
	for range memoryLines {
		at = filledLine(data, at)
		row := bytes.TrimLeft(line(data, at), "\"")
		if bytes.HasPrefix(row, []byte("#")) && memoryCell.Match(bytes.TrimRight(row, "\r\n")) {
			return at, true
		}
		next := bytes.IndexByte(data[at:], '\n')
		if next < 0 {
			break
		}
		at += next + 1
	}
	return 0, false
}

// IsMemory reports whether a record is the row that remembers.
func IsMemory(record []string) bool { return len(record) > 0 && memoryCell.MatchString(record[0]) }

// MemoryRow is where the row that remembers stands in a file, with its line break.
func MemoryRow(data []byte) (from, to int, ok bool) {
	start := 0
	if bytes.HasPrefix(data, byteOrderMark) {
		start = len(byteOrderMark)
	}
	at, ok := memoryLine(data, start)
	if !ok {
		return 0, 0, false
	}
	to = len(data)
	if next := bytes.IndexByte(data[at:], '\n'); next >= 0 {
		to = at + next + 1
	}
	return at, to, true
}

// SheetComma is what separates the cells of a file, see Comma: below a row that
// remembers, and below one such as sep=; that says it.
func SheetComma(data []byte) rune {
	start := 0
	if from, _, ok := MemoryRow(data); ok {
		start = from
	}
	if found := separatorRow.FindSubmatch(line(data, start)); found != nil {
		for _, s := range separators() {
			if bytes.IndexByte(found[1], s.mark) >= 0 {
				return rune(s.mark)
			}
		}
		start = min(start+len(line(data, start))+1, len(data))
	}
	return Comma(data[start:])
}

// remember reads the row.
func (c *csvReader) remember(at func(i int) Place, record []string) {
	m := &Remembered{Keys: map[string]Target{}}
	first := memoryCell.FindStringSubmatch(record[0])
	m.Kind = first[1]
	for i, cell := range record {
		if i == 0 {
			cell = first[2]
		}
		if strings.TrimSpace(cell) == "" {
			continue
		}
		heading, target, ok := CutHeading(original(cell))
		if _, twice := m.Keys[heading]; ok && twice {
			c.report.Add(at(i), GivenTwice, "", "heading %s is remembered twice", Quote(heading))
			continue
		}
		if !ok {
			c.report.Add(at(i), Syntax, "a cell of this row is such as KV (rpm/V) = kv, or Colour = - to leave the column out", "%s remembers no heading", Quote(strings.TrimSpace(cell)))
			continue
		}
		m.Keys[heading] = target
	}
	c.memory = m
}

// Comma is what separates the cells of a text: the first of tab, semicolon and comma
// of which all of the first lines have as many outside quotes; else the first that
// there is most of.
func Comma(data []byte) rune {
	mark, _ := commaOf(data)
	return mark
}

// commaOf is Comma; sure tells that all of the first lines have as many.
func commaOf(data []byte) (mark rune, sure bool) {
	const look, lines = 8192, 8
	data = data[:min(len(data), look)]
	var rows [][]byte
	for _, row := range bytes.Split(data, []byte{'\n'}) {
		if len(bytes.TrimSpace(row)) > 0 && len(rows) < lines {
			rows = append(rows, row)
		}
	}
	best, most := ',', 0
	for _, mark := range []byte{'\t', ';', ','} {
		var counts []int
		sum := 0
		for _, row := range rows {
			n := countUnquoted(row, mark)
			counts, sum = append(counts, n), sum+n
		}
		if sum > 0 && len(rows) > 1 && len(slices.Compact(counts)) == 1 {
			return rune(mark), true
		}
		if sum > most && (most == 0 || mark != ',') { // commas are decimal where the others separate
			best, most = rune(mark), sum
		}
	}
	return best, false
}

// countUnquoted is how many of a mark stand in a line outside quotes.
func countUnquoted(row []byte, mark byte) int {
	quoted, n := false, 0
	for _, c := range row {
		if c == '"' {
			quoted = !quoted
		}
		if c == mark && !quoted {
			n++
		}
	}
	return n
}
