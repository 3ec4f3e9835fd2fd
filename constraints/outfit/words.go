package outfit

import (
	"math"
	"strconv"

	"gearsearch/constraints"
)

// Units says in which units sentences are written; see constraints.Units.
type Units constraints.Units

// in writes a quantity that is given in a metric unit, its number by write: num,
// up or down.
func (u Units) in(unit string, x float64, write func(float64) string) string {
	return constraints.Units(u).In(unit, x, write)
}

// speed writes a speed in m/s.
func (u Units) speed(v float64) string { return u.in("km/h", v*kmh, num) }

// length writes a length in m that is told in mm.
func (u Units) length(x float64) string { return u.in("mm", x*mm, num) }

// num writes a number with three significant digits, and with all its digits
// before the point.
func num(x float64) string {
	switch {
	case math.IsNaN(x):
		return "unknown"
	case math.IsInf(x, 0):
		return "unlimited"
	case math.Abs(x) >= 100:
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return strconv.FormatFloat(x, 'g', 3, 64)
}

// down writes a number as num does, but never more than it is: for what a part
// must not exceed.
func down(x float64) string { return rounded(x, math.Floor) }

// rounded writes a number with three significant digits, rounded one way.
func rounded(x float64, to func(float64) float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) || x == 0 {
		return num(x)
	}
	unit := math.Pow(10, math.Max(math.Floor(math.Log10(math.Abs(x)))-2, -6))
	if math.Abs(x) >= 100 {
		unit = 1
	}
	near := math.Round(x/unit) * unit
	if math.Abs(near-x) > 1e-9*math.Abs(x) { // 50.4 is 50.4 however it is stored
		near = to(x/unit) * unit
	}
	return num(near)
}
