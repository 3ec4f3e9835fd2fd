package search

import (
	"context"

	"gearsearch/constraints"
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

func (s *streamer) visit(b *constraints.Build, _ uint64) {
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
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	s := &streamer{scorer: newScorer(p), emit: emit, cancel: cancel}
	t, complete := walk(ctx, newPlan(p, o.Strict), []visitor{s}, o.Progress)
	return &Result{Tally: t, Problem: p, Complete: complete, scorer: s.scorer}, s.err
}
