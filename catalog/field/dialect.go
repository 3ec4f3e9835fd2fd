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
// would as well be a separator of thousands.

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

// separator finds what separates the columns of the file whose header begins
// at start: the one separator that stands in the line outside quotes, a comma
// where there is none. It reports a header that has several; ok is false then.
func separator(t *text, start int, r *Report) (mark byte, ok bool) {
	for start < len(t.data) && (t.data[start] == '\n' || t.data[start] == '\r') {
		start++ // the reader passes over empty lines
	}
	header := line(t.data, start)
	first, name := 0, ""
	for _, s := range separators() {
		switch at := unquoted(header, s.mark); {
		case at < 0:
		case mark == 0:
			mark, name, first = s.mark, s.name, at
		default:
			at = start + max(at, first)
			r.Add(Place{t, uint32(at), uint32(at + 1)}, "put one of them between all columns", "columns are separated by %s and by %s", name, s.name)
			return 0, false
		}
	}
	if mark == 0 {
		mark = ','
	}
	return mark, true
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
		r.Add(v.Place(), hint, "%s is %s: it has a decimal point, where other numbers of the file have a decimal comma", in.Key, s)
		return "", false
	}
	return s, true
}
