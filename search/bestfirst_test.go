package search

import (
	"context"
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
			list = append(list, queued{bound: b, n: i})
		}
		out := highestFirst(slices.Clone(list), make([]queued, len(list)))
		for i := range out {
			if i > 0 && out[i-1].step() > out[i].step() {
				t.Fatalf("%d stands before %d", out[i-1].bound, out[i].bound)
			}
		}
		slices.SortFunc(out, func(a, b queued) int { return a.n - b.n })
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

// TestRoundsEqualPlain: however few groups are queued, and pairs held, and
// drives looked at, at once, the best builds are those of the plain search.
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
			for _, top := range []int{1, 5} {
				pl := newPlan(p, strict)
				pl.stretchPairs = []int{1, 3 * len(p.Wheels), stretchPairs}[seed%3]
				b := newBestFirst(t.Context(), pl, newScorer(p), 1+int(seed%3), top)
				b.queueSize, b.heldPairs = size, []int{1, 10, heldPairs}[seed%3]
				b.search()
				var got []entry
				for _, x := range b.tops {
					got = append(got, x.entries...)
				}
				if d := cmp.Diff(want[:min(top, len(want))], best(got, top), cmp.AllowUnexported(entry{})); d != "" && len(want)+len(got) > 0 {
					t.Fatalf("seed %d, queue of %d, best %d (-plain +rounds):\n%s", seed, size, top, d)
				}
				if got, want := float64(b.done.Load()), p.Combinations(); got > 1.001*want+1000 {
					t.Fatalf("seed %d: %.0f of %.0f combinations done", seed, got, want)
				}
				if len(p.Batteries)*len(p.Controllers) > size {
					sampled++
				}
				rounds += len(pl.stretches())
			}
		}
	}
	if sampled < 100 || rounds < 1000 {
		t.Errorf("%d searches with a sample, %d stretches: too few to tell", sampled, rounds)
	}
}

// TestSampleStep: the sample fits the queue, and of every period it has each
// place.
func TestSampleStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		period := rapid.IntRange(1, 60).Draw(t, "period")
		total := period * rapid.IntRange(1, 50).Draw(t, "times")
		size := rapid.IntRange(1, total).Draw(t, "size")
		step := sampleStep(total, size, period)
		seen := map[int]bool{}
		n := 0
		for i := 0; i < total; i += step {
			n++
		}
		for i := range period {
			seen[i*step%period] = true
		}
		if n > size || len(seen) != period {
			t.Fatalf("step %d takes %d of %d groups and %d of %d places", step, n, total, len(seen), period)
		}
	})
}

// TestQueueIsBounded: a thousand million groups take a queue of a million.
func TestQueueIsBounded(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.PlainStreetBrief)
	q := *p
	q.Motors, q.Controllers, q.Batteries = thousand(p.Motors), thousand(p.Controllers), thousand(p.Batteries)
	ctx, cancel := context.WithCancel(t.Context())
	cancel() // before the first group
	b := newBestFirst(ctx, newPlan(&q, false), newScorer(&q), 1, 20)
	hubs := b.hubs()
	for _, c := range b.plan.classes() {
		b.add(b.makeGroups(c, hubs), 1)
	}
	b.round()
	if b.total < 500_000_000 || cap(b.queue) > queueSize || len(b.room) > queueSize {
		t.Errorf("%d groups, a queue of %d, room for %d", b.total, cap(b.queue), len(b.room))
	}
}

func thousand[T any](list []T) []T {
	var out []T
	for len(out) < 1000 {
		out = append(out, list...)
	}
	return out[:1000]
}
