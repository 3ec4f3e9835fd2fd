package walk

import (
	"context"
	"iter"
	"runtime"
	"sync"
	"sync/atomic"
	"time"
)

// Workers is how many workers an option asks for: 0 means every processor.
func Workers(n int) int {
	if n > 0 {
		return n
	}
	return runtime.GOMAXPROCS(0)
}

// Crew makes something for each of n workers, such as a visitor.
func Crew[T any](n int, one func() T) []T {
	crew := make([]T, n)
	for i := range crew {
		crew[i] = one()
	}
	return crew
}

// Parallel deals the numbers below n, in order, to some workers, until ctx
// ends. Each worker works with its own item; a worker that stops takes no more
// numbers.
func Parallel(ctx context.Context, workers, n int, work func(worker int, numbers iter.Seq[int])) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for worker := range min(workers, n) {
		wg.Go(func() {
			work(worker, func(yield func(int) bool) {
				for ctx.Err() == nil {
					i := int(next.Add(1)) - 1
					if i >= n || !yield(i) {
						return
					}
				}
			})
		})
	}
	wg.Wait()
}

// Each does something for every number below n, in order, on some workers,
// until ctx ends.
func Each(ctx context.Context, workers, n int, do func(i int)) {
	Parallel(ctx, workers, n, func(_ int, numbers iter.Seq[int]) {
		for i := range numbers {
			do(i)
		}
	})
}

// Report calls progress with done every so often until the returned function
// is called, which calls it a last time.
func Report(done *atomic.Uint64, total float64, progress func(done, total float64)) (stop func()) {
	if progress == nil {
		return func() {}
	}
	const every = 100 * time.Millisecond
	quit, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		tick := time.NewTicker(every)
		defer tick.Stop()
		for {
			select {
			case <-tick.C:
				progress(float64(done.Load()), total)
			case <-quit:
				progress(float64(done.Load()), total)
				return
			}
		}
	}()
	return func() { close(quit); <-ended }
}
