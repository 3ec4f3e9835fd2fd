package outfit

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// Setting is one number that a builder sets the controllers to. Currents are those
// of each motor, as controllers count them.
type Setting struct {
	Name   string
	Unit   string
	Value  float64 // in Unit; NaN: not known
	Down   bool    // the value is the most that may be set; else the least
	By     string  // what sets it: the id of a part, a key of the brief or "assumed"; "" where it is not known
	How    []Statement
	Source string
}

// Shown is the setting as a quantity, rounded so that what keeps to the number shown
// keeps to the setting.
func (s Setting) Shown() constraints.Quantity {
	if s.Down {
		return boundMost(s.Value, s.Unit)
	}
	return boundLeast(s.Value, s.Unit)
}

// assumed says that no part and no brief sets a value.
const assumed = "assumed"

// Where settings come from.
const (
	sourceGiven   = "ratings as given"
	sourceSlides  = "weight that moves to the front axle: Wong, Theory of Ground Vehicles; the grip is an assumption"
	sourceIntake  = "the lower of the charge limit as given and (full volts − open-circuit volts)/R, less what the cold takes"
	sourceCutBack = "common practice, no published source: controllers take the current back between two pack voltages, so that it does not end at once"
)

// Settings lists what the controllers of a build are set to.
func Settings(b *constraints.Build) []Setting {
	motor := motorSetting(b)
	braking := brakingSetting(b, motor)
	start, end := cutBack(b)
	return []Setting{motor, braking, outSetting(b), inSetting(b), start, end, erpmSetting(b), dutySetting(b)}
}

// lowest is the lower of two limits that are known, with what sets it.
func lowest(a float64, byA string, b float64, byB string) (value float64, by string) {
	switch {
	case math.IsNaN(a) && math.IsNaN(b):
		return math.NaN(), ""
	case math.IsNaN(a) || b < a:
		return b, byB
	}
	return a, byA
}

func motorSetting(b *constraints.Build) Setting {
	s := Setting{Name: "motor_current_a", Unit: "A", Down: true, Source: sourceGiven}
	s.Value, s.By = lowest(b.Controller.MotorCurrent, b.Controller.ID, b.Motor.PeakCurrent, b.Motor.ID)
	s.How = alone(LowerOfMotorPeaks, given(s.Value, "A"))
	if s.By == "" {
		s.How = alone(NoMotorPeak)
	}
	return s
}

// brakingSetting is the motor current, but no more than what the driven wheels hold
// when they brake: with more they slide.
func brakingSetting(b *constraints.Build, motor Setting) Setting {
	s, board := motor, b.Board()
	s.Name = "braking_current_a"
	if math.IsNaN(s.Value) {
		return s
	}
	force := board.Hold.Brake * board.Mass * drive.Gravity
	s.How = alone(BrakesAsItDrives)
	if slides := board.BrakingCurrentFor(force) / board.PhaseFactor; slides < s.Value {
		s.Value, s.By, s.Source = slides, "ground.surface", sourceSlides
		s.How = alone(WheelsHoldBraking, given(force, "N"))
		if !math.IsNaN(b.Problem.Brief.Ground.Grip) {
			s.By = "ground.grip"
		}
	}
	return s
}

// ofPack is the id of what a limit of the pack is given for: the pack, or its cell.
func ofPack(b *constraints.Build, own float64) string {
	if math.IsNaN(own) && b.Battery.Cell != nil {
		return b.Battery.Cell.ID
	}
	return b.Battery.ID
}

func outSetting(b *constraints.Build) Setting {
	s := Setting{Name: "pack_current_out_a", Unit: "A", Down: true, Source: sourceGiven}
	limit, motors := b.Battery.DischargeLimit(), b.Motors()
	pack := ofPack(b, b.Battery.Discharge)
	s.Value, s.By = lowest(b.Controller.BatteryCurrent, b.Controller.ID, limit/float64(motors), pack)
	switch s.By {
	case "":
		s.How = alone(NoPackPeak)
	case pack:
		s.How = alone(ChargeShared, given(limit, "A"), count(motors))
	default:
		s.How = alone(AsRated)
	}
	return s
}

// setCharge is the share of the charge at which the pack's intake sets the current
// into it.
const setCharge = 0.9

// inSetting is the current that the pack takes at setCharge, shared: nothing in the
// frost.
func inSetting(b *constraints.Build) Setting {
	s := Setting{Name: "pack_current_in_a", Unit: "A", Down: true, Source: sourceIntake}
	limit, motors := b.Battery.ChargeLimit(), b.Motors()
	in := b.Battery.Pack.Intake(setCharge, limit, b.Problem.Warmth)
	switch {
	case b.Problem.Warmth == 0:
		s.By, s.How = "ground.temperature_c", alone(NoChargeInFrost, given(0, "°C"))
		return s
	case math.IsNaN(limit):
		s.Value, s.How = math.NaN(), alone(NoCharge)
		return s
	case in.Full:
		s.By, s.How = b.Battery.ID, alone(FullVoltsAt, given(in.Current, "A"), share(setCharge))
	default:
		s.By, s.How = ofPack(b, b.Battery.Charge), alone(CellsTake, given(in.Current, "A"))
	}
	s.Value = in.Current / float64(motors)
	s.How = then(s.How, said(ChargeShared, given(in.Current, "A"), count(motors)))
	return s
}

// SetStop is a stop by the motors alone with the controllers set as Settings says.
type SetStop struct {
	constraints.Stop
	Why Statement // what limits the braking at first, or what is missing to tell
}

// SetStops are the stops with a full pack, at nine tenths and at half of its charge.
func SetStops(b *constraints.Build) []SetStop {
	limit := b.Battery.ChargeLimit()
	if !math.IsNaN(limit) {
		limit = b.Battery.Pack.Intake(setCharge, limit, 1).Current
	}
	var out []SetStop
	for _, charge := range []float64{1, setCharge, 0.5} {
		s := SetStop{Stop: b.StopInto(charge, limit)}
		if s.Why = stopWhy(b, s.Stop); s.Why.Code == CellsTake || s.Why.Code == PackIsFullAt {
			s.Why = said(SetToTake, given(s.Intake.Current, "A"))
		}
		out = append(out, s)
	}
	return out
}

// cutBack are the volts of the pack between which the controllers reduce the current:
// from where only the charge is left that the range does not count, down to empty.
func cutBack(b *constraints.Build) (start, end Setting) {
	start = Setting{Name: "cut_back_start_v", Unit: "V", Source: sourceCutBack}
	end = Setting{Name: "cut_back_end_v", Unit: "V", Source: sourceCutBack}
	pack := b.Battery
	end.Value = pack.CutoffVolts()
	if math.IsNaN(end.Value) {
		start.Value, start.How, end.How = math.NaN(), alone(NoCutoff), alone(NoCutoff)
		return start, end
	}
	end.By, end.How = ofPack(b, pack.Cutoff), alone(AsRated)
	if math.IsNaN(pack.Cutoff) {
		end.How = alone(CellsInSeries, number(pack.Series), given(pack.Cell.Cutoff, "V"))
	}
	left := 1 - b.Problem.Brief.Limit.Usable
	start.Value = math.Max(pack.Pack.OpenCircuit(left), end.Value)
	start.By, start.How = "limit.usable_pct", alone(ChargeLeft, share(left))
	return start, end
}

func erpmSetting(b *constraints.Build) Setting {
	s := Setting{Name: "erpm_limit", Unit: "rpm", Down: true, Source: sourceGiven}
	s.Value, s.By = lowest(b.Controller.ERPMCeiling, b.Controller.ID, b.Problem.Brief.Limit.ERPMCeiling, "limit.erpm_ceiling")
	s.How = alone(AsRated)
	switch s.By {
	case "":
		s.How = alone(NoCeiling)
	case "limit.erpm_ceiling":
		s.How = alone(AsBriefed)
	}
	return s
}

func dutySetting(b *constraints.Build) Setting {
	s := Setting{Name: "duty_limit", Value: b.Controller.Drive.MaxDuty, Down: true, By: b.Controller.ID, How: alone(AsRated), Source: sourceGiven}
	if math.IsNaN(b.Controller.MaxDuty) {
		s.By, s.How = assumed, alone(AsAssumed)
	}
	return s
}
