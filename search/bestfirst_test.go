package search

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"gearsearch/search/internal/randcat"
)

// TestHighestFirst: everything queued comes out once, and no bound stands
// behind one that is more than a step lower.
func TestHighestFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bound := rapid.OneOf(rapid.Int64Range(-50_000, 105_000_000), rapid.SampledFrom([]int64{0, boundStep - 1, boundStep, math.MaxInt64}))
		bounds := rapid.SliceOfN(bound, 0, 60).Draw(t, "bounds")
		var list []queued
		for i, b := range bounds {
			list = append(list, queued{bound: b, n: int32(i)})
		}
		out := highestFirst(slices.Clone(list))
		for i := range out {
			if i > 0 && out[i-1].step() > out[i].step() {
				t.Fatalf("%d stands before %d", out[i-1].bound, out[i].bound)
			}
		}
		slices.SortFunc(out, func(a, b queued) int { return int(a.n - b.n) })
		if !slices.Equal(list, out) {
			t.Fatalf("%v went in, %v came out", list, out)
		}
	})
}

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
