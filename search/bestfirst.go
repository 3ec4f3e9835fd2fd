package search

import (
	"context"
	"sync"
	"sync/atomic"

	"gearsearch/constraints"
)

// RankOnly ranks the builds that Rank ranks, without counting: it takes the
// electrical groups in the order of a bound on the score of their builds, and
// ends when no bound reaches the scores that are found already. o.Top must be
// above 0. Of the result's Tally only Combinations is set. The queue takes 32
// bytes for each battery, controller, motor and number of motors.
func RankOnly(ctx context.Context, p *constraints.Problem, o Options) (*Result, error) {
	if err := Numberable(p); err != nil {
		return nil, err
	}
	pl, s, low := newPlan(p, o.Strict), newScorer(p), newFloor()
	pl.uncounted = true
	hubs := pl.hubs()
	var classes []*groups
	for _, c := range pl.classes() {
		classes = append(classes, pl.makeGroups(c, hubs))
	}
	queue := pl.queue(s, classes, workers(o.Workers))
	var done atomic.Uint64 // combinations, as if every group had as many
	each := p.Combinations() / float64(max(1, len(queue)))
	defer report(&done, p.Combinations(), o.Progress)()
	tops := make([]*top, workers(o.Workers))
	var next atomic.Int64
	var wg sync.WaitGroup
	for i := range tops {
		tops[i] = &top{scorer: s, n: o.Top, floor: low}
		wg.Go(func() {
			t := Tally{Rejected: make([]uint64, len(pl.checks))}
			w := newWorker(ctx, pl, nil, tops[i], &t)
			for ctx.Err() == nil {
				j := int(next.Add(1)) - 1
				if j >= len(queue) {
					return
				}
				switch least := low.Load(); {
				case queue[j].step() > stepOf(least):
					return // so are the bounds of all that follow
				case queue[j].bound < least:
					continue
				}
				w.groups = classes[queue[j].class]
				w.group(int(queue[j].n))
				done.Store(uint64(each * float64(j)))
			}
		})
	}
	wg.Wait()
	r := &Result{Problem: p, Complete: ctx.Err() == nil, scorer: s, Tally: Tally{Combinations: uint64(p.Combinations())}}
	for _, top := range tops {
		r.ranked = append(r.ranked, top.entries...)
	}
	r.ranked = best(r.ranked, o.Top)
	return r, nil
}

// queued is an electrical group of a class with the bound on its builds'
// scores, rounded to 1e-6.
type queued struct {
	bound    int64
	class, n int32
}

// queue lists the groups of all classes, those with the highest bounds first.
func (pl *plan) queue(s *scorer, classes []*groups, workers int) []queued {
	p, total := pl.problem, 0
	for _, g := range classes {
		total += g.size(p)
	}
	out := make([]queued, 0, total)
	for c, g := range classes {
		if len(g.lanes) == 0 {
			continue
		}
		for n := range g.size(p) {
			out = append(out, queued{class: int32(c), n: int32(n)})
		}
	}
	var wg sync.WaitGroup
	for i := range workers {
		wg.Go(func() {
			b := &constraints.Build{Problem: p}
			for j := i * len(out) / workers; j < (i+1)*len(out)/workers; j++ {
				q := &out[j]
				g := classes[q.class]
				battery, controller, motor := g.parts(p, int(q.n))
				b.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[motor], g.count)
				q.bound = micro(s.bound(b, &g.ends))
			}
		})
	}
	wg.Wait()
	return highestFirst(out)
}

// Bounds are sorted into steps of a twentieth of a point; scores go up to 100.
const (
	boundStep  = 50_000 // of 1e-6 points
	boundSteps = 2_100
)

// stepOf is the step that a score falls into, 0 for the highest.
func stepOf(score int64) int { return boundSteps - 1 - int(max(0, min(boundSteps-1, score/boundStep))) }

func (q *queued) step() int { return stepOf(q.bound) }

// highestFirst sorts by steps of the bounds. What a search finds does not
// depend on the order, only how soon it ends, and a full sort would take
// longer than the rest.
func highestFirst(list []queued) []queued {
	var starts [boundSteps + 1]int
	for i := range list {
		starts[list[i].step()+1]++
	}
	for i := range boundSteps {
		starts[i+1] += starts[i]
	}
	out := make([]queued, len(list))
	for _, q := range list {
		at := &starts[q.step()]
		out[*at] = q
		*at++
	}
	return out
}
