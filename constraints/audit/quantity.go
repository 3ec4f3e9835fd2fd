package audit

import (
	"cmp"
	"slices"

	"gearsearch/constraints"
)

// Quantity is a number of a remark, or names in the place of one.
type Quantity struct {
	constraints.Quantity
	Names []string // keys, ids, words of the format; nil for a number
}

// Shown units per SI unit.
const (
	perMilli = 1000  // mm, mΩ, g of kg, l of m³
	perDense = 0.001 // g/cm³ of kg/m³
)

// given is a number as it stands in the catalog.
func given(si, perSI float64) Quantity { return quantity(si, perSI, constraints.AllDigits) }

// plain is a number that is shown in the unit in which it is kept.
func plain(x float64) Quantity { return given(x, 1) }

// rough is a number that is known roughly.
func rough(si, perSI float64) Quantity { return quantity(si, perSI, constraints.TwoDigits) }

// workedOut is a number that follows from others.
func workedOut(si, perSI float64) Quantity {
	return quantity(si, perSI, constraints.TwoDecimals)
}

func quantity(si, perSI float64, digits constraints.Digits) Quantity {
	return Quantity{Quantity: constraints.Quantity{SI: si, PerSI: perSI, Digits: digits}}
}

// named are names.
func named(names ...string) Quantity { return Quantity{Names: append([]string{}, names...)} }

// shown is the number with the digits that are worth showing.
func (q Quantity) shown() float64 { return q.Digits.Round(q.SI * q.PerSI) }

// compare orders quantities by what is shown of them.
func (q Quantity) compare(r Quantity) int {
	return cmp.Or(cmp.Compare(q.shown(), r.shown()), slices.Compare(q.Names, r.Names))
}
