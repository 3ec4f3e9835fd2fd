package quantity

import (
	"fmt"
	"strings"

	"gearsearch/catalog/unit"
)

// System is a system of units that tables are shown in.
type System uint8

// The systems. Metric is the zero value.
const (
	Metric System = iota
	Imperial
)

// Systems lists the names of the systems of units.
func Systems() []string { return []string{"metric", "imperial"} }

// SystemNamed finds a system of units by its name.
func SystemNamed(name string) (System, error) {
	for i, n := range Systems() {
		if n == name {
			return System(i), nil
		}
	}
	return Metric, fmt.Errorf("%q is no system of units; known: metric imperial", name)
}

// unitRow is what is known of a unit that the program shows quantities in.
type unitRow struct {
	unit     string
	ending   string  // that keys and names of quantities in it have
	imperial string  // the unit that stands for it; "" for one that people everywhere share
	factor   float64 // how many of the shown unit one of it is
	decimals int     // it is shown with: about as many as its inputs are known to
}

var unitRows = []unitRow{
	{"km/h", "_kmh", "mph", 1000 / unit.Mile, 1},
	{"km", "_km", "mi", 1000 / unit.Mile, 1},
	{"Wh/km", "_wh_per_km", "Wh/mi", unit.Mile / 1000, 1},
	{"m", "_m", "ft", 1 / unit.Foot, 1},
	{"mm", "_mm", "in", 0.001 / unit.Inch, 1},
	{"kg", "_kg", "lb", 1 / unit.Pound, 1},
	{"N", "_n", "lbf", 1 / unit.PoundForce, 0},
	{"N.m", "_nm", "lbf.ft", 1 / (unit.PoundForce * unit.Foot), 1},
	{"/km", "_per_km", "/mi", unit.Mile / 1000, 1},
	{"m/km", "_m_per_km", "ft/mi", unit.Mile / 1000 / unit.Foot, 1},
	{"m/s", "", "mph", unit.Hour / unit.Mile, 1},

	{"%", "_pct", "", 0, 1},
	{"A", "_a", "", 0, 1},
	{"Ah", "_ah", "", 0, 1},
	{"N/mm", "_n_per_mm", "", 0, 1},
	{"V", "_v", "", 0, 1},
	{"W", "_w", "", 0, 1},
	{"Wh", "_wh", "", 0, 0},
	{"g", "_g", "", 0, 1},
	{"kg/m³", "_kg_m3", "", 0, 1},
	{"mA", "_ma", "", 0, 1},
	{"mm²", "_mm2", "", 0, 1},
	{"m²", "_m2", "", 0, 1},
	{"mΩ", "_mohm", "", 0, 1},
	{"s", "_s", "", 0, 2},
	{"min", "_min", "", 0, 1},
	{"°C", "_c", "", 0, 1},
	{"°", "_deg", "", 0, 1},

	{"rpm", "", "", 0, 0},
	{"rpm/V", "", "", 0, 1},
	{"V per cell", "", "", 0, 1},
	{"points", "", "", 0, 1},
	{"teeth", "", "", 0, 0},
	{"price", "", "", 0, 0},
	{"in", "", "", 0, 2},
	{"", "", "", 0, 2},
}

// rowOf is what is known of a unit; of one without a row only its name.
func rowOf(unit string) unitRow {
	for _, r := range unitRows {
		if r.unit == unit {
			return r
		}
	}
	return unitRow{unit: unit, decimals: 1}
}

// Value is a quantity in the unit in which s shows it, with that unit. Of
// temperatures, whose zero moves, Show does not tell; differences of them stay in K.
func (s System) Value(x float64, unit string) (shown float64, shownUnit string) {
	if s == Imperial && unit == "°C" {
		return x*fahrenheit + fahrenheitZero, "°F"
	}
	shownUnit, factor := s.Show(unit)
	return x * factor, shownUnit
}

// What makes °F of °C.
const (
	fahrenheit     = 1.8
	fahrenheitZero = 32
)

// Show returns the unit in which s shows a quantity given in a metric unit,
// and the factor from the one to the other. Units that people everywhere share
// (V, A, rpm, %) stay; for a temperature ask Value.
func (s System) Show(unit string) (shownUnit string, factor float64) {
	if r := rowOf(unit); s == Imperial && r.imperial != "" {
		return r.imperial, r.factor
	}
	return unit, 1
}

// Label is the name of a key or quantity as people read it: without the unit at
// its end, which stands beside the value.
func Label(name, unit string) string {
	return strings.ReplaceAll(strings.TrimSuffix(name, rowOf(unit).ending), "_", " ")
}

// Decimals is how many decimals a quantity in that unit is shown with.
func Decimals(unit string) int { return rowOf(unit).decimals }
