package search

import (
	"context"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"gearsearch/constraints"
)

// Tally counts what became of every combination.
type Tally struct {
	Combinations uint64   // walked; all of them when the search was not interrupted
	Feasible     uint64   // no check rejects them
	Unknown      uint64   // of the feasible, those with an undecided check
	Rejected     []uint64 // by index of the check in Problem.Checks
}

// add counts another tally in.
func (t *Tally) add(o *Tally) {
	t.Combinations += o.Combinations
	t.Feasible += o.Feasible
	t.Unknown += o.Unknown
	for i, n := range o.Rejected {
		t.Rejected[i] += n
	}
}

// visitor is told of each feasible build. The build is reused: it is valid
// during the call only.
type visitor interface {
	visit(b *constraints.Build, id uint64)
}

// chooser is a visitor that need not see every feasible build: it passes over
// a stretch of a lane, of whose builds only the electrical half is set, when
// none of them can matter to it.
type chooser interface {
	passes(b *constraints.Build, r *reach) bool
}

// maxCombinations is the largest product whose combinations can be numbered.
const maxCombinations = math.MaxInt64

// groups are the electrical groups that one class of motors makes, with the
// class's lanes.
type groups struct {
	*class
	survivors uint64
	lanes     []*lane
	rejected  []uint64
	ends      reach // what the pairs of all lanes have at best
}

// makeGroups makes the groups of a class.
func (pl *plan) makeGroups(c *class, hubs []state) *groups {
	g := &groups{class: c}
	var pairs []pair
	pairs, g.rejected = c.survivors(hubs, len(pl.problem.Wheels), len(pl.checks))
	g.survivors, g.lanes = uint64(len(pairs)), pl.sortLanes(c.count, pairs, pl.laneSize)
	for i, l := range g.lanes {
		if i == 0 {
			g.ends = l.ends
		}
		g.ends.include(&l.ends)
	}
	return g
}

// size is how many groups there are.
func (g *groups) size(p *constraints.Problem) int {
	return len(g.members) * len(p.Batteries) * len(p.Controllers)
}

// parts are the indices of the parts of the n-th group.
func (g *groups) parts(p *constraints.Problem, n int) (battery, controller, motor int) {
	controllers, batteries := len(p.Controllers), len(p.Batteries)
	return n / controllers % batteries, n % controllers, int(g.members[n/(controllers*batteries)])
}

// walk puts every combination through the checks, with one visitor for each
// worker. complete is false when ctx ended it early.
func walk(ctx context.Context, pl *plan, visitors []visitor, progress func(done, total float64)) (t Tally, complete bool) {
	p := pl.problem
	t.Rejected = make([]uint64, len(pl.checks))
	var done atomic.Uint64 // combinations
	stop := report(&done, p.Combinations(), progress)
	defer stop()

	// One stretch of drives and one class at a time, so that only its survivors
	// are in memory.
	for _, part := range pl.stretches() {
		hubs := part.hubs()
		for _, c := range part.classes() {
			part.walkClass(ctx, part.makeGroups(c, hubs), visitors, &t, &done)
			if ctx.Err() != nil && float64(t.Combinations) < p.Combinations() {
				return t, false
			}
		}
	}
	return t, true
}

// walkClass puts every combination of a class through the checks.
func (pl *plan) walkClass(ctx context.Context, g *groups, visitors []visitor, t *Tally, done *atomic.Uint64) {
	tallies := make([]Tally, len(visitors))
	var next atomic.Int64
	var wg sync.WaitGroup
	for i := range visitors {
		tallies[i].Rejected = make([]uint64, len(pl.checks))
		wg.Go(func() {
			w := newWorker(ctx, pl, g, visitors[i], &tallies[i])
			for ctx.Err() == nil {
				n := int(next.Add(1)) - 1
				if n >= g.size(pl.problem) {
					return
				}
				before := w.tally.Combinations
				w.group(n)
				done.Add(w.tally.Combinations - before)
			}
		})
	}
	wg.Wait()
	for i := range tallies {
		t.add(&tallies[i])
	}
}

// worker walks groups, one at a time.
type worker struct {
	*plan
	*groups
	ctx     context.Context
	visitor visitor
	chooser chooser // the visitor, if it is one
	tally   *Tally

	// Of the group at hand.
	build   constraints.Build
	base    uint64    // number of its first combination
	unknown bool      // an undecided check that reads only the group
	exact   bool      // its pairs are tested one by one
	left    []float64 // by sum: what the group leaves of the limit
	scale   []float64 // by sum: the magnitude of what left is the difference of
	mix     []mixed   // room for lanesums
	reach   reach     // room for passesOver
}

func newWorker(ctx context.Context, pl *plan, g *groups, v visitor, t *Tally) *worker {
	w := &worker{plan: pl, groups: g, ctx: ctx, visitor: v, tally: t}
	w.chooser, _ = v.(chooser)
	w.build.Problem = pl.problem
	w.left, w.scale, w.mix = make([]float64, len(pl.sums)), make([]float64, len(pl.sums)), make([]mixed, 0, len(pl.sums))
	return w
}

// group walks the n-th electrical group of the class.
func (w *worker) group(n int) {
	p := w.problem
	battery, controller, motor := w.parts(p, n)
	b := &w.build
	b.Drive, b.Wheel = nil, nil
	b.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[motor], w.count)
	volts := w.test(b, w.volts)

	// The pairs that do not fit, and all of them where volts rejects.
	for check, count := range w.rejected {
		w.reject(min(uint8(check), volts.first), count)
	}
	if volts.first != none {
		w.reject(volts.first, w.survivors)
		return
	}
	w.base = ordinal(p, battery, controller, motor, w.count)
	w.unknown, w.exact = volts.unknown, false
	w.sumsLeft()
	for _, l := range w.lanes {
		if w.ctx.Err() != nil {
			return
		}
		w.lane(l)
	}
}

// sumsLeft sets what the group at hand leaves of the limits of sums.
func (w *worker) sumsLeft() {
	for i, index := range w.sums {
		c := w.checks[index]
		value, missing := c.Adds.Electrical(&w.build)
		limit := c.Adds.Limit(w.problem)
		w.left[i], w.scale[i] = limit-value, math.Abs(limit)+math.Abs(value)
		switch r := w.plan.rejects[index]; {
		case !missing:
		case r.undecided: // rejected within the limit, and beyond it
			w.left[i] = -math.MaxFloat64 / 2
		case !r.fail: // a check that only cautions is undecided on one side
			w.exact = true
		default:
			w.unknown = true
		}
	}
}

// reject counts pairs under a check.
func (w *worker) reject(check uint8, pairs uint64) {
	w.tally.Rejected[check] += pairs
	w.tally.Combinations += pairs
}

// accept counts and visits a lane's pair that nothing rejects.
func (w *worker) accept(l *lane, i int, unknown bool) {
	p, pair := w.problem, l.pairs[i]
	w.build.Roll(p.Drives[pair.drive], p.Wheels[pair.wheel])
	w.feasible(pair, unknown || w.unknown)
}

// skip counts feasible pairs that the visitor passes over.
func (w *worker) skip(pairs uint64, unknown bool) {
	w.tally.Combinations += pairs
	w.tally.Feasible += pairs
	if unknown || w.unknown {
		w.tally.Unknown += pairs
	}
}

// feasible counts and visits the pair that the build has.
func (w *worker) feasible(p pair, unknown bool) {
	w.tally.Combinations++
	w.tally.Feasible++
	if unknown {
		w.tally.Unknown++
	}
	w.visitor.visit(&w.build, w.base+uint64(p.drive)*uint64(len(w.problem.Wheels))+uint64(p.wheel))
}

// test1by1 puts a lane's pairs from one position to another through the joint
// checks, one by one.
func (w *worker) test1by1(l *lane, from, to int) {
	p, b := w.problem, &w.build
	for _, pair := range l.pairs[from:to] {
		b.Roll(p.Drives[pair.drive], p.Wheels[pair.wheel])
		if s := w.test(b, w.joint); s.first != none {
			w.reject(s.first, 1)
		} else {
			w.feasible(pair, w.unknown || pair.unknown || s.unknown)
		}
	}
}

// ordinal numbers the combinations so that a lower number is the one that
// stands first among equals: by battery, controller, motor, number of motors,
// gear drive (none first), motor pulley, wheel pulley, mount and wheel. The
// belt follows from the rest. It is that of the group's first combination.
func ordinal(p *constraints.Problem, battery, controller, motor, count int) uint64 {
	n := uint64(battery)
	n = n*uint64(len(p.Controllers)) + uint64(controller)
	n = n*uint64(len(p.Motors)) + uint64(motor)
	n = n*uint64(len(p.Counts)) + uint64(count)
	return n * uint64(len(p.Drives)) * uint64(len(p.Wheels))
}

// choices are the indices of a combination's parts in the lists of its
// problem.
type choices struct{ battery, controller, motor, count, drive, wheel int }

// choicesOf are the choices of a combination's number.
func choicesOf(p *constraints.Problem, id uint64) choices {
	take := func(n int) int {
		digit := int(id % uint64(n))
		id /= uint64(n)
		return digit
	}
	var c choices
	c.wheel, c.drive = take(len(p.Wheels)), take(len(p.Drives))
	c.count, c.motor = take(len(p.Counts)), take(len(p.Motors))
	c.controller, c.battery = take(len(p.Controllers)), take(len(p.Batteries))
	return c
}

// assemble makes the build of a combination's number.
func assemble(p *constraints.Problem, id uint64) *constraints.Build {
	c, b := choicesOf(p, id), &constraints.Build{Problem: p}
	b.Electrify(p.Batteries[c.battery], p.Controllers[c.controller], p.Motors[c.motor], c.count)
	b.Roll(p.Drives[c.drive], p.Wheels[c.wheel])
	return b
}

// workers is how many workers an option asks for: 0 means every processor.
func workers(n int) int {
	if n > 0 {
		return n
	}
	return runtime.GOMAXPROCS(0)
}
