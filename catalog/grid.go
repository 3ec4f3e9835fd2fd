package catalog

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"gearsearch/catalog/field"
)

// Grid is a table as a spreadsheet gives it: rows of cells.
type Grid [][]string

// The most that is read of a grid.
const (
	MaxGridRows    = 10_000
	MaxGridColumns = 200
)

// ReadGrid reads rows of cells separated by tabs, semicolons or commas, whichever
// the first rows have most of, as spreadsheets copy and save them: in UTF-8, in
// UTF-16 with a byte order mark, or else in Latin-1. more is how many rows there are
// beyond MaxGridRows.
func ReadGrid(data []byte) (grid Grid, more int) {
	data = asUTF8(data)
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = field.Comma(data), -1, true
	for {
		row, err := r.Read()
		if err != nil { // the end: with lazy quotes every text reads
			return grid, more
		}
		switch {
		case !slices.ContainsFunc(row, func(s string) bool { return strings.TrimSpace(s) != "" }):
		case len(grid) == MaxGridRows:
			more++
		default:
			grid = append(grid, row[:min(len(row), MaxGridColumns)])
		}
	}
}

// asUTF8 is a text of a spreadsheet in UTF-8.
func asUTF8(data []byte) []byte {
	var order func(a, b byte) uint16
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		order = func(a, b byte) uint16 { return uint16(b)<<8 | uint16(a) }
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		order = func(a, b byte) uint16 { return uint16(a)<<8 | uint16(b) }
	case utf8.Valid(data):
		return bytes.TrimPrefix(data, []byte("\ufeff"))
	default:
		runes := make([]rune, len(data))
		for i, c := range data {
			runes[i] = rune(c)
		}
		return []byte(string(runes))
	}
	var units []uint16
	for i := 2; i+1 < len(data); i += 2 {
		units = append(units, order(data[i], data[i+1]))
	}
	return []byte(string(utf16.Decode(units)))
}

// Column is a column of a grid and the key that it is taken for.
type Column struct {
	Title string // "" without a heading
	Key   string // "": it is left out
	Unit  string // of bare numbers below, "" for the key's own
	Twice bool   // left out since another column is taken for its key
}

// Match is a grid as parts of a kind.
type Match struct {
	Kind    string   // "" where nothing tells it
	Kinds   []string // those that the headings may be of, likeliest first
	Head    int      // index of the row with the headings, -1 for none
	Columns []Column
	Drafts  []Draft
}

// headRows is how many rows may stand above the headings, that one with them.
const headRows = 6

// MatchGrid matches the columns of a grid to keys of a kind by its headings; of ""
// they tell the kind, where they are of one alone. Where there are no headings the
// columns are taken for the keys of order.
func MatchGrid(g Grid, kindName string, order []string) Match {
	m := Match{Kind: kindName, Head: -1}
	best := 0.0
	for row := range g[:min(len(g), headRows)] {
		kinds, score := kindsOf(g[row], kindName)
		if score > best {
			best, m.Head, m.Kinds = score, row, kinds
		}
	}
	const sure = 1 // a key that not every kind has
	if m.Kind == "" && len(m.Kinds) == 1 && best >= sure {
		m.Kind = m.Kinds[0]
	}
	k, ok := KindNamed(m.Kind)
	switch {
	case ok && m.Head >= 0:
		m.Columns = headed(k, g[m.Head])
	case ok:
		m.Columns = unheaded(k, g, order)
	case m.Head >= 0:
		for _, title := range g[m.Head] {
			m.Columns = append(m.Columns, Column{Title: strings.TrimSpace(title)})
		}
	}
	m.fill(g)
	return m
}

// kindsOf are the kinds that a row of headings is of, likeliest first: those of
// whose keys it has most. One that must be there counts for two, and against a kind
// where it is missing. A row with a number in it has no headings.
func kindsOf(row []string, only string) (kinds []string, score float64) {
	for _, cell := range row {
		if field.IsNumber(strings.Replace(strings.TrimSpace(cell), ",", ".", 1)) {
			return nil, 0
		}
	}
	for _, k := range Kinds() {
		if only != "" && k.Name != only {
			continue
		}
		switch n := likeness(k, row); {
		case n > score:
			kinds, score = []string{k.Name}, n
		case n == score && n > 0:
			kinds = append(kinds, k.Name)
		}
	}
	return kinds, score
}

// likeness is how much a row is like the headings of a kind.
func likeness(k KindInfo, row []string) float64 {
	const common, missing, required = 0.1, -0.5, 2 // what every kind has tells least
	shared := k.shared()
	columns := headed(k, row)
	n, any := 0.0, false
	for i := range k.Fields {
		has := slices.ContainsFunc(columns, func(c Column) bool { return c.Key == k.Fields[i].Key })
		any = any || has
		switch {
		case !has && k.Fields[i].Required && i >= shared:
			n += missing
		case !has:
		case i < shared:
			n += common
		case k.Fields[i].Required:
			n += required
		default:
			n++
		}
	}
	if !any {
		return 0
	}
	return max(n, common/2)
}

// headed matches headings to the keys of a kind, each key once.
func headed(k KindInfo, row []string) []Column {
	var out []Column
	taken := map[string]bool{}
	for _, title := range row {
		c := Column{Title: strings.TrimSpace(title)}
		if key, in, ok := field.Heading(k.Fields, title); ok {
			c.Twice = taken[key]
			if !c.Twice {
				c.Key, c.Unit = key, in
				taken[key] = true
			}
		}
		out = append(out, c)
	}
	return out
}

// unheaded takes columns for keys in their order.
func unheaded(k KindInfo, g Grid, order []string) []Column {
	width := 0
	for _, row := range g {
		width = max(width, len(row))
	}
	out := make([]Column, width)
	for i := range out {
		if i < len(order) && k.Field(order[i]) != nil {
			out[i].Key = order[i]
		}
	}
	return out
}

// Take takes column i for another key, "" to leave it out.
func (m *Match) Take(g Grid, i int, key string) {
	if i < 0 || i >= len(m.Columns) || key == m.Columns[i].Key {
		return
	}
	m.Columns[i] = Column{Title: m.Columns[i].Title, Key: key}
	m.fill(g)
}

// fill makes the drafts.
func (m *Match) fill(g Grid) {
	m.Drafts = nil
	k, ok := KindNamed(m.Kind)
	if !ok {
		return
	}
	for _, row := range g[m.Head+1:] {
		d := Draft{m.Kind, map[string]string{}}
		for i, c := range m.Columns {
			if i >= len(row) || c.Key == "" {
				continue
			}
			text := strings.TrimSpace(row[i])
			if c.Unit != "" && field.EndsInDigit(text) {
				text += " " + c.Unit
			}
			if text != "" && !absent(k.Field(c.Key), text) {
				d.Cells[c.Key] = text
			}
		}
		if len(d.Cells) > 0 {
			m.Drafts = append(m.Drafts, d)
		}
	}
}

// absent reports whether a text in the cell of a number says that it is not known.
func absent(in *field.Info, text string) bool {
	if in == nil || !in.Numeric() {
		return false
	}
	switch strings.ToLower(text) {
	case "-", "–", "—", "?", "n/a", "na", "n.a.", "none", "unknown", "tbd":
		return true
	}
	return false
}
