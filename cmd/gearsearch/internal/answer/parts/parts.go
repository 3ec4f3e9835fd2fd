// Package parts answers with all that a build takes.
package parts

import (
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints/outfit"
	"gearsearch/search"
)

// Give writes the answer, and says what it means for the exit code.
func (s *Answer) Give(d *ask.Desk, a *ask.Answer, strict bool) error {
	for _, r := range s.Build.Results() {
		if r.Rejects(strict) {
			s.missed = append(s.missed, r.Name)
		}
	}
	if err := d.Give(a, ask.Forms{Text: s.text, Document: s.document, Table: s.table, Complete: true}); err != nil {
		return err
	}
	if len(s.missed) > 0 {
		return outcome.ErrInfeasible
	}
	return nil
}

// Answer is a build completed, as it is written out.
type Answer struct {
	*outfit.Outfit
	File    string
	Scored  search.Scored
	System  quantity.System
	Why     bool
	Sources *ask.Sources
	Today   string   // as 2026-05-01, by which prices are old
	Words   []string // the flags that make the question, as they can be typed again behind the file
	missed  []string // checks of the brief that the build fails
}

// listed is a line of the shopping list with the need behind it, nil for a
// part of the build itself.
type listed struct {
	outfit.Line
	need *outfit.Need
}

// noted is what is worth knowing of a line: what follows from the build, and what
// the catalog notes.
func (l listed) noted(system quantity.System) string {
	var out []string
	if l.Note.Told() {
		out = append(out, say.Statement(l.Note, system))
	}
	if l.Own != "" {
		out = append(out, l.Own)
	}
	return strings.Join(out, "; ")
}

// list is the whole shopping list.
func (s *Answer) list() []listed {
	var out []listed
	for _, l := range s.Lines {
		out = append(out, listed{l, nil})
	}
	for _, n := range s.Needs {
		out = append(out, listed{n.Line(), n})
	}
	return out
}

// unpriced names the lines that the total leaves out.
func (s *Answer) unpriced() []string {
	var out []string
	for _, l := range s.list() {
		if math.IsNaN(l.Total) {
			out = append(out, strings.ReplaceAll(quantity.Label(l.Called, ""), " ", say.NBSP))
		}
	}
	return out
}
