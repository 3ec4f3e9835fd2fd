package walk

import (
	"context"
	"iter"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
)

// TestParallelDealsEachNumberOnce: whatever the number of workers, to each in
// ascending order.
func TestParallelDealsEachNumberOnce(t *testing.T) {
	for _, workers := range []int{1, 2, 7, 200} {
		const n = 100
		var mu sync.Mutex
		var all []int
		Parallel(t.Context(), workers, n, func(worker int, numbers iter.Seq[int]) {
			own := slices.Collect(numbers)
			mu.Lock()
			defer mu.Unlock()
			if !slices.IsSorted(own) || worker >= workers {
				t.Errorf("worker %d of %d gets %v", worker, workers, own)
			}
			all = append(all, own...)
		})
		slices.Sort(all)
		if len(all) != n || len(slices.Compact(all)) != n {
			t.Errorf("%d workers: %d numbers dealt, of %d", workers, len(all), n)
		}
	}
}

// TestParallelEnds: a worker that stops gets no more, and none does once the
// context has ended.
func TestParallelEnds(t *testing.T) {
	var dealt atomic.Int64
	Parallel(t.Context(), 3, 1000, func(_ int, numbers iter.Seq[int]) {
		for range numbers {
			dealt.Add(1)
			return
		}
	})
	if got := dealt.Load(); got > 3 {
		t.Errorf("three workers that stop at once got %d numbers", got)
	}
	ctx, cancel := context.WithCancel(t.Context())
	done := 0
	Each(ctx, 1, 1000, func(i int) {
		if done++; i == 9 {
			cancel()
		}
	})
	if done != 10 {
		t.Errorf("%d done, ended in the tenth", done)
	}
	Each(t.Context(), 3, 0, func(int) { t.Error("something is done of nothing") })
}

// TestReportCallsALastTime: with what is done when it stops, and not where
// nobody asked.
func TestReportCallsALastTime(t *testing.T) {
	var done atomic.Uint64
	var last, total float64
	stop := Report(&done, 12, func(n, of float64) { last, total = n, of })
	done.Store(7)
	stop()
	if last != 7 || total != 12 {
		t.Errorf("%g of %g reported, want 7 of 12", last, total)
	}
	Report(&done, 12, nil)()
}
