package walk

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
		p, ok := randcat.Problem(t, seed+70_000, randcat.Small())
		if !ok {
			continue
		}
		pl := NewPlan(p, seed%3 == 0)
		pl.Sizes.Lane, pl.Sizes.CoreLeast = []int{2, 10, 1000}[seed%3], 0
		hubs := pl.hubs()
		for _, c := range pl.fitClasses() {
			g := pl.groups(c, hubs)
			w := NewWorker(t.Context(), pl, blind{})
			for n := 0; n < g.Size(p); n += 3 {
				w.enter(g.Choices(p, n))
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
							if got := pl.Rejects[index].effect(pl.Checks[index].Test(&w.build).Verdict); got != want {
								t.Fatalf("seed %d: %s at %d of %d is %v, the zone says %v", seed, pl.Checks[index].Name, i, len(l.pairs), got, want)
							}
						}
					}
				}
			}
		}
	}
	t.Logf("%d pairs and checks sure, %d open", sure, open)
	if sure < 5*open || open == 0 { // a zone of two corners leaves more
		t.Errorf("%d sure, %d open: zones decide too little, or nothing is left to tests", sure, open)
	}
}
