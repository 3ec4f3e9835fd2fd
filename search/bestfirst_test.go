package search

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// TestRankOnlyIsTheBestOfRank: on markets, for any number of workers and of
// builds, beyond all that are feasible too.
func TestRankOnlyIsTheBestOfRank(t *testing.T) {
	for name, text := range map[string]string{"plain": randcat.PlainStreetBrief, "full": randcat.StreetBrief} {
		p := marketProblem(t, markets[0], text)
		all, err := Rank(t.Context(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, top := range []int{1, 2, 20, all.Len() - 1, all.Len() + 1} {
			for _, workers := range []int{1, 2, 7} {
				got, err := RankOnly(t.Context(), p, Options{Top: top, Workers: workers})
				if err != nil {
					t.Fatal(err)
				}
				if d := cmp.Diff(all.ranked[:min(top, all.Len())], got.ranked, cmp.AllowUnexported(entry{})); d != "" {
					t.Fatalf("%s brief, best %d, %d workers (-all +only):\n%s", name, top, workers, d)
				}
			}
		}
	}
}

// TestRoundsEqualPlain: however few groups are queued, pairs held and shown, and drives
// looked at, at once, the best builds are those of the plain search.
func TestRoundsEqualPlain(t *testing.T) {
	sampled, rounds := 0, 0
	for seed := range uint64(200) {
		p, ok := randomProblem(t, seed+40_000, randcat.Small())
		if !ok {
			continue
		}
		strict := seed%3 == 0
		_, want := plain(p, strict)
		for _, size := range []int{1, 2, 7, 50} {
			for _, best := range []int{1, 5} {
				pl, scorer, low, done := walk.NewPlan(p, strict), newScorer(p), walk.NewFloor(), 0.0
				pl.Sizes.StretchPairs = []int{1, 3 * len(p.Wheels), pl.Sizes.StretchPairs}[seed%3]
				pl.Sizes.Queue, pl.Sizes.HeldPairs = size, []int{1, 10, pl.Sizes.HeldPairs}[seed%3]
				pl.Sizes.Piece, pl.Sizes.LaneLeast = []int{1, 3, pl.Sizes.Piece}[seed/3%3], 2
				tops := walk.Crew(1+int(seed%3), func() *top { return newTop(scorer, best, low, nil) })
				walk.BestFirst(t.Context(), pl, tops, low, scorer.microBound, func(n, _ float64) { done = n })
				got := bestOf(tops, best)
				if d := cmp.Diff(want[:min(best, len(want))], got, cmp.AllowUnexported(entry{})); d != "" && len(want)+len(got) > 0 {
					t.Fatalf("seed %d, queue of %d, best %d (-plain +rounds):\n%s", seed, size, best, d)
				}
				if want := p.Combinations(); done > 1.001*want+1000 {
					t.Fatalf("seed %d: %.0f of %.0f combinations done", seed, done, want)
				}
				if len(p.Batteries)*len(p.Controllers) > size {
					sampled++
				}
				for range pl.Groups() {
					rounds++
				}
			}
		}
	}
	if sampled < 100 || rounds < 1000 {
		t.Errorf("%d searches with a sample, %d classes in stretches: too few to tell", sampled, rounds)
	}
}
