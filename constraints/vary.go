package constraints

import (
	"math"
)

// Variation is how one specimen of a build differs from what the catalog and
// the brief say. The zero value is no difference.
type Variation struct {
	KV             float64 // relative, 0.05 for 5 % more
	Mass           float64 // kg
	Rolling        float64 // relative, like the rest but Efficiency
	Drag           float64
	PackResistance float64
	Efficiency     float64 // absolute
	Wheel          float64
	Stance         float64 // of the weight on the rear axle at rest, absolute
	Grip           float64
	Wind           float64 // m/s
}

// leastEfficiency and leastMass keep a variation physical.
const (
	leastEfficiency = 0.05
	leastMass       = 1 // kg
)

// Varied makes the build anew with a variation. A rider never weighs less than 1 kg,
// an efficiency stays between 0.05 and 1, and the rear axle's share between 0 and 1.
// A wind below 0 counts as the same wind above, since it blows both ways.
func (b *Build) Varied(v Variation) *Build {
	p := b.Problem
	riding := riding(func(brief *Brief) {
		brief.Rider.Mass = math.Max(brief.Rider.Mass+v.Mass, leastMass)
		brief.Rider.DragArea = p.DragArea * (1 + v.Drag)
		brief.Board.RearShare = min(1, max(0, brief.Board.RearShare+v.Stance))
		brief.Ride.Wind = math.Abs(brief.Ride.Wind + v.Wind)
	})

	battery, motor, d, wheel := *b.Battery, *b.Motor, *b.Drive, *b.Wheel
	battery.Pack.Resistance *= 1 + v.PackResistance
	battery.Best.Resistance *= 1 + v.PackResistance
	motor.Drive.KV *= 1 + v.KV
	motor.Best.KV *= 1 + v.KV
	if v.Efficiency != 0 {
		d.Efficiency = min(1, max(leastEfficiency, d.Efficiency+v.Efficiency))
	}
	wheel.Radius *= 1 + v.Wheel
	wheel.Crr *= 1 + v.Rolling
	wheel.stray = v.Rolling

	slipping := Edit{renews: conditionsDerived, set: func(q *Problem) { q.slip = v.Grip }}
	out := &Build{Problem: p.With(riding, slipping)}
	out.Electrify(&battery, b.Controller, &motor, b.Count)
	out.Roll(&d, &wheel)
	return out
}
