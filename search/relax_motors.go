package search

import (
	"context"
	"math"
	"slices"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

// MotorsKey is the key of a brief that gives way where another number of motors
// opens builds.
const MotorsKey = "board.motors"

// motors adds each number of motors that the brief does not have and with which,
// in place of its own, enough builds are feasible.
func (r *Relaxed) motors(ctx context.Context, p *constraints.Problem, o RelaxOptions) (complete bool) {
	tried, opened := ease.Concession{}, len(r.Openings)
	for _, n := range constraints.MotorCounts() {
		if slices.Contains(p.Counts, n) {
			continue
		}
		brief := p.Brief.Clone()
		brief.Board.Motors = []float64{float64(n)}
		q, err := constraints.NewProblem(p.Catalog, brief)
		if err != nil {
			continue
		}
		found, err := Rank(ctx, q, Options{Top: 1, Workers: o.Workers, Strict: o.Strict})
		if err != nil || !found.Complete {
			return false
		}
		g := givenMotors(p.Counts, n)
		if tried = g.Concession; found.Feasible < uint64(max(o.Builds, 1)) {
			continue
		}
		best := found.At(0).Build
		r.Openings = append(r.Openings, Opening{
			Concessions: []Given{g}, Cost: g.Cost(g.From, g.To), Build: best, Relaxed: best, Feasible: found.Feasible,
		})
	}
	if tried.Key != "" && len(r.Openings) == opened {
		r.Helpless = append(r.Helpless, tried)
	}
	return true
}

// givenMotors is a number of motors in place of the nearest of others.
func givenMotors(counts []int, n int) Given {
	from, to := 0.0, float64(n)
	for _, c := range counts {
		if x := float64(c); math.Abs(x-to) < math.Abs(from-to) || from == 0 {
			from = x
		}
	}
	eases := 1
	if to < from {
		eases = -1
	}
	c := ease.Concession{Key: MotorsKey, PerSI: 1, Meaning: "another number of motors", Eases: eases}
	return Given{Concession: c, From: from, To: to, Written: to, Short: to}
}
