package walk

import (
	"math"

	"gearsearch/constraints"
)

// Reach is the best values that the pairs of drive and wheel of a stretch of a
// lane have, each on its own: bounds on builds are made of them.
type Reach struct {
	Light     constraints.Lane
	Low, High float64 // gearing, 1/m
	Price     float64 // of drive and wheel, least of those known; +Inf: of none
	Mass      float64 // kg, likewise
	Gear      bool    // some drive is a gear drive
	Mesh      int     // belt teeth in mesh, most of the other drives; below 0: not known
}

// leastKnown is the lesser of x and the sum of a drive's and a wheel's value,
// where both are known. A criterion that is not known scores nothing, so a pair
// with an unknown value is no reason to expect more.
func leastKnown(x float64, drive, wheel constraints.Sum) float64 {
	if drive.Missing || wheel.Missing {
		return x
	}
	return math.Min(x, drive.Known+wheel.Known)
}

// include widens r by the reach of another stretch.
func (r *Reach) include(o *Reach) {
	r.Light.Efficiency = math.Max(r.Light.Efficiency, o.Light.Efficiency)
	r.Light.Crr = math.Min(r.Light.Crr, o.Light.Crr)
	r.Light.Mass = math.Min(r.Light.Mass, o.Light.Mass)
	r.Low, r.High = math.Min(r.Low, o.Low), math.Max(r.High, o.High)
	r.Price, r.Mass = math.Min(r.Price, o.Price), math.Min(r.Mass, o.Mass)
	r.Gear, r.Mesh = r.Gear || o.Gear, max(r.Mesh, o.Mesh)
}
