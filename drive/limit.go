package drive

import "math"

// Tolerance is the relative distance within which a value counts as equal to
// the limit it is held to. It is the one tolerance of every comparison.
const Tolerance = 1e-9

// AtMost reports whether value ≤ limit, equality within Tolerance included. NaN
// is neither.
func AtMost(value, limit float64) bool {
	return value <= limit || value-limit <= Tolerance*math.Abs(limit) && !math.IsInf(limit, 0)
}

// AtLeast reports whether value ≥ limit, equality within Tolerance included. NaN
// is neither.
func AtLeast(value, limit float64) bool {
	return value >= limit || limit-value <= Tolerance*math.Abs(limit) && !math.IsInf(limit, 0)
}

// Limit names what bounds a speed or a thrust. Its order is the order in which
// the first of equals is named.
type Limit uint8

// The limits. NoLimit is the zero value: there is nothing to name.
const (
	NoLimit        Limit = iota
	Voltage              // the pack's volts against the motor's back-EMF and resistance
	MotorCurrent         // the controller's or the motor's motor-current limit
	BatteryCurrent       // the pack-side current limit, sag and V/(2R) included
	MotorPower           // the motor's electrical power limit
	Grip                 // tyre on ground
	Lift                 // the front axle would lose its weight
	ERPM                 // the electrical-rpm ceiling
	Estimate             // nothing known: derated no-load speed
)

// String returns the limit's name in lower case with underscores, as data
// formats spell it; NoLimit and values that are no limit give "".
func (l Limit) String() string {
	switch l {
	case Voltage:
		return "voltage"
	case MotorCurrent:
		return "motor_current"
	case BatteryCurrent:
		return "battery_current"
	case MotorPower:
		return "motor_power"
	case Grip:
		return "grip"
	case Lift:
		return "lift"
	case ERPM:
		return "erpm"
	case Estimate:
		return "estimate"
	}
	return ""
}
