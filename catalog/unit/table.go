package unit

import "math"

// Factors by definition, in SI units.
const (
	Inch  = 0.0254      // m
	Foot  = 12 * Inch   // m
	Mile  = 5280 * Foot // m: 1609.344
	Pound = 0.45359237  // kg
	Ounce = Pound / 16  // kg
	Hour  = 3600        // s

	PoundForce = Pound * 9.80665 // N
)

// Kind is a kind of quantity: the units that it may be written in.
type Kind struct {
	Name  string // with its article
	Units []Unit // the first is the one that examples show
	// Quotient: it is written as two numbers with a colon between them, and is
	// the larger over the smaller.
	Quotient bool
	// Money: any code or sign of a currency is a unit of it, before the number
	// or behind.
	Money bool
}

// Unit is one unit, by its names; the first is the one that messages list.
type Unit struct {
	Names []string
	per   ratio                 // how many of the kind's base unit one of it is
	zero  ratio                 // its zero in base units; the zero ratio: at zero
	curve func(float64) float64 // in place of per: converts so many of it to base units
	milli bool                  // it begins with m for a thousandth: M would be a million
}

// ratio is a fraction of whole numbers.
type ratio struct{ num, den int64 }

// What the factors are given in below, so that numerators are whole.
const tenths4, tenths8, tenths10 = 10_000, 100_000_000, 10_000_000_000

// The kinds of quantities, each with its base unit.
var (
	Speed = Kind{Name: "a speed", Units: []Unit{ // m/s
		{Names: []string{"km/h", "kmh", "kph", "kmph"}, per: ratio{1000, Hour}},
		{Names: []string{"mph", "mi/h"}, per: ratio{Mile * tenths4, Hour * tenths4}},
		{Names: []string{"m/s", "mps"}, per: ratio{1, 1}},
	}}
	Grade = Kind{Name: "a grade", Units: []Unit{ // rise over run
		{Names: []string{"%", "pct", "percent"}, per: ratio{1, 100}},
		{Names: []string{"deg", "°", "degrees"}, curve: slope},
	}}
	Ascent = Kind{Name: "an ascent", Units: []Unit{ // m of height for each m of way
		{Names: []string{"m/km"}, per: ratio{1, 1000}},
		{Names: []string{"ft/mi"}, per: ratio{1, 5280}},
	}}
	Rate = Kind{Name: "a number for each distance", Units: []Unit{ // for each m
		{Names: []string{"/km", "per km"}, per: ratio{1, 1000}},
		{Names: []string{"/mi", "per mi", "per mile"}, per: ratio{1000, Mile * 1_000_000}},
	}}
	Angle = Kind{Name: "an angle", Units: []Unit{ // rad
		{Names: []string{"deg", "°", "degrees"}, curve: radians},
	}}
	Torque = Kind{Name: "a torque", Units: []Unit{ // N·m
		{Names: []string{"N.m", "Nm", "N·m"}, per: ratio{1, 1}},
		{
			Names: []string{"lbf.ft", "lb.ft", "lbf·ft", "lb·ft", "ft.lbf", "ft.lb", "ft-lb", "lb-ft"},
			per:   ratio{Pound * tenths8 * 9.80665 * 100_000 * Foot * 1_0000, tenths8 * 100_000 * 1_0000},
		},
	}}
	Mass = Kind{Name: "a mass", Units: []Unit{ // kg
		{Names: []string{"kg"}, per: ratio{1, 1}},
		{Names: []string{"g"}, per: ratio{1, 1000}},
		{Names: []string{"lb", "lbs"}, per: ratio{Pound * tenths8, tenths8}},
		{Names: []string{"oz"}, per: ratio{Pound * tenths8, 16 * tenths8}},
	}}
	Distance = Kind{Name: "a distance", Units: []Unit{kilometre, mile, metre, foot}} // m
	Length   = Kind{Name: "a length", Units: []Unit{                                 // m
		{Names: []string{"mm"}, per: ratio{1, 1000}},
		{Names: []string{"cm"}, per: ratio{1, 100}},
		{Names: []string{"in", "inch", "inches", `"`, "″"}, per: ratio{Inch * tenths4, tenths4}},
		metre, foot,
	}}
	Area = Kind{Name: "an area", Units: []Unit{ // m²
		{Names: []string{"mm²", "mm2", "mm^2"}, per: ratio{1, 1_000_000}},
		{Names: []string{"cm²", "cm2", "cm^2"}, per: ratio{1, 10_000}},
		{Names: []string{"m²", "m2", "m^2"}, per: ratio{1, 1}},
		{Names: []string{"in²", "in2", "in^2", "sq.in"}, per: ratio{Inch * tenths4 * Inch * tenths4, tenths8}},
		{Names: []string{"ft²", "ft2", "ft^2", "sq.ft"}, per: ratio{Foot * tenths4 * Foot * tenths4, tenths8}},
	}}
	Density = Kind{Name: "a density", Units: []Unit{ // kg/m³
		{Names: []string{"kg/m³", "kg/m3", "kg/m^3"}, per: ratio{1, 1}},
		{Names: []string{"g/l"}, per: ratio{1, 1}},
		{Names: []string{"lb/ft³", "lb/ft3", "lb/ft^3"}, per: ratio{Pound * tenths8 * tenths4, Foot * tenths4 * Foot * tenths4 * Foot * tenths4}},
	}}
	Pull = Kind{Name: "a pull per width", Units: []Unit{ // N/m
		{Names: []string{"N/mm"}, per: ratio{1000, 1}},
		{Names: []string{"N/m"}, per: ratio{1, 1}},
		{Names: []string{"lbf/in", "lb/in"}, per: ratio{PoundForce * tenths8 * 100_000, 100_000 * Inch * tenths4 * tenths4}},
	}}
	Force = Kind{Name: "a force", Units: []Unit{ // N
		{Names: []string{"N"}, per: ratio{1, 1}},
		{Names: []string{"kN"}, per: ratio{1000, 1}},
		{Names: []string{"lbf"}, per: ratio{PoundForce * tenths8 * 100_000, tenths8 * 100_000}},
	}}
	Temperature = Kind{Name: "a temperature", Units: []Unit{ // °C
		{Names: []string{"C", "°C", "degC"}, per: ratio{1, 1}},
		{Names: []string{"F", "°F", "degF"}, per: ratio{5, 9}, zero: ratio{-160, 9}},
		{Names: []string{"K"}, per: ratio{1, 1}, zero: ratio{-27315, 100}},
	}}
	Time = Kind{Name: "a time", Units: []Unit{ // s
		{Names: []string{"h"}, per: ratio{Hour, 1}},
		{Names: []string{"min"}, per: ratio{60, 1}},
		{Names: []string{"s"}, per: ratio{1, 1}},
	}}
	Voltage = Kind{Name: "a voltage", Units: []Unit{ // V
		{Names: []string{"V", "volts", "volt", "V per cell", "V/cell"}, per: ratio{1, 1}},
		{Names: []string{"mV"}, per: ratio{1, 1000}, milli: true},
	}}
	Current = Kind{Name: "a current", Units: []Unit{ // A
		{Names: []string{"A", "amps", "amp"}, per: ratio{1, 1}},
		{Names: []string{"mA"}, per: ratio{1, 1000}, milli: true},
	}}
	Charge = Kind{Name: "a charge", Units: []Unit{ // A·h
		{Names: []string{"Ah", "A.h", "A·h"}, per: ratio{1, 1}},
		{Names: []string{"mAh", "mA.h", "mA·h"}, per: ratio{1, 1000}, milli: true},
	}}
	Resistance = Kind{Name: "a resistance", Units: []Unit{ // Ω
		{Names: []string{"mΩ", "mohm", "mohms", "milliohm", "milliohms"}, per: ratio{1, 1000}, milli: true},
		{Names: []string{"ohm", "Ω", "ohms"}, per: ratio{1, 1}},
		{Names: []string{"µΩ", "uohm"}, per: ratio{1, 1_000_000}},
	}}
	Power = Kind{Name: "a power", Units: []Unit{ // W
		{Names: []string{"W", "watt", "watts"}, per: ratio{1, 1}},
		{Names: []string{"kW"}, per: ratio{1000, 1}},
	}}
	Turning = Kind{Name: "a rotational speed", Units: []Unit{ // rpm
		{Names: []string{"rpm", "erpm"}, per: ratio{1, 1}},
		{Names: []string{"krpm"}, per: ratio{1000, 1}},
	}}
	SpeedConstant = Kind{Name: "a speed constant", Units: []Unit{ // rpm/V
		{Names: []string{"rpm/V", "kv"}, per: ratio{1, 1}},
	}}
	Percent = Kind{Name: "a percentage", Units: []Unit{ // of 1
		{Names: []string{"%", "pct", "percent", "points"}, per: ratio{1, 100}},
	}}
	// Share is a part of 1, which is written as a bare number too.
	Share = Kind{Name: "a share", Units: []Unit{
		{Names: []string{"%", "pct", "percent"}, per: ratio{1, 100}},
	}}
	Teeth = Kind{Name: "a number of teeth", Units: []Unit{
		{Names: []string{"teeth", "T"}, per: ratio{1, 1}},
	}}
	Links = Kind{Name: "a number of links", Units: []Unit{
		{Names: []string{"links", "link"}, per: ratio{1, 1}},
	}}
	Series = Kind{Name: "a number of cells in series", Units: []Unit{
		{Names: []string{"s"}, per: ratio{1, 1}},
	}}
	Parallel = Kind{Name: "a number of cells side by side", Units: []Unit{
		{Names: []string{"p"}, per: ratio{1, 1}},
	}}
	PolePairs = Kind{Name: "a number of pole pairs", Units: []Unit{
		{Names: []string{"pairs", "pole pairs"}, per: ratio{1, 1}},
		{Names: []string{"poles", "magnets"}, per: ratio{1, 2}},
	}}
	Ratio = Kind{Name: "a ratio", Quotient: true}
	Money = Kind{Name: "an amount of money", Money: true}
)

var (
	kilometre = Unit{Names: []string{"km"}, per: ratio{1000, 1}}
	mile      = Unit{Names: []string{"mi", "mile", "miles"}, per: ratio{Mile * 1000, 1000}}
	metre     = Unit{Names: []string{"m"}, per: ratio{1, 1}}
	foot      = Unit{Names: []string{"ft", "feet", "foot"}, per: ratio{Foot * tenths4, tenths4}}
)

// slope is the grade of a slope of so many degrees; NaN from the vertical on.
func slope(degrees float64) float64 {
	if math.Abs(degrees) >= 90 {
		return math.NaN()
	}
	return math.Tan(degrees * (math.Pi / 180))
}

// radians is an angle of so many degrees.
func radians(degrees float64) float64 { return degrees / (180 / math.Pi) }

// Kinds lists every kind.
func Kinds() []*Kind {
	return []*Kind{
		&Speed, &Grade, &Ascent, &Rate, &Angle, &Torque, &Mass, &Distance, &Length, &Area, &Density, &Pull, &Force, &Temperature, &Time, &Voltage, &Current,
		&Charge, &Resistance, &Power, &Turning, &SpeedConstant, &Percent, &Share, &Teeth, &Links, &Series, &Parallel, &PolePairs, &Ratio, &Money,
	}
}

// Of is the kind of a quantity whose key is in a unit, nil for a bare number.
func Of(unit string) *Kind {
	switch unit {
	case "":
		return nil
	case "%", "points": // a grade says so
		return &Percent
	case "m":
		return &Distance
	}
	for _, k := range Kinds() {
		if _, ok := k.unit(unit); ok {
			return k
		}
	}
	return nil
}
