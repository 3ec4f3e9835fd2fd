package walk

import (
	"context"
	"iter"
	"math"
	"slices"
	"sync/atomic"

	"gearsearch/constraints"
)

// Floor is a score, in 1e-6 points, that at least as many builds reach as are
// looked for, whichever worker found them. It only rises.
type Floor struct{ score atomic.Int64 }

// NewFloor makes a floor below every score.
func NewFloor() *Floor {
	f := &Floor{}
	f.score.Store(math.MinInt64)
	return f
}

// Score is the floor's score.
func (f *Floor) Score() int64 { return f.score.Load() }

// Raise lifts the floor to a score.
func (f *Floor) Raise(score int64) {
	for {
		now := f.score.Load()
		if score <= now || f.score.CompareAndSwap(now, score) {
			return
		}
	}
}

// BestFirst shows visitors, which raise the floor, the feasible builds of the
// electrical groups whose bound reaches the floor. It counts nothing, and takes
// the groups in the order of their bounds. A bound is a score, in 1e-6 points
// of 100, that no build passes which has the electrical half of the build given
// and a pair of the reach. complete is false when ctx ended it early.
//
// A million groups are queued at once, at 32 bytes each. Where there are more,
// a sample of them first finds scores to be reached; then all others take their
// turn, a queue at a time, and few of them are left to look at.
func BestFirst[V Visitor](
	ctx context.Context, pl *Plan, visitors []V, floor *Floor, bound func(b *constraints.Build, r *Reach) int64, progress func(done, total float64),
) (complete bool) {
	b := newBestFirst(ctx, pl, visitors, floor, bound)
	defer Report(&b.done, pl.Problem.Combinations(), progress)()
	b.search()
	return ctx.Err() == nil
}

// bestFirst is a search without counting.
type bestFirst struct {
	*Plan
	ctx   context.Context
	bound func(b *constraints.Build, r *Reach) int64
	floor *Floor
	crew  []*Worker
	done  atomic.Uint64 // combinations

	// Of the round at hand.
	classes      []*Groups
	starts       []int   // the numbers of their first groups
	total        int     // groups
	pairs        int     // in the lanes of the classes
	combinations float64 // that a group stands for, on average
	queue, room  []queued
}

func newBestFirst[V Visitor](ctx context.Context, pl *Plan, visitors []V, floor *Floor, bound func(b *constraints.Build, r *Reach) int64) *bestFirst {
	own := *pl
	own.Uncounted = true
	b := &bestFirst{Plan: &own, ctx: ctx, bound: bound, floor: floor}
	for _, v := range visitors {
		b.crew = append(b.crew, NewWorker(ctx, b.Plan, v))
	}
	return b
}

// search searches rounds of as many classes as may be held.
func (b *bestFirst) search() {
	for g := range b.Groups() {
		if b.ctx.Err() != nil {
			return
		}
		b.add(g)
		if b.pairs >= b.Sizes.HeldPairs {
			b.round()
		}
	}
	b.round()
}

// add adds a class to the round.
func (b *bestFirst) add(g *Groups) {
	all, size := float64(b.total)*b.combinations, g.Size(b.Problem)
	if g.Survivors == 0 {
		b.done.Add(uint64(float64(size) * float64(g.pairs)))
		return
	}
	b.classes, b.starts = append(b.classes, g), append(b.starts, b.total)
	b.total += size
	b.pairs += int(g.Survivors)
	b.combinations = (all + float64(size)*float64(g.pairs)) / float64(b.total)
}

// round searches the groups of the classes at hand, and lets go of them.
func (b *bestFirst) round() {
	size, step := min(b.total, b.Sizes.Queue), 1
	if b.queue == nil || cap(b.queue) < size {
		b.queue, b.room = make([]queued, 0, size), make([]queued, size)
	}
	if b.total > b.Sizes.Queue {
		step = sampleStep(b.total, b.Sizes.Queue, len(b.Problem.Batteries)*len(b.Problem.Controllers))
		for n := 0; n < b.total; n += step {
			b.queue = append(b.queue, queued{n: n})
		}
		b.run()
	}
	for n := range b.total {
		if step == 1 || n%step != 0 {
			b.queue = append(b.queue, queued{n: n})
		}
		if len(b.queue) == size || n == b.total-1 {
			if b.ctx.Err() != nil {
				return
			}
			b.run()
		}
	}
	b.classes, b.starts, b.total, b.pairs = b.classes[:0], b.starts[:0], 0, 0
}

// sampleStep is the step from group to group of a sample of at most size of
// total groups. It has no divisor in common with period, so that the sample has
// every part of a class in the same share.
func sampleStep(total, size, period int) int {
	step := (total + size - 1) / size
	for gcd(step, period) != 1 {
		step++
	}
	return step
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// run searches the groups in the queue, and empties it.
func (b *bestFirst) run() {
	covered := b.done.Load() + uint64(b.combinations*float64(len(b.queue)))
	b.setBounds()
	least := b.floor.Score()
	b.queue = slices.DeleteFunc(b.queue, func(q queued) bool { return q.bound < least })
	list := highestFirst(b.queue, b.room)
	left := covered - uint64(b.combinations*float64(len(list)))
	Parallel(b.ctx, len(b.crew), len(list), func(worker int, numbers iter.Seq[int]) {
		w := b.crew[worker]
		for j := range numbers {
			switch least := b.floor.Score(); {
			case list[j].step() > stepOf(least):
				return // so are the bounds of all that follow
			case list[j].bound < least:
				continue
			}
			c := b.class(list[j].n)
			w.Group(b.classes[c], list[j].n-b.starts[c])
			b.done.Store(left + uint64(b.combinations*float64(j)))
		}
	})
	if b.ctx.Err() == nil {
		b.done.Store(covered)
	}
	b.queue = b.queue[:0]
}

// class is the place of the class that has a group.
func (b *bestFirst) class(n int) int {
	i, found := slices.BinarySearch(b.starts, n)
	if !found {
		i--
	}
	return i
}

// setBounds sets the bounds of the groups in the queue.
func (b *bestFirst) setBounds() {
	const block = 1 << 10
	Each(b.ctx, len(b.crew), (len(b.queue)+block-1)/block, func(i int) {
		build := &constraints.Build{Problem: b.Problem}
		for j := i * block; j < min(len(b.queue), (i+1)*block); j++ {
			q := &b.queue[j]
			c := b.class(q.n)
			g := b.classes[c]
			g.Choices(b.Problem, q.n-b.starts[c]).Electrify(build)
			q.bound = b.bound(build, &g.Ends)
		}
	})
}

// queued is an electrical group, by its number in the round, with the bound on
// its builds' scores, rounded to 1e-6.
type queued struct {
	bound int64
	n     int
}

// Bounds are sorted into steps of a twentieth of a point; scores go up to 100.
const (
	boundStep  = 50_000 // of 1e-6 points
	boundSteps = 2_100
)

// stepOf is the step that a score falls into, 0 for the highest.
func stepOf(score int64) int { return boundSteps - 1 - int(max(0, min(boundSteps-1, score/boundStep))) }

func (q *queued) step() int { return stepOf(q.bound) }

// highestFirst sorts by steps of the bounds, into room. What a search finds does
// not depend on the order, only how soon it ends, and a full sort would take
// longer than the rest.
func highestFirst(list, room []queued) []queued {
	var starts [boundSteps + 1]int
	for i := range list {
		starts[list[i].step()+1]++
	}
	for i := range boundSteps {
		starts[i+1] += starts[i]
	}
	out := room[:len(list)]
	for _, q := range list {
		at := &starts[q.step()]
		out[*at] = q
		*at++
	}
	return out
}
