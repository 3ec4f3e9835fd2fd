// Package shortlist answers with the feasible builds that have each part of a
// slot.
package shortlist

import (
	"context"
	"math"
	"slices"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Answer is what the parts of a slot open.
type Answer struct {
	Question *ask.Question
	Problem  *constraints.Problem
	Slot     string // as the user has it
	parts    []search.Candidate
	complete bool
	Top      int
}

// Give finds the answer, writes it, and says what it means for the exit code.
func (s *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer) error {
	var err error
	bar := d.Bar()
	o := search.Options{Strict: s.Question.Strict, Progress: bar.Progress()}
	if s.Slot == ask.WholeDrive {
		s.parts, s.complete, err = search.ShortlistDrives(ctx, s.Problem, o)
	} else {
		of, _ := constraints.SlotNamed(s.Slot)
		s.parts, s.complete, err = search.Shortlist(ctx, s.Problem, of, o)
	}
	bar.Stop()
	if err != nil {
		return err
	}
	if err := d.Give(a, s.forms(a)); err != nil {
		return err
	}
	switch {
	case !s.complete:
		d.Note("interrupted: %s of the slot looked at, the others are missing", say.Counted(uint64(len(s.parts)), "part", "parts"))
		return outcome.ErrInterrupted
	case len(s.opening()) == 0:
		if !a.People() {
			d.Note("no part of the slot %s is in a feasible build", s.Slot)
		}
		return outcome.ErrInfeasible
	}
	return nil
}

// best are the parts that open builds, as many as are asked for.
func (s *Answer) best() []search.Candidate {
	open := s.opening()
	if s.Top > 0 {
		open = open[:min(s.Top, len(open))]
	}
	return open
}

// given are those, and all that open none.
func (s *Answer) given() []search.Candidate {
	return slices.Concat(s.best(), s.parts[len(s.opening()):])
}

// opening are the parts that open builds: they come first.
func (s *Answer) opening() []search.Candidate {
	for i, x := range s.parts {
		if x.Best == nil {
			return s.parts[:i]
		}
	}
	return s.parts
}

// feasible is how many builds the parts open together.
func (s *Answer) feasible() uint64 {
	n := uint64(0)
	for _, x := range s.parts {
		n += x.Feasible
	}
	return n
}

// span is a range of what a part works with.
type span struct {
	key    string // in data, with the unit
	title  string
	of     func(c *search.Candidate) search.Span
	perSI  float64
	unit   string
	except []string // slots that have it by themselves
}

// spans are the ranges of what the parts of a slot work with.
func (s *Answer) spans() []span {
	var out []span
	for _, x := range []span{
		{"reduction", "ratios", func(c *search.Candidate) search.Span { return c.Reduction }, 1, "", []string{ask.WholeDrive, "gear_drive"}},
		{"wheel_mm", "wheels", func(c *search.Candidate) search.Span { return c.Wheel }, 1000, "mm", []string{"wheel"}},
		{"pack_v", "packs", func(c *search.Candidate) search.Span { return c.Volts }, 1, "V", []string{"battery"}},
	} {
		own := false
		for _, slot := range x.except {
			own = own || slot == s.Slot
		}
		if !own {
			out = append(out, x)
		}
	}
	return out
}

// bounds are the ends of a span in its unit, NaN where there is none.
func (x *span) bounds(c *search.Candidate) (low, high float64) {
	at := x.of(c)
	if at.Low > at.High {
		return math.NaN(), math.NaN()
	}
	return at.Low * x.perSI, at.High * x.perSI
}
