package constraints

import "fmt"

// Numbers are a formula with the numbers of a build put in.
type Numbers struct {
	Formula string // "" where a number is missing
	Notes   []Note // why one is missing, and what there is to say beside the formula
}

// Note is one thing to say of the numbers in a formula, without its words.
type Note struct {
	Code       NoteCode
	Lacking    []Datum    // of NoThrustWithout
	Quantities []Quantity // those of the code, in order
}

// NoteCode is what a note says.
type NoteCode string

// The notes. The quantities of each are in its order.
const (
	// Why a number is missing.
	NoThrustWithout NoteCode = "no-thrust-without" // data that are lacking
	NoThrust        NoteCode = "no-thrust"
	NoMotion        NoteCode = "no-motion"
	NoTopSpeed      NoteCode = "no-top-speed"
	NoGrade         NoteCode = "no-grade"
	NoLaunchSpeed   NoteCode = "no-launch-speed"
	NoLaunch        NoteCode = "no-launch" // launch speed
	NoLaunchTime    NoteCode = "no-launch-time"
	NoCeiling       NoteCode = "no-ceiling"
	NoCeilingHere   NoteCode = "no-ceiling-here"
	CruiseTooFast   NoteCode = "cruise-too-fast"  // cruise speed, top speed
	CruiseTooGreat  NoteCode = "cruise-too-great" // cruise speed
	WindTooGreat    NoteCode = "wind-too-great"   // cruise speed, wind
	NoLength        NoteCode = "no-length"
	NoThermal       NoteCode = "no-thermal"
	NoResistance    NoteCode = "no-resistance"
	NoCapacity      NoteCode = "no-capacity"
	NoRange         NoteCode = "no-range"
	NoContinuous    NoteCode = "no-continuous"
	NoBelt          NoteCode = "no-belt"
	NoBeltAround    NoteCode = "no-belt-around"
	NoChain         NoteCode = "no-chain"
	NoChainAround   NoteCode = "no-chain-around"
	GearNoBelt      NoteCode = "gear-no-belt"
	NoPrice         NoteCode = "no-price"
	NoMass          NoteCode = "no-mass"
	NoIntake        NoteCode = "no-intake"
	NoMotorLimit    NoteCode = "no-motor-limit"
	NeverStops      NoteCode = "never-stops"
	NoRoute         NoteCode = "no-route"
	NoCutoff        NoteCode = "no-cutoff"
	StallsAt        NoteCode = "stalls-at" // distance

	// What there is to say beside a formula.
	CeilingAllows        NoteCode = "ceiling-allows" // speed
	GoodToFortyPercent   NoteCode = "good-to-forty-percent"
	TakesNothing         NoteCode = "takes-nothing" // share of the charge
	LowerVoltsLonger     NoteCode = "lower-volts-longer"
	MotorInWheel         NoteCode = "motor-in-wheel"
	NoGearTeeth          NoteCode = "no-gear-teeth"
	PulleysMeetInTurn    NoteCode = "pulleys-meet-in-turn"    // teeth of the small and of the large one
	PulleysMeetOneOnly   NoteCode = "pulleys-meet-one-only"   // the same, the divisor that they share
	SprocketsMeetInTurn  NoteCode = "sprockets-meet-in-turn"  // as of pulleys
	SprocketsMeetOneOnly NoteCode = "sprockets-meet-one-only" // likewise
	GearsMeetInTurn      NoteCode = "gears-meet-in-turn"      // teeth of the small and of the large one
	GearsMeetOneOnly     NoteCode = "gears-meet-one-only"     // the same, the divisor that they share
)

// NoteCodes lists every code of a note.
func NoteCodes() []NoteCode {
	return []NoteCode{
		NoThrustWithout, NoThrust, NoMotion, NoTopSpeed, NoGrade, NoLaunchSpeed, NoLaunch, NoLaunchTime,
		NoCeiling, NoCeilingHere, CruiseTooFast, CruiseTooGreat, WindTooGreat, NoLength, NoThermal, NoResistance, NoCapacity, NoRange,
		NoContinuous, NoBelt, NoBeltAround, NoChain, NoChainAround, GearNoBelt, NoPrice, NoMass, NoIntake, NoMotorLimit, NeverStops, NoRoute, NoCutoff, StallsAt,
		CeilingAllows, TakesNothing, LowerVoltsLonger, GoodToFortyPercent, MotorInWheel, NoGearTeeth,
		PulleysMeetInTurn, PulleysMeetOneOnly, SprocketsMeetInTurn, SprocketsMeetOneOnly, GearsMeetInTurn, GearsMeetOneOnly,
	}
}

// Datum is something that the thrust is not known without.
type Datum uint8

// The data.
const (
	MotorResistance Datum = iota
	MotorCurrentLimit
	BatteryCurrentLimit
)

// Data lists every datum.
func Data() []Datum { return []Datum{MotorResistance, MotorCurrentLimit, BatteryCurrentLimit} }

// Put is a formula with numbers put in, in the manner of fmt.Sprintf.
func Put(format string, numbers ...any) Numbers {
	return Numbers{Formula: fmt.Sprintf(format, numbers...)}
}

// Lack is why there are no numbers.
func Lack(code NoteCode, quantities ...Quantity) Numbers { return Numbers{}.With(code, quantities...) }

// With adds a note.
func (n Numbers) With(code NoteCode, quantities ...Quantity) Numbers {
	n.Notes = append(n.Notes, Note{Code: code, Quantities: quantities})
	return n
}

// speed is a road speed in a note.
func speed(v float64) Quantity { return Quantity{SI: v, PerSI: kmh, Unit: "km/h", Digits: FourDigits} }
