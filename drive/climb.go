package drive

import "math"

// ClimbLimit returns the steepest grade, as a tangent (1 is 100 %), that the
// board climbs at a speed in m/s: the lower of where the thrust balances the
// load and where the driven wheels hold no more; at least 0. NaN unless
// ThrustKnown.
//
// With K = (F − ½ρAv²)/(m g), sin θ + Crr cos θ = K gives θ = asin(K/√(1+Crr²))
// − atan Crr; with a = κ − Crr, κ the share that the wheels hold, and K′ = ½ρAv²/(m g), a cos θ − sin θ = K′
// gives θ = atan a − asin(K′/√(1+a²)).
func (b *Board) ClimbLimit(v float64) float64 {
	if !b.ThrustKnown {
		return math.NaN()
	}
	weight := b.weight()
	air := float64(b.drag() * v * v)
	thrust := clampedAsin((b.Thrust(v)-air)/weight/math.Hypot(1, b.Crr)) - math.Atan(b.Crr)
	spare := b.Hold.Drive - b.Crr
	grip := math.Atan(spare) - clampedAsin(air/weight/math.Hypot(1, spare))
	return math.Tan(max(0, min(thrust, grip)))
}

func clampedAsin(x float64) float64 {
	return math.Asin(max(-1, min(x, 1)))
}
