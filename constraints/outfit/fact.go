package outfit

import (
	"fmt"
	"math"
)

// Fact is one number about the completed build that no check holds to a limit.
type Fact struct {
	Name    string
	Unit    string
	Meaning string  // one line
	Value   float64 // in Unit; NaN: not known
	Words   string  // how it comes about, or what is missing
	Source  string
}

// Facts lists the currents and what happens downhill.
func (o *Outfit) Facts() []Fact {
	c, d, u := o.Currents, o.Downhill, o.Wishes.Units
	out := []Fact{
		{"pack_peak_a", "A", "current out of the pack for seconds", c.PackPeak.Amps, c.PackPeak.How, sourcePeak},
		{"pack_steady_a", "A", "current out of the pack for long", c.PackSteady.Amps, c.PackSteady.How, sourceSteady},
		{"phase_peak_a", "A", "current in a phase wire for seconds, root mean square", c.PhasePeak.Amps, c.PhasePeak.How, sourcePhase},
		{"phase_steady_a", "A", "current in a phase wire for long, root mean square", c.PhaseSteady.Amps, c.PhaseSteady.How, sourcePhase},
	}
	for i, name := range []string{"full", "90", "half"} {
		s := d.Slopes[i]
		out = append(out, Fact{
			"descent_" + name + "_pct", "%",
			fmt.Sprintf("steepest slope down which the motors hold %s with the pack at %s %% of its charge", u.speed(d.Speed), num(s.Charge*percent)),
			s.Grade * percent, s.Why(), sourceDescent,
		})
	}
	from := "from " + u.speed(d.From) + ", the top speed; the way before the rider brakes comes on top"
	stop := from
	if math.IsNaN(d.StopCurrent) {
		stop = "no limit of the motors' current is known"
	}
	ceiling := "neither the brief nor the controllers have a ceiling"
	if !math.IsNaN(d.CeilingSpeed) {
		ceiling = "at " + num(o.Build.Controller.Ceiling) + " rpm"
	}
	regen := "the pack's charge_a is not known"
	if !math.IsNaN(d.Regen) {
		regen = fmt.Sprintf("%s A / %d", num(d.Regen*float64(o.Build.Motors())), o.Build.Motors())
	}
	return append(out,
		Fact{"regen_setting_a", "A", "battery current of each motor when braking that the cells bear", d.Regen, regen, "the pack's charge limit as given"},
		Fact{"stop_grip_m", "m", "stopping distance on the flat, the driven wheels at the limit of grip", d.StopGrip, from, sourceStop},
		Fact{"stop_current_m", "m", "stopping distance on the flat, the motors at their current limit, if the pack takes what they make", d.StopCurrent, stop, sourceStop},
		Fact{"ceiling_speed_kmh", "km/h", "speed at which the electrical rpm passes the ceiling, downhill too", d.CeilingSpeed * kmh, ceiling, "kinematics of a fixed ratio"},
		Fact{"back_emf_speed_kmh", "km/h", "speed above which the motors charge even a full pack", d.BackEMFSpeed * kmh, "at " + num(o.Build.Battery.Pack.Full) + " V", sourceBackEMF},
	)
}
