package search

import (
	"context"
	"encoding/binary"
	"math/bits"
	"slices"
	"sync"
	"sync/atomic"

	"gearsearch/constraints"
)

// Without is a target or limit of a brief with what it costs.
type Without struct {
	constraints.Wish
	// More is how many more builds are feasible when this wish alone is
	// dropped. It is below 0 only where builds behave otherwise without it: a
	// board that no rpm ceiling holds may pass a greatest speed.
	More int64
}

// Wishes is the answer of WithoutEach.
type Wishes struct {
	Feasible uint64    // as the brief stands
	Each     []Without // in the order of the brief's keys
	Complete bool      // false when ctx ended the count early: nothing is known
}

// Dearest are the wishes that cost builds, the dearest first, at most n.
func (w *Wishes) Dearest(n int) []Without {
	list := slices.DeleteFunc(slices.Clone(w.Each), func(x Without) bool { return x.More <= 0 })
	slices.SortStableFunc(list, func(a, b Without) int { return int(min(max(b.More-a.More, -1), 1)) })
	return list[:min(n, len(list))]
}

// WithoutEach counts for each target and limit of the brief how many more builds
// are feasible when it alone is dropped, exactly. The counts do not depend on
// the number of workers; Top is of no effect.
//
// One walk counts them all. A build opens without a wish where all checks that
// reject it are that wish's. So each part of a build has a set of wishes of
// which one would do, which every check that rejects narrows, and a stretch of
// a lane is left where nothing remains of it.
func WithoutEach(ctx context.Context, p *constraints.Problem, o Options) *Wishes {
	out := &Wishes{}
	if Numberable(p) != nil {
		return out // no time would be enough
	}
	var still []constraints.Wish // that leave builds as they are
	for _, w := range p.Wishes() {
		out.Each = append(out.Each, Without{Wish: w})
		if !w.Moves {
			still = append(still, w)
		}
	}
	counts, complete := newWishPlan(p, still, o.Strict).walk(ctx, o)
	out.Feasible = counts[0]
	for i := range out.Each {
		w := &out.Each[i]
		count := uint64(0)
		if w.Moves && complete {
			var alone []uint64
			alone, complete = newWishPlan(p.Dropping(w.Wish), nil, o.Strict).walk(ctx, Options{Workers: o.Workers})
			count = alone[0]
		} else if !w.Moves {
			counts = counts[1:]
			count = counts[0]
		}
		w.More = int64(count) - int64(out.Feasible)
	}
	if out.Complete = complete; !complete {
		out.Feasible, out.Each = 0, nil
	}
	return out
}

// granted is a set of ways in which a build is feasible: bit 0 as the brief
// stands, bit i + 1 without the i-th wish.
type granted uint32

// most is how many wishes have room in granted.
const mostWishes = 31

// wishPlan is the checks that reject, and the floors of wishes, with what each
// leaves.
type wishPlan struct {
	*plan
	all   granted
	waive []granted // by check: the ways in which a build that fails it is feasible
	rest  []uint8   // joint checks with neither window nor sum
}

func newWishPlan(p *constraints.Problem, wishes []constraints.Wish, strict bool) *wishPlan {
	w := &wishPlan{all: 1<<(len(wishes)+1) - 1}
	var checks []*constraints.Check
	for _, check := range p.Checks() {
		if p.Demoted(check) {
			continue
		}
		var waive granted
		for i, wish := range wishes {
			if !slices.Contains(wish.Checks, check.Name) {
				continue
			}
			waive |= 2 << i
			if wish.Floor != nil {
				checks, w.waive = append(checks, wish.Floor), append(w.waive, w.all&^(2<<i))
			}
		}
		checks, w.waive = append(checks, check), append(w.waive, waive)
	}
	w.plan = planOf(p, checks, strict)
	w.rest = slices.DeleteFunc(slices.Clone(w.joint), func(i uint8) bool {
		return slices.Contains(w.windows, i) || slices.Contains(w.sums, i)
	})
	return w
}

// matters reports whether a check can narrow a set.
func (w *wishPlan) matters(check uint8, g granted) bool { return g&^w.waive[check] != 0 }

// narrow puts a build that has the choices that some checks read through them.
func (w *wishPlan) narrow(b *constraints.Build, group []uint8, g granted) granted {
	for _, i := range group {
		if !w.matters(i, g) || b.Drive != nil && !w.checks[i].Lists(b.Drive) {
			continue
		}
		if w.rejects[i].by(w.checks[i].Test(b).Verdict) {
			g &= w.waive[i]
		}
	}
	return g
}

// hubs is what the hub checks leave by drive and wheel, drives outermost.
func (w *wishPlan) hubs() []granted {
	p := w.problem
	out := make([]granted, 0, len(w.drives())*len(p.Wheels))
	b := &constraints.Build{Problem: p}
	for _, b.Drive = range w.drives() {
		for _, b.Wheel = range p.Wheels {
			out = append(out, w.narrow(b, w.hub, w.all))
		}
	}
	return out
}

// wishClass is the motors, of one number of them, on which every drive fits
// alike.
type wishClass struct {
	members []int32
	count   int
	fits    []granted // by drive
}

// classes sorts the motors and counts into classes.
func (w *wishPlan) classes() []*wishClass {
	p := w.problem
	var out []*wishClass
	known := map[string]*wishClass{}
	for m, motor := range p.Motors {
		for n := range p.Counts {
			b := &constraints.Build{Problem: p, Motor: motor, Count: n}
			fits := make([]granted, len(w.drives()))
			key := []byte{byte(n)}
			for d, drive := range w.drives() {
				b.Drive = drive
				fits[d] = w.narrow(b, w.fit, w.all)
				key = binary.LittleEndian.AppendUint32(key, uint32(fits[d]))
			}
			c := known[string(key)]
			if c == nil {
				c = &wishClass{count: n, fits: fits}
				known[string(key)] = c
				out = append(out, c)
			}
			c.members = append(c.members, int32(m))
		}
	}
	return out
}

// wishLane is a lane of which every pair leaves the same.
type wishLane struct {
	*lane
	left granted
}

// lanes sorts a class's pairs into lanes.
func (w *wishPlan) lanes(c *wishClass, hubs []granted) []wishLane {
	wheels := len(w.problem.Wheels)
	alike := map[granted][]pair{}
	for d, fit := range c.fits {
		for wheel := range wheels {
			if g := fit & hubs[d*wheels+wheel]; g != 0 {
				alike[g] = append(alike[g], pair{drive: int32(w.from + d), wheel: int32(wheel)})
			}
		}
	}
	var out []wishLane
	for g, pairs := range alike {
		for _, l := range w.sortLanes(c.count, pairs, w.laneSize) {
			out = append(out, wishLane{l, g})
		}
	}
	return out
}

// walk counts the builds that are feasible in each way, by bit.
func (w *wishPlan) walk(ctx context.Context, o Options) (counts []uint64, complete bool) {
	p := w.problem
	counts = make([]uint64, bits.Len32(uint32(w.all)))
	var done atomic.Uint64 // combinations
	stop := report(&done, p.Combinations(), o.Progress)
	defer stop()
	for _, stretch := range w.stretches() {
		part := *w
		part.plan = stretch
		hubs := part.hubs()
		for _, c := range part.classes() {
			if ctx.Err() != nil {
				return counts, false
			}
			part.count(ctx, c, hubs, counts, &done, workers(o.Workers))
		}
	}
	return counts, ctx.Err() == nil
}

// count counts the builds of a class.
func (w *wishPlan) count(ctx context.Context, c *wishClass, hubs []granted, counts []uint64, done *atomic.Uint64, workers int) {
	p := w.problem
	g := &groups{class: &class{members: c.members, count: c.count}}
	lanes := w.lanes(c, hubs)
	crew := make([]*wishWorker, workers)
	each := uint64(len(w.drives()) * len(p.Wheels))
	var next atomic.Int64
	var wg sync.WaitGroup
	for i := range crew {
		crew[i] = &wishWorker{worker: newWorker(ctx, w.plan, g, nil, nil), wishPlan: w, lanes: lanes, counts: make([]uint64, len(counts))}
		wg.Go(func() {
			for ctx.Err() == nil {
				n := int(next.Add(1)) - 1
				if n >= g.size(p) {
					return
				}
				crew[i].group(n)
				done.Add(each)
			}
		})
	}
	wg.Wait()
	for _, worker := range crew {
		for i, n := range worker.counts {
			counts[i] += n
		}
	}
}
