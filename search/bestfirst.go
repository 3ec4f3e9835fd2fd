package search

import (
	"context"
	"slices"
	"sync"
	"sync/atomic"

	"gearsearch/constraints"
)

// RankOnly ranks the builds that Rank ranks, without counting: it takes the
// electrical groups in the order of a bound on the score of their builds, and
// ends when no bound reaches the scores that are found already. o.Top must be
// above 0. Of the result's Tally only Combinations is set. The error is as from
// Rank.
//
// A million groups are queued at once, at 32 bytes each. Where there are more, a
// sample of them says first which scores are to be reached; then all others take
// their turn, a queue at a time, and few of them are left to look at.
func RankOnly(ctx context.Context, p *constraints.Problem, o Options) (*Result, error) {
	if err := rankable(p, o.Top, MostRanked); err != nil {
		return nil, err
	}
	s := newScorer(p)
	b := newBestFirst(ctx, newPlan(p, o.Strict), s, crew(o.Workers, o.Top), o.Top)
	defer report(&b.done, p.Combinations(), o.Progress)()
	b.search()
	r := &Result{Problem: p, Complete: ctx.Err() == nil, scorer: s, Tally: Tally{Combinations: uint64(p.Combinations())}}
	for _, top := range b.tops {
		r.ranked = append(r.ranked, top.entries...)
	}
	r.ranked = best(r.ranked, o.Top)
	return r, nil
}

// bestFirst is a search without counting.
type bestFirst struct {
	*plan
	ctx       context.Context
	scorer    *scorer
	floor     *floor
	tops      []*top        // by worker
	done      atomic.Uint64 // combinations
	queueSize int           // as the constant of this name
	heldPairs int           // likewise

	// Of the round at hand.
	classes      []*groups
	starts       []int   // the numbers of their first groups
	total        int     // groups
	pairs        int     // in the lanes of the classes
	combinations float64 // that a group stands for, on average
	queue, room  []queued
}

// How much is held at once: groups in the queue, at 32 bytes each, and pairs in
// the lanes of the classes that they are of, at some fifty.
const (
	queueSize = 1 << 20
	heldPairs = 1 << 20
)

func newBestFirst(ctx context.Context, pl *plan, s *scorer, workers, top int) *bestFirst {
	b := &bestFirst{plan: pl, ctx: ctx, scorer: s, floor: newFloor(), queueSize: queueSize, heldPairs: heldPairs}
	b.uncounted = true
	for range workers {
		b.tops = append(b.tops, newTop(s, top, b.floor))
	}
	return b
}

// search searches rounds of as many classes as may be held.
func (b *bestFirst) search() {
	for _, part := range b.stretches() {
		hubs := part.hubs()
		for _, c := range part.classes() {
			if b.ctx.Err() != nil {
				return
			}
			b.add(part.makeGroups(c, hubs), (part.to-part.from)*len(b.problem.Wheels))
			if b.pairs >= b.heldPairs {
				b.round()
			}
		}
	}
	b.round()
}

// add adds a class to the round; each of its groups stands for some
// combinations.
func (b *bestFirst) add(g *groups, combinations int) {
	all, size := float64(b.total)*b.combinations, g.size(b.problem)
	if len(g.lanes) == 0 {
		b.done.Add(uint64(float64(size) * float64(combinations)))
		return
	}
	b.classes, b.starts = append(b.classes, g), append(b.starts, b.total)
	b.total += size
	b.pairs += int(g.survivors)
	b.combinations = (all + float64(size)*float64(combinations)) / float64(b.total)
}

// round searches the groups of the classes at hand, and lets go of them.
func (b *bestFirst) round() {
	size, step := min(b.total, b.queueSize), 1
	if b.queue == nil || cap(b.queue) < size {
		b.queue, b.room = make([]queued, 0, size), make([]queued, size)
	}
	if b.total > b.queueSize {
		step = sampleStep(b.total, b.queueSize, len(b.problem.Batteries)*len(b.problem.Controllers))
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
	b.bound()
	least := b.floor.Load()
	b.queue = slices.DeleteFunc(b.queue, func(q queued) bool { return q.bound < least })
	list := highestFirst(b.queue, b.room)
	left := covered - uint64(b.combinations*float64(len(list)))
	var next atomic.Int64
	var wg sync.WaitGroup
	for _, top := range b.tops {
		wg.Go(func() {
			w := newWorker(b.ctx, b.plan, nil, top, &Tally{Rejected: make([]uint64, len(b.checks))})
			for b.ctx.Err() == nil {
				j := int(next.Add(1)) - 1
				if j >= len(list) {
					return
				}
				switch least := b.floor.Load(); {
				case list[j].step() > stepOf(least):
					return // so are the bounds of all that follow
				case list[j].bound < least:
					continue
				}
				c := b.class(list[j].n)
				w.groups = b.classes[c]
				w.group(list[j].n - b.starts[c])
				b.done.Store(left + uint64(b.combinations*float64(j)))
			}
		})
	}
	wg.Wait()
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

// bound sets the bounds of the groups in the queue.
func (b *bestFirst) bound() {
	const block = 1 << 10
	each(b.ctx, len(b.tops), (len(b.queue)+block-1)/block, func(i int) {
		p, build := b.problem, &constraints.Build{Problem: b.problem}
		for j := i * block; j < min(len(b.queue), (i+1)*block); j++ {
			q := &b.queue[j]
			c := b.class(q.n)
			g := b.classes[c]
			battery, controller, motor := g.parts(p, q.n-b.starts[c])
			build.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[motor], g.count)
			q.bound = micro(b.scorer.bound(build, &g.ends))
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
