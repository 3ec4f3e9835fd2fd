package search

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gearsearch/constraints"
)

// Bounds are the ranges in which Ideal looks. A Span without a value is the
// catalog's: the least and the greatest of what is in play.
type Bounds struct {
	KV        Span // rpm/V
	Reduction Span
	Wheel     Span // m, diameter
}

// CatalogBounds are the bounds of what is in play.
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

// or is s, or other where s has no value.
func (s Span) or(other Span) interval {
	if !(s.Low <= s.High) || s == (Span{}) {
		s = other
	}
	return interval{s.Low, s.High}
}

// Frame is what one motor frame could do if any winding, reduction and wheel
// could be bought.
type Frame struct {
	Motors  []string // ids of the frame's motors in play
	Catalog Scored   // its best build of catalog parts, or the nearest to one
	Fits    bool     // that build is feasible
	KV      float64  // rpm/V, ideal, as are the next two
	Ratio   float64
	Wheel   float64 // m, diameter
	Ideal   Scored  // the build with those; all else is the catalog build's
	Works   bool    // the ideal is feasible
	Moves   []Move  // the three, the one that gains most first
}

// Move is one of the three quantities, moved to its ideal, the others as the
// catalog build has them.
type Move struct {
	Name     string // "kv", "reduction" or "wheel"
	From, To float64
	Gain     float64 // of the score, negative where it alone makes things worse
	Feasible bool
}

// Ideal finds, for each motor frame in play, the kv, reduction and wheel
// diameter in the bounds that score highest while every check passes; battery,
// controller, efficiency, prices and masses are those of the frame's best
// build. Motors of equal can diameter and length are one frame. The frames
// come best first. complete is false when ctx ended it early.
func Ideal(ctx context.Context, p *constraints.Problem, bounds Bounds, o Options) (frames []Frame, complete bool) {
	catalog := CatalogBounds(p)
	box := []interval{bounds.KV.or(catalog.KV), bounds.Reduction.or(catalog.Reduction), bounds.Wheel.or(catalog.Wheel)}
	s := newScorer(p)
	groups := frameGroups(p)
	for i, motors := range groups {
		q := p.Restrict(constraints.SlotMotor, func(id string) bool { return slices.Contains(motors, id) })
		f := Frame{Motors: motors}
		r, err := Rank(ctx, q, Options{Top: 1, Workers: o.Workers, Strict: o.Strict})
		if err != nil || !r.Complete {
			return frames, false
		}
		if r.Len() > 0 {
			f.Catalog, f.Fits = s.scored(r.At(0).Build), true
		} else {
			near, complete := Nearest(ctx, q, o)
			if !complete || near == nil {
				return frames, false
			}
			f.Catalog = s.scored(near.Build)
		}
		f.tune(s, box, o.Strict)
		frames = append(frames, f)
		if o.Progress != nil {
			o.Progress(float64(i+1), float64(len(groups)))
		}
	}
	slices.SortStableFunc(frames, func(a, b Frame) int {
		if a.Works != b.Works {
			return cmp.Compare(bit(b.Works), bit(a.Works))
		}
		return cmp.Compare(micro(b.Ideal.Score), micro(a.Ideal.Score))
	})
	return frames, true
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

// tune finds the frame's ideal.
func (f *Frame) tune(s *scorer, box []interval, strict bool) {
	base := f.Catalog.Build
	start := []float64{base.Motor.KV, base.Drive.Reduction, base.Wheel.Diameter}
	ideal, _ := maximise(func(x []float64) float64 { return worth(s, base.Tuned(x[0], x[1], x[2]), strict) }, box)
	if ideal == nil || inside(start, box) && worth(s, base, strict) >= worth(s, base.Tuned(ideal[0], ideal[1], ideal[2]), strict) {
		ideal = start
	}
	f.KV, f.Ratio, f.Wheel = ideal[0], ideal[1], ideal[2]
	f.Ideal = s.scored(base.Tuned(f.KV, f.Ratio, f.Wheel))
	f.Works = !f.Ideal.Build.Rejected(strict)
	for i, name := range []string{"kv", "reduction", "wheel"} {
		x := slices.Clone(start)
		x[i] = ideal[i]
		moved := base.Tuned(x[0], x[1], x[2])
		f.Moves = append(f.Moves, Move{
			Name: name, From: start[i], To: ideal[i],
			Gain: s.score(moved) - f.Catalog.Score, Feasible: !moved.Rejected(strict),
		})
	}
	slices.SortStableFunc(f.Moves, func(a, b Move) int {
		if a.Feasible != b.Feasible {
			return cmp.Compare(bit(b.Feasible), bit(a.Feasible))
		}
		return cmp.Compare(b.Gain, a.Gain)
	})
}

func inside(x []float64, box []interval) bool {
	for i := range x {
		if x[i] < box[i].low || x[i] > box[i].high {
			return false
		}
	}
	return true
}

// worth is the score of a feasible build, and less than any score for others:
// the less, the more they miss. Misses that these three quantities cannot
// mend, a bore or a hub, are left out.
func worth(s *scorer, b *constraints.Build, strict bool) float64 {
	const misfit = -100
	missed, rejected := 0.0, false
	for _, r := range b.Results() {
		if !r.Rejects(strict) || r.Unit == "" {
			continue
		}
		rejected = true
		if margin := r.MarginPct(r.Outcome); !math.IsNaN(margin) {
			missed -= margin
		} else {
			missed += -misfit
		}
	}
	if rejected {
		return misfit - missed
	}
	return s.score(b)
}

// TeethFor lists the pairs of motor and wheel pulleys in play nearest to a
// reduction, as their drives, nearest first.
func TeethFor(p *constraints.Problem, reduction float64, n int) []*constraints.Drive {
	drives := slices.Clone(p.Drives)
	slices.SortStableFunc(drives, func(a, b *constraints.Drive) int {
		return cmp.Compare(math.Abs(math.Log(a.Reduction/reduction)), math.Abs(math.Log(b.Reduction/reduction)))
	})
	var out []*constraints.Drive
	seen := map[float64]bool{}
	for _, d := range drives {
		if len(out) == n {
			break
		}
		if !seen[d.Reduction] {
			seen[d.Reduction] = true
			out = append(out, d)
		}
	}
	return out
}
