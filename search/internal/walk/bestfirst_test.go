package walk

import (
	"context"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gearsearch/constraints"
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
	p := randcat.MarketProblem(t, randcat.Markets()[0], randcat.PlainStreetBrief)
	q := p.With(
		constraints.Only(slices.Repeat(p.Motors, 1000)[:1000]...), constraints.Only(slices.Repeat(p.Controllers, 1000)[:1000]...),
		constraints.Only(slices.Repeat(p.Batteries, 1000)[:1000]...),
	)
	ctx, cancel := context.WithCancel(t.Context())
	cancel() // before the first group
	b := newBestFirst(ctx, NewPlan(q, false), []Visitor{nil}, NewFloor(), func(*constraints.Build, *Reach) int64 { return 0 })
	for g := range b.WholeGroups() {
		b.add(g)
	}
	b.round()
	if b.total < 500_000_000 || cap(b.queue) > queueSize || len(b.room) > queueSize {
		t.Errorf("%d groups, a queue of %d, room for %d", b.total, cap(b.queue), len(b.room))
	}
}
