package search

import (
	"cmp"
	"context"
	"iter"
	"math"
	"slices"
	"sync/atomic"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// NearMiss is the build that comes nearest to feasible. It has the fewest
// misses without a number (a bore, a hub, missing data under strict); among
// builds alike in that, its largest relative miss is the smallest. Among equals
// the first in the order of ids wins.
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
	pl := walk.NewPlan(p, o.Strict)
	s := newNearSearch(pl)
	results := walk.Crew(walk.Workers(o.Workers), func() *near { return &near{miss: unreachable, id: math.MaxUint64} })
	each := uint64(len(p.Controllers) * len(p.Drives) * len(p.Wheels))
	var done atomic.Uint64 // combinations
	defer walk.Report(&done, p.Combinations(), o.Progress)()
	walk.Parallel(ctx, len(results), walk.Units(p), func(worker int, units iter.Seq[int]) {
		w := nearWorker{nearSearch: s, build: constraints.Build{Problem: p}, order: slowLast(pl), best: results[worker]}
		for unit := range units {
			w.unit(ctx, walk.Unit(p, unit))
			done.Add(each)
		}
	})
	found := near{miss: unreachable, id: math.MaxUint64}
	for _, r := range results {
		if r.before(found) {
			found = *r
		}
	}
	if found.id == math.MaxUint64 {
		return nil, ctx.Err() == nil
	}
	n = &NearMiss{Build: walk.Assemble(p, found.id)}
	for _, r := range n.Build.Results() {
		if r.Rejects(o.Strict) {
			n.Misses = append(n.Misses, r)
		}
	}
	return n, ctx.Err() == nil
}

// slowLast are the joint checks of a plan, behind the others those that take long.
func slowLast(pl *walk.Plan) []uint8 {
	order := slices.Clone(pl.Joint)
	slices.SortStableFunc(order, func(a, b uint8) int {
		return cmp.Compare(boolean(pl.Checks[a].Sure != nil), boolean(pl.Checks[b].Sure != nil))
	})
	return order
}

// boolean is 1 for true.
func boolean(b bool) int {
	if b {
		return 1
	}
	return 0
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
	*walk.Plan
	hubs []miss // by drive and wheel, drives outermost
}

func newNearSearch(pl *walk.Plan) *nearSearch {
	return &nearSearch{Plan: pl, hubs: walk.Pairs(pl, func(b *constraints.Build) miss { return missed(pl, b, pl.Hub, unreachable) })}
}

// missed is how far a group of checks is from passing. It may stop early once
// that is no nearer than bound.
func missed(pl *walk.Plan, b *constraints.Build, group []uint8, bound miss) miss {
	var m miss
	for _, i := range group {
		c := pl.Checks[i]
		if b.Drive != nil && !c.Lists(b.Drive) {
			continue
		}
		m = m.and(missOf(pl.Rejects[i], c, c.Test(b)))
		if bound.less(m) {
			return m
		}
	}
	return m
}

// missOf measures one outcome of a check.
func missOf(rejects walk.Rejection, c *constraints.Check, o constraints.Outcome) miss {
	if !rejects.By(o.Verdict) {
		return miss{}
	}
	if margin := c.MarginPct(o); o.Verdict == constraints.Fail && !math.IsNaN(margin) {
		return miss{worst: -margin / 100}
	}
	return miss{hard: 1}
}

// nearWorker goes through units: a motor, a number of motors and a battery.
type nearWorker struct {
	*nearSearch
	build constraints.Build
	fits  []miss  // of the unit, by drive
	order []uint8 // the joint checks, first those that ruled out a build last, and behind them those that take long
	best  *near
}

// joint adds the miss of the joint checks, in any order. It stops early once
// that is no nearer than the best.
func (w *nearWorker) joint(m miss) miss {
	for i, index := range w.order {
		c := w.Checks[index]
		if !c.Lists(w.build.Drive) {
			continue
		}
		if c.Sure != nil { // and so all that follow
			return w.slow(m, w.order[i:])
		}
		m = m.and(missOf(w.Rejects[index], c, c.Test(&w.build)))
		if w.best.less(m) {
			copy(w.order[1:i+1], w.order[:i])
			w.order[0] = index
			return m
		}
	}
	return m
}

// slow adds the miss of joint checks that take long, likewise, and goes by what is sure
// of them first.
func (w *nearWorker) slow(m miss, group []uint8) miss {
	for _, index := range group {
		c := w.Checks[index]
		if v, ok := c.Sure(&w.build); ok && !w.Rejects[index].By(v) {
			continue
		} else if ok && v == constraints.Fail && c.Least != nil {
			least := miss{worst: c.Least(&w.build)}
			if math.IsInf(least.worst, 1) {
				least = miss{hard: 1}
			}
			if least = m.and(least); w.best.less(least) {
				return least
			}
		}
		if m = m.and(missOf(w.Rejects[index], c, c.Test(&w.build))); w.best.less(m) {
			return m
		}
	}
	return m
}

// unit goes through a motor, a number of motors and a battery.
func (w *nearWorker) unit(ctx context.Context, choices walk.Choices) {
	p, b := w.Problem, &w.build
	b.Motor, b.Count, b.Wheel = p.Motors[choices.Motor], choices.Count, nil
	w.fits = w.fits[:0]
	for _, d := range p.Drives {
		b.Drive = d
		w.fits = append(w.fits, missed(w.Plan, b, w.Fit, unreachable))
	}
	for choices.Controller = range p.Controllers {
		if ctx.Err() != nil {
			return
		}
		w.group(choices)
	}
}

// group goes through an electrical group.
func (w *nearWorker) group(choices walk.Choices) {
	p, b := w.Problem, &w.build
	choices.Electrify(b)
	volts := missed(w.Plan, b, w.Volts, w.best.miss)
	base := choices.Number(p)
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
			if c := (near{w.joint(hub), base + walk.PairNumber(p, d, wheel)}); c.before(*w.best) {
				*w.best = c
			}
		}
	}
}
