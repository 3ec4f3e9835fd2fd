package outfit

import (
	"fmt"
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
	Open string // what is missing to tell, "" where it is told
}

// Downhill is what happens when the motors brake. NaN is not known.
type Downhill struct {
	Speed  float64 // m/s at which the slopes are held: the climb speed
	Slopes []Slope // full, nine tenths, half
	Regen  float64 // A, the pack's charge limit for each motor: the setting for braking into the pack

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
		Regen:        limit / float64(b.Motors()),
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
		s.Open = "the pack's charge_a is not known"
	case charge < 1 && !b.Battery.ResistanceKnown:
		s.Open = "the pack's resistance is not known"
	case !(b.Board().R > 0):
		s.Open = "the motors' resistance is not known"
	default:
		s.Descent = b.Board().DescentLimit(v, in.OpenCircuit, in.Current)
		if math.IsNaN(s.Grade) {
			s.Open = "no limit of the motors' current is known"
		}
	}
	return s
}

// Why says what sets the slope, or what is missing to tell.
func (s Slope) Why() string {
	switch {
	case s.Open != "":
		return s.Open
	case s.By == drive.MotorCurrent:
		return "the motors give no more"
	case s.By == drive.Grip:
		return "the driven wheels grip no more"
	case s.Intake.Current == 0:
		return "the pack takes no current"
	case s.Intake.Full:
		return "at " + num(s.Intake.Current) + " A its volts are those of the full pack"
	}
	return "the cells may be charged with " + num(s.Intake.Current) + " A"
}

// Words says what the slope is and why.
func (s Slope) Words() string {
	charge := "at " + num(s.Charge*percent) + " % charge"
	if s.Charge == 1 {
		charge = "with a full pack"
	}
	grade := down(s.Grade*percent) + " %"
	switch {
	case s.Open != "":
		grade = "unknown"
	case math.IsInf(s.Grade, 1):
		grade = "any"
	case s.Grade*percent < 0.1:
		grade = "none"
	}
	return fmt.Sprintf("%s %s (%s)", grade, charge, s.Why())
}
