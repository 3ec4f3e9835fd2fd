package search

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// The most that starting from other bases takes: a millisecond or two for each
// base, and a tenth of a second for each that is tuned.
const (
	mostBases  = 200 // that are looked at
	mostTuned  = 3   // how many of the bases that may work are tuned, the most promising first
	basePoints = 64  // at which a base is tried before it is polished
)

// baseKind is the parts that Ideal holds while it tunes the three quantities:
// indices of the problem's batteries, controllers, motors, motor counts and
// wheels, and of the ids of its gear drives, of which "" stands for pulleys and
// a belt.
type baseKind [6]int

// baseSpace is the kinds of bases of a problem.
type baseSpace struct {
	problem *constraints.Problem
	gears   []string
	sizes   baseKind
}

func newBaseSpace(p *constraints.Problem) *baseSpace {
	s := &baseSpace{problem: p, gears: slotIDs(p, constraints.SlotGearDrive)}
	if slices.ContainsFunc(p.Drives, func(d *constraints.Drive) bool { return d.Gear == nil }) {
		s.gears = append(s.gears, "")
	}
	s.sizes = baseKind{len(p.Batteries), len(p.Controllers), len(p.Motors), len(p.Counts), len(p.Wheels), len(s.gears)}
	return s
}

// of is the kind of a build.
func (s *baseSpace) of(b *constraints.Build) baseKind {
	p := s.problem
	return baseKind{
		slices.Index(p.Batteries, b.Battery), slices.Index(p.Controllers, b.Controller), slices.Index(p.Motors, b.Motor),
		b.Count, slices.Index(p.Wheels, b.Wheel), slices.Index(s.gears, b.ID(constraints.SlotGearDrive)),
	}
}

// others is how many kinds there are but one.
func (s *baseSpace) others() int {
	n := 1.0
	for _, size := range s.sizes {
		n *= float64(size)
	}
	return int(math.Min(n, math.MaxInt32)) - 1
}

// near lists up to n kinds other than the given one, the most similar first.
func (s *baseSpace) near(from baseKind, n int) []baseKind {
	var out []baseKind
	var vary func(k baseKind, slot, more int)
	vary = func(k baseKind, slot, more int) {
		switch {
		case len(out) == n:
		case more == 0:
			out = append(out, k)
		case slot < len(k):
			for i := range s.sizes[slot] {
				if k[slot] = i; i != from[slot] {
					vary(k, slot+1, more-1)
				}
			}
			k[slot] = from[slot]
			vary(k, slot+1, more)
		}
	}
	for apart := 1; apart <= len(from); apart++ {
		vary(from, 0, apart)
	}
	return out
}

// lookElsewhere starts from other bases than the frame's first, where no ideal
// of that base works: for each battery, controller, winding, number of motors,
// wheel and gear drive (pulleys and belts counting as one), the best build that
// fails only checks which the three quantities may mend. Bases that differ
// least from the first come first. complete is false where ctx ended it.
func (f *Frame) lookElsewhere(ctx context.Context, s *scorer, box []interval, strict bool) (complete bool) {
	q := f.Catalog.Build.Problem
	space := newBaseSpace(q)
	kinds := space.near(space.of(f.Catalog.Build), mostBases)
	f.Bases, f.Left = 1, space.others()
	type promise struct {
		base  *constraints.Build
		worth float64
	}
	var promising []promise
	for _, k := range kinds {
		if ctx.Err() != nil {
			return false
		}
		f.Bases++
		f.Left--
		base := space.best(ctx, k, strict)
		if base == nil {
			continue
		}
		other := Frame{Catalog: Scored{Build: base}}
		value := func(x []float64) float64 { return worth(s, other.tuned(x), tunable(base), strict) }
		if _, most := glimpse(value, box, basePoints); most >= 0 {
			promising = append(promising, promise{base, most})
		}
	}
	slices.SortStableFunc(promising, func(a, b promise) int { return cmp.Compare(b.worth, a.worth) })
	var best *Frame
	for _, x := range promising[:min(len(promising), mostTuned)] {
		if ctx.Err() != nil {
			return false
		}
		other := &Frame{Motors: f.Motors, Catalog: s.scored(x.base), Fits: !x.base.Rejected(strict), Bases: f.Bases, Left: f.Left}
		other.tune(s, box, strict)
		if other.Works && (best == nil || micro(other.Ideal.Score) < micro(best.Ideal.Score)) {
			best = other
		}
	}
	if best != nil {
		*f = *best
	}
	return true
}

// best is the best build of a kind that fails only checks which the three
// quantities may mend; nil where there is none.
func (s *baseSpace) best(ctx context.Context, k baseKind, strict bool) *constraints.Build {
	q := s.problem
	r := q.With(
		constraints.Keeping(constraints.SlotGearDrive, func(id string) bool { return id == s.gears[k[5]] }),
		constraints.Only(q.Batteries[k[0]]), constraints.Only(q.Controllers[k[1]]),
		constraints.Only(q.Motors[k[2]]), constraints.Only(q.Wheels[k[4]]),
	)
	var names []string
	for _, c := range mendable(q) {
		names = append(names, c.Name)
	}
	one := r.With(constraints.OneCount(q.Counts[k[3]]))
	best, err := RankOnly(ctx, one.With(constraints.Demoting(names...)), Options{Top: 1, Workers: 1, Strict: strict})
	if err != nil || best.Len() == 0 {
		return nil
	}
	found := walk.Assemble(one, best.ranked[0].id)
	b := &constraints.Build{Problem: q}
	b.Electrify(r.Batteries[0], r.Controllers[0], r.Motors[0], k[3])
	b.Roll(r.Drives[slices.Index(one.Drives, found.Drive)], found.Wheel)
	return b
}

// tunable lists the checks of a build that its kv, reduction and wheel may
// bring to pass.
func tunable(b *constraints.Build) []*constraints.Check {
	return slices.DeleteFunc(mendable(b.Problem), func(c *constraints.Check) bool { return !c.Lists(b.Drive) })
}

// glimpse is a quick look for the greatest value of f in a box: the best of n
// points that are well spread, polished once.
func glimpse(f func(x []float64) float64, box []interval, n int) (best []float64, value float64) {
	m := newMaximiser(f, box)
	u := make([]float64, len(box))
	for i := range n {
		for j := range u {
			u[j] = math.Asin(2*halton(i+1, primes[j]) - 1)
		}
		m.see(u)
	}
	m.try(m.at, 0.3)
	return m.into(m.at), m.value
}
