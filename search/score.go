package search

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Criterion is one part of the score.
type Criterion struct {
	Name    string
	Meaning string
	Formula string
	Weight  func(w *constraints.Weights) *float64
	// Applies reports whether the brief and the catalog make it count.
	Applies func(p *constraints.Problem) bool
	// Raw is the criterion before it is clamped to [0, 1]; NaN where it is
	// not known, and then it scores 0.
	Raw func(b *constraints.Build) float64
	// Put is the formula with a build's numbers put in, before the clamp; what
	// is missing where it is not known.
	Put func(b *constraints.Build) string

	// best is at least what Raw gives any build of a stretch of a lane; nil
	// where only 1 is known to be. It is given the electrical half.
	best func(b *constraints.Build, r *walk.Reach) float64
}

// The scales of the criteria. They are choices of this program: a full score
// is what a rider would call plenty.
const (
	speedAim      = 1.05 // a little over the target is best
	speedSpan     = 0.5  // half the target away scores nothing
	headroomFull  = 0.4  // 40 % below the ceiling is plenty
	rangeFull     = 1.5  // half again the target is plenty
	meshNothing   = 4    // whole teeth that score nothing
	meshFullAbove = 8    // teeth more than that score fully
)

// Criteria lists every criterion, in order.
func Criteria() []Criterion {
	return []Criterion{
		{
			Name: "speed", Meaning: "top speed near 1.05 of the target", Formula: "1 − |v − 1.05 t| / (0.5 t)",
			Put:     putSpeed,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Speed },
			Applies: func(p *constraints.Problem) bool { return !math.IsNaN(p.Brief.Target.TopSpeed) },
			Raw: func(b *constraints.Build) float64 {
				v, _ := b.TopSpeed()
				t := b.Problem.Brief.Target.TopSpeed
				return 1 - math.Abs(v-float64(speedAim*t))/(speedSpan*t)
			},
		},
		{
			Name: "climb", Meaning: "thrust to spare on the climb, the grip cap left out", Formula: "F / need − 1",
			best:    climbBest,
			Put:     putClimb,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Climb },
			Applies: (*constraints.Problem).Climbs,
			Raw: func(b *constraints.Build) float64 {
				if !b.ThrustKnown() {
					return math.NaN()
				}
				return b.ClimbThrust()/b.ClimbNeed() - 1
			},
		},
		{
			Name: "headroom", Meaning: "electrical rpm below the ceiling", Formula: "(1 − erpm / ceiling) / 0.4",
			best:    headroomBest,
			Put:     putHeadroom,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Headroom },
			Applies: (*constraints.Problem).HasCeiling,
			Raw: func(b *constraints.Build) float64 {
				return (1 - b.ERPM()/b.Controller.Ceiling) / headroomFull
			},
		},
		{
			Name: "range", Meaning: "range, half again the target being full", Formula: "range / (1.5 t)",
			best:    rangeBest,
			Put:     putRange,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Range },
			Applies: func(p *constraints.Problem) bool { return !math.IsNaN(p.Brief.Target.Range) },
			Raw:     func(b *constraints.Build) float64 { return b.Range() / (rangeFull * b.Problem.Brief.Target.Range) },
		},
		{
			Name: "launch", Meaning: "time to the launch speed, half the target being full", Formula: "2 − launch / t",
			Put:     putLaunch,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Launch },
			Applies: func(p *constraints.Problem) bool { return !math.IsNaN(p.Brief.Target.LaunchTime) },
			Raw:     func(b *constraints.Build) float64 { return 2 - b.Launch()/b.Problem.Brief.Target.LaunchTime },
		},
		{
			Name: "cool", Meaning: "current to spare on the climb", Formula: "heat limit / climb current − 1",
			best:    coolBest,
			Put:     putCool,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Cool },
			Applies: (*constraints.Problem).Climbs,
			Raw:     func(b *constraints.Build) float64 { return b.HeatLimit()/b.ClimbCurrent() - 1 },
		},
		{
			Name: "price", Meaning: "cost below the limit, or below the dearest build", Formula: "1 − price / reference",
			best:    priceBest,
			Put:     putPrice,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Price },
			Applies: func(p *constraints.Problem) bool { return p.PriceReference > 0 },
			Raw:     func(b *constraints.Build) float64 { return 1 - b.Price().Total()/b.Problem.PriceReference },
		},
		{
			Name: "mass", Meaning: "mass below the limit, or below the heaviest build", Formula: "1 − mass / reference",
			best:    massBest,
			Put:     putMass,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Mass },
			Applies: func(p *constraints.Problem) bool { return p.MassReference > 0 },
			Raw:     func(b *constraints.Build) float64 { return 1 - b.Mass().Total()/b.Problem.MassReference },
		},
		{
			Name: "mesh", Meaning: "belt teeth in mesh; a gear drive is full", Formula: "(teeth − 4) / 8, or 1",
			best:    meshBest,
			Put:     putMesh,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Mesh },
			Applies: func(*constraints.Problem) bool { return true },
			Raw:     meshRaw,
		},
	}
}

// meshRaw is the mesh criterion before it is clamped.
func meshRaw(b *constraints.Build) float64 { return meshOf(b.Drive.Gear != nil, b.Drive.Mesh) }

// meshOf is the mesh criterion of a gear drive, or of so many teeth in mesh; NaN
// below 0.
func meshOf(gear bool, mesh int) float64 {
	switch {
	case gear:
		return 1
	case mesh < 0:
		return math.NaN()
	}
	return float64(mesh-meshNothing) / meshFullAbove
}

// scorer is the criteria that apply to one problem, with their weights.
type scorer struct {
	criteria []Criterion
	weights  []float64
	total    float64 // of the weights
}

func newScorer(p *constraints.Problem) *scorer {
	s := &scorer{}
	for _, c := range Criteria() {
		if !c.Applies(p) {
			continue
		}
		w := *c.Weight(&p.Brief.Weights)
		s.criteria = append(s.criteria, c)
		s.weights = append(s.weights, w)
		s.total += w
	}
	return s
}

// clamped is a criterion's score in [0, 1]; what is not known scores 0.
func clamped(raw float64) float64 {
	switch {
	case raw > 1:
		return 1
	case raw > 0:
		return raw
	default: // not known, too
		return 0
	}
}

// score is 100 Σ w s / Σ w, and 0 when no criterion that applies has a weight.
// Criteria without a weight are not computed.
func (s *scorer) score(b *constraints.Build) float64 {
	if s.total == 0 {
		return 0
	}
	sum := 0.0
	for i := range s.criteria {
		if w := s.weights[i]; w != 0 {
			sum += float64(w * clamped(s.criteria[i].Raw(b)))
		}
	}
	return float64(100*sum) / s.total
}
