package search

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"gearsearch/constraints"
)

// Stability says how firmly the first build stands first.
type Stability struct {
	Ranges []WeightRange // of the criteria that apply, in order
	// Wins are the shares of random weight draws in which each of the first
	// builds of the ranking wins over every feasible build, in the order of
	// the ranking. They do not add up to 1 where others win.
	Wins  []float64
	Draws int
}

// WeightRange is how far one weight may move, the others held, before another
// build takes first place.
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
// generator gives the same answer. It searches again; complete is false when
// ctx ended that early. The ranking must not be empty.
func Stable(ctx context.Context, r *Result, first, draws int, random *rand.Rand, o Options) (s *Stability, complete bool) {
	scorer := r.scorer
	n := len(scorer.criteria)
	winner := scorer.vector(assemble(r.Problem, r.ranked[0].id))
	leaders := make([][]float64, min(first, len(r.ranked)))
	for i := range leaders {
		leaders[i] = scorer.vector(assemble(r.Problem, r.ranked[i].id))
	}
	visitors, rivals := make([]visitor, workers(o.Workers)), make([]*rivals, workers(o.Workers))
	for i := range visitors {
		rivals[i] = newRivals(scorer, winner, leaders)
		visitors[i] = rivals[i]
	}
	_, complete = walk(ctx, newPlan(r.Problem, o.Strict), visitors, o.Progress)
	all := rivals[0]
	for _, other := range rivals[1:] {
		all.merge(other)
	}
	s = &Stability{Draws: draws}
	for j := range n {
		s.Ranges = append(s.Ranges, all.weightRange(r.Problem, j))
	}
	s.Wins = all.wins(r, leaders, draws, random)
	return s, complete
}

// vector is the criteria's scores of a build, in order.
func (s *scorer) vector(b *constraints.Build) []float64 {
	v := make([]float64, len(s.criteria))
	for i, c := range s.criteria {
		v[i] = clamped(c.Raw(b))
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
	open    []rival // builds that some weights may put before the leaders
}

// crossing is a weight at which a build draws level with the first.
type crossing struct {
	weight float64
	id     uint64
	found  bool
}

// rival is a build by its scores.
type rival struct {
	scores []float64
	id     uint64
}

func newRivals(s *scorer, winner []float64, leaders [][]float64) *rivals {
	n := len(s.criteria)
	return &rivals{scorer: s, winner: winner, leaders: leaders, low: make([]crossing, n), high: make([]crossing, n)}
}

func (v *rivals) visit(b *constraints.Build, id uint64) {
	scores := v.scorer.vector(b)
	// With weights w the first leads by Σ w (a − b). That is linear in each
	// weight: it falls to 0 at one place at the most.
	lead := 0.0
	for j, w := range v.scorer.weights {
		lead += float64(w * (v.winner[j] - scores[j]))
	}
	for j, w := range v.scorer.weights {
		slope := v.winner[j] - scores[j]
		at := w - lead/slope
		switch {
		case slope > 0 && at >= 0: // a lower weight helps the rival
			v.low[j].move(at, id, at > v.low[j].weight)
		case slope < 0:
			v.high[j].move(at, id, at < v.high[j].weight)
		}
	}
	for _, leader := range v.leaders {
		if covers(leader, scores) { // no weights put it before that leader
			return
		}
	}
	v.open = append(v.open, rival{scores, id})
}

// move takes a crossing that is nearer, or as near with a lower number.
func (c *crossing) move(at float64, id uint64, nearer bool) {
	if !c.found || nearer || at == c.weight && id < c.id {
		*c = crossing{at, id, true}
	}
}

func (v *rivals) merge(o *rivals) {
	for j := range v.low {
		if c := o.low[j]; c.found {
			v.low[j].move(c.weight, c.id, c.weight > v.low[j].weight)
		}
		if c := o.high[j]; c.found {
			v.high[j].move(c.weight, c.id, c.weight < v.high[j].weight)
		}
	}
	v.open = append(v.open, o.open...)
}

func (v *rivals) weightRange(p *constraints.Problem, j int) WeightRange {
	w := WeightRange{Criterion: v.scorer.criteria[j], Weight: v.scorer.weights[j], Low: 0, High: math.Inf(1)}
	if c := v.low[j]; c.found {
		w.Low, w.Below = c.weight, assemble(p, c.id)
	}
	if c := v.high[j]; c.found {
		w.High, w.Above = c.weight, assemble(p, c.id)
	}
	return w
}

// wins draws weights and counts who wins. Ties go to the build that the
// ranking has first.
func (v *rivals) wins(r *Result, leaders [][]float64, draws int, random *rand.Rand) []float64 {
	slices.SortFunc(v.open, func(a, b rival) int {
		if a.id < b.id {
			return -1
		}
		return 1
	})
	counts := make([]float64, len(leaders))
	weights := make([]float64, len(v.scorer.criteria))
	for range draws {
		// Exponential draws, scaled to a sum of 1, are uniform on the simplex;
		// the scale does not change who wins.
		for j := range weights {
			weights[j] = random.ExpFloat64()
		}
		first, most := 0, math.Inf(-1)
		for i, leader := range leaders {
			if x := dot(weights, leader); x > most {
				first, most = i, x
			}
		}
		beaten := slices.ContainsFunc(v.open, func(o rival) bool { return dot(weights, o.scores) > most })
		if !beaten {
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
