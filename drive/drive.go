// Package drive is the physics of one electric board: battery, controllers,
// motors, drive and wheels, from volts to road speed.
package drive

import "math"

// Gravity is the standard acceleration of gravity, m/s² (3rd CGPM, 1901).
const Gravity = 9.80665

// Tolerance is the relative distance within which a value counts as equal to
// the limit it is held to. It is the one tolerance of every comparison.
const Tolerance = 1e-9

// AtMost reports whether value ≤ limit, equality within Tolerance included.
func AtMost(value, limit float64) bool {
	return value <= limit || value-limit <= Tolerance*math.Abs(limit)
}

// AtLeast reports whether value ≥ limit, equality within Tolerance included.
func AtLeast(value, limit float64) bool {
	return value >= limit || limit-value <= Tolerance*math.Abs(limit)
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
	ERPM                 // the electrical-rpm ceiling
	Estimate             // nothing known: derated no-load speed
)

// Commutation tells which current a controller's settings mean.
type Commutation uint8

// The commutations.
const (
	FOC     Commutation = iota // field-oriented: settings are phase amplitudes
	SixStep                    // block commutation: settings are DC-equivalent
)

// Motor is one motor. A zero field other than KV and PolePairs is not known.
type Motor struct {
	KV                float64 // rpm/V, from the line-to-line peak EMF
	PolePairs         int     // pairs of magnet poles
	Resistance        float64 // Ω, phase to phase, at 20 °C
	NoLoadCurrent     float64 // A, DC
	PeakCurrent       float64 // A, as the controller sets it
	ContinuousCurrent float64 // A, as the controller sets it
	MaxPower          float64 // W, electrical
}

// Controller is one channel of a speed controller. A zero current is not known.
type Controller struct {
	MotorCurrent      float64 // A, as set
	BatteryCurrent    float64 // A, pack side
	ContinuousCurrent float64 // A, motor current borne for long, as set
	MaxDuty           float64 // highest duty cycle, (0, 1]
	Efficiency        float64 // (0, 1]
	Commutation       Commutation
}

// Pack is a whole battery. Zero Cutoff, Discharge and Capacity are not known;
// zero Resistance is no resistance.
type Pack struct {
	Volts      float64 // V, open circuit, at the state of charge of the question
	Nominal    float64 // V
	Full       float64 // V
	Cutoff     float64 // V
	Resistance float64 // Ω, cells and wiring
	Discharge  float64 // A
	Capacity   float64 // A·h
}

// Electrical is one pack, controller, motor and number of motors, prepared
// once and then coupled to any drive and wheel. Couple makes it.
type Electrical struct {
	Motors      int
	K           float64 // V·s/rad and N·m/A
	R           float64 // Ω at the winding temperature; 0: not known
	NoLoad      float64 // A, DC-equivalent; 0 when not known
	PhaseFactor float64 // DC-equivalent A per A as set: √3/2 for FOC, 1 for six-step
	ThrustKnown bool    // R, a motor-current limit and a pack-side current limit are given

	Motor      Motor
	Controller Controller
	Pack       Pack

	motorCurrent float64 // A, DC-equivalent, the lower limit; +Inf when none
	power        float64 // W, electrical, each motor; +Inf when none
	powerBy      Limit   // BatteryCurrent or MotorPower, whichever sets power
	dutyVolts    float64 // V, duty × pack volts
	loop         float64 // Ω, R + n d² Rp / η
}

// Board is an Electrical coupled to the road. All fields are set by the
// caller; speeds are road speeds in m/s throughout.
type Board struct {
	*Electrical
	Reduction   float64 // motor turns per wheel turn
	Efficiency  float64 // of the drive, (0, 1]
	Radius      float64 // m, rolling
	Mass        float64 // kg, rider included
	Crr         float64 // rolling-resistance coefficient
	DragArea    float64 // m²
	AirDensity  float64 // kg/m³
	Friction    float64 // tyre on ground, μ
	DrivenShare float64 // share of the weight on driven wheels
}
