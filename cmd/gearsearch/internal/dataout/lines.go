package dataout

import (
	"io"
	"math"
	"strconv"

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

	problem *constraints.Problem // that what follows is of
	figures []place
	scores  []place
	checks  []checkPlace
}

// place is where a number stands in every line.
type place struct {
	key  string // what stands before it
	bits uint64 // of the number in the line before
	text []byte // that it is written as; nil: none yet
}

// append writes a number in its place.
func (p *place) append(to []byte, x float64) []byte {
	to = append(to, p.key...)
	bits := math.Float64bits(x)
	if p.text == nil || bits != p.bits {
		p.bits, p.text = bits, appendNumber(p.text[:0], x, "null")
	}
	return append(to, p.text...)
}

// checkPlace is where an outcome of a check stands.
type checkPlace struct {
	name                 string // what stands before the verdict
	value, limit, margin place
}

// NewLines writes to w, which should be buffered.
func NewLines(w io.Writer) *Lines { return &Lines{builder: newBuilder(), w: w} }

// Build writes one build.
func (l *Lines) Build(s search.Scored) error {
	if s.Build.Problem != l.problem {
		l.prepare(s)
	}
	to := append(l.line[:0], `{"rank": `...)
	to = appendValue(to, rank(s))
	to = appendNumber(append(to, `, "score": `...), s.Score, "null")
	to = appendParts(append(to, `, "parts": {`...), s.Build)
	to = append(to, `}, "figures": {`...)
	for i, f := range l.builder.figures {
		if f.Word == nil {
			to = l.figures[i].append(to, f.Value(s.Build))
			continue
		}
		to = append(to, l.figures[i].key...)
		to = appendID(to, f.Word(s.Build))
	}
	to = append(to, `}, "scores": {`...)
	for i, c := range s.Scores {
		to = l.scores[i].append(to, c.Score)
	}
	to = l.appendChecks(append(to, `}, "checks": [`...), s.Build)
	to = append(to, `], "cautions": `...)
	to = appendList(to, s.Build.Cautions(nil))
	l.line = append(to, "}\n"...)
	_, err := l.w.Write(l.line)
	return err
}

// prepare sets what stands in every line of a problem.
func (l *Lines) prepare(s search.Scored) {
	*l = Lines{builder: l.builder, w: l.w, line: l.line, problem: s.Build.Problem}
	key := func(i int, name string) place {
		before := ""
		if i > 0 {
			before = ", "
		}
		return place{key: before + string(appendString(nil, name)) + ": "}
	}
	for i, f := range l.builder.figures {
		l.figures = append(l.figures, key(i, f.Name))
	}
	for i, c := range s.Scores {
		l.scores = append(l.scores, key(i, c.Name))
	}
	for _, c := range l.problem.Checks() {
		measured := string(appendValue(nil, unit(c.Unit, l.problem.Catalog)))
		l.checks = append(l.checks, checkPlace{
			name:   `{"name": ` + string(appendString(nil, c.Name)) + `, "verdict": "`,
			value:  place{key: `", "value": `},
			limit:  place{key: `, "limit": `},
			margin: place{key: `, "unit": ` + measured + `, "margin_pct": `},
		})
	}
}

// appendChecks writes the outcomes of the checks that concern a build.
func (l *Lines) appendChecks(to []byte, b *constraints.Build) []byte {
	separator := ""
	for i, c := range l.problem.Checks() {
		if !c.Lists(b.Drive) {
			continue
		}
		at, o := &l.checks[i], c.Test(b)
		to = append(append(to, separator...), at.name...)
		to = append(to, o.Verdict.String()...)
		to = at.value.append(to, o.Value*c.PerSI)
		to = at.limit.append(to, o.Limit*c.PerSI)
		to = append(at.margin.append(to, c.MarginPct(o)), '}')
		separator = ", "
	}
	return to
}

// appendParts writes what parts gives.
func appendParts(to []byte, b *constraints.Build) []byte {
	for i, slot := range partOrder {
		if i > 0 {
			to = append(to, ", "...)
		}
		to = append(append(append(to, '"'), slot.String()...), `": `...)
		to = appendID(to, b.ID(slot))
		if counted(slot) {
			to = append(append(append(to, `, "`...), slot.String()...), `s": `...)
			to = strconv.AppendInt(to, int64(b.Pieces(slot)), 10)
		}
	}
	return to
}

// appendID writes a word, null for none.
func appendID(to []byte, id string) []byte {
	if id == "" {
		return append(to, "null"...)
	}
	return appendString(to, id)
}

// Summary writes the last line: what the search found, without the builds.
func (l *Lines) Summary(r *search.Result) error {
	l.line = append(Summary(r).Append(l.line[:0]), '\n')
	_, err := l.w.Write(l.line)
	return err
}
