package constraints

import (
	"math"

	"gearsearch/drive"
)

// Build is one choice for each slot and what is computed of it. The zero
// value of the lazily computed part is "not computed yet"; Electrify and
// Roll set the parts and forget what was computed. A Build belongs to one
// goroutine and must not be copied.
type Build struct {
	Problem    *Problem
	Battery    *Battery
	Controller *Controller
	Motor      *Motor
	Count      int // index of the motor count in Problem.Counts
	Drive      *Drive
	Wheel      *Wheel

	electrical drive.Electrical
	board      drive.Board
	priceE     Sum // of battery, controllers and motors
	massE      Sum
	price      Sum
	mass       Sum // without the rider

	done     memo
	topSpeed float64
	topBy    drive.Limit
	need     float64 // N, at the climb speed on the target grade
	thrust   float64 // N, at the climb speed, without the grip cap
	cruise   drive.Cruise
	cruises  bool
	launch   float64 // s, NaN: null
}

// memo tells which of a build's lazily computed quantities are there.
type memo uint8

const (
	haveTopSpeed memo = 1 << iota
	haveNeed
	haveThrust
	haveCruise
	haveLaunch
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
	b.done = 0
}

// Roll sets the rolling half, after Electrify.
func (b *Build) Roll(d *Drive, w *Wheel) {
	p := b.Problem
	b.Drive, b.Wheel = d, w
	b.price = b.priceE.plus(d.Price[b.Count]).plus(w.Price)
	b.mass = b.massE.plus(d.Mass[b.Count]).plus(w.Mass)
	b.mass.Known += p.Brief.Board.Mass
	b.board = drive.Board{
		Electrical:  &b.electrical,
		Reduction:   d.Reduction,
		Efficiency:  d.Efficiency,
		Radius:      w.Radius,
		Mass:        p.Brief.Rider.Mass + b.mass.Known,
		Crr:         w.Crr,
		DragArea:    p.Brief.Rider.DragArea,
		AirDensity:  p.AirDensity,
		Friction:    p.Grip,
		DrivenShare: p.Shares[b.Count],
	}
	b.done = 0
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

// TopSpeed is the top speed on the flat in m/s and what limits it.
func (b *Build) TopSpeed() (float64, drive.Limit) {
	if b.done&haveTopSpeed == 0 {
		b.done |= haveTopSpeed
		if b.electrical.ThrustKnown {
			b.topSpeed, b.topBy = b.board.TopSpeed(b.erpmSpeed())
		} else {
			b.topSpeed, b.topBy = b.board.EstimatedTopSpeed(b.Problem.Brief.Limit.Derate, b.erpmSpeed())
		}
	}
	return b.topSpeed, b.topBy
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
// of the continuous currents that are known; NaN when the motor's is not.
func (b *Build) HeatLimit() float64 {
	if math.IsNaN(b.Motor.ContinuousCurrent) {
		return math.NaN()
	}
	return b.Problem.Brief.Limit.HeatFactor * lower(b.Motor.ContinuousCurrent, b.Controller.ContinuousCurrent)
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

// OutrunsCruise reports whether the top speed reaches the cruise speed.
func (b *Build) OutrunsCruise() bool {
	top, _ := b.TopSpeed()
	return drive.AtLeast(top, b.Problem.Brief.Target.Cruise)
}

// Cruise is what cruising at nominal volts takes; ok is false where the
// winding resistance is not known, the pack cannot give the power, or the
// cruise speed is above the top speed.
func (b *Build) Cruise() (c drive.Cruise, ok bool) {
	if b.done&haveCruise == 0 {
		b.done |= haveCruise
		b.cruise, b.cruises = b.board.Cruise(b.Problem.Brief.Target.Cruise, b.Battery.Pack.Nominal)
	}
	return b.cruise, b.cruises && b.OutrunsCruise()
}

// Consumption is the energy in J per metre of real riding, NaN where Cruise
// is not ok.
func (b *Build) Consumption() float64 {
	c, ok := b.Cruise()
	if !ok {
		return math.NaN()
	}
	return c.EnergyPerMetre * b.Problem.Brief.Limit.RideFactor
}

// Energy is what the pack holds, J; NaN when its capacity is not known.
func (b *Build) Energy() float64 {
	if b.Battery.Pack.Capacity == 0 {
		return math.NaN()
	}
	return b.Battery.Pack.Capacity * 3600 * b.Battery.Pack.Nominal
}

// Range is the distance in m that the usable energy gives; NaN when it is not
// known or the build cannot cruise.
func (b *Build) Range() float64 {
	return b.Energy() * b.Problem.Brief.Limit.Usable / b.Consumption()
}

// ERPM is the electrical rpm that the brief's rule holds against the ceiling.
// It reads no more of the build than the rule needs: battery and motor, or
// motor, drive and wheel.
func (b *Build) ERPM() float64 {
	e := drive.Electrical{Motor: b.Motor.Drive}
	if b.Problem.Brief.Limit.ERPMRule == AtSpeed {
		board := drive.Board{Electrical: &e, Reduction: b.Drive.Reduction, Radius: b.Wheel.Radius}
		return board.ERPMAt(b.Problem.Brief.Target.TopSpeed)
	}
	return e.FreeERPM(b.Battery.Pack.Full)
}
