package search

import (
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// TestBoundIsNotPassed: no pair of any stretch of a lane scores more than the
// stretch's bound, nor more than its group's.
func TestBoundIsNotPassed(t *testing.T) {
	scored := 0
	for seed := range uint64(300) {
		if p, ok := randomProblem(t, seed+80_000, randcat.Small()); ok {
			scored += boundsHold(t, p, []int{1, 3, 1000}[seed%3], 5)
		}
	}
	scored += boundsHold(t, marketProblem(t, markets[0], randcat.PlainStreetBrief), laneSize, 20)
	if scored < 1000 {
		t.Errorf("only %d scores compared", scored)
	}
}

// boundsHold compares the scores of every so many groups' pairs to the bounds.
func boundsHold(t *testing.T, p *constraints.Problem, size, every int) (scored int) {
	t.Helper()
	pl, s := newPlan(p, false), newScorer(p)
	pl.laneSize = size
	hubs, b := pl.hubs(), &constraints.Build{Problem: p}
	for _, c := range pl.classes() {
		g := pl.makeGroups(c, hubs)
		for n := 0; n < g.size(p); n += every {
			battery, controller, motor := g.parts(p, n)
			b.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[motor], g.count)
			for i, l := range g.lanes {
				group, from := s.bound(b, &g.ends), (n+i)%len(l.pairs)
				stretch := l.reach(from, len(l.pairs))
				bound := s.bound(b, &stretch)
				for _, pair := range l.pairs[from:] {
					b.Roll(p.Drives[pair.drive], p.Wheels[pair.wheel])
					score := s.score(b)
					if score > bound || score > group {
						t.Fatalf("a score of %v passes the bound %v or the group's %v", score, bound, group)
					}
					scored++
				}
			}
		}
	}
	return scored
}

// BenchmarkBound bounds the scores of an electrical group.
func BenchmarkBound(b *testing.B) {
	p := marketProblem(b, markets[2], randcat.PlainStreetBrief)
	pl, s := newPlan(p, false), newScorer(p)
	g := pl.makeGroups(pl.classes()[0], pl.hubs())
	build := &constraints.Build{Problem: p}
	battery, controller, motor := g.parts(p, 0)
	build.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[motor], g.count)
	for b.Loop() {
		s.bound(build, &g.ends)
	}
}
