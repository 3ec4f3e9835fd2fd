package audit

import (
	"math"
	"strconv"

	"gearsearch/catalog/field"
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

// String is the quantity as it is shown, without its unit.
func (q Quantity) String() string {
	if q.Names != nil {
		return field.Few(q.Names)
	}
	x := q.SI * q.PerSI
	switch q.Digits {
	case constraints.TwoDigits:
		x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 2, 64), 64)
	case constraints.TwoDecimals:
		x = math.Round(x*100) / 100
	}
	return field.FormatNumber(x)
}
