package layout

import (
	"math"
	"strconv"
	"strings"
)

// thin is the space between groups of three digits: narrow, and no line breaks
// at it.
const thin = "\u202f"

// Fixed writes a number with so many decimals and thin spaces between
// thousands; "?" for NaN and "∞" for what has no end.
func Fixed(x float64, decimals int) string {
	switch {
	case math.IsNaN(x):
		return "?"
	case math.IsInf(x, 0):
		return strings.TrimSuffix(strconv.FormatFloat(x, 'f', 0, 64), "Inf") + "∞"
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-") // no minus zero
	}
	whole, fraction, _ := strings.Cut(s, ".")
	if fraction != "" {
		fraction = "." + fraction
	}
	return grouped(whole) + fraction
}

// Count writes a whole number with thin spaces between thousands.
func Count(n uint64) string { return grouped(strconv.FormatUint(n, 10)) }

// Whole is Count of a number that may be below 0.
func Whole(n int64) string { return grouped(strconv.FormatInt(n, 10)) }

// Counted is a number of things, which may be more than any integer, such as "1
// build" or "2 builds".
func Counted(n float64, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return Fixed(n, 0) + " " + more
}

// grouped puts thin spaces into a whole number.
func grouped(digits string) string {
	sign := ""
	if strings.HasPrefix(digits, "-") {
		sign, digits = "-", digits[1:]
	}
	var b strings.Builder
	for i, d := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteString(thin)
		}
		b.WriteRune(d)
	}
	return sign + b.String()
}

// Pair writes two numbers that are compared: with so many decimals, and with
// more where they would look equal and are not, a billionth apart counting as
// equal as it does in every comparison.
func Pair(a, b float64, decimals int) (string, string) {
	const most, equal = 9, 1e-9
	for d := decimals; d < most; d++ {
		if sa, sb := Fixed(a, d), Fixed(b, d); sa != sb || math.Abs(a-b) <= equal*math.Abs(b) {
			return sa, sb
		}
	}
	return Fixed(a, most), Fixed(b, most)
}

// Step is the least of 1, 2 or 5 times a power of ten that is at least x, and
// the decimals that it takes.
func Step(x float64) (step float64, decimals int) {
	power := math.Floor(math.Log10(x))
	for _, m := range []float64{1, 2, 5, 10} {
		if s := m * math.Pow(10, power); s >= x*(1-1e-9) {
			step = s
			break
		}
	}
	return step, max(0, -int(math.Floor(math.Log10(step)+1e-9)))
}
