package outfit

import (
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// What a parallel key bears.
const (
	// keyPressure in Pa is what key, shaft and hub of steel bear: 60 MPa under
	// impact to 150 MPa under a steady load (Jiang, Analysis and Design of
	// Machine Elements, ch. 4). 100 lies between them: an assumption. A hub of
	// aluminium bears less.
	keyPressure = 100e6
	// keyLength, in shaft diameters, is the most of a key's length that counts
	// (Roloff/Matek, from memory): the far end of a longer one bears little.
	keyLength = 1.3

	sourceKeyPressure = "F = 2T/d on the flank above the shaft's keyway, h − t₁ (DIN 6885-1), over the key's length without its round ends and at most 1.3 shaft diameters of it (Roloff/Matek, from memory); 60 (impact) to 150 N/mm² (steady) are allowed on steel (Jiang, Analysis and Design of Machine Elements), and 100 is an assumption"
	sourceSmallPulley = "handbook of synchronous belts, least teeth by rpm, from memory"
	sourceHunting     = "gcd of the teeth; Dudley's Handbook of Practical Gear Design, from memory"
)

// KeyTorque returns the torque in N·m that a parallel key bears on a shaft of a
// diameter in m, in a hub as long as the key, with its round ends (form A), is: the
// pressure on the flank above the shaft's keyway, at half the diameter, T = p l (h −
// t₁) d/2, where the ends bear nothing: l is the length less the key's width (DIN
// 6892, method C). NaN for a shaft without a size of key.
func KeyTorque(shaft, length float64) float64 {
	width, _, above, ok := KeySize(shaft)
	if !ok {
		return math.NaN()
	}
	bearing := math.Min(math.Max(length-width, 0), keyLength*shaft)
	return keyPressure * bearing * above * shaft / 2
}

// key: does the key on the motor's shaft bear the motor's greatest torque?
var key = Check{
	Name:    "key",
	Meaning: "the key on the motor's shaft bears the torque of the motor's greatest current",
	Unit:    "N.m",
	PerSI:   1,
	Source:  sourceKeyPressure,
	Needs: []constraints.Need{
		{Kind: "motor", Key: "shaft_mm", Of: anyKeyway},
		{Kind: "motor", Key: "peak_current_a", Of: anyKeyway, Unless: func(s *constraints.Stock) bool {
			return len(s.Controllers) > 0 && !slices.ContainsFunc(s.Controllers, func(c *catalog.Controller) bool { return math.IsNaN(c.MotorCurrent) })
		}},
		{Kind: "controller", Key: "motor_current_a", Of: anyKeyway, Unless: func(s *constraints.Stock) bool {
			return len(s.Motors) > 0 && !slices.ContainsFunc(s.Motors, func(m *catalog.Motor) bool { return math.IsNaN(m.PeakCurrent) })
		}},
		{Kind: "pulley", Key: "width_mm", Of: func(s *constraints.Stock, p *catalog.Part) bool {
			pulley, ok := catalog.ByID(s.Pulleys, p.ID)
			return ok && hasKeyway(pulley)
		}},
	},
	Applies: func(o *Outfit) bool { return (&maker{build: o.Build}).shaftKey() == catalog.KeyKeyway },
	Test: func(o *Outfit) Finding {
		b := o.Build
		length := math.NaN()
		if b.Drive.Gear == nil {
			length = b.Drive.MotorPulley.Width
		}
		board := b.Board()
		amps := lower(b.Controller.MotorCurrent, b.Motor.PeakCurrent) * board.PhaseFactor
		out := atMost(board.K*(amps-board.NoLoad), KeyTorque(b.Motor.Shaft, length))
		f := Finding{Outcome: out}
		switch {
		case out.Verdict == constraints.Fail:
			f.Says = said(KeyIsWeakest)
		case math.IsNaN(out.Value):
			f.Says = said(NoKeyLimit)
		case math.IsNaN(b.Motor.Shaft):
			f.Says = said(NoShaft)
		case math.IsNaN(length):
			f.Says = said(NoHubLength)
		case math.IsNaN(out.Limit):
			f.Says = said(NoKeySize, sold(b.Motor.Shaft))
		}
		return f
	},
}

// anyKeyway reports whether a motor pulley is held by a key. That of a gear
// drive sits in a hub of unknown length, and stays undecided.
func anyKeyway(s *constraints.Stock, _ *catalog.Part) bool {
	return slices.ContainsFunc(s.AllPulleys(), hasKeyway)
}

func hasKeyway(p *catalog.Pulley) bool {
	return p.Side == catalog.MotorSide && p.ShaftKey == catalog.KeyKeyway
}

// leastTeeth are the fewest teeth by the rpm up to which they will do, slowest
// first, the last for all beyond it: a handbook of synchronous belts, from
// memory. XL and L are those of ISO 5296 belts, T those of DIN 7721 at any rpm
// (Roloff/Matek, from memory).
func leastTeeth(profile string, rpm float64) (teeth float64, ok bool) {
	table := map[string][3]float64{ // up to 1160, 1750, 3500 rpm
		"htd-3m": {17, 18, 20},
		"htd-5m": {22, 26, 30},
		"xl":     {10, 11, 12},
		"l":      {12, 14, 16},
		"t5":     {10, 10, 10},
		"t10":    {12, 12, 12},
	}
	row, ok := table[profile]
	switch {
	case rpm <= 1160:
		return row[0], ok
	case rpm <= 1750:
		return row[1], ok
	}
	return row[2], ok
}

// smallPulley: has the small pulley as many teeth as the handbook asks for?
var smallPulley = Check{
	Name:    "small-pulley",
	Meaning: "the smaller pulley has the teeth that a handbook of industrial belts asks for at its rpm at the top speed",
	Unit:    "teeth",
	PerSI:   1,
	Lower:   true,
	Caution: true,
	Source:  sourceSmallPulley,
	Applies: func(o *Outfit) bool { return belted(o) && !o.Build.Drive.Chained() }, // of a sprocket the build has a caution
	Test: func(o *Outfit) Finding {
		b := o.Build
		d := b.Drive
		small := d.MotorPulley
		v, _ := b.TopSpeed()
		turns := v / b.Board().Radius * 60 / (2 * math.Pi) // of the wheel, rpm
		if d.WheelPulley.Teeth < small.Teeth {
			small = d.WheelPulley
		} else {
			turns *= d.Reduction
		}
		limit, ok := leastTeeth(small.Profile.ID, turns)
		if !ok {
			return Finding{
				Outcome: constraints.Outcome{Verdict: constraints.Undecided, Value: float64(small.Teeth), Limit: math.NaN()},
				Says:    said(NoHandbookTeeth).about(small.Profile.ID),
			}
		}
		f := Finding{Outcome: atLeast(float64(small.Teeth), limit)}
		if f.Verdict == constraints.Fail {
			f.Says = said(BendsSharply, count(small.Teeth), number(limit), given(turns, "rpm")).about(small.Profile.ID)
		}
		return f
	},
}

// huntingTooth: does each tooth meet every tooth of the other?
var huntingTooth = Check{
	Name:    "hunting-tooth",
	Meaning: "the teeth of the pair have no common divisor, so that each tooth meets all of the other in turn",
	PerSI:   1,
	Caution: true,
	Source:  sourceHunting,
	Applies: func(o *Outfit) bool {
		g := o.Build.Drive.Gear
		return g == nil || !g.InWheel
	},
	Test: func(o *Outfit) Finding {
		t := o.Build.Drive.Teeth()
		switch t.Common {
		case 0:
			return found(constraints.Undecided, said(NoGearTeeth))
		case 1:
			return Finding{Outcome: yesNo(constraints.Pass)}
		}
		code := PulleysShare
		switch {
		case t.Gears:
			code = GearsShare
		case o.Build.Drive.Chained():
			code = SprocketsShare
		}
		return found(constraints.Fail, said(code, number(t.Small), number(t.Large), count(t.Common)))
	},
}
