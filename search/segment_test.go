package search

import (
	"math"
	"slices"
	"sort"
	"testing"

	"pgregory.net/rapid"

	"gearsearch/search/internal/randcat"
)

// TestSpanIsThePositions: the positions of a span are those whose values lie
// in it, by the library's bisection and one by one.
func TestSpanIsThePositions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Few values, so that ends fall on them.
		value := rapid.Map(rapid.IntRange(0, 12), func(i int) float64 { return float64(i) / 4 })
		list := rapid.SliceOfN(value, 1, 30).Draw(t, "list")
		slices.Sort(list)
		low, high := value.Draw(t, "low"), rapid.OneOf(value, rapid.SampledFrom([]float64{math.Inf(1), math.NaN(), -1})).Draw(t, "high")
		if got, want := lowerBound(list, low), sort.SearchFloat64s(list, low); got != want {
			t.Fatalf("lowerBound %v in %v: %d, want %d", low, list, got, want)
		}
		from, to := span(list, low, high)
		for i, x := range list {
			if inside, want := i >= from && i < to, x >= low && x <= high; inside != want {
				t.Fatalf("[%v, %v] of %v is [%d, %d)", low, high, list, from, to)
			}
		}
	})
}

// TestCutsAreASortedSet: whatever is added in whatever order.
func TestCutsAreASortedSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		added := rapid.SliceOfN(rapid.IntRange(0, 40), 0, 4*maxZones+2).Draw(t, "added")
		var c cuts
		for _, x := range added {
			c.add(x)
		}
		slices.Sort(added)
		if want := slices.Compact(added); !slices.Equal(want, c.at[:c.n]) {
			t.Fatalf("cuts %v, want %v", c.at[:c.n], want)
		}
	})
}

// TestZonesAreSound: where a zone says that a check accepts, rejects or is
// undecided, the exact test of every pair there says so too.
func TestZonesAreSound(t *testing.T) {
	var sure, open int
	for seed := range uint64(300) {
		p, ok := randomProblem(t, seed+70_000, randcat.Small())
		if !ok {
			continue
		}
		pl := newPlan(p, seed%3 == 0)
		pl.laneSize = []int{2, 10, 1000}[seed%3]
		hubs := pl.hubs()
		for _, c := range pl.classes() {
			g := pl.makeGroups(c, hubs)
			w := newWorker(t.Context(), pl, g, &collector{}, &Tally{Rejected: make([]uint64, len(pl.checks))})
			for n := 0; n < g.size(p); n += 3 {
				battery, controller, motor := g.parts(p, n)
				w.build.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[motor], g.count)
				for _, l := range g.lanes {
					for _, index := range pl.windows {
						z := w.zone(l, index)
						for i, pair := range l.pairs {
							want := z.at(i)
							if want == unsure {
								open++
								continue
							}
							sure++
							w.build.Roll(p.Drives[pair.drive], p.Wheels[pair.wheel])
							if got := pl.rejects[index].effect(pl.checks[index].Test(&w.build).Verdict); got != want {
								t.Fatalf("seed %d: %s at %d of %d is %v, the zone says %v", seed, pl.checks[index].Name, i, len(l.pairs), got, want)
							}
						}
					}
				}
			}
		}
	}
	t.Logf("%d pairs and checks sure, %d open", sure, open)
	if sure < 10*open || open == 0 {
		t.Errorf("%d sure, %d open: zones decide too little, or nothing is left to tests", sure, open)
	}
}

// BenchmarkGroup decides the pairs of one electrical group of a market: its
// windows, zones and segments.
func BenchmarkGroup(b *testing.B) {
	pl := newPlan(marketProblem(b, markets[2], randcat.PlainStreetBrief), false)
	hubs := pl.hubs()
	g := pl.makeGroups(pl.classes()[0], hubs)
	t := &Tally{Rejected: make([]uint64, len(pl.checks))}
	w := newWorker(b.Context(), pl, g, &top{scorer: newScorer(pl.problem), n: 20, floor: newFloor()}, t)
	n := 0
	for b.Loop() {
		w.group(n % g.size(pl.problem))
		n++
	}
	b.ReportMetric(float64(t.Combinations)/float64(n), "pairs/op")
}
