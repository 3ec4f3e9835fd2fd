// Package swap answers with what changing some slots of a build does.
package swap

import (
	"context"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Answer is what changing some slots of a build does.
type Answer struct {
	Question *ask.Question
	File     string // of the build
	Change   []string
	Freed    []constraints.Slot   // that Change names
	Full     *constraints.Problem // of the whole brief
	Base     search.Scored
	misses   []constraints.Result // of the base
	swaps    []search.Swap        // that break nothing, the best
	result   *search.Result       // of all of them, the base among them if it is in play
	inPlay   bool                 // the base is one of the combinations
	All      bool                 // the broken ones are asked for
	broken   []search.Swap        // all that are asked for, else a few where nothing passes
	ways     ways                 // out, where nothing passes
}

// Give finds the swaps in a problem that leaves the slots open, writes them, and
// says what they mean for the exit code.
func (s *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer, problem *constraints.Problem, want *ask.Wish) error {
	if err := s.find(ctx, d, problem, want.Top); err != nil {
		return err
	}
	save := func(i int) *constraints.Build { return s.swaps[i].Build }
	if err := want.Save(len(s.swaps), save); err != nil {
		return err
	}
	if err := d.Give(a, s.forms(a)); err != nil {
		return err
	}
	if err := s.outcome(d, a); err != nil {
		return err
	}
	return want.Missed(len(s.swaps), s.feasible())
}

// find looks for the swaps.
func (s *Answer) find(ctx context.Context, d *ask.Desk, problem *constraints.Problem, top int) error {
	base := s.Base.Build
	for _, r := range base.Results() {
		if r.Rejects(s.Question.Strict) {
			s.misses = append(s.misses, r)
		}
	}
	bar := d.Bar()
	var err error
	s.swaps, s.result, err = search.Swaps(ctx, problem, base, search.Options{Top: top, Strict: s.Question.Strict, Progress: bar.Progress()})
	bar.Stop()
	if err != nil {
		return err
	}
	s.inPlay = holds(problem, base)
	if s.result.Complete && (s.All || s.feasible() == 0) {
		o := search.Options{Strict: s.Question.Strict}
		if !s.All {
			o.Top = fewBroken
		}
		s.broken, _, err = search.BrokenSwaps(ctx, problem, base, o)
		if ctx.Err() != nil {
			s.result.Complete = false
			return nil
		}
		if err != nil && s.All {
			return outcome.Usage("", "--all: %v", err)
		}
	}
	if s.result.Complete && s.feasible() == 0 {
		s.ways = s.waysOut(ctx, problem)
	}
	return nil
}

// holds reports whether a build is one of the combinations of a problem.
func holds(p *constraints.Problem, b *constraints.Build) bool {
	drive := slices.ContainsFunc(p.Drives, func(d *constraints.Drive) bool {
		return !slices.ContainsFunc(constraints.DriveSlots(), func(s constraints.Slot) bool { return d.ID(s) != b.ID(s) })
	})
	return drive &&
		slices.ContainsFunc(p.Batteries, func(x *constraints.Battery) bool { return x.ID == b.Battery.ID }) &&
		slices.ContainsFunc(p.Controllers, func(x *constraints.Controller) bool { return x.ID == b.Controller.ID }) &&
		slices.ContainsFunc(p.Motors, func(x *constraints.Motor) bool { return x.ID == b.Motor.ID }) &&
		slices.ContainsFunc(p.Wheels, func(x *constraints.Wheel) bool { return x.ID == b.Wheel.ID })
}

// fewBroken is how many swaps that break something are shown unasked.
const fewBroken = 3

// feasible is how many swaps pass every check.
func (s *Answer) feasible() uint64 {
	if s.inPlay && len(s.misses) == 0 && s.result.Feasible > 0 {
		return s.result.Feasible - 1
	}
	return s.result.Feasible
}

// total is how many swaps there are.
func (s *Answer) total() uint64 {
	if s.inPlay && s.result.Combinations > 0 {
		return s.result.Combinations - 1
	}
	return s.result.Combinations
}

// outcome is what the answer means for the exit code.
func (s *Answer) outcome(d *ask.Desk, a *ask.Answer) error {
	switch {
	case !s.result.Complete:
		d.Note("interrupted: the search is incomplete")
		return outcome.ErrInterrupted
	case s.feasible() == 0:
		if !a.People() {
			d.Note("no change of %s passes every check", strings.Join(s.Change, ", "))
		}
		return outcome.ErrInfeasible
	}
	return nil
}
