package search

import (
	"context"
	"iter"
	"math"
	"slices"
	"sync/atomic"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
	"gearsearch/search/internal/walk"
)

// attempts is a set of numbers of attempts, each to give way on one set of
// concessions. There is room for all pairs of 25 concessions.
type attempts [5]uint64

func (a attempts) and(b attempts) attempts {
	for i := range a {
		a[i] &= b[i]
	}
	return a
}

func (a attempts) has(i int) bool { return a[i/64]>>(i%64)&1 != 0 }

func (a *attempts) add(i int) { a[i/64] |= 1 << (i % 64) }

// standing is the outcome of some checks: whether one rejects the build for good, and
// which attempts ease every check that it fails.
type standing struct {
	rejected bool
	alive    attempts
}

// lost reports whether no attempt can make the build feasible.
func (s standing) lost() bool { return s.rejected && s.alive == attempts{} }

func (s standing) and(o standing) standing {
	return standing{s.rejected || o.rejected, s.alive.and(o.alive)}
}

// relaxWalk goes through every combination once for all attempts. A combination is
// shown to each attempt that eases all the checks it fails.
type relaxWalk struct {
	*walk.Plan
	sets   [][]ease.Concession
	enough int // builds to open
	keep   int // points of each attempt
	strict bool
	scorer *scorer
	all    attempts
	easing []attempts // that ease a check, by its index
	kinds  []standing // after the hub checks; there are few
	hubs   []uint16   // indices of kinds, by drive and wheel, drives outermost

	failed   []atomic.Bool // of the checks: each that rejects a build that stood up to there
	feasible atomic.Uint64 // builds seen that are feasible anyway
}

func newRelaxWalk(p *constraints.Problem, sets [][]ease.Concession, enough, keep int, strict bool) *relaxWalk {
	w := &relaxWalk{Plan: walk.NewPlan(p, strict), sets: sets, enough: enough, keep: keep, strict: strict, scorer: newScorer(p)}
	w.easing = make([]attempts, len(w.Checks))
	w.failed = make([]atomic.Bool, len(w.Checks))
	for i, set := range sets {
		w.all.add(i)
		for j, check := range w.Checks {
			if slices.ContainsFunc(set, func(c ease.Concession) bool { return slices.Contains(c.Checks, check.Name) }) {
				w.easing[j].add(i)
			}
		}
	}
	// In which order the checks are tested does not matter here.
	late := w.Slow()
	w.Joint = append(slices.DeleteFunc(slices.Clone(w.Joint), func(i uint8) bool { return slices.Contains(late, i) }), late...)
	known := map[standing]uint16{}
	w.hubs = walk.Pairs(w.Plan, func(b *constraints.Build) uint16 {
		s := w.stand(b, w.Hub, standing{alive: w.all})
		kind, ok := known[s]
		if !ok {
			kind = uint16(len(w.kinds))
			known[s], w.kinds = kind, append(w.kinds, s)
		}
		return kind
	})
	return w
}

// failing names the checks that reject a build.
func (w *relaxWalk) failing() map[string]bool {
	out := map[string]bool{}
	for i := range w.failed {
		out[w.Checks[i].Name] = w.failed[i].Load()
	}
	return out
}

// hubAt is the standing of a drive and a wheel after the hub checks.
func (w *relaxWalk) hubAt(drive, wheel int32) standing {
	return w.kinds[w.hubs[walk.PairNumber(w.Problem, int(drive), int(wheel))]]
}

// stand runs a group of checks on a build that stands so far, until it is lost.
func (w *relaxWalk) stand(b *constraints.Build, group []uint8, s standing) standing {
	for _, i := range group {
		c := w.Checks[i]
		if b.Drive != nil && !c.Lists(b.Drive) || !w.Rejects[i].By(c.Test(b).Verdict) {
			continue
		}
		if !w.failed[i].Load() {
			w.failed[i].Store(true)
		}
		s = s.and(standing{true, w.easing[i]})
		if s.lost() {
			break
		}
	}
	return s
}

// openings are the findings of a walk. Where enough builds are feasible anyway,
// the attempts were not followed up.
type openings struct {
	kept []kept  // by attempt
	best []entry // the first of the builds that are feasible anyway
}

// walk goes through every combination.
func (w *relaxWalk) walk(ctx context.Context, o Options) (found openings, complete bool) {
	p := w.Problem
	crew := walk.Crew(walk.Workers(o.Workers), func() *relaxWorker {
		return &relaxWorker{relaxWalk: w, build: constraints.Build{Problem: p}, openings: openings{kept: make([]kept, len(w.sets))}}
	})
	each := uint64(len(p.Controllers) * len(p.Drives) * len(p.Wheels))
	var done atomic.Uint64 // combinations
	stop := walk.Report(&done, p.Combinations(), o.Progress)
	walk.Parallel(ctx, len(crew), walk.Units(p), func(worker int, units iter.Seq[int]) {
		for n := range units {
			crew[worker].unit(ctx, walk.Unit(p, n))
			done.Add(each)
		}
	})
	stop()
	found = crew[0].openings
	for _, other := range crew[1:] {
		found.best = append(found.best, other.best...)
		for i := range found.kept {
			found.kept[i].points = append(found.kept[i].points, other.kept[i].points...)
		}
	}
	found.best = best(found.best, w.keep)
	for i := range found.kept {
		found.kept[i].tidy(p.Brief, w.sets[i], w.keep)
	}
	return found, ctx.Err() == nil
}

// relaxWorker goes through units: a motor, a number of motors and a battery.
type relaxWorker struct {
	*relaxWalk
	openings
	build constraints.Build
	fits  []standing  // of the unit, by drive
	pairs []relaxPair // with which the unit's builds are not lost
}

// relaxPair is the indices of a drive and a wheel.
type relaxPair struct{ drive, wheel int32 }

// unit goes through a motor, a number of motors and a battery.
func (w *relaxWorker) unit(ctx context.Context, choices walk.Choices) {
	p, b := w.Problem, &w.build
	b.Motor, b.Count, b.Wheel = p.Motors[choices.Motor], choices.Count, nil
	w.fits = w.fits[:0]
	for _, drive := range p.Drives {
		b.Drive = drive
		w.fits = append(w.fits, w.stand(b, w.Fit, standing{alive: w.all}))
	}
	// A stretch of the drives at a time, so that few pairs are in memory.
	size := max(1, w.Sizes.StretchPairs/len(p.Wheels))
	for from := 0; from < len(p.Drives); from += size {
		w.pairs = w.pairs[:0]
		for d := from; d < min(from+size, len(p.Drives)); d++ {
			w.addPairs(int32(d))
		}
		for choices.Controller = range p.Controllers {
			w.group(ctx, choices)
		}
	}
}

// addPairs adds the pairs of a drive with which the unit's builds are not lost.
func (w *relaxWorker) addPairs(drive int32) {
	fit := w.fits[drive]
	if fit.lost() {
		return
	}
	for wheel := range w.Problem.Wheels {
		if pair := (relaxPair{drive, int32(wheel)}); !fit.and(w.hubAt(pair.drive, pair.wheel)).lost() {
			w.pairs = append(w.pairs, pair)
		}
	}
}

// lookUpEvery is how many pairs a worker goes through between two looks at the
// context: some hundred microseconds.
const lookUpEvery = 4096

// group goes through the unit's pairs with one controller.
func (w *relaxWorker) group(ctx context.Context, choices walk.Choices) {
	if ctx.Err() != nil {
		return // a unit has as many groups as there are controllers
	}
	p, b := w.Problem, &w.build
	choices.Electrify(b)
	volts := w.stand(b, w.Volts, standing{alive: w.all})
	if volts.lost() {
		return
	}
	base := choices.Number(p)
	for i := range w.pairs {
		if i%lookUpEvery == lookUpEvery-1 && ctx.Err() != nil {
			return
		}
		pair := w.pairs[i]
		s := volts.and(w.fits[pair.drive]).and(w.hubAt(pair.drive, pair.wheel))
		if s.lost() {
			continue
		}
		b.Roll(p.Drives[pair.drive], p.Wheels[pair.wheel])
		s = w.stand(b, w.Joint, s)
		if s.lost() {
			continue
		}
		w.visit(b, base+walk.PairNumber(p, int(pair.drive), int(pair.wheel)), s)
	}
}

// visit puts a build to the attempts that may make it feasible.
func (w *relaxWorker) visit(b *constraints.Build, id uint64, s standing) {
	if !s.rejected {
		w.feasible.Add(1)
		if w.best = append(w.best, newEntry(w.scorer, b, id)); len(w.best) >= 2*w.keep+slackEntries {
			w.best = best(w.best, w.keep)
		}
		return
	}
	if w.feasible.Load() >= uint64(w.enough) {
		return // nothing to relax
	}
	for i, set := range w.sets {
		if !s.alive.has(i) {
			continue
		}
		k := &w.kept[i]
		if values, ok := w.give(b, set, k.bound()); ok {
			k.points = append(k.points, w.point(b, id, set, values))
			if len(k.points) >= k.tidyAt {
				k.tidy(w.Problem.Brief, set, w.keep)
			}
		}
	}
}

// slackEntries is how many more than needed are kept between two prunings.
const slackEntries = 256

// point is what the build needs of a set of concessions, which is values.
func (w *relaxWalk) point(b *constraints.Build, id uint64, set []ease.Concession, values [2]float64) point {
	brief := w.Problem.Brief
	return point{
		cost:   costs(brief, set, values),
		values: values,
		place:  newEntry(w.scorer, b.Under(concede(brief, set, values)), id),
	}
}

// give finds the cheapest values of a set of concessions, costing no more than
// most, at which a build passes.
func (w *relaxWalk) give(b *constraints.Build, set []ease.Concession, most float64) (values [2]float64, ok bool) {
	if len(set) == 1 {
		x, ok := set[0].Reach(b, within(b, &set[0], most), w.strict)
		values := [2]float64{x}
		return values, ok && w.passes(b, set, values, most)
	}
	x, y := &set[0], &set[1]
	values, ok = w.inTurn(b, x, y, most)
	ok = ok && w.passes(b, set, values, most)
	if ok && !overlap(x.Checks, y.Checks) {
		return values, true
	}
	// A check that both concessions ease is left to the second; or the first
	// makes a check fail that the second eases.
	back, other := w.inTurn(b, y, x, most)
	back[0], back[1] = back[1], back[0]
	if !other || !w.passes(b, set, back, most) {
		return values, ok
	}
	if brief := w.Problem.Brief; !ok || costs(brief, set, back) < costs(brief, set, values) {
		return back, true
	}
	return values, true
}

// inTurn gives way on x only where y does not help, and on y for the rest.
func (w *relaxWalk) inTurn(b *constraints.Build, x, y *ease.Concession, most float64) (values [2]float64, ok bool) {
	if values[0], ok = x.Reach(b, within(b, x, most), w.strict, y.Checks...); !ok {
		return values, false
	}
	brief := *b.Problem.Brief
	if from := *x.Value(&brief); from != values[0] {
		most -= x.Cost(from, values[0])
		*x.Value(&brief) = values[0]
		b = b.Under(&brief)
	}
	values[1], ok = y.Reach(b, within(b, y, most), w.strict)
	return values, ok
}

// passes reports whether a build passes every check at values of a set of
// concessions that cost no more than most.
func (w *relaxWalk) passes(b *constraints.Build, set []ease.Concession, values [2]float64, most float64) bool {
	brief := w.Problem.Brief
	return costs(brief, set, values) <= most && !b.Under(concede(brief, set, values)).Rejected(w.strict)
}

// within is the furthest value of a concession that costs no more than most.
func within(b *constraints.Build, c *ease.Concession, most float64) float64 {
	if math.IsInf(most, 1) {
		return math.Inf(c.Eases)
	}
	return c.Within(*c.Value(b.Problem.Brief), most+costUnit)
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}
