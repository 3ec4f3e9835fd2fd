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

// maxCombinations is the largest product whose combinations can be numbered.
const maxCombinations = math.MaxInt64

// groups are the electrical groups that one class of motors makes.
type groups struct {
	*class
	pairs    []pair
	rejected []uint64
}

// size is how many groups there are.
func (g *groups) size(p *constraints.Problem) int {
	return len(g.members) * len(p.Batteries) * len(p.Controllers)
}

// walk puts every combination through the checks, with one visitor for each
// worker. complete is false when ctx ended it early.
func walk(ctx context.Context, pl *plan, visitors []visitor, progress func(done, total float64)) (t Tally, complete bool) {
	p := pl.problem
	t.Rejected = make([]uint64, len(pl.checks))
	hubs := pl.hubs()
	var done atomic.Uint64 // combinations
	stop := report(&done, p.Combinations(), progress)
	defer stop()

	// One class at a time, so that only its survivors are in memory.
	for _, c := range pl.classes() {
		g := &groups{class: c}
		g.pairs, g.rejected = c.survivors(hubs, len(p.Wheels), len(pl.checks))
		tallies := make([]Tally, len(visitors))
		var next atomic.Int64
		var wg sync.WaitGroup
		for i := range visitors {
			tallies[i].Rejected = make([]uint64, len(pl.checks))
			wg.Go(func() {
				w := worker{plan: pl, groups: g, visitor: visitors[i], tally: &tallies[i]}
				w.build.Problem = p
				for ctx.Err() == nil {
					n := int(next.Add(1)) - 1
					if n >= g.size(p) {
						return
					}
					before := w.tally.Combinations
					w.group(ctx, n)
					done.Add(w.tally.Combinations - before)
				}
			})
		}
		wg.Wait()
		for i := range tallies {
			t.add(&tallies[i])
		}
		if ctx.Err() != nil && float64(t.Combinations) < p.Combinations() {
			return t, false
		}
	}
	return t, true
}

// worker walks groups, one at a time.
type worker struct {
	*plan
	*groups
	visitor visitor
	tally   *Tally
	build   constraints.Build
}

// interruptEvery is how many pairs a worker walks between two looks at the
// context: some hundred microseconds.
const interruptEvery = 4096

// group walks the n-th electrical group of the class.
func (w *worker) group(ctx context.Context, n int) {
	p := w.problem
	controllers, batteries := len(p.Controllers), len(p.Batteries)
	m := w.members[n/(controllers*batteries)]
	battery, controller := n/controllers%batteries, n%controllers
	b := &w.build
	b.Drive, b.Wheel = nil, nil
	b.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[m.motor], int(m.count))
	volts := w.test(b, w.volts)

	// The pairs that do not fit, and all of them where volts rejects.
	for check, count := range w.rejected {
		w.tally.Rejected[min(uint8(check), volts.first)] += count
		w.tally.Combinations += count
	}
	if volts.first != none {
		w.tally.Rejected[volts.first] += uint64(len(w.pairs))
		w.tally.Combinations += uint64(len(w.pairs))
		return
	}
	base := ordinal(p, battery, controller, int(m.motor), int(m.count))
	for i := range w.pairs {
		if i%interruptEvery == interruptEvery-1 && ctx.Err() != nil {
			return
		}
		pair := &w.pairs[i]
		b.Roll(p.Drives[pair.drive], p.Wheels[pair.wheel])
		joint := w.test(b, w.joint)
		w.tally.Combinations++
		if joint.first != none {
			w.tally.Rejected[joint.first]++
			continue
		}
		w.tally.Feasible++
		if volts.unknown || pair.unknown || joint.unknown {
			w.tally.Unknown++
		}
		w.visitor.visit(b, base+uint64(pair.drive)*uint64(len(p.Wheels))+uint64(pair.wheel))
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

// assemble makes the build of a combination's number.
func assemble(p *constraints.Problem, id uint64) *constraints.Build {
	take := func(n int) int {
		digit := int(id % uint64(n))
		id /= uint64(n)
		return digit
	}
	wheel, d := take(len(p.Wheels)), take(len(p.Drives))
	count, motor := take(len(p.Counts)), take(len(p.Motors))
	controller, battery := take(len(p.Controllers)), take(len(p.Batteries))
	b := &constraints.Build{Problem: p}
	b.Electrify(p.Batteries[battery], p.Controllers[controller], p.Motors[motor], count)
	b.Roll(p.Drives[d], p.Wheels[wheel])
	return b
}

// workers is how many workers an option asks for: 0 means every processor.
func workers(n int) int {
	if n > 0 {
		return n
	}
	return runtime.GOMAXPROCS(0)
}
