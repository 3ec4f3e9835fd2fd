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
	"strconv"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
)

// Kind is a kind of quantity: the units it may be written in.
type Kind struct{ of *unit.Kind }

// The kinds of quantities that flags take, and what Parse returns for each.
var (
	Speed       = Kind{&unit.Speed}       // m/s
	Grade       = Kind{&unit.Grade}       // rise over run
	Torque      = Kind{&unit.Torque}      // N·m
	Mass        = Kind{&unit.Mass}        // kg
	Distance    = Kind{&unit.Distance}    // m
	Length      = Kind{&unit.Length}      // m
	Temperature = Kind{&unit.Temperature} // °C
	Time        = Kind{&unit.Time}        // s
)

// Units lists the units of k as messages name them.
func (k Kind) Units() []string { return k.of.List() }

// Parse reads a quantity of kind k and returns it in SI units, a temperature in
// °C. The error says
// what is wrong without repeating the text.
func (k Kind) Parse(text string) (float64, error) {
	first := k.of.List()[0]
	a, fault := k.of.Read(text, "")
	switch fault {
	case unit.OK:
		return a.Value, nil
	case unit.NoUnit:
		return 0, fmt.Errorf("%s needs a unit, as in %s%s; %s", k.of.Name, strings.TrimSpace(text), first, k.of.Known())
	case unit.NotOfKind:
		return 0, fmt.Errorf("%s is no unit of %s; %s", field.Quote(a.Unit), k.of.Name[2:], k.of.Known())
	case unit.OutOfRange:
		return 0, errors.New("out of range")
	}
	return 0, fmt.Errorf("%w, as in 40%s", faults[fault], first)
}

// faults are the errors of what is no number.
var faults = map[unit.Fault]error{
	unit.NoNumber:  errors.New("begin with a number"),
	unit.TooLarge:  errors.New("the number is out of range"),
	unit.Comma:     errors.New("write a decimal point, not a comma"),
	unit.Thousands: errors.New("write thousands without a mark or gap"),
}

// Number reads a bare number, one without a unit.
func Number(text string) (float64, error) {
	number, rest, fault := unit.Split(text)
	if fault != unit.OK {
		return 0, faults[fault]
	}
	x, err := strconv.ParseFloat(number, 64)
	switch {
	case err != nil:
		return 0, faults[unit.TooLarge]
	case rest != "":
		return 0, fmt.Errorf("must be a bare number, without %s", field.Quote(rest))
	}
	return x, nil
}

// Percent reads a number of percent, with or without its sign, and returns it
// as a share.
func Percent(text string) (float64, error) {
	number, err := Number(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	return number / 100, err
}
