package search

import (
	"fmt"
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

func putSpeed(b *constraints.Build) string {
	v, _ := b.TopSpeed()
	t := num(b.Problem.Brief.Target.TopSpeed * kmh)
	return fmt.Sprintf("1 − |%s km/h − %v × %s km/h| / (%v × %s km/h)", num(v*kmh), speedAim, t, speedSpan, t)
}

func putClimb(b *constraints.Build) string {
	if !b.ThrustKnown() {
		return "the thrust is not known"
	}
	return fmt.Sprintf("%s N / %s N − 1", num(b.ClimbThrust()), num(b.ClimbNeed()))
}

func putHeadroom(b *constraints.Build) string {
	if math.IsNaN(b.Controller.Ceiling) {
		return "this build has no ceiling"
	}
	return fmt.Sprintf("(1 − %s rpm / %s rpm) / %v", num(b.ERPM()), num(b.Controller.Ceiling), headroomFull)
}

func putRange(b *constraints.Build) string {
	if math.IsNaN(b.Range()) {
		return "the range is not known, or the board cannot cruise that fast"
	}
	return fmt.Sprintf("%s km / (%v × %s km)", num(b.Range()/1000), rangeFull, num(b.Problem.Brief.Target.Range/1000))
}

func putLaunch(b *constraints.Build) string {
	if math.IsNaN(b.Launch()) {
		return "the thrust is not known, or the launch speed is never reached"
	}
	return fmt.Sprintf("2 − %s s / %s s", num(b.Launch()), num(b.Problem.Brief.Target.LaunchTime))
}

func putCool(b *constraints.Build) string {
	if math.IsNaN(b.HeatLimit()) {
		return "the motor's continuous current is not known"
	}
	return fmt.Sprintf("%s A / %s A − 1", num(b.HeatLimit()), num(b.ClimbCurrent()))
}

func putPrice(b *constraints.Build) string {
	if b.Price().Missing {
		return "a price is not known"
	}
	return fmt.Sprintf("1 − %s / %s", num(b.Price().Total()), num(b.Problem.PriceReference))
}

func putMass(b *constraints.Build) string {
	if b.Mass().Missing {
		return "a mass is not known"
	}
	return fmt.Sprintf("1 − %s kg / %s kg", num(b.Mass().Total()), num(b.Problem.MassReference))
}

// putMesh also tells which teeth meet: that is not scored, but is what else
// there is to choose by between pairs of pulleys that mesh alike.
func putMesh(b *constraints.Build) string {
	d := b.Drive
	inTurn := teethInTurn(d.Teeth())
	switch {
	case d.Gear != nil && d.Gear.InWheel:
		return "1, as the motor sits in the wheel"
	case d.Gear != nil:
		return "1, as a gear drive has no belt; " + inTurn
	case d.Mesh < 0:
		return "there is no belt that fits; " + inTurn
	}
	return fmt.Sprintf("(%d − %d) / %d; %s", d.Mesh, meshNothing, meshFullAbove, inTurn)
}

// teethInTurn says which teeth of the pair that turns the wheel meet.
func teethInTurn(t constraints.Teeth) string {
	if t.Common == 0 {
		return "the gears' teeth are not known"
	}
	what := "pulleys"
	if t.Gears {
		what = "gears"
	}
	words := fmt.Sprintf("%s of %s and %s teeth share ", what, num(t.Small), num(t.Large))
	if t.Common == 1 {
		return words + "no divisor: each tooth meets all of the other in turn"
	}
	return words + fmt.Sprintf("the divisor %d: each tooth meets only one in %d of the other, where a flaw of it wears sooner", t.Common, t.Common)
}
