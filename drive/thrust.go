package drive

import "math"

// Thrust returns the force in newtons that all driven wheels together can give
// at a speed in m/s, at most what volts, motor current and power allow, at
// least 0, without the grip cap. +Inf where nothing bounds it, see Bounded. NaN
// unless ThrustKnown.
func (b *Board) Thrust(v float64) float64 {
	if !b.ThrustKnown {
		return math.NaN()
	}
	turn := b.Reduction / b.Radius
	amps, _ := b.Current(float64(v * turn))
	if amps > b.NoLoad && !b.Bounded() {
		return math.Inf(1)
	}
	return b.force(amps, turn)
}

// force returns the thrust of all motors at a current each, at least 0.
func (b *Board) force(amps, turn float64) float64 {
	if !(amps > b.NoLoad) {
		return 0
	}
	return float64(b.torque * b.Efficiency * turn * (amps - b.NoLoad))
}

// GripThrust returns the force in newtons that the driven wheels hold on a slope
// of theta rad, neither slipping nor lifting the front axle.
func (b *Board) GripThrust(theta float64) float64 {
	return b.GripThrustOn(SlopeOf(theta))
}

// GripThrustOn is GripThrust on a slope whose cosine is known.
func (b *Board) GripThrustOn(s Slope) float64 {
	return float64(b.Hold.Drive * b.weight() * s.Cos)
}

// ThrustLimit returns what bounds the thrust at a speed in m/s on a slope of
// theta rad, the first of equals: Voltage, MotorCurrent, BatteryCurrent,
// MotorPower, and Grip or Lift. NoLimit unless ThrustKnown.
func (b *Board) ThrustLimit(v, theta float64) Limit { return b.ThrustLimitOn(v, SlopeOf(theta)) }

// ThrustLimitOn is ThrustLimit on a slope whose sine and cosine are known.
func (b *Board) ThrustLimitOn(v float64, s Slope) Limit {
	if !b.ThrustKnown {
		return NoLimit
	}
	turn := b.Reduction / b.Radius
	amps, by := b.Current(float64(v * turn))
	if !AtMost(b.force(amps, turn), b.GripThrustOn(s)) {
		return b.Hold.By
	}
	return by
}

// MotorCurrentFor returns the DC-equivalent amperes in each motor that give a
// total force in newtons at the wheels. Divide by PhaseFactor for amperes as
// set.
func (b *Board) MotorCurrentFor(force float64) float64 {
	return force*b.Radius/(b.torque*b.Efficiency*b.Reduction) + b.NoLoad
}

// ThrustAtMost returns an upper bound in newtons on Thrust at a speed in m/s, with
// the board's gearing or any lower one: the thrust that the motor current alone
// allows, or the power without heat, whichever is less. For searches that want a
// bound at little cost.
func (b *Board) ThrustAtMost(v float64) float64 {
	force := b.force(b.motorCurrent, b.Reduction/b.Radius)
	if v > 0 {
		force = min(force, float64(float64(b.Motors)*b.power)*b.Efficiency/v)
	}
	return force
}
