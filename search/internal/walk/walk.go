package walk

import (
	"context"
	"iter"
	"math"
	"slices"
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

// Add counts another tally in.
func (t *Tally) Add(o *Tally) {
	t.Combinations += o.Combinations
	t.Feasible += o.Feasible
	t.Unknown += o.Unknown
	for i, n := range o.Rejected {
		t.Rejected[i] += n
	}
}

// Visitor is told of each feasible build. The build is reused: it is valid
// during the call only.
type Visitor interface {
	Visit(b *constraints.Build, id uint64)
}

// Chooser is a visitor that need not see every feasible build: it passes over
// a stretch of a lane, of whose builds only the electrical half is set, when
// none of them can matter to it.
type Chooser interface {
	Passes(b *constraints.Build, r *Reach) bool
}

// Follower is a visitor that is told of each lane before it comes: the number of the
// first combination of its electrical group, and its lot.
type Follower interface {
	Enter(base uint64, lot int)
}

// Counter is a visitor that is told of each lane how many of its builds are
// feasible.
type Counter interface {
	Count(base uint64, lot int, feasible uint64)
}

// Groups are the electrical groups of one class of motors, with the pairs of drive
// and wheel that fit them.
type Groups struct {
	motors
	Survivors uint64 // pairs that fit
	Ends      Reach  // what they have at best; not set where there are none
	pairs     int    // those that fit and those that do not
	lanes     []*lane
	rejected  []uint64
}

// groups makes the groups of a class.
func (pl *Plan) groups(c *class[state], hubs []state) *Groups {
	g := &Groups{motors: c.motors, pairs: len(hubs)}
	var pairs []pair
	pairs, g.rejected = survivors(c, hubs, len(pl.Problem.Wheels), len(pl.Checks))
	if pl.Lot != nil {
		pairs = slices.DeleteFunc(pairs, func(p pair) bool { return pl.lot(p) < 0 })
	}
	g.Survivors, g.lanes = uint64(len(pairs)), pl.sortLanes(c.count, pairs, max(pl.Sizes.Lane, len(pairs)/pl.Sizes.Lanes))
	for i, l := range g.lanes {
		if i == 0 {
			g.Ends = l.ends
		}
		g.Ends.include(&l.ends)
	}
	return g
}

// Groups yields the groups of one stretch of drives and one class of motors at a
// time, so that only the pairs that fit these are in memory.
func (pl *Plan) Groups() iter.Seq[*Groups] {
	return func(yield func(*Groups) bool) {
		for _, part := range pl.stretches() {
			hubs := part.hubs()
			for _, c := range part.fitClasses() {
				if !yield(part.groups(c, hubs)) {
					return
				}
			}
		}
	}
}

// WholeGroups yields groups of all drives: each motor, with each number of
// motors, is in one of them.
func (pl *Plan) WholeGroups() iter.Seq[*Groups] {
	whole := *pl
	whole.Sizes.StretchPairs, whole.Sizes.StretchFits = math.MaxInt, math.MaxInt
	return whole.Groups()
}

// Members yields the choices of motor and number of motors that the groups are
// of, each with its place among them.
func (g *Groups) Members() iter.Seq2[int, Choices] {
	return func(yield func(int, Choices) bool) {
		for place, motor := range g.members {
			if !yield(place, Choices{Motor: int(motor), Count: g.count}) {
				return
			}
		}
	}
}

// Size is how many groups there are.
func (m *motors) Size(p *constraints.Problem) int {
	return len(m.members) * len(p.Batteries) * len(p.Controllers)
}

// Choices are those of the n-th group, drive and wheel left out.
func (m *motors) Choices(p *constraints.Problem, n int) Choices {
	controllers, batteries := len(p.Controllers), len(p.Batteries)
	return Choices{
		Battery: n / controllers % batteries, Controller: n % controllers,
		Motor: int(m.members[n/(controllers*batteries)]), Count: m.count,
	}
}

// GroupAt is the number of the group that has the member at a place, a battery
// and a controller.
func GroupAt(p *constraints.Problem, place, battery, controller int) int {
	return (place*len(p.Batteries)+battery)*len(p.Controllers) + controller
}

// All puts every combination that the plan has through the checks, with one
// visitor for each worker. complete is false when ctx ended it early.
func All[V Visitor](ctx context.Context, pl *Plan, visitors []V, progress func(done, total float64)) (t Tally, complete bool) {
	total := pl.Problem.Combinations()
	all, _ := pl.Problem.Number()
	t.Rejected = make([]uint64, len(pl.Checks))
	var done atomic.Uint64 // combinations
	stop := Report(&done, total, progress)
	defer stop()
	for g := range pl.Groups() {
		workers := make([]*Worker, len(visitors))
		for i, v := range visitors {
			workers[i] = NewWorker(ctx, pl, v)
		}
		Parallel(ctx, len(visitors), g.Size(pl.Problem), func(worker int, numbers iter.Seq[int]) {
			w := workers[worker]
			for n := range numbers {
				if pl.Only != nil && !pl.Only(g.Choices(pl.Problem, n)) {
					continue
				}
				before := w.Tally.Combinations
				w.Group(g, n)
				done.Add(w.Tally.Combinations - before)
			}
		})
		for _, w := range workers {
			t.Add(&w.Tally)
		}
		if ctx.Err() != nil && t.Combinations < all {
			return t, false
		}
	}
	return t, true
}

// Count counts what becomes of every combination, and shows none.
func Count(ctx context.Context, pl *Plan, workers int, progress func(done, total float64)) (t Tally, complete bool) {
	return All(ctx, pl, make([]blind, Workers(workers)), progress)
}

// blind is a visitor for counts alone.
type blind struct{}

func (blind) Visit(*constraints.Build, uint64)       {}
func (blind) Passes(*constraints.Build, *Reach) bool { return true }

// Worker walks groups, one at a time.
type Worker struct {
	*Plan
	Tally   Tally // of the groups that it walked
	ctx     context.Context
	visitor Visitor
	// The visitor, where it is one.
	chooser  Chooser
	follower Follower
	counter  Counter

	// Of the group at hand.
	build   constraints.Build
	base    uint64    // number of its first combination
	unknown bool      // an undecided check that reads only the group
	exact   bool      // its pairs are tested one by one
	left    []float64 // by sum: the limit less the group's part
	scale   []float64 // by sum: the magnitude of what left is the difference of
	tested  int       // pairs, one by one
	cores   []knownCore
	mix     []mixed // room for lanesums
	within  []uint8 // by check: the sums that a lane's pairs are surely within the limits of
	pending []uint8 // room for setPending
	beside  []uint8 // room for setBeside
	rims    []int   // room for countMixed
	reach   Reach   // room for passesOver
}

// NewWorker makes a worker that shows feasible builds to a visitor. It ends
// within a group when ctx does.
func NewWorker(ctx context.Context, pl *Plan, v Visitor) *Worker {
	w := &Worker{Plan: pl, Tally: Tally{Rejected: make([]uint64, len(pl.Checks))}, ctx: ctx, visitor: v}
	w.chooser, _ = v.(Chooser)
	w.follower, _ = v.(Follower)
	w.counter, _ = v.(Counter)
	w.build.Problem = pl.Problem
	w.within = make([]uint8, len(pl.Checks))
	w.left, w.scale, w.mix = make([]float64, len(pl.sums)), make([]float64, len(pl.sums)), make([]mixed, 0, len(pl.sums))
	return w
}

// Group walks the n-th of some groups of the worker's plan.
func (w *Worker) Group(g *Groups, n int) {
	choices := g.Choices(w.Problem, n)
	w.enter(choices)
	volts := w.test(&w.build, w.Volts)

	// The pairs that do not fit, and all of them where volts rejects.
	for check, count := range g.rejected {
		w.reject(min(uint8(check), volts.first), count)
	}
	if volts.first != none {
		w.reject(volts.first, g.Survivors)
		return
	}
	w.base = choices.Number(w.Problem)
	w.unknown, w.exact = volts.unknown, false
	w.sumsLeft()
	for _, l := range g.lanes {
		if w.ctx.Err() != nil {
			return
		}
		if w.follower != nil {
			w.follower.Enter(w.base, l.lot)
		}
		before := w.Tally.Feasible
		w.lane(l)
		if w.counter != nil {
			w.counter.Count(w.base, l.lot, w.Tally.Feasible-before)
		}
	}
}

// enter makes a group the one at hand.
func (w *Worker) enter(c Choices) {
	c.Electrify(&w.build)
	w.tested, w.cores = 0, w.cores[:0]
}

// sumsLeft sets what the group at hand leaves of the limits of sums.
func (w *Worker) sumsLeft() {
	for i, s := range w.sums {
		value, missing := s.Electrical(&w.build)
		limit := s.Limit(w.Problem)
		w.left[i], w.scale[i] = limit-value, math.Abs(limit)+math.Abs(value)
		switch r := w.Rejects[s.check]; {
		case math.IsInf(value, 0):
			w.left[i], w.scale[i] = math.Copysign(math.MaxFloat64/2, -value), math.Abs(limit)
		case !missing:
		case r.Undecided: // rejected within the limit, and beyond it
			w.left[i] = -math.MaxFloat64 / 2
		case !r.Fail: // a check that only cautions is undecided on one side
			w.exact = true
		default:
			w.unknown = true
		}
	}
}

// reject counts pairs under a check.
func (w *Worker) reject(check uint8, pairs uint64) {
	w.Tally.Rejected[check] += pairs
	w.Tally.Combinations += pairs
}

// accept counts and visits a lane's pair that nothing rejects.
func (w *Worker) accept(l *lane, i int, unknown bool) {
	p, pair := w.Problem, l.pairs[i]
	w.build.Roll(p.Drives[pair.drive], p.Wheels[pair.wheel])
	w.feasible(pair, unknown || w.unknown)
}

// skip counts feasible pairs that the visitor passes over.
func (w *Worker) skip(pairs uint64, unknown bool) {
	w.Tally.Combinations += pairs
	w.Tally.Feasible += pairs
	if unknown || w.unknown {
		w.Tally.Unknown += pairs
	}
}

// feasible counts and visits the pair that the build has.
func (w *Worker) feasible(p pair, unknown bool) {
	w.Tally.Combinations++
	w.Tally.Feasible++
	if unknown {
		w.Tally.Unknown++
	} else if w.UndecidedOnly {
		return
	}
	w.visitor.Visit(&w.build, w.base+PairNumber(w.Problem, int(p.drive), int(p.wheel)))
}

// test1by1 tests a stretch of a lane's pairs by those of the joint checks that they do not
// surely pass, one pair after the other.
func (w *Worker) test1by1(l *lane, from, to int, checks []uint8) {
	p, b := w.Problem, &w.build
	w.tested += to - from
	for _, pair := range l.pairs[from:to] {
		b.Roll(p.Drives[pair.drive], p.Wheels[pair.wheel])
		if s := w.test(b, checks); s.first != none {
			w.reject(s.first, 1)
		} else {
			w.feasible(pair, w.unknown || l.unknown || pair.unknown || s.unknown)
		}
	}
}
