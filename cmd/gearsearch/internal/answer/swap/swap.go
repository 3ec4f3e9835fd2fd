// Package swap answers with what changing some slots of a build does.
package swap

import (
	"context"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Answer is what changing some slots of a build does.
type Answer struct {
	Question *ask.Question
	File     string // of the build
	Rounds   []*Round
	Full     *constraints.Problem // of the whole brief
	Base     search.Scored
	All      bool                 // the broken ones are asked for
	Top      int                  // how many to list; with All of all of them, else of those that pass; 0: every one
	misses   []constraints.Result // of the base
	swaps    []change             // that break nothing, the best
	broken   []change             // all that are asked for, else a few where nothing passes
	ways     ways                 // out, where nothing passes
}

// Round is a set of slots that change together: there is one for all freed slots, or
// one for each slot.
type Round struct {
	Change  []string // words for what changes
	Freed   constraints.Freed
	Problem *constraints.Problem // that leaves it open
	Base    *constraints.Build
	result  *search.Result // of all changes, the base among them if it is in play
	inPlay  bool           // the base is one of the combinations
	broken  search.Broken  // how many break something, where they were looked for
}

// change is one way to fill the slots of a round.
type change struct {
	search.Swap
	round *Round
}

// Give finds the swaps, writes them, and says what they mean for the exit code.
func (s *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer, want *ask.Wish) error {
	if err := s.find(ctx, d); err != nil {
		return err
	}
	listed := s.listed()
	save := func(i int) *constraints.Build { return listed[i].Build }
	if err := want.Save(d, s.Question, len(listed), save); err != nil {
		return err
	}
	if err := d.Give(a, s.forms(a)); err != nil {
		return err
	}
	if err := s.outcome(d, a); err != nil {
		return err
	}
	if s.All {
		return want.MissedOf(len(listed), say.Counted(uint64(len(listed)), "change is listed", "changes are listed"))
	}
	return want.Missed(len(listed), s.feasible())
}

// listed are the changes by their number in the list: those that pass and, with All,
// those that break something but could be put together.
func (s *Answer) listed() []change {
	if !s.All {
		return s.swaps
	}
	fits := func(x change) bool { return x.Misfit == nil }
	return slices.Concat(s.swaps, slices.DeleteFunc(slices.Clone(s.broken), func(x change) bool { return !fits(x) }))
}

// find looks for the swaps.
func (s *Answer) find(ctx context.Context, d *ask.Desk) error {
	for _, r := range s.Base.Build.Results() {
		if r.Rejects(s.Question.Strict) {
			s.misses = append(s.misses, r)
		}
	}
	if err := s.findPassing(ctx, d); err != nil {
		return err
	}
	if s.complete() && (s.All || s.feasible() == 0) {
		if err := s.findBroken(ctx); err != nil {
			return err
		}
	}
	if s.complete() && s.feasible() == 0 {
		s.ways = s.waysOut(ctx, d)
	}
	return nil
}

// findPassing looks for the swaps that break nothing.
func (s *Answer) findPassing(ctx context.Context, d *ask.Desk) error {
	bar := d.Bar()
	defer bar.Stop()
	for _, r := range s.Rounds {
		o := search.Options{Top: s.Top, Strict: s.Question.Strict, Progress: bar.Progress()}
		list, result, err := search.Swaps(ctx, r.Problem, r.Base, o)
		if err != nil {
			return err
		}
		r.result, r.inPlay = result, holds(r.Problem, r.Base)
		s.swaps = r.add(s.swaps, list, s.Top)
	}
	for i := range s.swaps {
		s.swaps[i].Rank = i + 1
	}
	return nil
}

// findBroken looks for the swaps that break something.
func (s *Answer) findBroken(ctx context.Context) error {
	o := search.Options{Strict: s.Question.Strict, Top: s.Top}
	if !s.All {
		o.Top = fewBroken
	}
	for _, r := range s.Rounds {
		broken, err := search.BrokenSwaps(ctx, r.Problem, r.Base, o)
		switch {
		case ctx.Err() != nil:
			r.result.Complete = false
			return nil
		case err != nil && s.All:
			return outcome.Usage("", "--all: %v", err)
		case err != nil:
			continue
		}
		s.broken = r.add(s.broken, broken.Swaps, o.Top)
		r.broken, r.broken.Swaps = *broken, nil
	}
	if room := s.Top - len(s.swaps); s.All && s.Top > 0 && len(s.broken) > room {
		s.broken = s.broken[:room]
	}
	return nil
}

// add puts the changes of a round with those of others, the first top of them,
// all for 0.
func (r *Round) add(to []change, list []search.Swap, top int) []change {
	for _, x := range list {
		to = append(to, change{x, r})
	}
	slices.SortStableFunc(to, func(a, b change) int { return search.CompareSwaps(a.Swap, b.Swap) })
	if top > 0 && len(to) > top {
		to = to[:top]
	}
	return to
}

// holds reports whether a build is one of the combinations of a problem.
func holds(p *constraints.Problem, b *constraints.Build) bool {
	drive := slices.ContainsFunc(p.Drives, func(d *constraints.Drive) bool {
		return !slices.ContainsFunc(constraints.DriveSlots(), func(s constraints.Slot) bool { return d.ID(s) != b.ID(s) })
	})
	return drive && slices.Contains(p.Counts, b.Motors()) &&
		slices.ContainsFunc(p.Batteries, func(x *constraints.Battery) bool { return x.ID == b.Battery.ID }) &&
		slices.ContainsFunc(p.Controllers, func(x *constraints.Controller) bool { return x.ID == b.Controller.ID }) &&
		slices.ContainsFunc(p.Motors, func(x *constraints.Motor) bool { return x.ID == b.Motor.ID }) &&
		slices.ContainsFunc(p.Wheels, func(x *constraints.Wheel) bool { return x.ID == b.Wheel.ID })
}

// fewBroken is how many swaps that break something are shown unasked.
const fewBroken = 3

// outcome is what the answer means for the exit code.
func (s *Answer) outcome(d *ask.Desk, a *ask.Answer) error {
	switch {
	case !s.complete():
		d.Note("interrupted: the search is incomplete")
		return outcome.ErrInterrupted
	case s.feasible() == 0:
		if !a.People() {
			d.Note("no change of %s passes every check", strings.Join(s.change(), ", "))
		}
		return outcome.ErrInfeasible
	}
	return nil
}
