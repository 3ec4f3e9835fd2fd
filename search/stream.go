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

// Sample hands about n feasible builds to tell, evenly picked in the order of
// Stream: every one, every second, every third …; all of them where no more than
// n are feasible. A build is valid during the call only. Where more are feasible
// than can be walked through, it returns a TooManyError and hands over none.
func Sample(ctx context.Context, p *constraints.Problem, o Options, n uint64, tell func(b *constraints.Build)) (*Result, error) {
	if err := Numberable(p); err != nil {
		return nil, err
	}
	pl := walk.NewPlan(p, o.Strict)
	t, complete := walk.Count(ctx, pl, o.Workers, nil)
	switch {
	case t.Feasible > mostSampled:
		return nil, &TooManyError{fmt.Sprintf("%d builds are feasible, more than are walked through, %d", t.Feasible, mostSampled)}
	case complete:
		step, seen := (t.Feasible+n-1)/max(n, 1), uint64(0)
		t, complete = walk.All(ctx, pl, []teller{func(b *constraints.Build) {
			if seen%step == 0 {
				tell(b)
			}
			seen++
		}}, o.Progress)
	}
	return &Result{Tally: t, Problem: p, Complete: complete}, nil
}
