package field

import (
	"bytes"
	"encoding/csv"
	"sort"
	"strconv"
	"strings"
)

// sheetText is what names the cells of a text as a spreadsheet does.
type sheetText struct {
	name   string // of the sheet, in a workbook
	comma  rune   // 0: the text is no sheet
	start  int    // where its first row begins
	header int    // where the headings begin
	titles []string
	rows   []sheetRow // nil until asked for
}

// sheetRow is where a row that is not empty begins, and its number from 1.
type sheetRow struct{ at, number int }

// cellName names the cell at an offset for a message: row 7, column D (KV), without
// a heading that the message begins with. What is missing is missing of the row.
func (t *text) cellName(at int, f *found) string {
	if t.sheet.comma == 0 {
		return ""
	}
	rows := t.sheetRows()
	i := sort.Search(len(rows), func(i int) bool { return rows[i].at > at }) - 1
	if i < 0 {
		return ""
	}
	name := "row " + strconv.Itoa(rows[i].number)
	if t.sheet.name != "" {
		name = "sheet " + Quote(t.sheet.name) + ", " + name
	}
	if f.code == Missing {
		return name
	}
	column := t.columnAt(rows[i].at, at)
	name += ", column " + ColumnName(column)
	if column < len(t.sheet.titles) && rows[i].at > t.sheet.header {
		if title := t.sheet.titles[column]; title != "" && !strings.HasPrefix(f.message, title+" ") {
			name += " (" + title + ")"
		}
	}
	return name
}

// sheetRows finds the rows on first use. A row may have several lines, where a cell
// in quotes has.
func (t *text) sheetRows() []sheetRow {
	s := &t.sheet
	if s.rows != nil {
		return s.rows
	}
	starts := t.lineStarts()
	above := bytes.Count(t.data[:s.start], []byte{'\n'})
	r := s.reader(t.data[s.start:])
	inside := 0 // line breaks within cells so far
	s.rows = []sheetRow{}
	for {
		if _, err := r.Read(); err != nil {
			return s.rows
		}
		line, _ := r.FieldPos(0)
		at := s.start
		if line > 1 {
			at = int(starts[min(above+line-1, len(starts)-1)])
		}
		s.rows = append(s.rows, sheetRow{at, above + line - inside})
		end := s.start + int(r.InputOffset())
		row := bytes.TrimRight(t.data[min(at, end):end], "\r\n")
		inside += bytes.Count(row, []byte{'\n'})
	}
}

// columnAt is the column of the cell at an offset, from 0, in the row that begins at
// another.
func (t *text) columnAt(row, at int) int {
	data := t.data[row:]
	r := t.sheet.reader(data)
	record, err := r.Read()
	if err != nil {
		return 0
	}
	column := 0
	for i := range record {
		line, col := r.FieldPos(i)
		start := row + col - 1
		for from := 0; line > 1; line-- { // a cell behind one with line breaks in it
			from += bytes.IndexByte(data[from:], '\n') + 1
			start = row + from + col - 1
		}
		if start <= at {
			column = i
		}
	}
	return column
}

// reader reads rows as loosely as can be.
func (s *sheetText) reader(data []byte) *csv.Reader {
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes, r.ReuseRecord = s.comma, -1, true, true
	return r
}

// ColumnName is the name of a column in a spreadsheet, from 0: A to Z, then AA.
func ColumnName(i int) string {
	name := ""
	for i++; i > 0; i = (i - 1) / 26 {
		name = string(rune('A'+(i-1)%26)) + name
	}
	return name
}

// ColumnName is the letters of the column of a place in a sheet, "" elsewhere.
func (p Place) ColumnName() string {
	if p.text == nil || p.text.sheet.comma == 0 {
		return ""
	}
	rows := p.text.sheetRows()
	i := sort.Search(len(rows), func(i int) bool { return rows[i].at > int(p.start) }) - 1
	if i < 0 {
		return ""
	}
	return ColumnName(p.text.columnAt(rows[i].at, int(p.start)))
}
