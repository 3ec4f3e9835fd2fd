package outfit

import (
	"math"

	"gearsearch/constraints"
)

// Fact is one number about the completed build that no check holds to a limit.
type Fact struct {
	Name   string
	Unit   string
	Value  float64                // in Unit; NaN: not known
	Of     []constraints.Quantity // that its meaning is told with: of a descent its speed and the pack's charge
	How    []Statement            // how it comes about, or what is missing
	Source string
}

// Facts lists the currents and what happens downhill.
func (o *Outfit) Facts() []Fact {
	c, d := o.Currents, o.Downhill
	out := []Fact{
		{"pack_peak_a", "A", c.PackPeak.Amps, nil, c.PackPeak.How, sourcePeak},
		{"pack_steady_a", "A", c.PackSteady.Amps, nil, c.PackSteady.How, sourceSteady},
		{"phase_peak_a", "A", c.PhasePeak.Amps, nil, c.PhasePeak.How, sourcePhase},
		{"phase_steady_a", "A", c.PhaseSteady.Amps, nil, c.PhaseSteady.How, sourcePhase},
	}
	for i, name := range []string{"full", "90", "half"} {
		s := d.Slopes[i]
		out = append(out, Fact{
			"descent_" + name + "_pct", "%", s.Grade * percent,
			[]constraints.Quantity{speed(d.Speed), share(s.Charge)},
			[]Statement{s.Why()},
			sourceDescent,
		})
	}
	from := alone(FromTopSpeed, speed(d.From))
	stop := from
	if math.IsNaN(d.StopCurrent) {
		stop = alone(NoMotorLimit)
	}
	ceiling := alone(NoCeiling)
	if !math.IsNaN(d.CeilingSpeed) {
		ceiling = alone(AtRPM, given(o.Build.Controller.Ceiling, "rpm"))
	}
	regen := alone(NoCharge)
	if !math.IsNaN(d.Regen) {
		regen = alone(ChargeShared, given(d.Regen*float64(o.Build.Motors()), "A"), count(o.Build.Motors()))
	}
	return append(out,
		Fact{"regen_setting_a", "A", d.Regen, nil, regen, "the pack's charge limit as given"},
		Fact{"stop_grip_m", "m", d.StopGrip, nil, from, sourceStop},
		Fact{"stop_current_m", "m", d.StopCurrent, nil, stop, sourceStop},
		Fact{"ceiling_speed_kmh", "km/h", d.CeilingSpeed * kmh, nil, ceiling, "kinematics of a fixed ratio"},
		Fact{"back_emf_speed_kmh", "km/h", d.BackEMFSpeed * kmh, nil, alone(AtVolts, given(o.Build.Battery.Pack.Full, "V")), sourceBackEMF},
	)
}
