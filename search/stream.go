package search

import (
	"context"
	"fmt"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// streamer is a visitor that hands each feasible build on, scored, until an
// error.
type streamer struct {
	scorer *scorer
	emit   func(Scored) error
	scores []CriterionScore // of the build before
	cancel context.CancelFunc
	err    error
}

func (s *streamer) Visit(b *constraints.Build, _ uint64) {
	if s.err != nil {
		return
	}
	scored := s.scorer.scoredInto(b, s.scores)
	s.scores = scored.Scores
	if s.err = s.emit(scored); s.err != nil {
		s.cancel()
	}
}

// Stream hands every feasible build to emit as it is found, always in the
// same order, unranked, in memory that does not grow with their number. A
// build and its scores are valid during the call only. An error of emit ends the search and
// is returned.
func Stream(ctx context.Context, p *constraints.Problem, o Options, emit func(Scored) error) (*Result, error) {
	if err := Numberable(p); err != nil {
		return nil, err
	}
	walking := newUntil(ctx)
	s := &streamer{scorer: newScorer(p), emit: emit, cancel: walking.cancel}
	t, complete := walk.All(walking, walk.NewPlan(p, o.Strict), []*streamer{s}, o.Progress)
	return &Result{Tally: t, Problem: p, Complete: complete, scorer: s.scorer}, s.err
}

// teller is a visitor that tells of each feasible build.
type teller func(b *constraints.Build)

func (t teller) Visit(b *constraints.Build, _ uint64) { t(b) }

// Each hands every feasible build to tell, in the order of Stream, but without
// its scores, which take longer than the rest. A build is valid during the call
// only. Where more builds than most are feasible, it returns a TooManyError and
// hands over none; the count before that takes a small part of the time.
func Each(ctx context.Context, p *constraints.Problem, o Options, most uint64, tell func(b *constraints.Build)) (*Result, error) {
	if err := Numberable(p); err != nil {
		return nil, err
	}
	pl := walk.NewPlan(p, o.Strict)
	t, complete := walk.Count(ctx, pl, o.Workers, nil)
	switch {
	case t.Feasible > most:
		return nil, &TooManyError{fmt.Sprintf("%d builds are feasible, more than are looked at one by one, %d", t.Feasible, most)}
	case complete:
		t, complete = walk.All(ctx, pl, []teller{tell}, o.Progress)
	}
	return &Result{Tally: t, Problem: p, Complete: complete}, nil
}

// mostSampled is up to how many feasible builds Sample walks through.
const mostSampled = 50_000_000

// Sample returns what of says of feasible builds, evenly picked in the order of Stream:
// of every one or, where more than n are feasible, of every second, fourth, eighth …,
// whichever first leaves no more than n. A build is valid during the call only; of may be
// called for some that are not picked in the end. Where more are feasible than can be
// walked through, it returns a TooManyError.
func Sample[T any](ctx context.Context, p *constraints.Problem, o Options, n int, of func(b *constraints.Build) T) (picked []T, r *Result, err error) {
	if err := Numberable(p); err != nil {
		return nil, nil, err
	}
	pl := walk.NewPlan(p, o.Strict)
	if p.Combinations() > mostSampled { // a count takes a part of the time of a walk
		t, complete := walk.Count(ctx, pl, o.Workers, nil)
		switch {
		case t.Feasible > mostSampled:
			return nil, nil, &TooManyError{fmt.Sprintf("%d builds are feasible, more than are walked through, %d", t.Feasible, mostSampled)}
		case !complete:
			return nil, &Result{Tally: t, Problem: p}, nil
		}
	}
	n, step, seen := max(n, 1), 1, 0
	t, complete := walk.All(ctx, pl, []teller{func(b *constraints.Build) {
		if seen%step == 0 {
			if len(picked) == n {
				picked, step = everySecond(picked), 2*step
			}
			if seen%step == 0 {
				picked = append(picked, of(b))
			}
		}
		seen++
	}}, o.Progress)
	return picked, &Result{Tally: t, Problem: p, Complete: complete}, nil
}

// everySecond keeps the first of a list, the third, the fifth ….
func everySecond[T any](list []T) []T {
	kept := list[:0]
	for i := 0; i < len(list); i += 2 {
		kept = append(kept, list[i])
	}
	return kept
}
