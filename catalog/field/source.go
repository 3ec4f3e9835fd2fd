package field

import (
	"bytes"
	"cmp"
	"sort"
	"unicode/utf8"
)

// Source is a named text to read.
type Source struct {
	Name  string // as messages show it: a file's path
	Data  []byte // not changed, and kept while places in it are in use
	Sheet string // the sheet of a workbook that Data has as CSV; "" for a file
}

// text is a source with its line index.
type text struct {
	name  string
	data  []byte
	order int      // among the sources of a report: problems are sorted by it
	lines []uint32 // offset of each line's first byte; nil until asked for
	last  int      // index of the line asked for last: the next is near it, mostly
	sheet sheetText
}

var byteOrderMark = []byte("\xef\xbb\xbf")

// lineStarts builds the line index on first use.
func (t *text) lineStarts() []uint32 {
	if t.lines == nil {
		t.lines = make([]uint32, 1, 1+bytes.Count(t.data, []byte{'\n'}))
		for at := 0; ; {
			i := bytes.IndexByte(t.data[at:], '\n')
			if i < 0 {
				break
			}
			at += i + 1
			t.lines = append(t.lines, uint32(at))
		}
	}
	return t.lines
}

// line returns the number of the line that holds offset, from 1, and the
// offsets of its first byte and its end, a byte order mark and the line ending
// excluded.
func (t *text) line(offset int) (number, from, to int) {
	starts := t.lineStarts()
	within := func(i int) bool { return int(starts[i]) <= offset && (i+1 == len(starts) || offset < int(starts[i+1])) }
	i := t.last
	for range 32 {
		if within(i) || i+1 == len(starts) {
			break
		}
		i++
	}
	if !within(i) {
		i = sort.Search(len(starts), func(i int) bool { return int(starts[i]) > offset }) - 1
	}
	t.last = i
	from, to = int(starts[i]), len(t.data)
	if i+1 < len(starts) {
		to = int(starts[i+1]) - 1
	}
	if to > from && t.data[to-1] == '\r' {
		to--
	}
	if i == 0 && bytes.HasPrefix(t.data, byteOrderMark) {
		from = len(byteOrderMark)
	}
	return i + 1, from, max(from, to)
}

// Place is a stretch of a source. The zero Place is nowhere: a problem there
// prints without a place. The places of one source are for one goroutine: they
// share an index of its lines.
type Place struct {
	text       *text
	start, end uint32 // byte offsets
}

// Known reports whether p is somewhere.
func (p Place) Known() bool { return p.text != nil }

// SameSource reports whether p and q are in one source.
func (p Place) SameSource(q Place) bool { return p.text == q.text }

// Position returns the source's name and the line and column of the first
// character of p, both from 1; zero values when p is nowhere.
func (p Place) Position() (file string, line, column int) {
	if p.text == nil {
		return "", 0, 0
	}
	line, from, to := p.text.line(int(p.start))
	return p.text.name, line, p.column(from, to)
}

// Span is where p starts and ends in its source, byte offsets; both 0 where p is
// nowhere.
func (p Place) Span() (start, end int) { return int(p.start), int(p.end) }

// column is the column of p in the line between two offsets: what is at the
// line's ending is right behind its last character.
func (p Place) column(from, to int) int {
	return 1 + utf8.RuneCount(p.text.data[from:max(from, min(int(p.start), to))])
}

// Compare orders places of one report: by source, then by where they start; those
// without a source come last.
func (p Place) Compare(q Place) int {
	switch {
	case p.text == nil || q.text == nil:
		return cmp.Compare(nowhere(p), nowhere(q))
	case p.text != q.text:
		return cmp.Compare(p.text.order, q.text.order)
	}
	return cmp.Compare(p.start, q.start)
}

// nowhere is 1 for a place that is nowhere.
func nowhere(p Place) int {
	if p.text == nil {
		return 1
	}
	return 0
}

// source returns the raw bytes at p.
func (p Place) source() []byte {
	if p.text == nil {
		return nil
	}
	return p.text.data[p.start:p.end]
}
