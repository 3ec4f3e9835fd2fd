package search

import (
	"context"
	"fmt"
	"sync/atomic"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// The most that an answer may hold, so that no question about a catalog of a
// megabyte takes more than a few hundred megabytes.
const (
	// MostRanked is the most builds of a ranking. Each takes 24 bytes, and a
	// few times that while they are sorted.
	MostRanked = 500_000
	// MostListed is the most swaps, sets, or parts of a shortlist. Each is held
	// whole, in a few kilobytes.
	MostListed = 10_000
	// MostOpened is the most builds that a concession is asked to make
	// feasible. For each concession, and each pair, a few times as many are
	// remembered.
	MostOpened = 1000
	// MostDraws is the most variations of a build, at half a kilobyte each. The
	// share of draws that pass is then known to a fifth of a percentage point.
	MostDraws = 100_000
)

// TooManyError says that an answer would hold more than its limit.
type TooManyError struct{ message string }

func (e *TooManyError) Error() string { return e.message }

// rankable reports a problem that cannot be numbered, and a number of builds
// that is too large to be ranked.
func rankable(p *constraints.Problem, top, most int) error {
	if err := Numberable(p); err != nil {
		return err
	}
	if top > most {
		return &TooManyError{fmt.Sprintf("%d builds are more than can be ranked at once, %d", top, most)}
	}
	return nil
}

// Numberable reports a product of combinations too large to number, 2⁶³ or
// more. No search of such a problem begins: searches that return no error
// return at once, incomplete.
func Numberable(p *constraints.Problem) error {
	if _, ok := p.Number(); !ok {
		return fmt.Errorf("%.3g combinations are more than can be numbered, %.3g", p.Combinations(), float64(walk.MostNumbered))
	}
	return nil
}

// crew is how many workers rank the best so many builds. Each holds as many and
// half again.
func crew(asked, top int) int { return min(walk.Workers(asked), max(1, 2*MostRanked/max(1, top))) }

// ration is room for some builds, shared by all workers. The search ends when it
// is spent.
type ration struct {
	left   atomic.Int64
	cancel context.CancelFunc
}

func newRation(n int, cancel context.CancelFunc) *ration {
	r := &ration{cancel: cancel}
	r.left.Store(int64(n))
	return r
}

// take takes room for one build, and reports whether there was any. Without a
// ration there always is.
func (r *ration) take() bool {
	if r == nil || r.left.Add(-1) >= 0 {
		return true
	}
	r.cancel()
	return false
}

// spent reports whether more was asked for than there was.
func (r *ration) spent() bool { return r != nil && r.left.Load() < 0 }
