package outfit

import (
	"math"

	"gearsearch/constraints"
)

// Statement is one thing to be said of an outfit. Its words are made where
// people are spoken to.
type Statement struct {
	Code       Code
	Names      []string // ids, keys, words of the format
	Quantities []constraints.Quantity
}

// Told reports whether there is anything to say: the zero value says nothing.
func (s Statement) Told() bool { return s.Code != "" }

// said is a statement of numbers.
func said(code Code, quantities ...constraints.Quantity) Statement {
	return Statement{Code: code, Quantities: quantities}
}

// about is the statement about something that has a name.
func (s Statement) about(names ...string) Statement {
	s.Names = names
	return s
}

// alone is a list of one statement.
func alone(code Code, quantities ...constraints.Quantity) []Statement {
	return []Statement{said(code, quantities...)}
}

// then is a list of statements with more behind it.
func then(list []Statement, more ...Statement) []Statement {
	return append(append([]Statement(nil), list...), more...)
}

// merged is both lists of what is missing, each statement once; these have no
// numbers.
func merged(list, more []Statement) []Statement {
	out := then(list)
	for _, s := range more {
		if !says(out, s.Code) {
			out = append(out, s)
		}
	}
	return out
}

// says reports whether one of the statements has a code.
func says(list []Statement, code Code) bool {
	for _, s := range list {
		if s.Code == code {
			return true
		}
	}
	return false
}

// Units of what is shown, per SI unit.
const (
	kmh      = 3.6
	mm       = 1000
	perMilli = 1000
	percent  = 100
	mm2      = 1e6
)

// The quantities of statements. Those of a part's metric size have no unit of
// their own: cells, keys, shafts and belts are sold by mm whatever units are
// shown, and the words have it.

func shown(x, perSI float64, unit string, digits constraints.Digits) constraints.Quantity {
	return constraints.Quantity{SI: x, PerSI: perSI, Unit: unit, Digits: digits}
}

func number(x float64) constraints.Quantity { return shown(x, 1, "", constraints.ThreeDigits) }

func count(n int) constraints.Quantity { return shown(float64(n), 1, "", constraints.AllDigits) }

func given(x float64, unit string) constraints.Quantity {
	return shown(x, 1, unit, constraints.ThreeDigits)
}

func sold(x float64) constraints.Quantity { return shown(x, mm, "", constraints.ThreeDigits) }

func soldAtMost(x float64) constraints.Quantity { return shown(x, mm, "", constraints.ThreeDown) }

func length(x float64) constraints.Quantity { return shown(x, mm, "mm", constraints.ThreeDigits) }

func speed(v float64) constraints.Quantity { return shown(v, kmh, "km/h", constraints.ThreeDigits) }

func share(x float64) constraints.Quantity { return shown(x, percent, "%", constraints.ThreeDigits) }

// boundLeast and boundMost are bounds: rounded so that what keeps to the number
// shown keeps to the bound.
func boundLeast(x float64, unit string) constraints.Quantity {
	return shown(x, 1, unit, constraints.ThreeUp)
}

func boundMost(x float64, unit string) constraints.Quantity {
	return shown(x, 1, unit, constraints.ThreeDown)
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
