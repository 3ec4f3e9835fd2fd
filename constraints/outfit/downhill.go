package outfit

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// Where what happens downhill comes from.
const (
	sourceDescent = "energy balance of drive, motors, controllers and pack; open-circuit volts by the charge as for stops; braking with no more current than driving is an assumption"
	sourceStop    = "∫ m v dv / (B + L(v)): Wong, Theory of Ground Vehicles; the motors alone, without what copper and no load take"
	sourceBackEMF = "machine constants: above it the controllers' diodes charge the pack"
)

// Slope is the steepest slope on which a pack at one charge takes all that the motors
// generate.
type Slope struct {
	Charge float64 // share
	Intake drive.Intake
	drive.Descent
	Open Code // what is missing to tell, "" where it is told
}

// Downhill is what happens when the motors brake. NaN is not known.
type Downhill struct {
	Speed  float64 // m/s at which the slopes are held: the climb speed
	Slopes []Slope // full, nine tenths, half

	From  float64            // m/s, from which the stops are
	Stops []constraints.Stop // full, nine tenths, half

	CeilingSpeed float64 // m/s at which the electrical rpm passes the ceiling; NaN: no ceiling
	BackEMFSpeed float64 // m/s at which the back-EMF passes the full pack's volts
}

// downhill works it out.
func downhill(b *constraints.Build) Downhill {
	board, pack, limit := b.Board(), b.Battery.Pack, b.Battery.ChargeLimit()
	d := Downhill{
		Speed:        b.Problem.Brief.Target.ClimbSpeed,
		CeilingSpeed: board.ERPMSpeed(b.Controller.Ceiling),
		BackEMFSpeed: board.BackEMFSpeed(pack.Full),
		From:         b.Problem.Brief.Target.StopFrom,
	}
	for _, charge := range []float64{1, 0.9, 0.5} {
		d.Slopes = append(d.Slopes, slope(b, charge, d.Speed, limit))
		d.Stops = append(d.Stops, b.Stop(charge))
	}
	return d
}

// slope is the steepest at one charge.
func slope(b *constraints.Build, charge, v, limit float64) Slope {
	s := Slope{Charge: charge, Descent: drive.Descent{Grade: math.NaN()}}
	in := b.Battery.Pack.Intake(charge, limit, b.Problem.Warmth)
	s.Intake = in
	switch {
	case in.Current > 0 && math.IsNaN(limit):
		s.Open = NoCharge
	case in.Current > 0 && !b.Battery.ResistanceKnown:
		s.Open = NoPackResistance
	case !(b.Board().R > 0):
		s.Open = NoResistance
	default:
		s.Descent = b.Board().DescentLimit(v, in.OpenCircuit, in.Current)
		if math.IsNaN(s.Grade) {
			s.Open = NoMotorLimit
		}
	}
	return s
}

// Why is what sets the slope, or what is missing to tell.
func (s Slope) Why() Statement {
	switch {
	case s.Open != "":
		return said(s.Open)
	}
	return binding(s.By, s.Intake)
}

// binding is what limits the braking.
func binding(by drive.Limit, in drive.Intake) Statement {
	switch {
	case by == drive.MotorCurrent:
		return said(MotorsGiveNoMore)
	case by == drive.Grip:
		return said(GripGivesNoMore)
	case in.Current == 0:
		return said(PackTakesNone)
	case in.Full:
		return said(PackIsFullAt, given(in.Current, "A"))
	}
	return said(CellsTake, given(in.Current, "A"))
}

// stopWhy is what limits the braking of a stop at first, or what is missing to tell.
func stopWhy(b *constraints.Build, s constraints.Stop) Statement {
	switch {
	case math.IsNaN(s.Long) && math.IsNaN(b.Battery.ChargeLimit()):
		return said(NoCharge)
	case math.IsNaN(s.Long):
		return said(NoMotorLimit)
	case s.Coasts():
		return said(RollsOut)
	}
	return binding(s.By, s.Intake)
}
