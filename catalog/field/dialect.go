package field

import (
	"bytes"
	"regexp"
	"strings"
)

// A CSV file is separated by commas, or as spreadsheets write it where the
// comma is the decimal mark, by semicolons or tabs. The header line tells: keys
// have none of the three in them. Only in the latter may numbers have a decimal
// comma; if one has, no number of the file may have a decimal point, which
// would as well be a separator of thousands. Where a row such as sep=; stands
// above the header, as spreadsheets write and read it, the header must keep to
// it.

// separators are the characters that may stand between columns, with the word
// for each.
func separators() []struct {
	mark byte
	name string
} {
	return []struct {
		mark byte
		name string
	}{{',', "commas"}, {';', "semicolons"}, {'\t', "tabs"}}
}

// separator finds what separates the columns of the file that begins at start, and
// where its header begins: the one that a row above names, else the one in the header
// outside quotes, else a comma. It reports a header with another one or with several;
// ok is then false.
func separator(t *text, start int, r *Report) (mark byte, header int, ok bool) {
	start = filledLine(t.data, start)
	named, below, ok := namedSeparator(t, start, r)
	if !ok {
		return 0, 0, false
	}
	header = filledLine(t.data, below)
	row := line(t.data, header)
	first, name := 0, ""
	for _, s := range separators() {
		switch at := unquoted(row, s.mark); {
		case at < 0:
		case mark == 0:
			mark, name, first = s.mark, s.name, at
		default:
			at = header + max(at, first)
			r.Add(Place{t, uint32(at), uint32(at + 1)}, Syntax, "put one of them between all columns", "columns are separated by %s and by %s", name, s.name)
			return 0, 0, false
		}
	}
	switch {
	case mark == 0 && named == 0:
		mark = ','
	case mark == 0:
		mark = named
	case named != 0 && named != mark:
		at := header + first
		r.Add(Place{t, uint32(at), uint32(at + 1)}, Syntax, "take the row with sep= out", "columns are separated by %s, where the row above says sep=%c", name, named)
		return 0, 0, false
	}
	return mark, header, true
}

// filledLine is where the first line that is not empty begins, from start on.
func filledLine(data []byte, start int) int {
	for start < len(data) && (data[start] == '\n' || data[start] == '\r') {
		start++
	}
	return start
}

var separatorRow = regexp.MustCompile(`(?i)^"?sep=(.*)$`)

// namedSeparator reads the row at start if it names the separator, as sep=;
// does, and tells where the next row begins; mark is 0 if it names none. A
// spreadsheet that took the row for an ordinary one has put quotes about it, or
// separators of empty cells behind.
func namedSeparator(t *text, start int, r *Report) (mark byte, below int, ok bool) {
	row := line(t.data, start)
	found := separatorRow.FindSubmatch(row)
	if found == nil {
		return 0, start, true
	}
	below = min(start+len(row), len(t.data))
	rest := bytes.Trim(found[1], "\" ")
	if len(rest) == 0 { // a tab, taken off the line's end: the header tells
		return 0, below, true
	}
	for _, s := range separators() {
		if len(bytes.Trim(rest, string(s.mark)+"\"")) == 0 {
			return s.mark, below, true
		}
	}
	r.Add(Place{t, uint32(start), uint32(below)}, Syntax, "columns are separated by commas, semicolons or tabs: write sep=, or sep=; or take the row out", "row says sep=%s", rest)
	return 0, 0, false
}

// unquoted is the index of the first mark in a line outside quotes, -1 if
// there is none.
func unquoted(line []byte, mark byte) int {
	for at := 0; ; {
		i := bytes.IndexByte(line[at:], mark)
		if i < 0 {
			return -1
		}
		if at += i; bytes.Count(line[:at], []byte{'"'})%2 == 0 {
			return at
		}
		at++
	}
}

var (
	decimalComma = regexp.MustCompile(`^[+-]?([0-9]+,[0-9]*|,[0-9]+)([eE][+-]?[0-9]+)?$`)
	thousands    = regexp.MustCompile(`\.[0-9]{3}$`)
)

// noteCommas notes that the file has a number with a decimal comma.
func (c *csvReader) noteCommas(content string) {
	if c.localised && !c.commas && decimalComma.MatchString(strings.TrimSpace(content)) {
		c.commas = true
	}
}

// plainNumber turns a number of a cell into one with a decimal point.
func (in *Info) plainNumber(s string, v Value, r *Report) (plain string, ok bool) {
	t := v.tree
	switch {
	case !t.localised:
		return s, true
	case decimalComma.MatchString(s):
		return strings.Replace(s, ",", ".", 1), true
	case t.commas && strings.Contains(s, ".") && cellNumber.MatchString(s):
		hint := "write " + strings.Replace(s, ".", ",", 1)
		if thousands.MatchString(s) {
			hint += ", or " + strings.Replace(s, ".", "", 1)
		}
		r.Add(v.Place(), Syntax, hint, "%s is %s: it has a decimal point, where other numbers of the file have a decimal comma", in.Key, s)
		return "", false
	}
	return s, true
}
