package outfit

import (
	"math"
	"strconv"
	"strings"

	"gearsearch/constraints"
)

// Units of what is shown, per SI unit.
const (
	kmh     = 3.6
	mm      = 1000
	percent = 100
	mm2     = 1e6
	hours   = 1 / 3600.0
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

// force writes a force in N.
func (u Units) force(x float64) string { return u.in("N", x, num) }

// lengths writes several lengths in m with their unit once, such as "60 to 80 mm".
func (u Units) lengths(between string, write func(float64) string, all ...float64) string {
	var out []string
	unit := ""
	for _, x := range all {
		var number string
		number, unit, _ = strings.Cut(u.in("mm", x*mm, write), " ")
		out = append(out, number)
	}
	return strings.Join(out, between) + " " + unit
}

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

// up writes a number as num does, but never less than it is: for what a part
// must bear.
func up(x float64) string { return rounded(x, math.Ceil) }

// down is up for what a part must not exceed.
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

// counted is a number of things, such as "1 pair" or "3 pairs".
func counted(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + more
}

// list joins words as English does: "a, b and c".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// orElse is x, or other when x is not known.
func orElse(x, other float64) float64 {
	if math.IsNaN(x) {
		return other
	}
	return x
}

// lower is the lower of those of a and b that are known, NaN when neither is.
func lower(a, b float64) float64 {
	return math.Min(orElse(a, b), orElse(b, a))
}
