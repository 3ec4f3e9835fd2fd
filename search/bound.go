package search

import (
	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// What follows is at least what a criterion gives any build of a stretch of a
// lane, of which the electrical half is set.

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
	if b.Problem.HasLength() {
		return coolness(b.Problem, b.WindingAtLeast(r.Light, r.Low, r.High))
	}
	limit, sure := b.HeatLimit()
	if !sure {
		return 0
	}
	return limit/b.ClimbCurrentAtLeast(r.Light, r.High) - 1
}

func priceBest(b *constraints.Build, r *walk.Reach) float64 {
	return 1 - (b.ElectricalPrice().Total()+r.Price)/b.Problem.PriceReference
}

func massBest(b *constraints.Build, r *walk.Reach) float64 {
	return 1 - (b.ElectricalMass().Total()+r.Mass)/b.Problem.MassReference
}

func meshBest(_ *constraints.Build, r *walk.Reach) float64 { return meshOf(r.Gear, r.Mesh) }
