package outfit

import (
	"math"
	"slices"

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

// RollsOut reports whether the fact is of a stop that is none: the pack takes nothing,
// and the board only rolls out.
func (f *Fact) RollsOut() bool {
	return slices.ContainsFunc(f.How, func(s Statement) bool { return s.Code == RollsOut })
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
	for i, name := range []string{"stop_full_m", "stop_m", "stop_half_m"} {
		s := d.Stops[i]
		metres := s.Long
		if math.IsInf(metres, 1) {
			metres = math.NaN()
		}
		out = append(out, Fact{name, "m", metres, []constraints.Quantity{speed(d.From), share(s.Charge)}, []Statement{stopWhy(o.Build, s), said(BeforeBraking)}, sourceStop})
	}
	ceiling := alone(NoCeiling)
	if !math.IsNaN(d.CeilingSpeed) {
		ceiling = alone(AtRPM, given(o.Build.Controller.Ceiling, "rpm"))
	}
	mass, how := o.around()
	return append(out,
		Fact{"ceiling_speed_kmh", "km/h", d.CeilingSpeed * kmh, nil, ceiling, "kinematics of a fixed ratio"},
		Fact{"back_emf_speed_kmh", "km/h", d.BackEMFSpeed * kmh, nil, alone(AtVolts, given(o.Build.Battery.Pack.Full, "V")), sourceBackEMF},
		Fact{"around_mass_kg", "kg", mass, nil, how, "masses as given"},
	)
}

// around is the mass in kg of the parts that are chosen around the drivetrain, and
// of how many; NaN where none is known.
func (o *Outfit) around() (mass float64, how []Statement) {
	var unknown []string
	known := 0
	for _, n := range o.Needs {
		switch {
		case n.Part == nil:
		case math.IsNaN(n.Part.Mass):
			unknown = append(unknown, n.Part.ID)
		default:
			known++
			mass += float64(n.Part.Mass * float64(n.Pieces))
		}
	}
	if known == 0 {
		mass = math.NaN()
	}
	how = alone(MassesAdded, count(known))
	if unknown != nil {
		how = append(how, said(MassesUnknown).about(unknown...))
	}
	return mass, how
}
