package constraints

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// canCheck: does the motor's can stay off the ground?
var canCheck = Check{
	Name:    "can",
	Subject: "ground under the motor",
	Meaning: "the motor's can stays clear of the ground",
	Unit:    "mm",
	PerSI:   mm,
	Lower:   true,
	Scope:   on(OnMotor | OnDrive | OnWheel),
	Applies: always,
	Lists:   anyDrive,
	Needs: []Need{
		{Kind: "motor", Key: "can_diameter_mm", Of: somethingOutside},
		{Kind: "mount", Key: "angle_deg", Of: nearTheGround},
		{Kind: "gear_drive", Key: "angle_deg", Of: nearTheGround},
		{Kind: "gear_drive", Key: "centre_mm", Of: leaning},
	},
	Corner: func(b *Build) Outcome { return b.canClears(b.Problem.Brief.Limit.GroundClearance) },
	Adds:   canAdds(canFails),
	Doubts: canAdds(canDoubts),
	Tuned:  TunesWheel,
	Eased: []Easing{{
		Key: "limit.ground_clearance_mm", Floor: &canOffGroundCheck,
		At:       func(b *Build) float64 { _, most := b.underCan(); return most },
		Strictly: func(b *Build) float64 { least, _ := b.underCan(); return least },
	}},
}

// canOffGround is what is left of the check where the brief asks for no
// clearance.
var canOffGroundCheck = Check{
	Name: "can-ground", Meaning: "the motor's can stays off the ground", Unit: "mm", PerSI: mm, Lower: true,
	Scope:   on(OnMotor | OnDrive | OnWheel),
	Applies: always,
	Lists:   anyDrive,
	Corner:  func(b *Build) Outcome { return b.canClears(0) },
}

// underCan is how far above the ground in m the motor's can stays, at least and at
// most as far as is known: the same where all is. NaN where the can is not known.
func (b *Build) underCan() (least, most float64) {
	half := orElse(b.Motor.CanDiameter/2, unless(0, !b.Drive.inWheel()))
	return b.Wheel.Radius + b.Drive.Low - half, b.Wheel.Radius + b.Drive.High - half
}

// canClears holds the can to a distance from the ground in m.
func (b *Build) canClears(limit float64) Outcome {
	least, most := b.underCan()
	o := undecided(math.NaN(), limit)
	switch {
	case math.IsNaN(least):
	case drive.AtLeast(least, limit):
		o.Verdict = Pass
		if !math.IsInf(least, 1) {
			o.Value = least
		}
	case !drive.AtLeast(most, limit):
		o.Verdict = Fail
		if least == most {
			o.Value = most
		}
	}
	return o
}

// shaftStands sets how high the motor's shaft stands above the axle, of a drive
// with a centre distance and an angle above the level, NaN for what is not
// known. Without an angle it stands level at least, and upright at most.
func (d *Drive) shaftStands(centre, angle float64) {
	switch {
	case d.inWheel():
		d.Low, d.High = math.Inf(1), math.Inf(1)
	case angle == 0:
		d.Low, d.High = 0, 0
	case math.IsNaN(angle):
		d.Low, d.High = 0, orElse(centre, math.Inf(1))
	case math.IsNaN(centre):
		d.Low, d.High = math.Inf(-1), math.Inf(1)
	default:
		d.Low = float64(centre * math.Sin(angle))
		d.High = d.Low
	}
}

// inWheel reports whether the motor is inside the wheel.
func (d *Drive) inWheel() bool { return d.Gear != nil && d.Gear.InWheel }

// canAdds turns the check into a sum with an upper limit: half the can less the
// height of the shaft is at most minus the clearance. unknown is the value for a can
// that is not known.
func canAdds(of canSum) *Additive {
	return &Additive{
		Electrical: func(b *Build) (float64, bool) { return orElse(b.Motor.CanDiameter/2, of.unknown), false },
		Rolling:    of.rolling,
		Limit:      func(p *Problem) float64 { return -p.Brief.Limit.GroundClearance },
	}
}

// canSum is one of the two sums of the check.
type canSum struct {
	unknown float64 // the value for a can that is not known
	rolling func(b *Build) Rolled
}

// canFails is the sum with the shaft as high as it may stand, canDoubts the one
// with it as low. What is decided either way does not stand in the latter, unless
// the can is not known.
var (
	canFails = canSum{math.Inf(-1), func(b *Build) Rolled {
		return Rolled{Value: -(b.Wheel.Radius + b.Drive.High), Within: Pass, Beyond: Fail}
	}}
	canDoubts = canSum{math.Inf(1), func(b *Build) Rolled {
		low, high := b.Drive.Low, b.Drive.High
		r := Rolled{Value: -(b.Wheel.Radius + low), Within: Pass, Beyond: Undecided, Fails: low < high && !math.IsInf(high, 1)}
		if low == high && !math.IsInf(low, 1) {
			r.Value = -Decided
		}
		return r
	}}
)

// Conditions of its needs.

// somethingOutside reports whether some drive's motor is not inside the wheel.
func somethingOutside(s *Stock, _ *catalog.Part) bool {
	for _, g := range s.GearDrives {
		if !g.InWheel {
			return true
		}
	}
	return s.turned() || len(s.GearDrives) == 0
}

// nearTheGround reports whether some level motor on some wheel is nearer to the
// ground than a brief allows that says nothing.
func nearTheGround(s *Stock, p *catalog.Part) bool {
	if g, ok := catalog.ByID(s.GearDrives, p.ID); ok && g.InWheel {
		return false
	}
	largest, lowest := math.Inf(-1), math.Inf(1) // can and wheel
	for _, m := range s.Motors {
		largest = math.Max(largest, orElse(m.CanDiameter, math.Inf(-1)))
	}
	for _, w := range s.Wheels {
		lowest = math.Min(lowest, w.RollingRadius())
	}
	return lowest-largest/2 < usualClearance/mm
}

// leaning reports whether a gear drive gives an angle that its centre distance
// goes with.
func leaning(s *Stock, p *catalog.Part) bool {
	g, ok := catalog.ByID(s.GearDrives, p.ID)
	return ok && !g.InWheel && !math.IsNaN(g.Angle) && g.Angle != 0
}
