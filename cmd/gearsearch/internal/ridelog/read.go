package ridelog

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"strings"

	"gearsearch/catalog/field"
)

// The most that a file may have of something.
const (
	MostLine    = 64 << 10 // bytes of a line
	mostHeader  = 64       // lines among which the headings are looked for
	mostRuns    = 100
	mostSpoiled = 0.5 // of the rows: above it the table is not what it seems
	fewRows     = 8
)

// Progress is told how many bytes were read.
type Progress func(bytes int)

// Read reads a log. The error is of type field.Problems and has everything that is
// wrong, or is that of the reader or of ctx.
func Read(ctx context.Context, name string, from io.Reader, o Options, progress Progress) (*Log, error) {
	r := &reader{
		ctx: ctx, name: name, lines: bufio.NewReaderSize(from, MostLine), options: o, progress: progress,
		log: &Log{Name: name}, first: map[Code]*Note{},
	}
	r.coast.reader, r.ride.reader = r, r
	if err := r.headings(); err != nil {
		return nil, err
	}
	if err := r.rows(); err != nil {
		return nil, err
	}
	return r.finish()
}

// reader reads one file.
type reader struct {
	ctx      context.Context
	name     string
	lines    *bufio.Reader
	options  Options
	progress Progress
	log      *Log

	line     int    // number of the line in hand, from 1
	text     []byte // the line in hand
	mark     byte
	columns  [quantities]column
	problems field.Problems
	spoiled  int // rows that are left out
	first    map[Code]*Note
	order    order
	last     sample // that was taken
	speed    float64
	unbegun  bool    // no row of the stretch was taken
	step     float64 // s, the usual one from row to row
	coast    coaster
	ride     rider
	today    float64 // s, the last time of day
	days     float64 // s, of midnights passed
	dated    bool    // times are times of day
	cells    []cell
}

// column is where a quantity stands; at is -1 where it does not.
type column struct {
	at    int
	si    float64
	title string
	named bool // by the options
	bare  bool // the unit is assumed
}

// cell is one cell of a row.
type cell struct {
	text  []byte
	start int // byte of the line
}

// next reads a line without its ending, valid until the next one; io.EOF at the end.
func (r *reader) next() ([]byte, error) {
	if r.line%4096 == 0 && r.ctx.Err() != nil {
		return nil, r.ctx.Err()
	}
	raw, err := r.lines.ReadSlice('\n')
	switch {
	case err == bufio.ErrBufferFull:
		r.line++
		r.text = nil
		return nil, r.fault("", "a line is longer than %d KB: this is no table of a ride", MostLine>>10)
	case err != nil && (err != io.EOF || len(raw) == 0):
		return nil, err
	}
	r.line++
	if r.progress != nil {
		r.progress(len(raw))
	}
	if r.line == 1 {
		raw = bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf"))
		if bytes.HasPrefix(raw, []byte("\xff\xfe")) || bytes.HasPrefix(raw, []byte("\xfe\xff")) || bytes.IndexByte(raw, 0) >= 0 {
			return nil, r.fault("save it as UTF-8, as a comma-separated file", "this is no plain text")
		}
	}
	r.text = bytes.TrimRight(raw, "\r\n")
	return r.text, nil
}

// fault is one problem with the line in hand.
func (r *reader) fault(hint, format string, args ...any) field.Problems {
	return field.Problems{r.problem(cell{}, hint, format, args...)}
}

// problem is a problem with a cell of the line in hand.
func (r *reader) problem(at cell, hint, format string, args ...any) field.Problem {
	end := at.start + len(at.text)
	p := field.ProblemIn(field.Source{Name: r.name, Data: bytes.Clone(r.text)}, at.start, max(end, at.start+1), field.Syntax, hint, fmt.Sprintf(format, args...))
	p.Line = r.line
	return *p
}

// note counts something that the log is read in spite of.
func (r *reader) note(c Code, line int, amount float64) {
	n := r.first[c]
	if n == nil {
		n = &Note{Code: c, Line: line}
		r.first[c] = n
	}
	n.Count++
	n.Amount += amount
}

// split takes a line apart at a mark, outside quotes. The cells are valid as long as
// the line.
func split(into []cell, line []byte, mark byte) []cell {
	into = into[:0]
	quoted := false
	begin := 0
	for i := 0; i <= len(line); i++ {
		switch {
		case i == len(line) || line[i] == mark && !quoted:
			text := bytes.TrimSpace(line[begin:i])
			at := begin + bytes.Index(line[begin:i], text)
			if n := len(text); n > 1 && text[0] == '"' && text[n-1] == '"' {
				text = bytes.TrimSpace(text[1 : n-1])
			}
			into = append(into, cell{text, at})
			begin = i + 1
		case line[i] == '"':
			quoted = !quoted
		}
	}
	return into
}

// headings finds the row of headings: among the first lines the one with the most that
// are recognised.
func (r *reader) headings() error {
	marks := []byte{',', ';', '\t'}
	for r.line < mostHeader {
		line, err := r.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
		best := 0
		for _, mark := range marks {
			titles := split(nil, line, mark)
			if n := r.known(titles); n > best {
				best, r.mark = n, mark
			}
		}
		if best < 2 {
			continue
		}
		if r.line > 1 {
			r.log.Notes = append(r.log.Notes, Note{Code: AboveHeader, Count: r.line - 1, Line: 1})
		}
		return r.choose(line)
	}
	hint := "the first rows must name the columns, as in time_s,speed_kmh"
	r.text = nil
	if r.line == 0 {
		r.line = 1
		return r.fault(hint, "the file is empty")
	}
	r.line = 1
	return r.fault(hint+"; other names are told as in --column time=NAME:s --column speed=NAME:km/h", "no row of headings is found: none names a time and a speed, or what else is recorded")
}

// known counts the headings that are recognised or named.
func (r *reader) known(titles []cell) int {
	n := 0
	for _, t := range titles {
		if _, ok := recognise(string(t.text)); ok || r.naming(string(t.text)) != nil {
			n++
		}
	}
	return n
}

// naming is what the options name a column for; nil: nothing.
func (r *reader) naming(title string) *ColumnNamed {
	for i := range r.options.Columns {
		if strings.EqualFold(strings.TrimSpace(r.options.Columns[i].Name), strings.TrimSpace(title)) {
			return &r.options.Columns[i]
		}
	}
	return nil
}

// choose takes the columns of a row of headings.
func (r *reader) choose(line []byte) error {
	for q := range r.columns {
		r.columns[q].at = -1
	}
	ranks := [quantities]int{}
	titles := split(nil, line, r.mark)
	for i, t := range titles {
		title := string(t.text)
		h, ok := recognise(title)
		if named := r.naming(title); named != nil {
			told := h.in
			if !ok || h.of != named.Of {
				told = unit{}
			}
			h, ok = heading{of: named.Of, rank: -1, in: told}, true
			if named.Unit != "" {
				h.in, _ = named.Of.unitNamed(named.Unit)
			}
		}
		if !ok {
			continue
		}
		c := &r.columns[h.of]
		if c.at >= 0 && ranks[h.of] <= h.rank {
			r.log.Notes = append(r.log.Notes, Note{Code: SecondColumn, Line: r.line, Text: title})
			continue
		}
		if c.at >= 0 {
			r.log.Notes = append(r.log.Notes, Note{Code: SecondColumn, Line: r.line, Text: c.title})
		}
		ranks[h.of] = h.rank
		*c = column{at: i, si: h.in.si, title: title, named: h.rank < 0, bare: h.in.si == 0}
	}
	r.complain(titles)
	if len(r.problems) > 0 {
		return r.problems
	}
	return nil
}

// complain reports what the headings lack.
func (r *reader) complain(titles []cell) {
	for q := range quantities {
		c := &r.columns[q]
		if c.at < 0 || !c.bare || len(traits[q].units) == 0 {
			continue
		}
		if r.spare(q) {
			r.log.Notes = append(r.log.Notes, Note{Code: Unread, Line: r.line, Text: c.title})
			c.at = -1
			continue
		}
		if !traits[q].bare {
			units := strings.Join(q.Units(), ", ")
			r.problems = append(r.problems, r.problem(titles[c.at], fmt.Sprintf("as in --column %s=%q; the units are %s", q.Name(), c.title+":"+q.Units()[0], units), "the heading %s tells no unit", field.Quote(c.title)))
			continue
		}
		c.si = traits[q].units[0].si
		if q == Time {
			continue // said once the times are seen
		}
		r.log.Notes = append(r.log.Notes, Note{Code: BareUnit, Line: r.line, Text: c.title})
	}
	has := func(q Quantity) bool { return r.columns[q].at >= 0 }
	if !has(Time) {
		r.problems = append(r.problems, r.problem(cell{}, "as in --column time=NAME:s; the columns are "+list(titles), "no column is known as the time"))
	}
	if !has(Speed) && !has(Distance) {
		r.problems = append(r.problems, r.problem(cell{}, "as in --column speed=NAME:km/h; the columns are "+list(titles), "no column is known as the speed"))
	}
	if has(Volts) && !has(Current) && !has(Power) && !has(Energy) && r.options.Kind == Ride {
		r.problems = append(r.problems, r.problem(cell{}, "as in --column current=NAME:A", "volts without current meter no energy"))
	}
	r.log.Headings = headingsOf(titles)
	for q := range quantities {
		if has(q) {
			r.log.Columns = append(r.log.Columns, Column{q, r.columns[q].title, r.columns[q].named, r.columns[q].bare && len(traits[q].units) > 0})
		}
	}
}

// spare reports whether a log does without a quantity whose unit is not told.
func (r *reader) spare(q Quantity) bool {
	has := func(q Quantity) bool { return r.columns[q].at >= 0 }
	switch q {
	case Distance:
		return has(Speed)
	case Energy, Returned:
		return has(Power) || has(Volts) && has(Current)
	}
	return false
}

// list names columns for a hint.
func list(titles []cell) string { return strings.Join(headingsOf(titles), ", ") }

// headingsOf are the first headings, quoted.
func headingsOf(titles []cell) []string {
	const most = 12
	var out []string
	for _, t := range titles {
		if len(out) == most {
			out = append(out, "…")
			break
		}
		out = append(out, field.Quote(string(t.text)))
	}
	return out
}

// rows reads the rows below the headings.
func (r *reader) rows() error {
	r.order.reader = r
	for {
		line, err := r.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		r.log.Rows++
		r.cells = split(r.cells, line, r.mark)
		s, ok := r.sample()
		if !ok {
			r.spoiled++
			r.note(TextRows, r.line, 0)
			continue
		}
		r.order.put(s)
	}
	r.order.end()
	return nil
}

// sample reads a row; ok is false where it has no time, or no number besides.
func (r *reader) sample() (s sample, ok bool) {
	s.line = r.line
	for q := range quantities {
		s.of[q] = math.NaN()
		c := &r.columns[q]
		if c.at < 0 || c.at >= len(r.cells) {
			continue
		}
		text := r.cells[c.at].text
		switch {
		case q == Direction:
			s.of[q] = wayOf(string(text))
			continue
		case q == Time:
			t, read := r.clock(text)
			if !read {
				return s, false
			}
			s.of[Time] = t
			continue
		}
		x, fault := number(text, q, c.si)
		switch fault {
		case noNumber:
			r.note(EmptyCells, r.line, 0)
		case ambiguous:
			if len(r.problems) < fewRows {
				r.problems = append(r.problems, r.problem(r.cells[c.at], "write thousands without a mark", "%s has a decimal point and a decimal comma", field.Quote(string(text))))
			}
		default:
			s.of[q] = x * c.si
			ok = true
		}
	}
	return s, ok
}

// wayOf reads a direction: NaN for none.
func wayOf(text string) float64 {
	switch strings.ToLower(text) {
	case "out", "1", "+1", "there", "forth", "outbound", "a":
		return +1
	case "back", "-1", "return", "inbound", "b":
		return -1
	}
	return math.NaN()
}
