package search

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Bounds are the ranges in which Ideal looks. An end that is 0, NaN or infinite is
// not given: it is then the least or the greatest among the parts in play, or the
// other end where that lies beyond.
type Bounds struct {
	KV        Span // rpm/V
	Reduction Span
	Wheel     Span // m, diameter
}

// CatalogBounds are the bounds of the parts in play.
func CatalogBounds(p *constraints.Problem) Bounds {
	b := Bounds{newSpan(), newSpan(), newSpan()}
	for _, m := range p.Motors {
		b.KV.include(m.KV)
	}
	for _, d := range p.Drives {
		b.Reduction.include(d.Reduction)
	}
	for _, w := range p.Wheels {
		b.Wheel.include(w.Diameter)
	}
	return b
}

// or is s, with ends from another span in place of those that s lacks.
func (s Span) or(other Span) interval {
	given := func(x float64) bool { return x > 0 && !math.IsInf(x, 1) }
	switch low, high := given(s.Low), given(s.High); {
	case low && high:
		return interval{s.Low, s.High}
	case low:
		return interval{s.Low, math.Max(s.Low, other.High)}
	case high:
		return interval{math.Min(s.High, other.Low), s.High}
	}
	return interval{other.Low, other.High}
}

// Frame is what one motor frame could do if any winding, reduction and wheel
// could be bought.
type Frame struct {
	Motors  []string // ids of the frame's motors in play
	Catalog Scored   // its best build of catalog parts, or the one to start from
	Fits    bool     // that build is feasible
	KV      float64  // rpm/V, ideal, as are the next two
	Ratio   float64
	Wheel   float64 // m, diameter
	Ideal   Scored  // the build with those; all else is the catalog build's
	Works   bool    // the ideal is feasible
	// Bases is how many builds of parts the search started from, 1 where the
	// first of them is enough. Left is how many more there were. They differ in
	// battery, controller, winding, number of motors, wheel or gear drive.
	Bases, Left int
	Moves       []Move // of one quantity each; the greatest gain first

	// The parts in play that come nearest to the ideal: a winding of the frame,
	// a wheel that some drive fits on that motor, and drives of different
	// reductions that fit both, nearest first.
	NearMotor  *constraints.Motor
	NearWheel  *constraints.Wheel
	NearDrives []*constraints.Drive
}

// Move is one of the three quantities moved alone, the others held, to where
// the score is highest.
type Move struct {
	Name     string // "kv", "reduction" or "wheel"
	From, To float64
	Gain     float64 // of the score
	Feasible bool    // the build with it is
}

// quantities are the names of the three, in the order of Frame.tuned.
var quantities = [...]string{"kv", "reduction", "wheel"}

// Ideal finds, for each motor frame in play, the kv, reduction and wheel
// diameter in the bounds that score highest while every check passes. Battery,
// controller, efficiency, prices and masses are those of the frame's best
// build. A frame without a feasible build starts from the best build that fails
// only checks which the three may mend. Where that leads to no ideal, it starts
// from the best such build with each other battery, controller, winding, number
// of motors, wheel and gear drive (or pulleys and a belt), up to two hundred of
// them. Of ideals that score the same, the one that moves the fewest of the
// three wins. Motors of equal can diameter and length are one frame. The frames
// come best first. complete is false when ctx ended the search early: then
// frames are missing, or not every base was tried.
func Ideal(ctx context.Context, p *constraints.Problem, bounds Bounds, o Options) (frames []Frame, complete bool) {
	catalog := CatalogBounds(p)
	box := []interval{bounds.KV.or(catalog.KV), bounds.Reduction.or(catalog.Reduction), bounds.Wheel.or(catalog.Wheel)}
	s := newScorer(p)
	groups := frameGroups(p)
	for i, motors := range groups {
		q := p.With(constraints.Keeping(constraints.SlotMotor, func(id string) bool { return slices.Contains(motors, id) }))
		base, complete := startFrom(ctx, q, o)
		if !complete {
			break
		}
		frames = append(frames, Frame{Motors: motors, Catalog: s.scored(base), Fits: !base.Rejected(o.Strict), Bases: 1})
		if o.Progress != nil {
			o.Progress(float64(i+1), float64(len(groups)))
		}
	}
	complete = len(frames) == len(groups)
	var cut atomic.Bool
	walk.Each(context.WithoutCancel(ctx), walk.Workers(o.Workers), len(frames), func(i int) {
		frames[i].tune(s, box, o.Strict)
		if !frames[i].Works && !frames[i].lookElsewhere(ctx, s, box, o.Strict) {
			cut.Store(true)
		}
	})
	complete = complete && !cut.Load()
	slices.SortStableFunc(frames, func(a, b Frame) int {
		return cmp.Or(worksFirst(a.Works, b.Works), cmp.Compare(micro(b.Ideal.Score), micro(a.Ideal.Score)))
	})
	return frames, complete
}

// mendable lists the checks that reject builds, and that another kv, reduction
// or wheel diameter may bring to pass, all else held.
func mendable(p *constraints.Problem) []*constraints.Check {
	return slices.DeleteFunc(slices.Clone(p.Checks()), func(c *constraints.Check) bool { return p.Demoted(c) || c.Tuned == 0 })
}

// startFrom is the best feasible build, else the best build that fails only
// checks which the three quantities may mend, else the nearest to feasible.
func startFrom(ctx context.Context, q *constraints.Problem, o Options) (base *constraints.Build, complete bool) {
	var names []string
	for _, c := range mendable(q) {
		names = append(names, c.Name)
	}
	for _, r := range []*constraints.Problem{q, q.With(constraints.Demoting(names...))} {
		best, err := RankOnly(ctx, r, Options{Top: 1, Workers: o.Workers, Strict: o.Strict})
		if err != nil || !best.Complete {
			return nil, false
		}
		if best.Len() > 0 {
			return walk.Assemble(q, best.ranked[0].id), true
		}
	}
	near, complete := Nearest(ctx, q, o)
	if near == nil {
		return nil, false
	}
	return near.Build, complete
}

// frameGroups sorts the motors in play into frames.
func frameGroups(p *constraints.Problem) [][]string {
	var keys []string
	groups := map[string][]string{}
	for _, m := range p.Motors {
		key := fmt.Sprintf("%g×%g", m.CanDiameter, m.CanLength)
		if math.IsNaN(m.CanDiameter) || math.IsNaN(m.CanLength) {
			key = m.ID
		}
		if groups[key] == nil {
			keys = append(keys, key)
		}
		groups[key] = append(groups[key], m.ID)
	}
	var out [][]string
	for _, key := range keys {
		out = append(out, groups[key])
	}
	return out
}

// tuned is the catalog build with other quantities.
func (f *Frame) tuned(x []float64) *constraints.Build {
	return f.Catalog.Build.Tuned(x[0], x[1], x[2])
}

// sameWorth is the difference below which two ideals score the same.
const sameWorth = 1e-4

// tune finds the frame's ideal.
func (f *Frame) tune(s *scorer, box []interval, strict bool) {
	base := f.Catalog.Build
	start := []float64{base.Motor.KV, base.Drive.Reduction, base.Wheel.Diameter}
	checks := tunable(base)
	value := func(x []float64) float64 { return worth(s, f.tuned(x), checks, strict) }

	// Few quantities first: reduction and wheel do much the same, so that
	// there are often many ideals.
	ideals, most := [][]float64{start}, math.Inf(-1)
	for _, free := range [][]int{{0}, {1}, {2}, {0, 1}, {0, 2}, {1, 2}, {0, 1, 2}} {
		x := maximiseSome(value, start, box, free)
		if len(free) == 1 {
			if i := free[0]; value(x) <= value(start)+sameWorth && box[i].has(start[i]) {
				x = start
			}
			f.move(s, start, x, free[0], strict)
		}
		ideals = append(ideals, x)
	}
	ideals = slices.DeleteFunc(ideals, func(x []float64) bool { return !inside(x, box) }) // of what is held
	for _, x := range ideals {
		most = math.Max(most, value(x))
	}
	ideal := ideals[slices.IndexFunc(ideals, func(x []float64) bool { return value(x) >= most-sameWorth })]
	f.KV, f.Ratio, f.Wheel = ideal[0], ideal[1], ideal[2]
	f.Ideal = s.scored(f.tuned(ideal))
	f.Works = !f.Ideal.Build.Rejected(strict)
	slices.SortStableFunc(f.Moves, func(a, b Move) int {
		return cmp.Or(worksFirst(a.Feasible, b.Feasible), cmp.Compare(b.Gain, a.Gain))
	})
	f.near(base.Problem, ideal)
}

// move notes what one quantity does alone.
func (f *Frame) move(s *scorer, from, to []float64, i int, strict bool) {
	b := f.tuned(to)
	f.Moves = append(f.Moves, Move{
		Name: quantities[i], From: from[i], To: to[i],
		Gain: s.score(b) - f.Catalog.Score, Feasible: !b.Rejected(strict),
	})
}

// near finds the parts in play that come nearest to the ideal.
func (f *Frame) near(p *constraints.Problem, ideal []float64) {
	f.NearMotor = slices.MinFunc(p.Motors, func(a, b *constraints.Motor) int {
		return cmp.Compare(distance(a.KV, ideal[0]), distance(b.KV, ideal[0]))
	})
	wheels := slices.Clone(p.Wheels)
	slices.SortStableFunc(wheels, func(a, b *constraints.Wheel) int {
		return cmp.Compare(distance(a.Diameter, ideal[2]), distance(b.Diameter, ideal[2]))
	})
	const few = 3
	f.NearWheel = wheels[0]
	for _, wheel := range wheels {
		if f.NearDrives = nearDrives(p, f.NearMotor, wheel, ideal[1], few); len(f.NearDrives) > 0 {
			f.NearWheel = wheel
			break
		}
	}
}

// worksFirst puts frames that work before the others.
func worksFirst(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

// distance is how far apart two positive numbers are, as a ratio.
func distance(a, b float64) float64 { return math.Abs(math.Log(a / b)) }

func inside(x []float64, box []interval) bool {
	for i := range x {
		if !box[i].has(x[i]) {
			return false
		}
	}
	return true
}

// worth is the score of a build that none of some checks rejects. Any other
// build is worth less than any score: the more it misses, the less.
func worth(s *scorer, b *constraints.Build, checks []*constraints.Check, strict bool) float64 {
	missed, rejected := 0.0, false
	for _, c := range checks {
		r := constraints.Result{Check: c, Outcome: c.Test(b)}
		if !r.Rejects(strict) {
			continue
		}
		rejected = true
		if margin := r.MarginPct(r.Outcome); !math.IsNaN(margin) {
			missed -= margin / 100
		} else {
			missed++
		}
	}
	if rejected {
		return -missed
	}
	return s.score(b)
}

// nearDrives lists drives in play that fit a motor and a wheel, of up to n
// reductions, nearest to a reduction first.
func nearDrives(p *constraints.Problem, m *constraints.Motor, w *constraints.Wheel, reduction float64, n int) []*constraints.Drive {
	drives := slices.DeleteFunc(slices.Clone(p.Drives), func(d *constraints.Drive) bool { return !fits(p, m, d, w) })
	slices.SortStableFunc(drives, func(a, b *constraints.Drive) int {
		return cmp.Compare(distance(a.Reduction, reduction), distance(b.Reduction, reduction))
	})
	drives = slices.CompactFunc(drives, func(a, b *constraints.Drive) bool { return a.Reduction == b.Reduction })
	return drives[:min(n, len(drives))]
}

// fits reports whether no check of how parts fit together fails for a motor, a
// drive and a wheel.
func fits(p *constraints.Problem, m *constraints.Motor, d *constraints.Drive, w *constraints.Wheel) bool {
	const three = constraints.OnMotor | constraints.OnDrive | constraints.OnWheel
	b := &constraints.Build{Problem: p, Motor: m, Drive: d, Wheel: w}
	for _, c := range p.Checks() {
		if c.Unit == "" && c.Scope(p)&^three == 0 && c.Lists(d) && c.Test(b).Verdict == constraints.Fail {
			return false
		}
	}
	return true
}
