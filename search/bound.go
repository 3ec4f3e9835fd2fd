package search

import (
	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// bound is a score that no pair of a stretch of a lane passes with an
// electrical group, of which only that half of the build is set. It leaves the
// counts alone: it only says whose score need not be computed.
func (s *scorer) bound(b *constraints.Build, r *walk.Reach) float64 {
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

// microBound is bound in 1e-6 points.
func (s *scorer) microBound(b *constraints.Build, r *walk.Reach) int64 { return micro(s.bound(b, r)) }

// boundSlack covers the rounding of bounds and of scores to 1e-6.
const boundSlack = 1e-4

func climbBest(b *constraints.Build, r *walk.Reach) float64 {
	return b.ThrustAtMost(b.Problem.Brief.Target.ClimbSpeed, r.Light, r.High)/b.NeedAtLeast(r.Light) - 1
}

func headroomBest(b *constraints.Build, r *walk.Reach) float64 {
	return (1 - b.ERPMAtLeast(r.Low)/b.Controller.Ceiling) / headroomFull
}

func rangeBest(b *constraints.Build, r *walk.Reach) float64 {
	return b.RangeAtMost(r.Light) / (rangeFull * b.Problem.Brief.Target.Range)
}

func coolBest(b *constraints.Build, r *walk.Reach) float64 {
	return b.HeatLimit()/b.ClimbCurrentAtLeast(r.Light, r.High) - 1
}

func priceBest(b *constraints.Build, r *walk.Reach) float64 {
	return 1 - (b.ElectricalPrice().Total()+r.Price)/b.Problem.PriceReference
}

func massBest(b *constraints.Build, r *walk.Reach) float64 {
	return 1 - (b.ElectricalMass().Total()+r.Mass)/b.Problem.MassReference
}

func meshBest(_ *constraints.Build, r *walk.Reach) float64 { return meshOf(r.Gear, r.Mesh) }
