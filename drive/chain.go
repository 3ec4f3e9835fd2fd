package drive

import "math"

// Chain is what the profile of a roller or bush chain has besides its pitch, of a
// single strand. ISO 606 has the numbers, which are written here from memory.
type Chain struct {
	Roller   float64 // m, the greatest diameter of a roller, or of a bush where there are no rollers
	Plate    float64 // m, the greatest height of a plate
	Breaking float64 // N, the least tensile strength
}

// ChainLinks returns how many links a chain takes round sprockets of a and b teeth at
// a centre distance in pitches, whole and part: X = 2C + (a+b)/2 + ((b−a)/2π)²/C, the
// approximation of ISO 606 and of handbooks, which leaves out a hundredth or two of a
// link on a usual drive.
func ChainLinks(centre float64, a, b int) float64 {
	return float64(2*centre) + float64(a+b)/2 + chainWrap(a, b)/centre
}

// ChainCentre returns the centre distance in pitches at which a chain of a number of
// links is taut round sprockets of a and b teeth: ChainLinks solved for C. ok is false
// when the chain is too short to reach round both.
func ChainCentre(links, a, b int) (centre float64, ok bool) {
	free := float64(links) - float64(a+b)/2
	root := float64(free*free) - float64(8*chainWrap(a, b))
	if !(free > 0) || root < 0 {
		return 0, false
	}
	centre = (free + math.Sqrt(root)) / 4
	// The larger pitch circle may not hold the axle of the smaller.
	return centre, centre > math.Abs(1/math.Sin(math.Pi/float64(a))-1/math.Sin(math.Pi/float64(b)))/2
}

// chainWrap is ((b−a)/2π)², in links times pitches.
func chainWrap(a, b int) float64 {
	x := float64(b-a) / (2 * math.Pi)
	return float64(x * x)
}

// Unevenness returns by what share of its greatest speed a chain slows down between
// two teeth of a sprocket that turns evenly, 1 − cos(π/teeth): its links lie on a
// polygon.
func Unevenness(teeth int) float64 { return 1 - math.Cos(math.Pi/float64(teeth)) }
