package search

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Criteria lists every criterion, in order.
func Criteria() []Criterion {
	return []Criterion{
		{
			Name: "speed", Meaning: "top speed a little above the target, while a full pack keeps to the maximum", Formula: "1 − |v − v*| / (0.5 t), v* = 1.05 t, with a maximum max(t, min(1.05 t, maximum × V / V_full))",
			Put:     putSpeed,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Speed },
			Applies: func(p *constraints.Problem) bool { return !math.IsNaN(p.Brief.Target.TopSpeed) },
			Raw: func(b *constraints.Build) float64 {
				v := b.SureTopSpeed()
				t := b.Problem.Brief.Target.TopSpeed
				return 1 - math.Abs(v-aim(b))/(speedSpan*t)
			},
		},
		{
			Name: "climb", Meaning: "thrust to spare on the climb, before grip limits it", Formula: "F / need − 1",
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
				return (1 - b.SureERPM()/b.Controller.Ceiling) / headroomFull
			},
		},
		{
			Name: "range", Meaning: "range: full marks at one and a half times the target", Formula: "range / (1.5 t)",
			best:    rangeBest,
			Put:     putRange,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Range },
			Applies: func(p *constraints.Problem) bool { return !math.IsNaN(p.Brief.Target.Range) },
			Raw:     func(b *constraints.Build) float64 { return b.Range() / (rangeFull * b.Problem.Brief.Target.Range) },
		},
		{
			Name: "launch", Meaning: "time to the launch speed: full marks at the target, no more for a launch too hard to stand through", Formula: "2 − max(launch, min(speed / 2.5 m/s², t)) / t",
			Put:     putLaunch,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Launch },
			Applies: func(p *constraints.Problem) bool { return !math.IsNaN(p.Brief.Target.LaunchTime) },
			Raw:     func(b *constraints.Build) float64 { return 2 - scoredLaunch(b)/b.Problem.Brief.Target.LaunchTime },
		},
		{
			Name: "cool", Meaning: "current to spare on the climb, or on a hill with a length, temperature of the windings", Formula: "heat limit / climb current − 1, or (limit − end) / (limit − surroundings)",
			best:    coolBest,
			Put:     putCool,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Cool },
			Applies: (*constraints.Problem).Climbs,
			Raw: func(b *constraints.Build) float64 {
				if b.Problem.HasLength() {
					return coolness(b.Problem, b.WindingEnd())
				}
				limit, sure := b.HeatLimit()
				if !sure {
					return math.NaN()
				}
				return limit/b.ClimbCurrent() - 1
			},
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
			Name: "mesh", Meaning: "teeth in mesh with belt or chain; full marks for a gear drive", Formula: "(teeth − 4) / 8, or 1",
			best:    meshBest,
			Put:     putMesh,
			Weight:  func(w *constraints.Weights) *float64 { return &w.Mesh },
			Applies: func(*constraints.Problem) bool { return true },
			Raw:     meshRaw,
		},
	}
}

// aim is the top speed in m/s that scores fully: a little over the target, but with
// a maximum no more than what keeps a full pack to that.
func aim(b *constraints.Build) float64 {
	target := b.Problem.Brief.Target
	v := float64(speedAim * target.TopSpeed)
	if most := target.TopSpeedMax; !math.IsNaN(most) {
		pack := b.Battery.Pack
		v = math.Max(target.TopSpeed, math.Min(v, most*pack.Volts/pack.Full))
	}
	return v
}

// scoredLaunch is the launch time in s that is scored: a harder launch than people
// stand through, and than is asked for, scores no more.
func scoredLaunch(b *constraints.Build) float64 {
	t := b.Problem.Brief.Target
	return math.Max(b.Launch(), math.Min(t.LaunchSpeed/constraints.Stepping, t.LaunchTime))
}

// coolness is how much of the windings' room to their limit a hill leaves, from
// their temperature at its end in °C; NaN where there is no room.
func coolness(p *constraints.Problem, end float64) float64 {
	limit, air := p.Brief.Limit.WindingMax, p.Air()
	if !(limit > air) {
		return math.NaN()
	}
	return (limit - end) / (limit - air)
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

// score is 100 Σ w s / Σ w, and 0 when no criterion that applies has a weight.
// Criteria without a weight are not computed.
func (s *scorer) score(b *constraints.Build) float64 {
	if s.total == 0 {
		return 0
	}
	sum := 0.0
	for i := range s.criteria {
		if w := s.weights[i]; w != 0 {
			sum += float64(w * s.criteria[i].score(b))
		}
	}
	return float64(100*sum) / s.total
}

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

// micro is x rounded to 1e-6, in units of 1e-6; NaN is the largest.
func micro(x float64) int64 {
	if math.IsNaN(x) {
		return math.MaxInt64
	}
	return int64(math.Round(x * 1e6))
}
