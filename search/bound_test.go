package search

import (
	"math"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// TestBoundIsNotPassed: no build of any stretch of a lane scores more than the
// stretch's bound, nor more than its group's; neither one that is feasible nor
// one that checks of numbers reject.
func TestBoundIsNotPassed(t *testing.T) {
	scored := 0
	for seed := range uint64(300) {
		if p, ok := randomProblem(t, seed+80_000, randcat.Small()); ok {
			scored += boundsHold(t, p, []int{1, 3, 1000}[seed%3], 5)
		}
	}
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	scored += boundsHold(t, p, walk.NewPlan(p, false).Sizes.Lane, 20)
	if scored < 1000 {
		t.Errorf("only %d scores compared", scored)
	}
}

// boundKeeper is a visitor that compares the scores of builds to the bounds of the
// stretch and the group that they are of.
type boundKeeper struct {
	t              *testing.T
	scorer         *scorer
	group, stretch float64
	low, high      float64 // gearing, 1/m, of the stretch
	scored         int
}

func (v *boundKeeper) Passes(b *constraints.Build, r *walk.Reach) bool {
	v.stretch, v.low, v.high = v.scorer.bound(b, r), r.Low, r.High
	return false
}

func (v *boundKeeper) Visit(b *constraints.Build, _ uint64) {
	gearing := b.Drive.Reduction / b.Wheel.Radius
	if score := v.scorer.score(b); score > v.group || score > v.stretch && gearing >= v.low && gearing <= v.high {
		v.t.Fatalf("a score of %v passes the bound %v or the group's %v", score, v.stretch, v.group)
	}
	v.scored++
}

// boundsHold compares the scores of every so many groups' builds to the bounds:
// of the feasible ones, by stretches, and of all that fit together, by lanes.
func boundsHold(t *testing.T, p *constraints.Problem, size, every int) (scored int) {
	t.Helper()
	var measured []string
	for _, c := range p.Checks() {
		if c.Unit != "" {
			measured = append(measured, c.Name)
		}
	}
	for _, q := range []*constraints.Problem{p, p.With(constraints.Demoting(measured...))} {
		pl := walk.NewPlan(q, false)
		pl.Sizes.Lane, pl.Sizes.LaneLeast, pl.Uncounted = size, 1, true
		v := &boundKeeper{t: t, scorer: newScorer(q)}
		w, build := walk.NewWorker(t.Context(), pl, v), &constraints.Build{Problem: q}
		for g := range pl.Groups() {
			for n := 0; n < g.Size(q); n += every {
				g.Choices(q, n).Electrify(build)
				v.group = v.scorer.bound(build, &g.Ends)
				w.Group(g, n)
			}
		}
		scored += v.scored
	}
	return scored
}

// firstGroups are those of a problem's first class.
func firstGroups(p *constraints.Problem) *walk.Groups {
	for g := range walk.NewPlan(p, false).Groups() {
		return g
	}
	return nil
}

// TestBoundOfTheUnknown: what is not known scores nothing, so the bound expects
// nothing of it; a search that did would look at every build of a catalog that
// gives few masses.
func TestBoundOfTheUnknown(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	g := firstGroups(p)
	choices := g.Choices(p, 0)
	p.PriceReference, p.MassReference = 1e6, 1e6 // beyond any build's
	build := &constraints.Build{Problem: p}
	best := func(r walk.Reach) (price, mass float64) {
		choices.Electrify(build)
		return clamped(priceBest(build, &r)), clamped(massBest(build, &r))
	}
	if price, mass := best(g.Ends); price == 0 || mass == 0 {
		t.Errorf("all known: %g for the price, %g for the mass, want some of both", price, mass)
	}
	none := g.Ends
	none.Price, none.Mass = math.Inf(1), math.Inf(1)
	if price, mass := best(none); price != 0 || mass != 0 {
		t.Errorf("nothing known of drives and wheels: %g for the price, %g for the mass, want 0", price, mass)
	}
	m := p.Motors[choices.Motor]
	m.Price[choices.Count].Missing, m.Mass[choices.Count].Missing = true, true
	if price, mass := best(g.Ends); price != 0 || mass != 0 {
		t.Errorf("nothing known of the motor: %g for the price, %g for the mass, want 0", price, mass)
	}
}

// BenchmarkBound bounds the scores of an electrical group.
func BenchmarkBound(b *testing.B) {
	p := marketProblem(b, markets[2], randcat.PlainStreetBrief)
	s, g := newScorer(p), firstGroups(p)
	build := &constraints.Build{Problem: p}
	g.Choices(p, 0).Electrify(build)
	for b.Loop() {
		s.bound(build, &g.Ends)
	}
}

// BenchmarkGroup decides the pairs of one electrical group of a market: its
// windows, zones and segments.
func BenchmarkGroup(b *testing.B) {
	p := marketProblem(b, markets[2], randcat.PlainStreetBrief)
	g := firstGroups(p)
	w := walk.NewWorker(b.Context(), walk.NewPlan(p, false), newTop(newScorer(p), 20, walk.NewFloor(), nil))
	n := 0
	for b.Loop() {
		w.Group(g, n%g.Size(p))
		n++
	}
	b.ReportMetric(float64(w.Tally.Combinations)/float64(n), "pairs/op")
}
