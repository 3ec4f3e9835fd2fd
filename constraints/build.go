package constraints

import (
	"math"

	"gearsearch/drive"
)

// Build is one choice for each slot and what is computed of it. The zero
// value of the lazily computed part is "not computed yet"; Electrify and
// Roll set the parts and forget what was computed. A Build belongs to one
// goroutine and must not be copied.
//
// What its methods compute is the worst corner, with what is not known at its
// worst likely end; Best is the same build at the best one.
type Build struct {
	Problem    *Problem
	Battery    *Battery
	Controller *Controller
	Motor      *Motor
	Count      int // index of the motor count in Problem.Counts
	Drive      *Drive
	Wheel      *Wheel

	blank  bool   // the corners differ
	twin   *Build // the best corner, where they do; kept for the next group
	rolled bool   // the twin has the drive and the wheel
	worst  *Build // of a twin: the build that it is the best corner of

	electrical drive.Electrical
	full       drive.Electrical // at full charge
	board      drive.Board
	priceE     Sum // of battery, controllers and motors
	massE      Sum
	price      Sum
	mass       Sum // without the rider

	copper   float64 // A, copperCool; 0: not computed since Electrify
	done     memo
	topSpeed float64
	topBy    drive.Limit
	uncut    float64 // m/s, the top speed at full charge that no ceiling cuts
	need     float64 // N, at the climb speed on the target grade
	thrust   float64 // N, at the climb speed, without the grip cap
	ridden   drive.Ridden
	rides    bool
	winding  float64 // °C at the end of the hill, NaN: not known
	launch   float64 // s, NaN: null
	stop     Stop    // at the charge of the brief's target
	travels  travels
	isSure   sureOfRoute
	grounds  []drive.Ground // room for trip
}

// memo tells which of a build's lazily computed quantities are there.
type memo uint16

const (
	haveTopSpeed memo = 1 << iota
	haveUncut
	haveNeed
	haveThrust
	haveRide
	haveWinding
	haveLaunch
	haveStop
	haveTravel
	haveSure
)

// Motors is the number of motors.
func (b *Build) Motors() int { return b.Problem.Counts[b.Count] }

// Controllers is the number of controllers that the motors need.
func (b *Build) Controllers() int { return b.Controller.Pieces[b.Count] }

// Electrify sets the electrical half of the build: battery, controller,
// motor, and the index of the motor count.
func (b *Build) Electrify(battery *Battery, controller *Controller, motor *Motor, count int) {
	b.Battery, b.Controller, b.Motor, b.Count = battery, controller, motor, count
	p := b.Problem
	b.electrical = drive.Couple(motor.Drive, p.Counts[count], controller.Drive, battery.Pack, p.Brief.Limit.Winding)
	b.priceE = battery.Price.plus(controller.Price[count]).plus(motor.Price[count])
	b.massE = battery.Mass.plus(controller.Mass[count]).plus(motor.Mass[count])
	b.done, b.full.Motors, b.copper = 0, 0, 0
	if b.blank = motor.Blank || battery.Blank || !b.electrical.ThrustKnown; b.blank {
		b.electrifyTwin()
	}
}

// electrifyTwin sets the electrical half of the best corner. There what is not
// known and has no range does not hold the board back, so that its thrust is
// known.
func (b *Build) electrifyTwin() {
	if b.twin == nil {
		b.twin = &Build{worst: b}
	}
	p, t := b.Problem, b.twin
	t.Problem, t.Battery, t.Controller, t.Motor, t.Count = p, b.Battery, b.Controller, b.Motor, b.Count
	t.electrical = drive.Couple(b.Motor.Best, p.Counts[b.Count], b.Controller.Drive, b.Battery.Best, p.Brief.Limit.Winding)
	t.electrical.ThrustKnown = true
	t.priceE, t.massE = b.priceE, b.massE
	t.done, t.full.Motors, t.copper = 0, 0, 0
	b.rolled = false
}

// Best is the best corner of the build, or the build itself where it has only one
// corner. It is valid until the next Electrify or Roll.
func (b *Build) Best() *Build {
	if !b.blank {
		return b
	}
	t := b.twin
	switch {
	case b.rolled && t.Drive == b.Drive && t.Wheel == b.Wheel:
	case b.Drive != nil && b.Wheel != nil:
		b.rolled = true
		t.Roll(b.Drive, b.Wheel)
	default: // for checks that read less
		t.Drive, t.Wheel = b.Drive, b.Wheel
	}
	return t
}

// Blank reports whether the build has two corners.
func (b *Build) Blank() bool { return b.blank }

// Roll sets the rolling half, after Electrify.
func (b *Build) Roll(d *Drive, w *Wheel) {
	p := b.Problem
	b.Drive, b.Wheel = d, w
	b.price = b.priceE.plus(d.Price[b.Count]).plus(w.Price)
	b.mass = b.massE.plus(d.Mass[b.Count]).plus(w.Mass)
	b.mass.Known += p.Brief.Board.Mass
	b.board = drive.Board{
		Electrical: &b.electrical,
		Reduction:  d.Reduction,
		Efficiency: d.Efficiency,
		Radius:     w.Radius,
		Mass:       p.Brief.Rider.Mass + b.mass.Known,
		Crr:        w.Crr,
		DragArea:   p.DragArea,
		AirDensity: p.AirDensity,
		Hold:       p.hold(b.Count, w.Crr),
	}
	b.done, b.rolled = 0, false
}

// Board is the physics of the build; it is valid until the next Roll.
func (b *Build) Board() *drive.Board { return &b.board }

// ThrustKnown reports whether the build's thrust can be computed.
func (b *Build) ThrustKnown() bool { return b.electrical.ThrustKnown }

// Price is the cost of all parts.
func (b *Build) Price() Sum { return b.price }

// Mass is the mass of the board with all parts, kg, without the rider.
func (b *Build) Mass() Sum { return b.mass }

// TotalMass is the mass that moves, kg, unknown masses counting nothing.
func (b *Build) TotalMass() float64 { return b.board.Mass }

// erpmSpeed is the road speed at the ceiling, +Inf without one.
func (b *Build) erpmSpeed() float64 {
	if math.IsNaN(b.Controller.Ceiling) {
		return math.Inf(1)
	}
	return b.board.ERPMSpeed(b.Controller.Ceiling)
}

// TopSpeed is the top speed on the flat in m/s and what limits it. Where the
// thrust is not known it is estimated, and not above that of the best corner.
func (b *Build) TopSpeed() (float64, drive.Limit) {
	if b.done&haveTopSpeed == 0 {
		b.done |= haveTopSpeed
		if b.electrical.ThrustKnown {
			b.topSpeed, b.topBy = b.board.TopSpeed(b.erpmSpeed())
		} else {
			b.topSpeed, b.topBy = b.estimatedTopSpeed()
		}
	}
	return b.topSpeed, b.topBy
}

// estimatedTopSpeed is TopSpeed where the thrust is not known.
func (b *Build) estimatedTopSpeed() (float64, drive.Limit) {
	v, by := b.board.EstimatedTopSpeed(b.Problem.Brief.Limit.Derate, b.erpmSpeed())
	switch best, _ := b.Best().TopSpeed(); {
	case best == 0:
		return 0, drive.NoLimit
	case !drive.AtMost(v, best):
		return best, drive.Estimate
	}
	return v, by
}

// estimates reports whether so little is known of the build that the estimate of
// its top speed decides: neither a resistance of its motor, nor what stands in
// for it, nor any limit of current or power.
func (b *Build) estimates() bool {
	if b.worst != nil {
		b = b.worst
	}
	m, c := &b.Motor.Drive, &b.Controller.Drive
	return m.Resistance == 0 && m.PeakCurrent == 0 && m.MaxPower == 0 &&
		c.MotorCurrent == 0 && c.BatteryCurrent == 0 && b.Battery.Pack.Discharge == 0
}

// judgedTopSpeed is the top speed that a check goes by; sure is false where it is
// an estimate that does not decide.
func (b *Build) judgedTopSpeed() (v float64, sure bool) {
	if b.worst != nil && b.estimates() {
		b = b.worst
	}
	v, _ = b.TopSpeed()
	return v, b.electrical.ThrustKnown || b.estimates()
}

// judgedUncut is judgedTopSpeed at full charge, without a ceiling of electrical
// rpm.
func (b *Build) judgedUncut() (v float64, sure bool) {
	if b.worst != nil && b.estimates() {
		b = b.worst
	}
	return b.uncutTopSpeed(), b.electrical.ThrustKnown || b.estimates()
}

// FullTopSpeed is the top speed on the flat in m/s with the pack full, whatever the
// brief's charge, estimated where TopSpeed is.
func (b *Build) FullTopSpeed() float64 { return math.Min(b.uncutTopSpeed(), b.erpmSpeed()) }

// judgedFullTopSpeed is judgedTopSpeed at full charge.
func (b *Build) judgedFullTopSpeed() (v float64, sure bool) {
	v, sure = b.judgedUncut()
	return math.Min(v, b.erpmSpeed()), sure
}

// uncutTopSpeed is TopSpeed at full charge, without a ceiling of electrical rpm.
func (b *Build) uncutTopSpeed() float64 {
	if b.done&haveUncut == 0 {
		b.done |= haveUncut
		board := b.board
		board.Electrical = b.fullElectrical()
		if b.electrical.ThrustKnown {
			b.uncut, _ = board.BalanceSpeed()
		} else {
			b.uncut, _ = board.EstimatedTopSpeed(b.Problem.Brief.Limit.Derate, math.Inf(1))
			b.uncut = math.Min(b.uncut, b.Best().uncutTopSpeed())
		}
	}
	return b.uncut
}

// fullElectrical is the electrical half at full charge.
func (b *Build) fullElectrical() *drive.Electrical {
	if b.full.Motors == 0 {
		e := &b.electrical
		pack := e.Pack
		pack.Volts = pack.Full
		b.full = drive.Couple(e.Motor, e.Motors, e.Controller, pack, b.Problem.Brief.Limit.Winding)
		b.full.ThrustKnown = e.ThrustKnown
	}
	return &b.full
}

// SpeedsChanged forgets what was computed of the build, but not its top speed: the
// climb, launch or cruise speed of its brief is another now.
func (b *Build) SpeedsChanged() {
	b.done &= haveTopSpeed | haveUncut
	if b.blank {
		b.Best().done &= haveTopSpeed | haveUncut
	}
}

// ClimbNeed is the force in N that the climb speed takes on the target grade,
// on the flat without one.
func (b *Build) ClimbNeed() float64 {
	if b.done&haveNeed == 0 {
		b.done |= haveNeed
		b.need = b.board.LoadOn(b.Problem.Brief.Target.ClimbSpeed, b.Problem.Slope)
	}
	return b.need
}

// ClimbThrust is the thrust in N at the climb speed without the grip cap. It
// needs ThrustKnown.
func (b *Build) ClimbThrust() float64 {
	if b.done&haveThrust == 0 {
		b.done |= haveThrust
		b.thrust = b.board.Thrust(b.Problem.Brief.Target.ClimbSpeed)
	}
	return b.thrust
}

// GrippedClimbThrust is ClimbThrust capped by the grip on the target grade.
func (b *Build) GrippedClimbThrust() float64 {
	return math.Min(b.ClimbThrust(), b.board.GripThrustOn(b.Problem.Slope))
}

// ClimbCurrent is the motor current in A, as the controller sets it, that
// holds the climb speed on the target grade.
func (b *Build) ClimbCurrent() float64 {
	return b.board.MotorCurrentFor(b.ClimbNeed()) / b.electrical.PhaseFactor
}

// HeatLimit is what ClimbCurrent is held to: the heat factor times the lower
// of the continuous currents that are known, NaN when none is. sure is false
// where the motor's is not, so that a current within the limit may be too much.
func (b *Build) HeatLimit() (amps float64, sure bool) {
	amps = b.Problem.Brief.Limit.HeatFactor * lower(b.Motor.ContinuousCurrent, b.Controller.ContinuousCurrent)
	return amps, !math.IsNaN(b.Motor.ContinuousCurrent)
}

// WheelTorque is the torque in N·m at each driven wheel on the target grade.
func (b *Build) WheelTorque() float64 {
	return b.ClimbNeed() * b.board.Radius / float64(b.Motors())
}

// BeltPull is the pull in N of each belt on the target grade; NaN for a gear
// drive.
func (b *Build) BeltPull() float64 {
	if b.Drive.Gear != nil {
		return math.NaN()
	}
	shaft := b.WheelTorque() / (b.Drive.Reduction * b.Drive.Efficiency)
	pulley := b.Drive.MotorPulley
	return shaft / (pulley.Profile.PitchDiameter(pulley.Teeth) / 2)
}

// Launch is the time in s from rest to the launch speed; NaN when it is not
// reached, not known, or not asked for.
func (b *Build) Launch() float64 {
	if b.done&haveLaunch == 0 {
		b.done |= haveLaunch
		b.launch = math.NaN()
		if to := b.Problem.Brief.Target.LaunchSpeed; !math.IsNaN(to) && b.ThrustKnown() {
			top, _ := b.TopSpeed()
			if s, ok := b.board.LaunchTime(to, top); ok {
				b.launch = s
			}
		}
	}
	return b.launch
}

// ERPM is the electrical rpm that the brief's rule holds against the ceiling;
// sure is false where it is an estimate that does not decide. It reads no more of
// the build than the rule needs: battery and motor, or motor, drive and wheel, or
// all of it.
func (b *Build) ERPM() (rpm float64, sure bool) {
	e := drive.Electrical{Motor: b.Motor.Drive}
	board := drive.Board{Electrical: &e}
	if b.Drive != nil && b.Wheel != nil {
		board.Reduction, board.Radius = b.Drive.Reduction, b.Wheel.Radius
	}
	switch b.Problem.Brief.Limit.ERPMRule {
	case AtSpeed:
		return board.ERPMAt(b.Problem.Brief.Target.TopSpeed), true
	case AtTop:
		v, sure := b.judgedUncut()
		return board.ERPMAt(v), sure
	}
	return e.FreeERPM(b.Battery.Pack.Full), true
}

// SureERPM is ERPM, NaN where it does not decide.
func (b *Build) SureERPM() float64 {
	rpm, sure := b.ERPM()
	return unless(rpm, !sure)
}

// NominalERPM is the electrical rpm of the motors with the wheels off the ground and
// the pack at its nominal volts.
func (b *Build) NominalERPM() float64 { return b.electrical.FreeERPM(b.Battery.Pack.Nominal) }

// ThrustPerAmpere is the force in N at the ground that all motors together give for
// each ampere that their controllers set, before what they idle with.
func (b *Build) ThrustPerAmpere() float64 {
	return float64(b.Motors()) * b.board.Efficiency * b.board.Reduction / b.board.Radius * b.electrical.K * b.electrical.PhaseFactor
}
