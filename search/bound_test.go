package search

import (
	"math"
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

// TestGroupsEndsCoverTheirLanes: what the pairs of a group have at best is the
// best of its lanes in each respect, whichever lane has it.
func TestGroupsEndsCoverTheirLanes(t *testing.T) {
	differ := 0
	for seed := range uint64(300) {
		p, ok := randomProblem(t, seed+90_000, randcat.Small())
		if !ok {
			continue
		}
		pl := newPlan(p, false)
		pl.laneSize = 2
		hubs := pl.hubs()
		for _, c := range pl.classes() {
			g := pl.makeGroups(c, hubs)
			if len(g.lanes) == 0 {
				continue
			}
			best := func(what string, got float64, of func(r *reach) float64, most bool) {
				want := of(&g.lanes[0].ends)
				for _, l := range g.lanes {
					if x := of(&l.ends); x != want {
						differ++
						if (x > want) == most {
							want = x
						}
					}
				}
				if got != want {
					t.Errorf("seed %d: the best %s is %v, the group has %v", seed, what, want, got)
				}
			}
			best("efficiency", g.ends.light.Efficiency, func(r *reach) float64 { return r.light.Efficiency }, true)
			best("rolling resistance", g.ends.light.Crr, func(r *reach) float64 { return r.light.Crr }, false)
			best("mass on the lane", g.ends.light.Mass, func(r *reach) float64 { return r.light.Mass }, false)
			best("low gearing", g.ends.low, func(r *reach) float64 { return r.low }, false)
			best("high gearing", g.ends.high, func(r *reach) float64 { return r.high }, true)
			best("price", g.ends.price, func(r *reach) float64 { return r.price }, false)
			best("mass", g.ends.mass, func(r *reach) float64 { return r.mass }, false)
			best("mesh", g.ends.mesh, func(r *reach) float64 { return r.mesh }, true)
		}
	}
	if differ < 1000 {
		t.Errorf("only %d lanes differ from the first of their group", differ)
	}
}

// TestBoundOfTheUnknown: what is not known scores nothing, so the bound expects
// nothing of it; a search that did would look at every build of a catalog that
// gives few masses.
func TestBoundOfTheUnknown(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	pl := newPlan(p, false)
	g := pl.makeGroups(pl.classes()[0], pl.hubs())
	battery, controller, motor := g.parts(p, 0)
	p.PriceReference, p.MassReference = 1e6, 1e6 // beyond any build's
	build := &constraints.Build{Problem: p}
	best := func(r reach) (price, mass float64) {
		build.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[motor], g.count)
		return clamped(priceBest(build, &r)), clamped(massBest(build, &r))
	}
	if price, mass := best(g.ends); price == 0 || mass == 0 {
		t.Errorf("all known: %g for the price, %g for the mass, want some of both", price, mass)
	}
	none := g.ends
	none.price = leastKnown(math.Inf(1), constraints.Sum{Missing: true}, constraints.Sum{Known: 1})
	none.mass = leastKnown(math.Inf(1), constraints.Sum{Known: 1}, constraints.Sum{Missing: true})
	if price, mass := best(none); price != 0 || mass != 0 {
		t.Errorf("nothing known of drives and wheels: %g for the price, %g for the mass, want 0", price, mass)
	}
	m := p.Motors[motor]
	m.Price[g.count].Missing, m.Mass[g.count].Missing = true, true
	if price, mass := best(g.ends); price != 0 || mass != 0 {
		t.Errorf("nothing known of the motor: %g for the price, %g for the mass, want 0", price, mass)
	}
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
