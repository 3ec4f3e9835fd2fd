package swap

import (
	"context"
	"math"
	"time"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/constraints"
	"gearsearch/search"
)

// ways are what leads to a build where no change passes, each found by a search.
type ways struct {
	more   []constraints.Scope // to free too: each set lets some change pass
	demote []string            // checks that break least, as mere cautions
	rank   bool                // the brief has a build, with other parts or another number of motors
	relax  bool                // it has none, and giving way opens one
}

// mostWays is the most time spent on looking for ways out; one that takes longer is
// not given.
const mostWays = 3 * time.Second

// waysOut asks the search what opens a build where no change passes.
func (s *Answer) waysOut(ctx context.Context, d *ask.Desk) (w ways) {
	ctx, cancel := d.Within(ctx, mostWays)
	defer cancel()
	o := search.Options{Strict: s.Question.Strict}
	if len(s.broken) > 0 && s.broken[0].Misfit == nil {
		w.demote = s.measured(s.broken[0].Breaks)
	}
	if r := s.Rounds[0]; !s.inTurn() {
		w.more, _ = search.Unlock(ctx, r.Problem, r.Base, r.Freed, o)
	}
	if len(w.more) > 0 {
		return w
	}
	whole, err := constraints.NewProblem(s.Question.Catalog, s.Question.Brief)
	if err != nil {
		return w
	}
	o.Top = 1
	switch r, err := search.RankOnly(ctx, whole, o); {
	case err != nil || !r.Complete:
	case r.Len() > 0:
		w.rank = true
	default:
		r := search.Relax(ctx, whole, search.RelaxOptions{Options: o, Motors: true})
		w.relax = r.Complete && len(r.Openings) > 0
	}
	return w
}

// measured are the names of misses with those that caution already; none where
// one is no matter of more or less.
func (s *Answer) measured(misses []constraints.Result) []string {
	names := append([]string{}, s.Full.Brief.Limit.Demote...)
	for _, m := range misses {
		if math.IsNaN(m.MarginPct(m.Outcome)) {
			return nil
		}
		names = append(names, m.Name)
	}
	return names
}
