package search

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Stability is how far the weights may move before another build is first.
type Stability struct {
	Ranges []WeightRange // of the criteria that apply, in order
	// Wins are the shares of random weight draws in which each of the first
	// builds of the ranking wins over every feasible build, in the order of
	// the ranking. They do not add up to 1 where others win. Nil without draws.
	Wins  []float64
	Draws int
}

// WeightRange is how far one weight may move, the others held, before another
// build takes first place. At an end that another build holds the two draw
// level, and price and ids decide; an end that is the weight itself means that
// they are level already. Scores are compared as they are, before the ranking
// rounds them.
type WeightRange struct {
	Criterion
	Weight    float64 // as the brief has it
	Low, High float64 // 0 and +Inf where nothing takes over
	// Below and Above are the builds that take over; nil where none does.
	Below, Above *constraints.Build
}

// Stable examines a ranking that Rank made: over which range each weight may
// move, which is exact since the score is linear in the weights up to a common
// divisor, and how often each of the first builds wins when the weights are
// drawn at random, uniformly over all weights that add up to 1. The same
// generator gives the same answer, whatever the number of workers. It searches
// again, with o.Strict as it was; complete is false when ctx ended that early,
// and then rivals may be missing. An empty ranking has no ranges and no wins.
//
// Every feasible build is looked at, some microseconds each; a TooManyError says
// that r has more than MostCompared, or that too many can be first.
func Stable(ctx context.Context, r *Result, first, draws int, random *rand.Rand, o Options) (s *Stability, complete bool, err error) {
	s = &Stability{Draws: draws}
	if r.Len() == 0 {
		return s, true, nil
	}
	tooMany := &TooManyError{fmt.Sprintf("more builds are feasible than are compared with the first, %d", MostCompared)}
	if r.Feasible > MostCompared {
		return nil, false, tooMany
	}
	scorer := r.scorer
	winner := scorer.vector(walk.Assemble(r.Problem, r.ranked[0].id))
	leaders := make([][]float64, min(first, r.Len()))
	for i := range leaders {
		leaders[i] = scorer.vector(walk.Assemble(r.Problem, r.ranked[i].id))
	}
	walking := newUntil(ctx)
	room, seen := newRation(0, walking.cancel), newRation(MostCompared, walking.cancel)
	found := walk.Crew(walk.Workers(o.Workers), func() *rivals {
		v := newRivals(scorer, winner, leaders)
		v.room, v.seen = room, seen
		return v
	})
	_, complete = walk.All(walking, walk.NewPlan(r.Problem, o.Strict), found, o.Progress)
	all := found[0]
	for _, other := range found[1:] {
		all.merge(other)
		all.prune()
	}
	switch {
	case seen.spent(): // by a ranking without counting
		return nil, false, tooMany
	case room.spent():
		return nil, false, &TooManyError{fmt.Sprintf("more builds than can be compared, %d, are first with some weights", mostRivals)}
	}
	for j := range scorer.criteria {
		s.Ranges = append(s.Ranges, all.weightRange(r.Problem, j))
	}
	if draws > 0 {
		s.Wins = all.wins(ctx, draws, random)
		complete = complete && s.Wins != nil
	}
	return s, complete, nil
}

// vector is the criteria's scores of a build, in order.
func (s *scorer) vector(b *constraints.Build) []float64 {
	v := make([]float64, len(s.criteria))
	for i, c := range s.criteria {
		v[i] = c.score(b)
	}
	return v
}

// rivals is a visitor that looks for builds that would take first place.
type rivals struct {
	scorer  *scorer
	winner  []float64
	leaders [][]float64
	low     []crossing // by criterion
	high    []crossing
	open    []float64 // scores, one build after the other, that some weights may put before the leaders
	pruneAt int       // len(open) that is worth pruning
	few     int       // of them are never
	room    *ration   // spent when too many are left
	seen    *ration   // spent when too many come
}

// crossing is a weight at which a build draws level with the first.
type crossing struct {
	weight float64
	gain   float64 // on the first, for each unit that the weight moves on
	place  entry
	found  bool
}

func newRivals(s *scorer, winner []float64, leaders [][]float64) *rivals {
	n := len(s.criteria)
	return &rivals{scorer: s, winner: winner, leaders: leaders, low: make([]crossing, n), high: make([]crossing, n), pruneAt: fewRivals * n, few: fewRivals}
}

func (v *rivals) Visit(b *constraints.Build, id uint64) {
	if !v.seen.take() {
		return
	}
	scores := v.scorer.vector(b)
	// With weights w the first leads by Σ w (a − b). That is linear in each
	// weight: it falls to 0 at one place at the most.
	lead := 0.0
	for j, w := range v.scorer.weights {
		lead += float64(w * (v.winner[j] - scores[j]))
	}
	// The ranking rounds scores: a score that is a little higher may come second.
	lead = math.Max(lead, 0)
	for j, w := range v.scorer.weights {
		slope := v.winner[j] - scores[j]
		if slope == 0 {
			continue
		}
		at := w - lead/slope
		switch {
		case slope > 0 && at > 0 && !(v.low[j].found && at < v.low[j].weight): // a lower weight helps the rival
			v.low[j].move(crossing{at, slope, newEntry(v.scorer, b, id), true}, -1)
		case slope < 0 && !math.IsInf(at, 1) && !(v.high[j].found && at > v.high[j].weight):
			v.high[j].move(crossing{at, -slope, newEntry(v.scorer, b, id), true}, +1)
		}
	}
	if slices.ContainsFunc(v.leaders, func(leader []float64) bool { return covers(leader, scores) }) {
		return // no weights put it before that leader
	}
	if v.open = append(v.open, scores...); len(v.open) >= v.pruneAt {
		v.prune()
	}
}

// move takes the crossing that a weight meets first on its way up (+1) or down (−1);
// of those at one place the build that gains most beyond it, then the one that ranks
// first.
func (c *crossing) move(o crossing, way int) {
	if !o.found {
		return
	}
	order := cmp.Or(way*cmp.Compare(o.weight, c.weight), cmp.Compare(c.gain, o.gain), o.place.compare(c.place))
	if !c.found || order < 0 {
		*c = o
	}
}

func (v *rivals) merge(o *rivals) {
	for j := range v.low {
		v.low[j].move(o.low[j], -1)
		v.high[j].move(o.high[j], +1)
	}
	v.open = append(v.open, o.open...)
}

// MostCompared is how many feasible builds a first one is compared with at the
// most.
const MostCompared = 2_000_000

const (
	fewRivals  = 4096    // open ones are not worth pruning
	mostRivals = 1 << 18 // open ones are held
)

// prune leaves out the rivals that another rival equals or beats in every
// criterion: no weights put them before it. The remaining rivals do not depend
// on the order in which they came.
func (v *rivals) prune() {
	k := len(v.winner)
	var kept [][]float64
	for _, i := range front(v.open, k) {
		kept = append(kept, v.open[i*k:(i+1)*k])
	}
	slices.SortFunc(kept, slices.Compare)
	kept = slices.CompactFunc(kept, slices.Equal)
	v.open = slices.Concat(kept...)
	v.pruneAt = max(v.few*k, 2*len(v.open))
	if len(v.open) > mostRivals*k {
		v.room.take()
	}
}

func (v *rivals) weightRange(p *constraints.Problem, j int) WeightRange {
	w := WeightRange{Criterion: v.scorer.criteria[j], Weight: v.scorer.weights[j], Low: 0, High: math.Inf(1)}
	if c := v.low[j]; c.found {
		w.Low, w.Below = c.weight, walk.Assemble(p, c.place.id)
	}
	if c := v.high[j]; c.found {
		w.High, w.Above = c.weight, walk.Assemble(p, c.place.id)
	}
	return w
}

// wins draws weights and counts how often each leader wins. Ties go to the
// build that the ranking has first. Nil when ctx ends before all is drawn.
func (v *rivals) wins(ctx context.Context, draws int, random *rand.Rand) []float64 {
	v.prune()
	k := len(v.winner)
	counts := make([]float64, len(v.leaders))
	weights := make([]float64, k)
	for range draws {
		if ctx.Err() != nil {
			return nil
		}
		// Exponential draws, scaled to a sum of 1, are uniform on the simplex;
		// the scale does not change the winner.
		for j := range weights {
			weights[j] = random.ExpFloat64()
		}
		first, most := 0, math.Inf(-1)
		for i, leader := range v.leaders {
			if x := dot(weights, leader); x > most {
				first, most = i, x
			}
		}
		beaten := false
		for i := 0; i < len(v.open) && !beaten; i += k {
			beaten = dot(weights, v.open[i:i+k]) > most
		}
		if !beaten && len(counts) > 0 {
			counts[first]++
		}
	}
	for i := range counts {
		counts[i] /= float64(draws)
	}
	return counts
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}
