package dataout

import (
	"io"
	"math"
	"strconv"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/dataout/decimal"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Lines writes builds as JSON lines: each what Build gives, but straight into
// the line, and numbers that stand as they did in the line before are copied.
// An export of every feasible build is many lines, of which neighbours differ
// little.
type Lines struct {
	builder
	w    io.Writer
	line []byte

	problem  *constraints.Problem // that what follows is of
	used     *constraints.Used    // what its builds are made of
	parts    []partPlace
	figures  []place
	bests    []string // what stands before the figures of the best corner
	scores   []place
	checks   []checkPlace
	cautions []cautionPlace
	now      []constraints.Caution
}

// place is where a number stands in every line.
type place struct {
	text []byte // what stands before it, and what it was in the line before
	key  int    // the length of what stands before it
	bits uint64 // of the number in the line before
}

func newPlace(key string) place { return place{text: []byte(key), key: len(key)} }

// append writes a number in its place.
func (p *place) append(to []byte, x float64) []byte {
	if bits := math.Float64bits(x); bits != p.bits || len(p.text) == p.key {
		p.bits, p.text = bits, decimal.Append(p.text[:p.key], x, "null")
	}
	return append(to, p.text...)
}

// partPlace is where a part stands in every line, with the number of pieces
// where the slot is counted.
type partPlace struct {
	slot          constraints.Slot
	key, counting string // what stands before id and number
	id            string // in the line before
	pieces        int    // likewise
	text          []byte // that they are written as; nil: none yet
}

// append writes a part in its place.
func (p *partPlace) append(to []byte, b *constraints.Build) []byte {
	id, pieces := b.ID(p.slot), 0
	if p.counting != "" {
		pieces = b.Pieces(p.slot)
	}
	if p.text == nil || id != p.id || pieces != p.pieces {
		p.id, p.pieces = id, pieces
		p.text = appendID(append(p.text[:0], p.key...), id)
		if p.counting != "" {
			p.text = strconv.AppendInt(append(p.text, p.counting...), int64(pieces), 10)
		}
	}
	return append(to, p.text...)
}

// checkPlace is where an outcome of a check stands.
type checkPlace struct {
	name                 string // what stands before the verdict
	value, limit, margin place

	constraints.Outcome        // in the line before
	text                []byte // that it is written as; nil: none yet
	catalog             *catalog.Catalog
}

// showBy puts the unit of another row before the margin.
func (p *checkPlace) showBy(c *constraints.Check) {
	p.margin = newPlace(`, "unit": ` + string(appendValue(nil, unit(c.Unit, p.catalog))) + `, "margin_pct": `)
}

// append writes an outcome of the check in its place.
func (p *checkPlace) append(to []byte, c *constraints.Check, o constraints.Outcome) []byte {
	if p.text == nil || o.Verdict != p.Verdict || !same(o.Value, p.Value) || !same(o.Limit, p.Limit) || o.Row != p.Row {
		c = c.ShownBy(o)
		if o.Row != p.Row {
			p.showBy(c)
		}
		p.Outcome = o
		text := append(append(p.text[:0], p.name...), o.Verdict.String()...)
		text = p.value.append(text, o.Value*c.PerSI)
		text = p.limit.append(text, o.Limit*c.PerSI)
		p.text = append(p.margin.append(text, c.MarginPct(o)), '}')
	}
	return append(to, p.text...)
}

// same reports whether two numbers are written alike: NaN is like NaN.
func same(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

// cautionPlace is a caution of a line before.
type cautionPlace struct {
	constraints.Caution
	text []byte // that it is written as
}

// NewLines writes to w, which should be buffered.
func NewLines(w io.Writer) *Lines { return &Lines{w: w} }

// Build writes one build.
func (l *Lines) Build(s search.Scored) error {
	if s.Build.Problem != l.problem {
		l.prepare(s)
	}
	l.used.Add(s.Build)
	to := append(l.line[:0], `{"rank": `...)
	to = appendValue(to, rank(s))
	to = decimal.Append(append(to, `, "score": `...), s.Score, "null")
	to = append(to, `, "parts": {`...)
	for i := range l.parts {
		to = l.parts[i].append(to, s.Build)
	}
	to = append(to, `}, "figures": {`...)
	for i, f := range l.builder.figures {
		if f.Word == nil {
			to = l.figures[i].append(to, f.Value(s.Build))
			continue
		}
		to = append(to, l.figures[i].text...)
		to = appendID(to, f.Word(s.Build))
	}
	to = l.appendBests(append(to, `}, "figures_best": {`...), s.Build)
	to = append(to, `}, "scores": {`...)
	for i, c := range s.Scores {
		to = l.scores[i].append(to, c.Score)
	}
	to = l.appendChecks(append(to, `}, "checks": [`...), s.Build)
	to = l.appendCautions(append(to, `], "cautions": [`...), s.Build)
	l.line = append(to, "]}\n"...)
	_, err := l.w.Write(l.line)
	return err
}

// prepare sets the text that every line of a problem has.
func (l *Lines) prepare(s search.Scored) {
	*l = Lines{builder: newBuilder(s.Build.Problem), w: l.w, line: l.line, now: l.now, problem: s.Build.Problem, used: constraints.NewUsed(s.Build.Problem)}
	before := func(i int, name string) string {
		separator := ""
		if i > 0 {
			separator = ", "
		}
		return separator + string(appendString(nil, name)) + ": "
	}
	key := func(i int, name string) place { return newPlace(before(i, name)) }
	for i, slot := range partOrder {
		p := partPlace{slot: slot, key: before(i, slot.String())}
		if counted(slot) {
			p.counting = before(1, slot.String()+"s")
		}
		l.parts = append(l.parts, p)
	}
	for i, f := range l.builder.figures {
		l.figures = append(l.figures, key(i, f.Name))
		l.bests = append(l.bests, before(0, f.Name))
	}
	for i, c := range s.Scores {
		l.scores = append(l.scores, key(i, c.Name))
	}
	for _, c := range l.problem.Checks() {
		p := checkPlace{
			name:    `{"name": ` + string(appendString(nil, c.Name)) + `, "verdict": "`,
			value:   newPlace(`", "value": `),
			limit:   newPlace(`, "limit": `),
			catalog: l.problem.Catalog,
		}
		p.showBy(c)
		l.checks = append(l.checks, p)
	}
}

// appendBests writes the figures of the best corner that differ.
func (l *Lines) appendBests(to []byte, b *constraints.Build) []byte {
	separator := ""
	for i, f := range l.builder.figures {
		value, word, differs := f.Best(b)
		if !differs {
			continue
		}
		to = append(append(to, separator...), l.bests[i]...)
		if f.Word != nil {
			to = appendID(to, word)
		} else {
			to = decimal.Append(to, value, "null")
		}
		separator = ", "
	}
	return to
}

// appendChecks writes the outcomes of the checks that concern a build.
func (l *Lines) appendChecks(to []byte, b *constraints.Build) []byte {
	separator := ""
	for i, c := range l.problem.Checks() {
		if !c.Lists(b.Drive) {
			continue
		}
		to = l.checks[i].append(append(to, separator...), c, c.Test(b))
		separator = ", "
	}
	return to
}

// appendCautions writes the cautions of a build. One that is equal to one of
// the line before is copied.
func (l *Lines) appendCautions(to []byte, b *constraints.Build) []byte {
	l.now = b.AppendCautions(l.now[:0])
	for i, c := range l.now {
		if i > 0 {
			to = append(to, ", "...)
		}
		p := l.cautionPlace(c)
		if p.text == nil || p.Caution != c {
			p.Caution = c
			p.text = appendCaution(p.text, c)
		}
		to = append(to, p.text...)
	}
	return to
}

// appendCaution writes a caution as a text, into a space.
func appendCaution(space []byte, c constraints.Caution) []byte {
	to := say.AppendCaution(append(space[:0], '"'), c, quantity.Metric)
	if text := to[1:]; !plain(text) {
		return appendString(nil, string(text))
	}
	return append(to, '"')
}

// cautionPlace is where a caution of this code, about this check, was written.
func (l *Lines) cautionPlace(c constraints.Caution) *cautionPlace {
	for i := range l.cautions {
		if p := &l.cautions[i]; p.Code == c.Code && p.Check == c.Check {
			return p
		}
	}
	l.cautions = append(l.cautions, cautionPlace{Caution: c})
	return &l.cautions[len(l.cautions)-1]
}

// appendID writes a word, null for none.
func appendID(to []byte, id string) []byte {
	if id == "" {
		return append(to, "null"...)
	}
	return appendString(to, id)
}

// Summary writes the last line: what the search found, without the builds.
func (l *Lines) Summary(r *search.Result, measures *search.Measures) error {
	used := l.used
	if used == nil {
		used = constraints.NewUsed(r.Problem)
	}
	l.line = append(Summary(r, used, measures).Append(l.line[:0]), '\n')
	_, err := l.w.Write(l.line)
	return err
}
