package search

import (
	"math"
	"sync/atomic"

	"gearsearch/constraints"
)

// reach is what the pairs of a stretch of a lane have at best.
type reach struct {
	light     constraints.Lane
	low, high float64 // gearing, 1/m
	price     float64 // of drive and wheel, least of those known; +Inf: of none
	mass      float64 // kg, likewise
	mesh      float64 // of the mesh criterion, most
}

// bound is a score that no pair of a stretch of a lane passes with an
// electrical group, of which only that half of the build is set. It leaves the
// counts alone: it only says whose score need not be computed.
func (s *scorer) bound(b *constraints.Build, r *reach) float64 {
	if s.total == 0 {
		return 0
	}
	sum := 0.0
	for i := range s.criteria {
		if w := s.weights[i]; w != 0 {
			most := 1.0
			if best := s.criteria[i].best; best != nil {
				most = clamped(best(b, r))
			}
			sum += w * most
		}
	}
	return 100*sum/s.total + boundSlack
}

// boundSlack covers the rounding of bounds and of scores to 1e-6.
const boundSlack = 1e-4

func climbBest(b *constraints.Build, r *reach) float64 {
	return b.ThrustAtMost(b.Problem.Brief.Target.ClimbSpeed, r.light, r.high)/b.NeedAtLeast(r.light) - 1
}

func headroomBest(b *constraints.Build, r *reach) float64 {
	return (1 - b.ERPMAtLeast(r.low)/b.Controller.Ceiling) / headroomFull
}

func rangeBest(b *constraints.Build, r *reach) float64 {
	return b.RangeAtMost(r.light) / (rangeFull * b.Problem.Brief.Target.Range)
}

func coolBest(b *constraints.Build, r *reach) float64 {
	return b.HeatLimit()/b.ClimbCurrentAtLeast(r.light, r.high) - 1
}

func priceBest(b *constraints.Build, r *reach) float64 {
	return 1 - (b.ElectricalPrice().Total()+r.price)/b.Problem.PriceReference
}

func massBest(b *constraints.Build, r *reach) float64 {
	return 1 - (b.ElectricalMass().Total()+r.mass)/b.Problem.MassReference
}

func meshBest(_ *constraints.Build, r *reach) float64 { return r.mesh }

// reach is what the pairs of a lane from one position to another have at best.
func (l *lane) reach(from, to int) reach {
	r := l.ends
	r.low, r.high = l.turns[from], l.turns[to-1]
	return r
}

// setEnds gathers what a lane's pairs have at best.
func (l *lane) setEnds(p *constraints.Problem, count int) {
	r := reach{light: l.light, low: l.turns[0], high: l.turns[len(l.turns)-1], price: math.Inf(1), mass: math.Inf(1), mesh: math.Inf(-1)}
	b := &constraints.Build{Problem: p, Count: count}
	for _, pair := range l.pairs {
		b.Drive, b.Wheel = p.Drives[pair.drive], p.Wheels[pair.wheel]
		r.price = leastKnown(r.price, b.Drive.Price[count], b.Wheel.Price)
		r.mass = leastKnown(r.mass, b.Drive.Mass[count], b.Wheel.Mass)
		r.mesh = math.Max(r.mesh, clamped(meshRaw(b)))
	}
	l.ends = r
}

// leastKnown is the lesser of x and the sum of a drive's and a wheel's, where
// both are known: a criterion that is not known scores nothing, so such a pair
// is no reason to expect more.
func leastKnown(x float64, drive, wheel constraints.Sum) float64 {
	if drive.Missing || wheel.Missing {
		return x
	}
	return math.Min(x, drive.Known+wheel.Known)
}

// include widens r to what the pairs of another stretch have at best.
func (r *reach) include(o *reach) {
	r.light.Efficiency = math.Max(r.light.Efficiency, o.light.Efficiency)
	r.light.Crr = math.Min(r.light.Crr, o.light.Crr)
	r.light.Mass = math.Min(r.light.Mass, o.light.Mass)
	r.low, r.high = math.Min(r.low, o.low), math.Max(r.high, o.high)
	r.price, r.mass = math.Min(r.price, o.price), math.Min(r.mass, o.mass)
	r.mesh = math.Max(r.mesh, o.mesh)
}

// floor is a score, rounded to 1e-6, that as many builds reach as are to be
// ranked, whichever worker found them. It only rises.
type floor struct{ atomic.Int64 }

func newFloor() *floor {
	f := &floor{}
	f.Store(math.MinInt64)
	return f
}

// raise lifts the floor to a score.
func (f *floor) raise(score int64) {
	for {
		now := f.Load()
		if score <= now || f.CompareAndSwap(now, score) {
			return
		}
	}
}
