// Package ideal answers with the kv, reduction and wheel that would be best of
// each motor frame.
package ideal

import (
	"cmp"
	"context"
	"slices"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Answer is the ideal of each motor frame.
type Answer struct {
	Question *ask.Question
	Problem  *constraints.Problem
	Bounds   search.Bounds // as given; where they are left out, then of the catalog
	frames   []search.Frame
	complete bool
	Top      int // frames to show; 0: all
}

// Give finds the answer, writes it, and says what it means for the exit code.
func (i *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer) error {
	given, all := i.Bounds, search.CatalogBounds(i.Problem)
	i.Bounds = search.Bounds{
		KV: filled(given.KV, all.KV), Reduction: filled(given.Reduction, all.Reduction), Wheel: filled(given.Wheel, all.Wheel),
	}
	bar := d.Bar()
	i.frames, i.complete = search.Ideal(ctx, i.Problem, given, search.Options{Strict: i.Question.Strict, Progress: bar.Progress()})
	bar.Stop()
	if err := d.Give(a, i.forms(a)); err != nil {
		return err
	}
	switch {
	case !i.complete:
		d.Note("interrupted: %s looked at, the others are missing", say.Counted(uint64(len(i.frames)), "motor frame is", "motor frames are"))
		return outcome.ErrInterrupted
	case !slices.ContainsFunc(i.frames, func(f search.Frame) bool { return f.Works }):
		if !a.People() {
			d.Note("no motor frame passes every check in the bounds")
		}
		return outcome.ErrInfeasible
	}
	return nil
}

// filled is a span with ends from another span in place of those that it lacks.
func filled(given, catalog search.Span) search.Span {
	if given.Low == 0 {
		given.Low = min(catalog.Low, cmp.Or(given.High, catalog.Low))
	}
	if given.High == 0 {
		given.High = max(catalog.High, given.Low)
	}
	return given
}

// bestMove is the change of one quantity that gains most for a frame's catalog
// build and passes every check; ok is false where none gains anything.
func bestMove(f *search.Frame) (m search.Move, ok bool) {
	for _, m := range f.Moves {
		if m.Feasible && (m.Gain > leastGain || !f.Fits) {
			return m, true
		}
	}
	return m, false
}

// leastGain is the gain in score below which a change is called none: what the
// table shows as 0.0.
const leastGain = 0.05
