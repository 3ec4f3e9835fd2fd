package search

import (
	"math"
	"strconv"

	"gearsearch/constraints"
)

const kmh = 3.6 // per m/s

// num writes a number with four significant digits, and with all its digits
// before the point.
func num(x float64) string {
	switch {
	case math.IsNaN(x):
		return "unknown"
	case math.Abs(x) >= 1000:
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return strconv.FormatFloat(x, 'g', 4, 64)
}

func putSpeed(b *constraints.Build) constraints.Numbers {
	v := b.SureTopSpeed()
	if math.IsNaN(v) {
		return constraints.Lack(constraints.NoThrust)
	}
	t := num(b.Problem.Brief.Target.TopSpeed * kmh)
	return constraints.Put("1 − |%s km/h − %s km/h| / (%v × %s km/h)", num(v*kmh), num(aim(b)*kmh), speedSpan, t)
}

func putClimb(b *constraints.Build) constraints.Numbers {
	if !b.ThrustKnown() {
		return constraints.Lack(constraints.NoThrust)
	}
	return constraints.Put("%s N / %s N − 1", num(b.ClimbThrust()), num(b.ClimbNeed()))
}

func putHeadroom(b *constraints.Build) constraints.Numbers {
	if math.IsNaN(b.Controller.Ceiling) {
		return constraints.Lack(constraints.NoCeilingHere)
	}
	if math.IsNaN(b.SureERPM()) {
		return constraints.Lack(constraints.NoThrust)
	}
	return constraints.Put("(1 − %s rpm / %s rpm) / %v", num(b.SureERPM()), num(b.Controller.Ceiling), headroomFull)
}

func putRange(b *constraints.Build) constraints.Numbers {
	if math.IsNaN(b.Range()) {
		return constraints.Lack(constraints.NoRange)
	}
	return constraints.Put("%s km / (%v × %s km)", num(b.Range()/1000), rangeFull, num(b.Problem.Brief.Target.Range/1000))
}

func putLaunch(b *constraints.Build) constraints.Numbers {
	if math.IsNaN(b.Launch()) {
		return constraints.Lack(constraints.NoLaunchTime)
	}
	return constraints.Put("2 − %s s / %s s", num(scoredLaunch(b)), num(b.Problem.Brief.Target.LaunchTime))
}

func putCool(b *constraints.Build) constraints.Numbers {
	if p := b.Problem; p.HasLength() {
		end := b.WindingEnd()
		if math.IsNaN(end) {
			return constraints.Lack(constraints.NoThermal)
		}
		return constraints.Put("(%s °C − %s °C) / (%s °C − %s °C)", num(p.Brief.Limit.WindingMax), num(end), num(p.Brief.Limit.WindingMax), num(p.Air()))
	}
	limit, sure := b.HeatLimit()
	if !sure {
		return constraints.Lack(constraints.NoContinuous)
	}
	return constraints.Put("%s A / %s A − 1", num(limit), num(b.ClimbCurrent()))
}

func putPrice(b *constraints.Build) constraints.Numbers {
	if b.Price().Missing {
		return constraints.Lack(constraints.NoPrice)
	}
	return constraints.Put("1 − %s / %s", num(b.Price().Total()), num(b.Problem.PriceReference))
}

func putMass(b *constraints.Build) constraints.Numbers {
	if b.Mass().Missing {
		return constraints.Lack(constraints.NoMass)
	}
	return constraints.Put("1 − %s kg / %s kg", num(b.Mass().Total()), num(b.Problem.MassReference))
}

// putMesh also notes which teeth meet: that is not scored, but pairs of pulleys
// that mesh alike differ in it.
func putMesh(b *constraints.Build) constraints.Numbers {
	d := b.Drive
	switch {
	case d.Bare:
		return constraints.Lack(constraints.NoGearTeeth)
	case d.Gear != nil && d.Gear.InWheel:
		return constraints.Put("1").With(constraints.MotorInWheel)
	case d.Gear != nil:
		return inTurn(constraints.Put("1").With(constraints.GearNoBelt), d)
	case d.Mesh < 0:
		return inTurn(constraints.Lack(d.NoMesh()), d)
	}
	return inTurn(constraints.Put("(%d − %d) / %d", d.Mesh, meshNothing, meshFullAbove), d)
}

// inTurn notes which teeth meet of the pair that turns the wheel.
func inTurn(n constraints.Numbers, d *constraints.Drive) constraints.Numbers {
	t := d.Teeth()
	if t.Common == 0 {
		return n.With(constraints.NoGearTeeth)
	}
	all, one := constraints.PulleysMeetInTurn, constraints.PulleysMeetOneOnly
	switch {
	case t.Gears:
		all, one = constraints.GearsMeetInTurn, constraints.GearsMeetOneOnly
	case d.Chained():
		all, one = constraints.SprocketsMeetInTurn, constraints.SprocketsMeetOneOnly
	}
	teeth := func(z float64) constraints.Quantity {
		return constraints.Quantity{SI: z, PerSI: 1, Digits: constraints.FourDigits}
	}
	if t.Common == 1 {
		return n.With(all, teeth(t.Small), teeth(t.Large))
	}
	return n.With(one, teeth(t.Small), teeth(t.Large), teeth(float64(t.Common)))
}
