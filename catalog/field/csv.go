package field

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"iter"
	"regexp"
	"strings"
)

// ListSeparator stands between the items of a list in one CSV cell.
const ListSeparator = "|"

// Sheet is a parsed CSV file: the keys of its header row, and the rows below.
// A row is a section whose keys are the headers of its cells that are not
// empty. Keys are judged once, at the header: decode Header, with any value,
// before the rows.
type Sheet struct {
	tree   *tree
	rows   int32 // list of rows
	memory *Remembered
}

// Reading is how a sheet is to be read whose file does not say it.
type Reading struct {
	Comma rune // between cells
	Above int  // rows that are not empty, above the headings
	Remembered
}

// ParseCSV reads a CSV file (RFC 4180, a byte order mark allowed) whose first
// row names the keys, in any order. Rows and columns of empty cells, which
// spreadsheets leave, are passed over. Semicolons and tabs may stand for the
// commas, and then numbers may have a decimal comma; a row above such as sep=;
// may say which it is. Problems go to the report, and the sheet holds what could
// be read around them.
func ParseCSV(src Source, r *Report) *Sheet {
	return parseSheet(csvReader{report: r}, src)
}

// ParseSheet is ParseCSV for a file that may have a row above its headings which
// remembers what they are taken for, or, with as, that is to be read so.
func ParseSheet(src Source, as *Reading, r *Report) *Sheet {
	return parseSheet(csvReader{report: r, remembers: as == nil, as: as}, src)
}

func parseSheet(c csvReader, src Source) *Sheet {
	r := c.report
	t := &tree{text: r.add(src), separator: ListSeparator}
	t.add(node{kind: KindSection})
	c.tree = t
	t.header = t.add(node{kind: KindSection})
	c.rows = t.add(node{kind: KindList})
	if start, ok := begin(t.text, r); ok {
		c.read(start)
	} else {
		c.damageHeader()
	}
	if c.as != nil {
		c.memory = &c.as.Remembered
	}
	t.renamed = c.memory != nil
	return &Sheet{t, c.rows, c.memory}
}

// Remembered is what the sheet remembers of its headings; ok is false where it has
// no such row.
func (s *Sheet) Remembered() (m Remembered, ok bool) {
	if s.memory == nil {
		return Remembered{}, false
	}
	return *s.memory, true
}

// Header is the header row as a section whose values are the headers
// themselves. DecodeHeader judges it.
func (s *Sheet) Header() Section { return Section{s.tree, s.tree.header} }

// Rows yields the rows below the header, in order.
func (s *Sheet) Rows() iter.Seq[Section] {
	return func(yield func(Section) bool) {
		for v := range (Value{s.tree, s.rows}).Items() {
			if !yield(Section(v)) {
				return
			}
		}
	}
}

// DecodeHeader judges the header row of a sheet by a table: unknown keys and
// required keys without a column are reported.
func (t *core) DecodeHeader(s *Sheet, r *Report) {
	h := s.Header()
	if h.Damaged() {
		return
	}
	g := Given{section: h, infos: t.infos, values: make([]int32, len(t.infos))}
	for e := range h.Entries() {
		if i, known := t.index[string(e.key)]; known {
			g.values[i] = e.Value.n
		} else {
			t.unknown(e, h, r)
		}
	}
	t.missing(g, r)
}

// csvReader builds the tree of a CSV file.
type csvReader struct {
	*tree
	report  *Report
	rows    int32
	columns []int32       // the header's keys; 0: the column is not read
	unnamed map[int]Place // header cells without a key, until a row has a cell below
	syntax  int
	over    bool
	start   int // where the reader began in the text
	above   int // lines of the text before that

	remembers bool     // a row may remember the headings
	as        *Reading // in place of what the file says; nil: the file says it
	memory    *Remembered
	skipped   int // rows above the headings
}

func (c *csvReader) read(start int) {
	mark, start, ok := c.separator(start)
	if !ok {
		c.damageHeader()
		return
	}
	c.text.sheet.comma, c.text.sheet.start = rune(mark), start
	c.start, c.above = start, bytes.Count(c.text.data[:start], []byte{'\n'})
	c.localised = mark != ','
	reader := csv.NewReader(bytes.NewReader(c.text.data[start:]))
	reader.Comma = rune(mark)
	reader.FieldsPerRecord = -1
	reader.ReuseRecord = true
	for c.syntax < maxSyntax && !c.over {
		record, err := reader.Read()
		var wrong *csv.ParseError
		switch {
		case err == io.EOF:
			if c.columns == nil {
				c.report.Add(Place{text: c.text}, Missing, "the first row names the keys, separated by commas", "file is empty")
				c.damageHeader()
			}
			return
		case errors.As(err, &wrong):
			c.syntaxError(wrong)
		case err != nil:
			c.report.Add(Place{text: c.text}, Syntax, "", "%v", err)
			return
		case blank(record):
		case c.columns == nil && c.as != nil && c.skipped < c.as.Above:
			c.skipped++
		case c.columns == nil && c.remembers && c.memory == nil && IsMemory(record):
			c.remember(func(i int) Place {
				at, _ := c.cellAt(reader, i, record[i])
				return at
			}, record)
		case c.columns == nil:
			c.headerRow(reader, record)
		default:
			c.row(reader, record)
		}
	}
}

// separator is what separates the columns, and where the first row begins.
func (c *csvReader) separator(start int) (mark byte, first int, ok bool) {
	if c.as != nil {
		return byte(c.as.Comma), start, true
	}
	if c.remembers {
		if at, ok := memoryLine(c.text.data, start); ok {
			return byte(Comma(c.text.data[at:])), at, true
		}
		// A heading may have another mark in it: the rows below tell.
		var strict Report
		if _, _, ok := separator(c.text, start, &strict); !ok {
			if mark, sure := commaOf(c.text.data[start:]); sure && othersSpaced(line(c.text.data, filledLine(c.text.data, start)), byte(mark)) {
				return byte(mark), start, true
			}
		}
	}
	return separator(c.text, start, c.report)
}

// othersSpaced reports whether a space stands behind every mark of a row outside quotes
// that may separate columns, but for one: "Weight, kg" is one heading.
func othersSpaced(row []byte, mark byte) bool {
	quoted := false
	for i, c := range row {
		if c == '"' {
			quoted = !quoted
		}
		if !quoted && c != mark && bytes.IndexByte([]byte(",;\t"), c) >= 0 && (i+1 == len(row) || row[i+1] != ' ') {
			return false
		}
	}
	return true
}

// offset turns a line and byte column of the CSV reader into an offset.
func (c *csvReader) offset(line, column int) int {
	starts := c.text.lineStarts()
	at := int(starts[min(max(c.above+line-1, 0), len(starts)-1)]) + column - 1
	if line == 1 {
		at = c.start + column - 1
	}
	return min(max(at, 0), len(c.text.data))
}

func (c *csvReader) syntaxError(e *csv.ParseError) {
	c.syntax++
	at := c.offset(e.Line, e.Column)
	if e.Line != e.StartLine || at == len(c.text.data) { // never closed: it is the beginning that is to be looked at
		at = c.offset(e.StartLine, 1)
	}
	place := Place{c.text, uint32(at), uint32(min(at+1, len(c.text.data)))}
	switch {
	case errors.Is(e.Err, csv.ErrBareQuote):
		c.report.Add(place, Syntax, `put the cell in quotes and double those in it: "6"" wheel"`, "quote inside a cell")
	case errors.Is(e.Err, csv.ErrQuote):
		c.report.Add(place, Syntax, `a quoted cell ends with a quote; double the quotes in it: "6"" wheel"`, "quoted cell is not closed, or goes on after its quote")
	default:
		c.report.Add(place, Syntax, "", "not valid CSV: %v", e.Err)
	}
	if c.columns == nil {
		c.damageHeader()
	}
}

// damageHeader marks the header as one that could not be read: then no row is.
func (c *csvReader) damageHeader() {
	c.at(c.header).flags |= damaged
	c.columns = []int32{}
	c.over = true
}

// cellAt is the place of a cell of the record just read, with its quotes, and
// whether it has them.
func (c *csvReader) cellAt(reader *csv.Reader, i int, content string) (at Place, quoted bool) {
	line, column := reader.FieldPos(i)
	start := c.offset(line, column)
	data := c.text.data
	end := start + len(content)
	if start < len(data) && data[start] == '"' {
		quoted = true
		end = start + 1
		for end < len(data) {
			if data[end] == '"' {
				if end+1 >= len(data) || data[end+1] != '"' {
					break
				}
				end++
			}
			end++
		}
		end++
	}
	end = min(end, len(data))
	return Place{c.text, uint32(start), uint32(end)}, quoted
}

// cell makes the node of a cell.
func (c *csvReader) cell(at Place, quoted bool, content string) int32 {
	n := node{start: at.start, end: at.end, kind: KindCell}
	switch raw := at.source(); {
	case !quoted && string(raw) == content:
	case quoted && len(raw) == len(content)+2 && string(raw[1:len(raw)-1]) == content:
		n.flags = literal
	default:
		n.extra = c.keep([]byte(content))
	}
	return c.add(n)
}

// headerRow makes the header's section.
func (c *csvReader) headerRow(reader *csv.Reader, record []string) {
	c.columns = make([]int32, 0, len(record))
	at, _ := c.cellAt(reader, 0, record[0])
	h := c.at(c.header)
	h.start, h.end = at.start, at.end
	c.text.sheet.header = int(at.start)
	for i, name := range record {
		c.text.sheet.titles = append(c.text.sheet.titles, shortTitle(name))
		c.columns = append(c.columns, c.column(reader, i, name))
	}
}

// column makes the key of one column, 0 if it is not to be read.
func (c *csvReader) column(reader *csv.Reader, i int, name string) int32 {
	at, quoted := c.cellAt(reader, i, name)
	trimmed := strings.TrimSpace(name)
	switch old := c.find(c.header, []byte(trimmed)); {
	case i >= MaxKeys:
		if i == MaxKeys {
			c.report.Add(at, TooLarge, "", "more than %d columns: the rest is not read", MaxKeys)
		}
		return 0
	case trimmed == "":
		if c.unnamed == nil {
			c.unnamed = map[int]Place{}
		}
		c.unnamed[i] = at
		return 0
	case old != 0:
		c.report.Add(at, GivenTwice, "", "column %s is given twice", Quote(trimmed))
		return 0
	}
	cell := c.cell(at, quoted, name)
	key := c.key(cell, trimmed)
	c.put(c.header, key, cell)
	return key
}

// shortTitle is a heading as the names of cells show it.
func shortTitle(name string) string {
	const most = 30
	name = HeadingName(name)
	if runes := []rune(name); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return name
}

// key makes a key node with the name of a header cell.
func (c *csvReader) key(cell int32, name string) int32 {
	n := *c.at(cell)
	n.key, n.kind, n.next, n.child = true, KindAbsent, 0, 0
	if string(c.content(&n)) != name {
		n.extra = c.keep([]byte(name))
	}
	return c.add(n)
}

// blank reports whether all cells are empty.
func blank(record []string) bool {
	for _, content := range record {
		if strings.TrimSpace(content) != "" {
			return false
		}
	}
	return true
}

// below reports a column without a key that a row has something in, once.
func (c *csvReader) below(i int) {
	if at, unnamed := c.unnamed[i]; unnamed {
		c.report.Add(at, Missing, "name the column by its key, or take it out", "column %d has no header", i+1)
		delete(c.unnamed, i)
	}
}

// row makes the section of one row.
func (c *csvReader) row(reader *csv.Reader, record []string) {
	first, _ := c.cellAt(reader, 0, record[0])
	if len(c.nodes)+2*len(record) >= MaxValues {
		c.over = true
		c.report.Add(first, TooLarge, "split the file", "more than %d cells: the rest is not read", MaxValues)
		return
	}
	section := c.add(node{start: first.start, end: first.end, kind: KindSection})
	c.push(c.rows, section)
	if len(record) > len(c.columns) && blank(record[len(c.columns):]) {
		record = record[:len(c.columns)]
	}
	if len(record) > len(c.columns) {
		c.surplus(reader, record)
		c.at(section).flags |= damaged
		return
	}
	for i, content := range record {
		if strings.TrimSpace(content) == "" {
			continue
		}
		if c.columns[i] == 0 {
			c.below(i)
			continue
		}
		c.noteCommas(content)
		at, quoted := c.cellAt(reader, i, content)
		key := *c.at(c.columns[i])
		key.next, key.child = 0, 0
		c.put(section, c.add(key), c.cell(at, quoted, content))
	}
}

var digits = regexp.MustCompile(`^[ ]*[+-]?[0-9]+[ ]*$`)

// surplus reports a row with more cells than there are columns: a decimal
// comma, most often.
func (c *csvReader) surplus(reader *csv.Reader, record []string) {
	at, _ := c.cellAt(reader, len(c.columns), record[len(c.columns)])
	hint := "a text with the columns' separator in it needs quotes; the items of a list are separated by " + ListSeparator
	for i := 1; i < len(record); i++ {
		if !c.localised && digits.MatchString(record[i-1]) && digits.MatchString(record[i]) {
			hint = "a decimal comma splits a number in two: write " + strings.TrimSpace(record[i-1]) + "." + strings.TrimSpace(record[i])
			break
		}
	}
	c.report.Add(at, Syntax, hint, "row has %d cells, the header has %d", len(record), len(c.columns))
}

// items yields the items of a list, those of a cell with separators in it, or a
// single value as a list of one. It may add nodes to the tree.
func (v Value) items() iter.Seq[Value] {
	if v.Kind() != KindCell || !strings.Contains(v.String(), v.tree.separator) {
		return v.Items()
	}
	return func(yield func(Value) bool) {
		t, whole := v.tree, *v.tree.at(v.n)
		from := 0
		for _, part := range strings.Split(v.String(), t.separator) {
			n := node{start: whole.start, end: whole.end, kind: KindCell}
			item := strings.TrimSpace(part)
			if whole.extra == 0 { // the item stands in the text as it is
				n.start += uint32(from + strings.Index(part, item))
				if whole.flags&literal != 0 {
					n.start++
				}
				n.end = n.start + uint32(len(item))
			} else {
				n.extra = t.keep([]byte(item))
			}
			from += len(part) + len(t.separator)
			if !yield(Value{t, t.add(n)}) {
				return
			}
		}
	}
}
