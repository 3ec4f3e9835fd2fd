package walk

import (
	"context"
	"encoding/binary"
	"iter"
	"math/bits"
	"slices"
	"sync/atomic"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

// granted is a set of ways in which a build is feasible: bit 0 as the brief
// stands, bit i + 1 without the i-th wish.
type granted uint32

// MostWaived is how many wishes one walk counts without.
const MostWaived = 31

// Waived counts builds with some checks waived. One walk counts for the brief as it
// stands and without each of some wishes. A build opens without a wish where every
// check that rejects it belongs to that wish. So each part of a build has a set of
// wishes, any one of which would do, and every check that rejects narrows it, and a
// stretch of a lane is left where nothing remains of it.
type Waived struct {
	*Plan
	all   granted
	waive []granted // by check: the ways in which a build that fails it is feasible
	rest  []uint8   // joint checks with neither window nor sum
}

// NewWaived prepares a count without each of some wishes, MostWaived at the most,
// that leave builds as they are.
func NewWaived(p *constraints.Problem, wishes []ease.Wish, strict bool) *Waived {
	w := &Waived{all: 1<<(len(wishes)+1) - 1}
	var checks []*constraints.Check
	for _, check := range p.Checks() {
		if p.Demoted(check) {
			continue
		}
		var waive granted
		for i, wish := range wishes {
			at := slices.Index(wish.Checks, check.Name)
			if at < 0 {
				continue
			}
			waive |= 2 << i
			if floor := wish.Floors[at]; floor != nil {
				checks, w.waive = append(checks, floor), append(w.waive, w.all&^(2<<i))
			}
		}
		checks, w.waive = append(checks, check), append(w.waive, waive)
	}
	w.Plan = planOf(p, checks, strict)
	w.rest = slices.DeleteFunc(slices.Clone(w.Joint), func(i uint8) bool {
		return slices.Contains(w.windows, i) || slices.Contains(w.summed, i)
	})
	return w
}

// matters reports whether a check can narrow a set.
func (w *Waived) matters(check uint8, g granted) bool { return g&^w.waive[check] != 0 }

// narrow puts a build that has the choices that some checks read through them.
func (w *Waived) narrow(b *constraints.Build, group []uint8, g granted) granted {
	for _, i := range group {
		if !w.matters(i, g) || b.Drive != nil && !w.Checks[i].Lists(b.Drive) {
			continue
		}
		if w.Rejects[i].By(w.Checks[i].Judge(b)) {
			g &= w.waive[i]
		}
	}
	return g
}

// fitClasses are the classes by what the fit checks leave.
func (w *Waived) fitClasses() []*class[granted] {
	return classes(w.Plan, func(b *constraints.Build) granted { return w.narrow(b, w.Fit, w.all) }, func(to []byte, g granted) []byte {
		return binary.LittleEndian.AppendUint32(to, uint32(g))
	})
}

// waivedLane is a lane of which every pair leaves the same.
type waivedLane struct {
	*lane
	left granted
}

// lanes sorts a class's pairs into lanes.
func (w *Waived) lanes(c *class[granted], hubs []granted) []waivedLane {
	wheels := len(w.Problem.Wheels)
	alike := map[granted][]pair{}
	for d, fit := range c.fits {
		for wheel := range wheels {
			if g := fit & hubs[d*wheels+wheel]; g != 0 {
				alike[g] = append(alike[g], pair{drive: int32(c.from + d), wheel: int32(wheel)})
			}
		}
	}
	var out []waivedLane
	for g, pairs := range alike {
		for _, l := range w.sortLanes(c.count, pairs, w.Sizes.Lane) {
			out = append(out, waivedLane{l, g})
		}
	}
	return out
}

// Count counts the builds that are feasible as the brief stands, and then
// without each wish. complete is false when ctx ended it early.
func (w *Waived) Count(ctx context.Context, workers int, progress func(done, total float64)) (counts []uint64, complete bool) {
	counts = make([]uint64, bits.Len32(uint32(w.all)))
	var done atomic.Uint64 // combinations
	stop := Report(&done, w.Problem.Combinations(), progress)
	defer stop()
	for _, stretch := range w.stretches() {
		part := *w
		part.Plan = stretch
		hubs := Pairs(stretch, func(b *constraints.Build) granted { return part.narrow(b, part.Hub, part.all) })
		for _, c := range part.fitClasses() {
			if ctx.Err() != nil {
				return counts, false
			}
			part.count(ctx, c, hubs, counts, &done, Workers(workers))
		}
	}
	return counts, ctx.Err() == nil
}

// count counts the builds of a class.
func (w *Waived) count(ctx context.Context, c *class[granted], hubs []granted, counts []uint64, done *atomic.Uint64, workers int) {
	lanes := w.lanes(c, hubs)
	crew := Crew(workers, func() *waivedWorker {
		return &waivedWorker{Waived: w, worker: NewWorker(ctx, w.Plan, nil), lanes: lanes, counts: make([]uint64, len(counts))}
	})
	Parallel(ctx, workers, c.Size(w.Problem), func(worker int, numbers iter.Seq[int]) {
		for n := range numbers {
			crew[worker].group(c.Choices(w.Problem, n))
			done.Add(uint64(len(hubs)))
		}
	})
	for _, worker := range crew {
		for i, n := range worker.counts {
			counts[i] += n
		}
	}
}
