package drive

import "math"

// BeltLength returns the length of the belt round two pulleys at a centre
// distance, from their pitch diameters in any order, all in metres: L = 2C cos φ
// + π(D+d)/2 + φ(D−d) with sin φ = (D−d)/(2C) (Roloff/Matek). NaN when one
// pulley's pitch circle would lie inside the other's.
func BeltLength(centre, large, small float64) float64 {
	half := float64((large - small) / 2)
	phi := math.Asin(half / centre)
	return float64(2*math.Sqrt(float64((centre-half)*(centre+half)))) +
		float64(math.Pi/2*(large+small)) + float64(2*half*phi)
}

// CentreDistance returns the centre distance in metres at which a belt of a
// length in metres is taut round two pulleys, from their pitch diameters in
// any order: the exact inverse of BeltLength. ok is false when the belt is too
// short to reach round both.
func CentreDistance(length, large, small float64) (centre float64, ok bool) {
	half := float64(math.Abs(large-small) / 2)
	// What the straight runs and the wrap beyond half turns take:
	// 2√(C²−half²) + 2 half asin(half/C) = free. At C = half it is π half.
	free := length - float64(math.Pi/2*(large+small))
	if !(free > 0) || AtMost(free, float64(math.Pi*half)) { // it just reaches round the large one, or not even
		return 0, false
	}
	// The left side rises with slope 2 cos φ, itself rising: convex, so that
	// Newton's method from above the root stays above it, as the root of the
	// usual approximation free ≈ 2C + half²/C is. There always is one, since
	// free > π half > √8 half.
	centre = float64((free + math.Sqrt(float64(free*free)-float64(8*half*half))) / 4)
	for {
		run := math.Sqrt(float64((centre - half) * (centre + half)))
		excess := float64(2*run) + float64(2*half*math.Asin(half/centre)) - free
		next := centre - excess*centre/(2*run)
		if !(next < centre) || !(next > half) {
			return centre, true
		}
		if centre-next <= 1e-15*centre {
			return next, true
		}
		centre = next
	}
}

// WrapAngle returns the angle in rad over which the belt wraps the smaller of
// two pulleys, π − 2φ, from their pitch diameters a and b in any order.
func WrapAngle(centre, a, b float64) float64 {
	return math.Pi - float64(2*math.Asin(math.Abs(a-b)/(2*centre)))
}

// TeethInMesh returns how many teeth of a pulley a wrap in rad covers, whole
// and part.
func TeethInMesh(teeth int, wrap float64) float64 {
	return float64(teeth) * wrap / (2 * math.Pi)
}

// WholeTeethInMesh returns the whole teeth in TeethInMesh, a count that falls
// short of a whole number by no more than Tolerance included.
func WholeTeethInMesh(teeth int, wrap float64) int {
	return int(math.Floor(TeethInMesh(teeth, wrap) + Tolerance))
}

// MeshFactor returns the share of a belt's allowable pull that remains with a
// number of whole teeth in mesh: 1 from six on, a fifth less for each missing
// one, 0.2 for two and fewer (ISO 5296; Roloff/Matek).
func MeshFactor(whole int) float64 {
	switch {
	case whole >= 6:
		return 1
	case whole == 5:
		return 0.8
	case whole == 4:
		return 0.6
	case whole == 3:
		return 0.4
	}
	return 0.2
}
