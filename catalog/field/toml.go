package field

import (
	"bytes"
	"errors"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Parse reads a TOML document. It never fails: problems go to the report, and
// the document holds what could be read around them.
//
// lists names the keys of the top level that are arrays of tables: a [header] of such
// a key is reported, and read as the [[header]] that was meant.
func Parse(src Source, r *Report, lists ...string) *Document {
	p := tomlReader{
		tree:    &tree{text: r.add(src)},
		report:  r,
		lists:   lists,
		current: root,
	}
	p.add(node{kind: KindSection})
	if start, ok := begin(p.text, r); ok {
		p.windows(start)
	} else {
		p.damage()
	}
	return &Document{p.tree}
}

// tomlReader builds the tree of one TOML document.
type tomlReader struct {
	*tree
	report  *Report
	lists   []string
	parser  unstable.Parser
	base    int   // offset of the parser's window in the text
	current int32 // the section that keys go to
	syntax  int   // syntax errors so far
	over    bool  // the document has too many values
}

// begin checks a document's size and encoding and returns the offset after a
// byte order mark. It reports what is wrong.
func begin(t *text, r *Report) (start int, ok bool) {
	data := t.data
	top := Place{text: t}
	switch {
	case len(data) > MaxSize:
		// The text is not kept for the message: its line index would cost more than it tells.
		r.Add(Place{text: &text{name: t.name, order: t.order}}, TooLarge, "split the file", "file is larger than %d MB", MaxSize>>20)
		return 0, false
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		r.Add(top, Syntax, "save the file as UTF-8", "file is UTF-16, must be UTF-8")
		return 0, false
	case bytes.IndexByte(data, '\r') >= 0 && bytes.IndexByte(data, '\n') < 0:
		r.Add(top, Syntax, "save the file with newlines", "lines end with carriage returns only")
		return 0, false
	case bytes.HasPrefix(data, byteOrderMark):
		return len(byteOrderMark), true
	}
	return 0, true
}

// damage marks the current section as one in which something could not be
// read.
func (p *tomlReader) damage() { p.at(p.current).flags |= damaged }

// expressions reads the window of the text from at to end. It returns the
// offset at which the last good expression ends (at if there was none) and
// what stopped the parser, nil at the end of the window.
func (p *tomlReader) expressions(at, end int) (done int, wrong *unstable.ParserError) {
	p.base, done = at, at
	p.parser.Reset(p.text.data[at:end:end])
	for p.parser.NextExpression() {
		e := p.parser.Expression()
		switch e.Kind {
		case unstable.KeyValue:
			done = p.base + int(e.Raw.Offset+e.Raw.Length)
			p.keyValue(p.current, e, 1)
		case unstable.Table, unstable.ArrayTable:
			done = p.header(e)
		}
		if p.over {
			return done, nil
		}
	}
	if err := p.parser.Error(); err != nil {
		if !errors.As(err, &wrong) {
			wrong = &unstable.ParserError{Highlight: p.parser.Data()[end-at:], Message: err.Error()}
		}
	}
	return done, wrong
}

// offset is where in the text a parser error points.
func (p *tomlReader) offset(e *unstable.ParserError) int {
	return p.base + int(p.parser.Range(e.Highlight).Offset)
}

// place is where a parser's node stands.
func (p *tomlReader) place(r unstable.Range) Place {
	start := uint32(p.base) + r.Offset
	return Place{p.text, start, start + r.Length}
}

// room reports whether the document may hold one more value, and says once if
// not.
func (p *tomlReader) room(at Place) bool {
	if p.over {
		return false
	}
	if len(p.nodes) >= MaxValues {
		p.over = true
		p.report.Add(at, TooLarge, "split the file", "more than %d keys and values: the rest is not read", MaxValues)
		return false
	}
	return true
}

// key makes the node of one part of a key.
func (p *tomlReader) key(part *unstable.Node) int32 {
	at := p.place(part.Raw)
	n := node{start: at.start, end: at.end, key: true}
	p.setContent(&n, part.Data)
	return p.add(n)
}

// setContent tells the node where its decoded text is: in the text, between
// quotes in the text, or kept apart. Escapes and triple quotes always leave
// less than what stands between two quotes.
func (p *tomlReader) setContent(n *node, content []byte) {
	switch length := int(n.end - n.start); len(content) {
	case length:
	case length - 2:
		n.flags |= literal
	default:
		n.extra = p.keep(content)
	}
}

// keyValue puts a key and its value, both from the parser, into a section.
func (p *tomlReader) keyValue(section int32, e *unstable.Node, depth int) {
	it := e.Key()
	for part := 1; it.Next(); part++ {
		key := it.Node()
		at := p.place(key.Raw)
		if !p.room(at) {
			return
		}
		if depth+part > MaxDepth {
			p.report.Add(at, TooLarge, "", "nested deeper than %d levels", MaxDepth)
			return
		}
		if it.IsLast() {
			if old := p.find(section, key.Data); old != 0 {
				p.duplicate(at, key.Data, old)
			} else {
				p.entry(section, e, key, depth+part)
			}
			return
		}
		if section = p.dottedSection(section, key, at); section == 0 {
			return
		}
	}
}

// entry appends a key and its value to a section that does not have the key.
func (p *tomlReader) entry(section int32, e, key *unstable.Node, depth int) {
	at := p.place(key.Raw)
	if p.isFull(section, at) {
		return
	}
	k := p.key(key)
	from := int(at.end)
	for p.text.data[from] != '=' {
		from++
	}
	if v, _ := p.value(e.Value(), from+1, depth); v != 0 {
		p.put(section, k, v)
	}
}

// isFull reports whether a section can take no more keys, and says so once.
func (p *tomlReader) isFull(section int32, at Place) bool {
	s := p.at(section)
	if s.extra < MaxKeys {
		return false
	}
	if s.flags&full == 0 {
		s.flags |= full
		p.report.Add(at, TooLarge, "", "more than %d keys in one table: the rest of it is not read", MaxKeys)
	}
	return true
}

// dottedSection finds or makes the section that a dotted key goes through; 0
// if there is something else.
func (p *tomlReader) dottedSection(section int32, key *unstable.Node, at Place) int32 {
	if k := p.find(section, key.Data); k != 0 {
		v := p.at(k).child
		if n := p.at(v); n.kind != KindSection || n.flags&dotted == 0 {
			p.duplicate(at, key.Data, k)
			return 0
		}
		return v
	}
	if p.isFull(section, at) {
		return 0
	}
	k := p.key(key)
	v := p.add(node{start: at.start, end: at.end, kind: KindSection, flags: dotted})
	p.put(section, k, v)
	return v
}

func (p *tomlReader) duplicate(at Place, name []byte, old int32) {
	number, _, _ := p.text.line(int(p.at(old).start))
	p.report.Add(at, GivenTwice, "", "key %s is given twice, first on line %d", Quote(string(name)), number)
}

// value makes the node of a value that stands at or after offset from, with
// nothing but blanks, commas and comments between. It returns the node, 0 when
// the document is full or nested too deep, and where the value ends.
func (p *tomlReader) value(v *unstable.Node, from, depth int) (n int32, end int) {
	var at Place
	if v.Raw.Length > 0 {
		at = p.place(v.Raw)
	} else { // the parser does not say where lists are
		start := uint32(skipFiller(p.text.data, from))
		at = Place{p.text, start, start + 1}
	}
	if !p.room(at) {
		return 0, int(at.end)
	}
	scalar := node{start: at.start, end: at.end}
	switch v.Kind {
	case unstable.Array:
		return p.list(v, at, depth)
	case unstable.InlineTable:
		return p.inlineTable(v, at, depth)
	case unstable.String:
		scalar.kind = KindText
		p.setContent(&scalar, v.Data)
	case unstable.Bool:
		scalar.kind = KindFlag
	case unstable.Integer:
		scalar.kind = KindInteger
		p.checkScalar(KindInteger, at)
	case unstable.Float:
		scalar.kind = KindFloat
		p.checkScalar(KindFloat, at)
	default:
		scalar.kind = KindDate
		p.checkScalar(KindDate, at)
	}
	return p.add(scalar), int(at.end)
}

// skipFiller returns the offset of the first character at or after at that
// belongs neither to the blanks and commas between the items of a list nor to
// a comment.
func skipFiller(data []byte, at int) int {
	for {
		at = skipBlank(data, at)
		if at >= len(data) || data[at] != ',' {
			return at
		}
		at++
	}
}

// list makes the node of a list and its items. at is its bracket.
func (p *tomlReader) list(v *unstable.Node, at Place, depth int) (list int32, end int) {
	if depth >= MaxDepth {
		p.report.Add(at, TooLarge, "", "nested deeper than %d levels", MaxDepth)
		return 0, int(at.end)
	}
	list = p.add(node{start: at.start, kind: KindList})
	end = int(at.end)
	count := 0
	for it := v.Children(); it.Next(); {
		if count++; count > MaxItems {
			p.report.Add(at, TooLarge, "", "list has more than %d items", MaxItems)
			break
		}
		var item int32
		item, end = p.value(it.Node(), end, depth+1)
		if item == 0 {
			break
		}
		p.push(list, item)
	}
	end = skipFiller(p.text.data, end) + 1
	p.at(list).end = uint32(min(end, len(p.text.data)))
	return list, end
}

// inlineTable makes the node of an inline table and its keys. at is its
// brace.
func (p *tomlReader) inlineTable(v *unstable.Node, at Place, depth int) (section int32, end int) {
	section = p.add(node{start: at.start, kind: KindSection, flags: inline})
	end = int(at.end)
	for it := v.Children(); it.Next() && !p.over; {
		e := it.Node()
		p.keyValue(section, e, depth)
		end = p.base + int(e.Raw.Offset+e.Raw.Length)
	}
	end = skipFiller(p.text.data, end) + 1
	p.at(section).end = uint32(min(end, len(p.text.data)))
	return section, end
}

// checkScalar reports numbers, dates and times that TOML does not allow and
// the parser lets pass: they do not fit, or are no days of the calendar.
func (p *tomlReader) checkScalar(kind Kind, at Place) {
	raw := at.source()
	if kind != KindDate {
		if len(raw) <= 15 && bytes.IndexByte(raw, 'e') < 0 && bytes.IndexByte(raw, 'E') < 0 {
			return // it fits, in any base
		}
		if _, err := parseNumber(raw, kind); err != nil {
			p.report.Add(at, OutOfRange, "", "%v", err)
		}
		return
	}
	if !isMoment(string(raw)) {
		p.report.Add(at, Syntax, "", "no such date or time: %s", Quote(string(raw)))
	}
}

// isMoment reports whether a text is a date, a time, or both, of RFC 3339, with an
// offset or without, as TOML has them. No key takes one; the decoder of the TOML
// library, which would tell too, is a fifth of a megabyte in the page's engine.
func isMoment(s string) bool {
	s = strings.Replace(strings.ToUpper(s), " ", "T", 1)
	// Package time takes an hour of one digit, and offsets of 24 hours and 60 minutes.
	day, clock, timed := strings.Cut(s, "T")
	if timed && strings.IndexByte(clock, ':') != 2 || !timed && strings.IndexByte(day, ':') == 1 {
		return false
	}
	if sign := strings.LastIndexAny(clock, "+-"); sign >= 0 && (clock[sign+1:] >= "24" || strings.HasSuffix(clock, ":60")) {
		return false
	}
	for _, layout := range []string{time.RFC3339, "2006-01-02T15:04Z07:00", "2006-01-02T15:04:05", "2006-01-02T15:04", time.DateOnly, time.TimeOnly, "15:04"} {
		if _, err := time.Parse(layout, s); err == nil {
			return true
		}
	}
	return false
}
