package outfit

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// Where what happens downhill comes from.
const (
	sourceDescent = "energy balance of drive, motors, controllers and pack; the open-circuit volts between empty, nominal at half and full are straight lines, an assumption; so is braking with no more current than driving"
	sourceStop    = "∫ m v dv / (B + L(v)): Wong, Theory of Ground Vehicles; the grip is the brief's, of the driven wheels alone"
	sourceBackEMF = "machine constants: above it the controllers' diodes charge the pack"
)

// Slope is the steepest slope on which a pack at one charge takes what the
// motors make.
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

	From        float64 // m/s, the top speed, of which the distances are
	StopGrip    float64 // m on the flat, the driven wheels at the limit of grip
	StopCurrent float64 // m on the flat, the motors at their current limit, or the wheels at that of grip

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
		StopGrip:     math.NaN(), StopCurrent: math.NaN(),
	}
	for _, charge := range []float64{1, 0.9, 0.5} {
		d.Slopes = append(d.Slopes, slope(b, charge, d.Speed, limit))
	}
	d.From, _ = b.TopSpeed()
	grip := board.GripThrust(0)
	d.StopGrip = board.StoppingDistance(d.From, grip)
	if force := board.CurrentBraking(); !math.IsInf(force, 1) {
		d.StopCurrent = board.StoppingDistance(d.From, math.Min(force, grip))
	}
	return d
}

// slope is the steepest at one charge.
func slope(b *constraints.Build, charge, v, limit float64) Slope {
	s := Slope{Charge: charge, Descent: drive.Descent{Grade: math.NaN()}}
	in, ok := b.Battery.Pack.Intake(charge, limit)
	s.Intake = in
	switch {
	case !ok:
		s.Open = NoCharge
	case charge < 1 && !b.Battery.ResistanceKnown:
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
	case s.By == drive.MotorCurrent:
		return said(MotorsGiveNoMore)
	case s.By == drive.Grip:
		return said(GripGivesNoMore)
	case s.Intake.Current == 0:
		return said(PackTakesNone)
	case s.Intake.Full:
		return said(PackIsFullAt, given(s.Intake.Current, "A"))
	}
	return said(CellsTake, given(s.Intake.Current, "A"))
}
