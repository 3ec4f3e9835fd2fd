// Package quantity reads quantities as people write them on a command line,
// a number with its unit (40km/h, 15%, 38 N.m), and tells in which unit a
// quantity is shown.
//
// A unit is never assumed: a bare number is an error that names the units
// known. Numbers are decimal, with a point; NaN, infinities, hexadecimal
// numbers, decimal commas and gaps between thousands are refused. A space may
// stand between number and unit, and case does not matter in a unit.
package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gearsearch/catalog/field"
)

// Kind is a kind of quantity: the units it may be written in.
type Kind struct {
	name  string // with its article
	units []unit // the first is the one that examples show
}

// unit is one unit, by its names; the first is the one that messages list.
type unit struct {
	names []string
	toSI  func(x float64) float64
}

// Units by definition. The mile and the foot are international ones and, with
// the pound, exact by the agreement of 1959; the pound-force takes the
// standard acceleration of gravity (3rd CGPM, 1901).
const (
	inch  = 0.0254      // m
	foot  = 12 * inch   // m
	mile  = 5280 * foot // m: 1609.344
	pound = 0.45359237  // kg
	hour  = 3600        // s

	poundForce = pound * 9.80665 // N
)

// The kinds of quantities, and what Parse returns for each.
var (
	Speed = Kind{"a speed", []unit{ // m/s
		{[]string{"km/h", "kmh", "kph"}, times(1000.0 / hour)},
		{[]string{"mph", "mi/h"}, times(mile / hour)},
		{[]string{"m/s"}, times(1)},
	}}
	Grade = Kind{"a grade", []unit{ // rise over run
		{[]string{"%"}, times(0.01)},
		{[]string{"deg", "°"}, slope},
	}}
	Torque = Kind{"a torque", []unit{ // N·m
		{[]string{"N.m", "Nm", "N·m"}, times(1)},
		{[]string{"lbf.ft", "lb.ft", "lbf·ft", "lb·ft", "ft.lbf", "ft.lb"}, times(poundForce * foot)},
	}}
	Mass = Kind{"a mass", []unit{ // kg
		{[]string{"kg"}, times(1)},
		{[]string{"g"}, times(0.001)},
		{[]string{"lb", "lbs"}, times(pound)},
	}}
	Distance = Kind{"a distance", []unit{ // m
		{[]string{"km"}, times(1000)},
		{[]string{"mi"}, times(mile)},
		{[]string{"m"}, times(1)},
		{[]string{"ft"}, times(foot)},
	}}
	Length = Kind{"a length", []unit{ // m
		{[]string{"mm"}, times(0.001)},
		{[]string{"cm"}, times(0.01)},
		{[]string{"in"}, times(inch)},
		{[]string{"m"}, times(1)},
		{[]string{"ft"}, times(foot)},
	}}
	Temperature = Kind{"a temperature", []unit{ // °C
		{[]string{"C", "°C", "degC"}, times(1)},
		{[]string{"F", "°F", "degF"}, celsius},
	}}
	Time = Kind{"a time", []unit{ // s
		{[]string{"h"}, times(hour)},
		{[]string{"min"}, times(60)},
		{[]string{"s"}, times(1)},
	}}
)

func times(factor float64) func(float64) float64 {
	return func(x float64) float64 { return x * factor }
}

// celsius is a temperature in °F as one in °C (NIST SP 811, B.8).
func celsius(fahrenheit float64) float64 { return (fahrenheit - 32) / 1.8 }

// slope is the grade of a slope of so many degrees; NaN from the vertical on.
func slope(degrees float64) float64 {
	if math.Abs(degrees) >= 90 {
		return math.NaN()
	}
	return math.Tan(degrees * (math.Pi / 180))
}

// Units lists the units of k as messages name them.
func (k Kind) Units() []string {
	names := make([]string, len(k.units))
	for i, u := range k.units {
		names[i] = u.names[0]
	}
	return names
}

func (k Kind) known() string { return "known: " + strings.Join(k.Units(), " ") }

// Parse reads a quantity of kind k and returns it in SI units, a temperature in
// °C. The error says
// what is wrong without repeating the text.
func (k Kind) Parse(text string) (float64, error) {
	number, rest, err := split(text)
	if err != nil {
		return 0, fmt.Errorf("%w, as in 40%s", err, k.units[0].names[0])
	}
	if rest == "" {
		return 0, fmt.Errorf("%s needs a unit, as in %s%s; %s", k.name, strings.TrimSpace(text), k.units[0].names[0], k.known())
	}
	wanted := strings.ToLower(rest) // and no case folding, which takes ſ for s
	for _, u := range k.units {
		for _, name := range u.names {
			if strings.ToLower(name) == wanted {
				return inRange(u.toSI(number))
			}
		}
	}
	return 0, fmt.Errorf("%s is no unit of %s; %s", field.Quote(rest), k.name[2:], k.known())
}

// Number reads a bare number: one that no unit goes with.
func Number(text string) (float64, error) {
	number, rest, err := split(text)
	if err != nil {
		return 0, err
	}
	if rest != "" {
		return 0, fmt.Errorf("must be a bare number, without %s", field.Quote(rest))
	}
	return number, nil
}

// Percent reads a number of percent, with or without its sign, and returns it
// as a share.
func Percent(text string) (float64, error) {
	number, err := Number(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	return number / 100, err
}

func inRange(x float64) (float64, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, errors.New("out of range")
	}
	return x, nil
}

// split takes the number off the front of a text and returns what follows,
// without surrounding space.
func split(text string) (number float64, rest string, err error) {
	text = strings.TrimSpace(text)
	n := numberLength(text)
	if n == 0 {
		return 0, "", errors.New("begin with a number")
	}
	number, err = strconv.ParseFloat(text[:n], 64)
	if err != nil {
		return 0, "", errors.New("the number is out of range")
	}
	rest = strings.TrimSpace(text[n:])
	switch {
	case strings.HasPrefix(rest, ","):
		return 0, "", errors.New("write a decimal point, not a comma")
	case strings.HasPrefix(rest, "'"), strings.HasPrefix(rest, "_"), rest != "" && isDigit(rest[0]):
		return 0, "", errors.New("write thousands without a mark or gap")
	}
	return number, rest, nil
}

// numberLength is the length of the decimal number that s begins with.
func numberLength(s string) int {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	whole := digits(s[i:])
	i += whole
	part := 0
	if i < len(s) && s[i] == '.' {
		part = digits(s[i+1:])
		if whole+part > 0 {
			i += 1 + part
		}
	}
	if whole+part == 0 {
		return 0
	}
	return i + exponentLength(s[i:])
}

// exponentLength is the length of the exponent that s begins with.
func exponentLength(s string) int {
	if s == "" || s[0] != 'e' && s[0] != 'E' {
		return 0
	}
	i := 1
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	n := digits(s[i:])
	if n == 0 {
		return 0
	}
	return i + n
}

func digits(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }
