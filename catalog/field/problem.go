package field

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Problem is one thing wrong with a document, fit to print: every text in it
// is free of control characters.
type Problem struct {
	File         string // "" when the problem has no place
	Line, Column int    // from 1; 0 when the problem has no place
	Code         Code   // what is wrong, for programs; "" where nothing goes by it
	Cell         string // of a sheet, as a spreadsheet names it: row 7, column D (KV); "" for none
	By           string // who set what is wrong where no file did, such as a flag; "" for none
	Message      string // lower case, no full stop
	Source       string // the source line, windowed where it is long
	Caret, Width int    // the marked stretch of Source: column from 0, columns
	Hint         string // "" for none

	dropped int // so many more that are not listed
}

// Code says what is wrong, apart from the words that say it.
type Code string

// The codes of problems.
const (
	Syntax        Code = "syntax"        // it does not read as what it should be
	TooLarge      Code = "too-large"     // more of something than is read
	UnknownKey    Code = "unknown-key"   // a key, column or section that there is not
	UnknownKind   Code = "unknown-kind"  // a kind of parts that there is not
	UnknownWord   Code = "unknown-word"  // a value that is none of the words of its key
	UnknownID     Code = "unknown-id"    // a part that is not in the catalog
	WrongType     Code = "wrong-type"    // such as a text for a number
	WrongText     Code = "wrong-text"    // a text or list that its key does not take
	OutOfRange    Code = "out-of-range"  // a number that its key does not take
	Missing       Code = "missing"       // a key, section or file that must be there
	GivenTwice    Code = "given-twice"   // a key, section or item
	DuplicateID   Code = "duplicate-id"  // two parts of one id
	Contradiction Code = "contradiction" // values that do not go together
	NoPart        Code = "no-part"       // nothing to choose from
)

// Error is the problem as a reader sees it: place and message, the source
// line, a caret under the stretch, and the hint, on lines of their own.
func (p *Problem) Error() string {
	const indent = "    "
	var b strings.Builder
	if p.File != "" {
		b.WriteString(Position(p.File, p.Line, p.Column) + ": ")
	}
	b.WriteString(p.Text())
	if p.Source != "" {
		b.WriteString("\n" + indent + p.Source)
		b.WriteString("\n" + indent + strings.Repeat(" ", p.Caret) + strings.Repeat("^", p.Width))
	}
	if p.Hint != "" {
		b.WriteString("\n" + indent + "hint: " + p.Hint)
	}
	return b.String()
}

// Text is the message, after the cell of a sheet and who set what is wrong.
func (p *Problem) Text() string {
	text := p.Message
	for _, of := range []string{p.Cell, p.By} {
		if of != "" {
			text = of + ": " + text
		}
	}
	return text
}

// Position is a place as messages write it: file:line:column.
func Position(file string, line, column int) string {
	return visible(file) + ":" + strconv.Itoa(line) + ":" + strconv.Itoa(column)
}

// Problems is everything wrong with one or more documents, sorted by place.
// It is never empty as an error.
type Problems []Problem

// printedProblems is how many problems Error prints in full.
const printedProblems = 50

// Error prints the first 50 problems and says how many more there are.
func (ps Problems) Error() string {
	var b strings.Builder
	for i := range ps {
		if i > 0 {
			b.WriteByte('\n')
		}
		if i == printedProblems {
			fmt.Fprintf(&b, "and %d more", ps.Count()-i)
			break
		}
		b.WriteString(ps[i].Error())
	}
	return b.String()
}

// Count is the number of problems, those included that are not listed.
func (ps Problems) Count() int {
	n := len(ps)
	if n > 0 && ps[n-1].dropped > 0 {
		n += ps[n-1].dropped - 1
	}
	return n
}

// keptProblems bounds the memory that a hostile document can claim: what is
// found beyond is counted only.
const keptProblems = 1000

// Report gathers problems. Its zero value is ready to use. It is not safe for
// use by several goroutines.
type Report struct {
	found   []found
	dropped int
	texts   int // sources seen so far
}

// found is a problem before it is given its line.
type found struct {
	at                Place
	code              Code
	by, message, hint string
}

// Add notes a problem at a place, which may be the zero Place. hint may be
// empty. The message is format with its arguments, made printable.
func (r *Report) Add(at Place, code Code, hint, format string, args ...any) {
	r.AddBy("", at, code, hint, format, args...)
}

// AddBy is Add for a problem that somebody brought about: see Problem.By.
func (r *Report) AddBy(by string, at Place, code Code, hint, format string, args ...any) {
	if len(r.found) >= keptProblems {
		r.dropped++
		return
	}
	f := found{at, code, visible(by), visible(fmt.Sprintf(format, args...)), visible(hint)}
	if n := len(r.found); n == 0 || r.found[n-1] != f { // the members of a family repeat each other
		r.found = append(r.found, f)
	}
}

// Len is the number of problems found so far.
func (r *Report) Len() int { return len(r.found) + r.dropped }

// Hinting reports whether a hint that is dear to compute is still worth it:
// not when so many problems are found that it would not be printed.
func (r *Report) Hinting() bool { return len(r.found) < printedProblems }

// Err returns the problems found, sorted by place, as Problems; nil if there
// are none.
func (r *Report) Err() error {
	if r.Len() == 0 {
		return nil
	}
	return r.problems()
}

func (r *Report) problems() Problems {
	order := append([]found(nil), r.found...)
	slices.SortStableFunc(order, func(a, b found) int { return a.at.Compare(b.at) })
	out := make(Problems, 0, len(order)+1)
	for _, f := range order {
		out = append(out, f.problem())
	}
	if r.dropped > 0 {
		out = append(out, Problem{Code: TooLarge, Message: fmt.Sprintf("%d more problems are not listed", r.dropped), dropped: r.dropped})
	}
	return out
}

// problem makes f printable.
func (f *found) problem() Problem {
	p := Problem{Code: f.code, By: f.by, Message: f.message, Hint: f.hint}
	if t := f.at.text; t != nil {
		number, from, to := t.line(int(f.at.start))
		p.File, p.Line, p.Column = visible(t.name), number, f.at.column(from, to)
		if len(t.data) == 0 {
			p.Line, p.Column = 1, 1
		}
		p.Cell = visible(t.cellName(int(f.at.start), f))
		p.Source, p.Caret, p.Width = render(t.data[from:to], int(f.at.start)-from, int(f.at.end)-from)
		if p.Source == "" {
			p.Caret, p.Width = 0, 0
		}
	}
	return p
}

// ProblemAt is a problem at a place, which may be the zero Place. The message
// and the hint are made printable.
func ProblemAt(at Place, hint, message string) Problem {
	f := found{at: at, message: visible(message), hint: visible(hint)}
	return f.problem()
}

// ProblemIn is a problem with the stretch from start to end, byte offsets, of a
// text that is no document, such as an expression. The message and the hint
// are made printable.
func ProblemIn(src Source, start, end int, code Code, hint, message string) *Problem {
	var r Report
	p := ProblemAt(Place{r.add(src), uint32(start), uint32(end)}, hint, message)
	p.Code = code
	return &p
}

// add registers a source with the report.
func (r *Report) add(src Source) *text {
	r.texts++
	return &text{name: src.Name, data: src.Data[:len(src.Data):len(src.Data)], order: r.texts, sheet: sheetText{name: src.Sheet}}
}

// Start is the beginning of something with a name that is not read as a
// document, such as a directory, for problems with the whole of it.
func (r *Report) Start(name string) Place { return Place{text: r.add(Source{Name: name})} }
