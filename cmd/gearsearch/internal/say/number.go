package say

import (
	"math"
	"strconv"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Quantity writes a quantity with its unit, where it has one.
func Quantity(q constraints.Quantity, system quantity.System) string {
	number, unit := Number(q, system)
	if unit == "" {
		return number
	}
	return number + " " + unit
}

// Number writes the number of a quantity, and the unit that goes with it.
func Number(q constraints.Quantity, system quantity.System) (number, unit string) {
	x, unit := system.Value(q.SI*q.PerSI, q.Unit)
	return digits(x, q.Digits), unit
}

// digits writes a number with those of its digits that are worth showing.
func digits(x float64, shown constraints.Digits) string {
	switch shown {
	case constraints.ThreeDigits:
		return significant(x, 3)
	case constraints.ThreeUp:
		return significant(rounded(x, math.Ceil), 3)
	case constraints.ThreeDown:
		return significant(rounded(x, math.Floor), 3)
	case constraints.FourDigits:
		return significant(x, 4)
	case constraints.OneDecimal:
		return strconv.FormatFloat(x, 'f', 1, 64)
	}
	return field.FormatNumber(shown.Round(x))
}

// appendDigits appends what digits gives; what lines of many builds are full of, straight.
func appendDigits(to []byte, x float64, shown constraints.Digits) []byte {
	if shown == constraints.OneDecimal {
		return strconv.AppendFloat(to, x, 'f', 1, 64)
	}
	return append(to, digits(x, shown)...)
}

// significant writes a number with so many significant digits, and with all its
// digits before the point.
func significant(x float64, n int) string {
	switch {
	case math.IsNaN(x):
		return "unknown"
	case math.IsInf(x, 0):
		return "unlimited"
	case math.Abs(x) >= math.Pow10(n-1):
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return strconv.FormatFloat(x, 'g', n, 64)
}

// rounded is a number that has three significant digits, rounded one way.
func rounded(x float64, to func(float64) float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) || x == 0 {
		return x
	}
	unit := math.Pow(10, math.Max(math.Floor(math.Log10(math.Abs(x)))-2, -6))
	if math.Abs(x) >= 100 {
		unit = 1
	}
	near := math.Round(x/unit) * unit
	if math.Abs(near-x) > 1e-9*math.Abs(x) { // 50.4 is 50.4 however it is stored
		near = to(x/unit) * unit
	}
	return near
}
