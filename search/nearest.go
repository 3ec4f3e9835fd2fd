package search

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"gearsearch/constraints"
)

// NearMiss is the build that comes nearest to feasible: the one with the
// fewest misses that no number measures (a bore, a hub, missing data under
// strict), and among those the one whose largest relative miss is smallest.
// The first in the order of ids wins among equals.
type NearMiss struct {
	Build  *constraints.Build
	Misses []constraints.Result // the checks that reject it, in order
}

// Nearest finds the nearest miss of a problem in which nothing is feasible.
// complete is false when ctx ended the search early; n is nil when it ended
// before any combination was seen. It remembers 16 bytes for each drive and
// wheel, and for each drive and worker.
func Nearest(ctx context.Context, p *constraints.Problem, o Options) (n *NearMiss, complete bool) {
	if Numberable(p) != nil {
		return nil, false
	}
	pl := newPlan(p, o.Strict)
	s := newNearSearch(pl)
	total := len(p.Motors) * len(p.Counts) * len(p.Batteries)
	results := make([]near, workers(o.Workers))
	var next atomic.Int64
	var done atomic.Uint64
	each := p.Combinations() / float64(max(1, total))
	defer report(&done, p.Combinations(), o.Progress)()
	var wg sync.WaitGroup
	for i := range results {
		results[i] = near{miss: unreachable, id: math.MaxUint64}
		wg.Go(func() {
			w := nearWorker{nearSearch: s, build: constraints.Build{Problem: p}, order: slices.Clone(pl.joint), best: &results[i]}
			for ctx.Err() == nil {
				unit := int(next.Add(1)) - 1
				if unit >= total {
					return
				}
				w.unit(ctx, unit)
				done.Store(uint64(each * float64(unit)))
			}
		})
	}
	wg.Wait()
	found := near{miss: unreachable, id: math.MaxUint64}
	for _, r := range results {
		if r.before(found) {
			found = r
		}
	}
	if found.id == math.MaxUint64 {
		return nil, ctx.Err() == nil
	}
	n = &NearMiss{Build: assemble(p, found.id)}
	for _, r := range n.Build.Results() {
		if r.Rejects(o.Strict) {
			n.Misses = append(n.Misses, r)
		}
	}
	return n, ctx.Err() == nil
}

// miss is how far a build is from feasible.
type miss struct {
	hard  int     // misses that no number measures
	worst float64 // the largest relative miss of the others
}

var unreachable = miss{hard: math.MaxInt}

// less orders misses, the nearer first.
func (m miss) less(o miss) bool {
	return m.hard < o.hard || m.hard == o.hard && m.worst < o.worst
}

// compare orders misses likewise.
func (m miss) compare(o miss) int {
	return cmp.Or(cmp.Compare(m.hard, o.hard), cmp.Compare(m.worst, o.worst))
}

// and is two misses together.
func (m miss) and(o miss) miss { return miss{m.hard + o.hard, math.Max(m.worst, o.worst)} }

// near is the nearest build seen so far.
type near struct {
	miss
	id uint64
}

// before reports whether n is chosen before o.
func (n near) before(o near) bool {
	return n.less(o.miss) || !o.less(n.miss) && n.id < o.id
}

// nearSearch is the misses of the hoisted checks.
type nearSearch struct {
	*plan
	hubs []miss // by drive and wheel, drives outermost
}

func newNearSearch(pl *plan) *nearSearch {
	s := &nearSearch{plan: pl}
	p := pl.problem
	b := &constraints.Build{Problem: p}
	s.hubs = make([]miss, 0, len(p.Drives)*len(p.Wheels))
	for _, d := range p.Drives {
		for _, w := range p.Wheels {
			b.Drive, b.Wheel = d, w
			s.hubs = append(s.hubs, pl.miss(b, pl.hub, unreachable))
		}
	}
	return s
}

// miss is how far a group of checks is from passing; it may stop early once
// that is no nearer than bound.
func (pl *plan) miss(b *constraints.Build, group []uint8, bound miss) miss {
	var m miss
	for _, i := range group {
		c := pl.checks[i]
		if b.Drive != nil && !c.Lists(b.Drive) {
			continue
		}
		m = m.and(pl.rejects[i].miss(c, c.Test(b)))
		if bound.less(m) {
			return m
		}
	}
	return m
}

// miss measures one outcome.
func (r rejection) miss(c *constraints.Check, o constraints.Outcome) miss {
	switch {
	case o.Verdict == constraints.Undecided && r.undecided:
		return miss{hard: 1}
	case o.Verdict != constraints.Fail || !r.fail:
		return miss{}
	}
	if margin := c.MarginPct(o); !math.IsNaN(margin) {
		return miss{worst: -margin / 100}
	}
	return miss{hard: 1}
}

// nearWorker goes through units: a motor, a number of motors and a battery.
type nearWorker struct {
	*nearSearch
	build constraints.Build
	fits  []miss  // of the unit, by drive
	order []uint8 // of the joint checks: those that ruled a build out last come first
	best  *near
}

// joint adds the miss of the joint checks, in whatever order; it stops early
// once that is no nearer than the best.
func (w *nearWorker) joint(m miss) miss {
	for i, index := range w.order {
		c := w.checks[index]
		if !c.Lists(w.build.Drive) {
			continue
		}
		m = m.and(w.rejects[index].miss(c, c.Test(&w.build)))
		if w.best.less(m) {
			copy(w.order[1:i+1], w.order[:i])
			w.order[0] = index
			return m
		}
	}
	return m
}

// unit goes through the n-th battery, motor and count.
func (w *nearWorker) unit(ctx context.Context, n int) {
	p, b := w.problem, &w.build
	counts, motors := len(p.Counts), len(p.Motors)
	count, motor, battery := n%counts, n/counts%motors, n/(counts*motors)
	b.Motor, b.Count, b.Wheel = p.Motors[motor], count, nil
	w.fits = w.fits[:0]
	for _, d := range p.Drives {
		b.Drive = d
		w.fits = append(w.fits, w.miss(b, w.fit, unreachable))
	}
	for controller := range p.Controllers {
		if ctx.Err() != nil {
			return
		}
		w.group(battery, controller, motor, count)
	}
}

// group goes through a battery, controller, motor and count.
func (w *nearWorker) group(battery, controller, motor, count int) {
	p, b := w.problem, &w.build
	b.Drive, b.Wheel = nil, nil
	b.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[motor], count)
	volts := w.miss(b, w.volts, w.best.miss)
	base := ordinal(p, battery, controller, motor, count)
	for d, drive := range p.Drives {
		fit := volts.and(w.fits[d])
		if w.best.less(fit) {
			continue
		}
		for wheel := range p.Wheels {
			hub := fit.and(w.hubs[d*len(p.Wheels)+wheel])
			if w.best.less(hub) {
				continue
			}
			b.Roll(drive, p.Wheels[wheel])
			if c := (near{w.joint(hub), base + uint64(d*len(p.Wheels)+wheel)}); c.before(*w.best) {
				*w.best = c
			}
		}
	}
}
