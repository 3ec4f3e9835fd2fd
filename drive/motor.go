package drive

import "math"

// Commutation tells which current a controller's settings mean.
type Commutation uint8

// The commutations.
const (
	FOC     Commutation = iota // field-oriented: settings are phase amplitudes
	SixStep                    // block commutation: settings are DC-equivalent
)

// phaseFactor returns the DC-equivalent amperes of one ampere as set. With
// field-oriented control the power is 3/2·E·i for a phase EMF E and current
// amplitude i, and kv is told from the line-to-line peak √3·E: k ω I =
// 3/2·E·i gives I = √3/2·i. The copper loss 3·(R/2)·i²/2 = R·I² agrees, R
// being phase to phase.
func (c Commutation) phaseFactor() float64 {
	if c == SixStep {
		return 1
	}
	return math.Sqrt(3) / 2
}

// Motor is one motor. A zero field other than KV and PolePairs is not known.
type Motor struct {
	KV            float64 // rpm/V, from the line-to-line peak EMF
	PolePairs     int     // pairs of magnet poles
	Resistance    float64 // Ω, phase to phase, at 20 °C
	NoLoadCurrent float64 // A, DC
	PeakCurrent   float64 // A, as the controller sets it
	MaxPower      float64 // W, electrical
}

// Controller is one channel of a speed controller. A zero current is not known.
type Controller struct {
	MotorCurrent   float64 // A, as set
	BatteryCurrent float64 // A, pack side
	MaxDuty        float64 // highest duty cycle, (0, 1]
	Efficiency     float64 // (0, 1]
	Commutation    Commutation
}

// Lossless is the resistance in Ω of a board computed as if without losses: a
// trillionth of an ohm, so that the error is far below Tolerance and no formula
// divides by 0.
const Lossless = 1e-12

// copperCoefficient is the temperature coefficient of the resistance of
// annealed copper at 20 °C, 1/K (IEC 60028).
const copperCoefficient = 0.00393

// TorqueConstant returns k = 60/(2π kv) for kv in rpm/V: at once volts of
// back-EMF per rad/s and newton metres per DC-equivalent ampere.
func TorqueConstant(kv float64) float64 {
	return 60 / (2 * math.Pi * kv)
}

// CopperResistance returns the resistance of a copper winding at a temperature
// in degrees Celsius from its resistance at 20 °C, in the same unit (IEC
// 60028).
func CopperResistance(r20, celsius float64) float64 {
	return float64(r20 * (1 + float64(copperCoefficient*(celsius-20))))
}

// Electrical is one pack, controller, motor and number of motors, prepared
// once and then coupled to any drive and wheel. Couple makes it; it is not to
// be changed afterwards.
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

	torque       float64 // N·m/A, all motors together
	motorCurrent float64 // A, DC-equivalent, the lower limit; +Inf when none
	power        float64 // W, electrical, each motor; +Inf when none
	powerBy      Limit   // BatteryCurrent or MotorPower, whichever sets power
	dutyVolts    float64 // V, duty × pack volts
	sag          float64 // Ω, the pack's resistance as each motor sees it, n d² Rp / η
	loop         float64 // Ω, R + sag
}

// Couple prepares n motors, each on its own channel of the controller, on one
// pack, with windings at a temperature in degrees Celsius. A controller's
// MaxDuty and Efficiency, a motor's KV and a pack's Volts must be above 0.
func Couple(m Motor, n int, c Controller, p Pack, windingCelsius float64) Electrical {
	e := Electrical{
		Motors:      n,
		K:           TorqueConstant(m.KV),
		R:           CopperResistance(m.Resistance, windingCelsius),
		NoLoad:      m.NoLoadCurrent,
		PhaseFactor: c.Commutation.phaseFactor(),
		Motor:       m,
		Controller:  c,
		Pack:        p,
	}
	e.ThrustKnown = m.Resistance > 0 &&
		(m.PeakCurrent > 0 || c.MotorCurrent > 0) &&
		(c.BatteryCurrent > 0 || p.Discharge > 0)
	e.torque = float64(float64(n) * e.K)

	e.motorCurrent = math.Inf(1)
	if c.MotorCurrent > 0 {
		e.motorCurrent = float64(e.PhaseFactor * c.MotorCurrent)
	}
	if m.PeakCurrent > 0 {
		e.motorCurrent = min(e.motorCurrent, float64(e.PhaseFactor*m.PeakCurrent))
	}

	e.sag = float64(n) * c.MaxDuty * c.MaxDuty * p.Resistance / c.Efficiency
	e.loop = e.R + e.sag
	e.charge(p.Volts)
	return e
}

// charge sets the open-circuit volts of the pack, and what limits go by them.
func (e *Electrical) charge(volts float64) {
	e.Pack.Volts = volts
	e.dutyVolts = float64(e.Controller.MaxDuty * volts)
	e.power, e.powerBy = math.Inf(1), BatteryCurrent
	if amps := currentCap(e.Motors, e.Controller, e.Pack); !math.IsInf(amps, 1) {
		e.power = e.Controller.Efficiency * amps * e.Pack.Terminal(amps) / float64(e.Motors)
	}
	if most := e.Motor.MaxPower; most > 0 && most < e.power {
		if !AtMost(e.power, most) {
			e.powerBy = MotorPower
		}
		e.power = most
	}
}

// Bounded reports whether anything holds the current down below the speed where
// the back-EMF equals the volts: a resistance, or a limit of current or power.
func (e *Electrical) Bounded() bool {
	return e.loop > 2*Lossless || !math.IsInf(e.motorCurrent, 1) || !math.IsInf(e.power, 1)
}

// MotorLimited reports whether a limit of the motor current is given.
func (e *Electrical) MotorLimited() bool { return !math.IsInf(e.motorCurrent, 1) }

// FreeERPM returns the electrical rpm of the unloaded motor at pack volts:
// kv × volts × pole pairs, full duty.
func (e *Electrical) FreeERPM(volts float64) float64 {
	return float64(e.Motor.KV * volts * float64(e.Motor.PolePairs))
}

// Current returns the highest DC-equivalent current in amperes that each motor
// can take at a motor speed in rad/s, the lowest of what the volts, the motor
// current and the power allow, and which of them it is. It is negative above
// the speed where the back-EMF equals the volts. NaN, NoLimit when R is not
// known; limits that are not known do not bind.
func (e *Electrical) Current(omega float64) (amps float64, by Limit) {
	if !(e.R > 0) {
		return math.NaN(), NoLimit
	}
	emf := float64(e.K * omega)
	volt := (e.dutyVolts - emf) / e.loop
	amps = volt
	if e.motorCurrent < amps {
		amps = e.motorCurrent
	}
	if e.drawn(amps, emf) > e.power {
		amps = min(amps, e.powerCurrent(emf))
	}
	switch {
	case AtMost(volt, amps):
		return amps, Voltage
	case AtMost(e.motorCurrent, amps):
		return amps, MotorCurrent
	}
	return amps, e.powerBy
}

// drawn returns the electrical watts of one motor at a current and back-EMF.
func (e *Electrical) drawn(amps, emf float64) float64 {
	return float64(amps * (emf + float64(amps*e.R)))
}

// powerCurrent returns the current at which one motor draws its power limit at
// a back-EMF in volts, the positive root of R I² + emf I = P in the form that
// does not cancel.
func (e *Electrical) powerCurrent(emf float64) float64 {
	if e.power == 0 { // 0/0 at standstill
		return 0
	}
	return 2 * e.power / (emf + math.Sqrt(float64(emf*emf)+float64(4*e.R*e.power)))
}
