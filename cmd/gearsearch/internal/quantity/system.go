package quantity

import "fmt"

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

// shown is the unit that stands for a metric one, and how many of it one of
// the metric unit is.
type shown struct {
	unit   string
	factor float64
}

var imperial = map[string]shown{
	"km/h":  {"mph", 1000 / mile},
	"km":    {"mi", 1000 / mile},
	"Wh/km": {"Wh/mi", mile / 1000},
	"m":     {"ft", 1 / foot},
	"mm":    {"in", 0.001 / inch},
	"kg":    {"lb", 1 / pound},
	"N":     {"lbf", 1 / poundForce},
	"N.m":   {"lbf.ft", 1 / (poundForce * foot)},
	"m/s":   {"mph", hour / mile},
}

// Show returns the unit in which s shows a quantity given in a metric unit,
// and the factor from the one to the other. Units that people everywhere share
// (V, A, rpm, %) stay, and °C, in which data sheets of motors and wires are.
func (s System) Show(unit string) (shownUnit string, factor float64) {
	if s == Imperial {
		if other, ok := imperial[unit]; ok {
			return other.unit, other.factor
		}
	}
	return unit, 1
}

// Decimals is how many decimals a quantity in that unit is shown with: about
// as many as its inputs are known to.
func Decimals(unit string) int {
	switch unit {
	case "rpm", "N", "Wh", "teeth", "price":
		return 0
	case "s", "in", "":
		return 2
	}
	return 1
}
