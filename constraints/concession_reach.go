package constraints

import (
	"math"
	"slices"

	"gearsearch/drive"
)

// How far a build must be met: the ways in which a Concession finds the value
// at which the checks that it eases no longer reject.

// reach finds the value of a concession for a build: see Concession.
type reach func(c *Concession, b *Build, failing []*Check, within float64, strict bool) float64

// valueOf is the value of a key at which one check of a build is just passed,
// NaN where there is none.
type valueOf func(b *Build) float64

// slowest is the lowest speed, m/s, that a concession goes down to: a stroll.
const slowest = 1 / kmh

// whereEach finds the value by a formula for each check.
func whereEach(easings map[*Check]Easing) reach {
	at := func(check *Check, b *Build, strict bool) float64 {
		e := easings[check]
		if strict && e.Strictly != nil {
			return e.Strictly(check.Rules(b, strict))
		}
		return e.At(check.Rules(b, strict))
	}
	return func(c *Concession, b *Build, failing []*Check, _ float64, strict bool) float64 {
		to := at(failing[0], b, strict)
		for _, check := range failing[1:] {
			x := at(check, b, strict)
			if math.IsNaN(x) {
				return x
			}
			to = c.Furthest(to, x) // stays NaN
		}
		return to
	}
}

// unless is x, or NaN if something is the case.
func unless(x float64, otherwise bool) float64 {
	if otherwise {
		return math.NaN()
	}
	return x
}

// rejectedByAny reports whether one of the checks rejects the build.
func (b *Build) rejectedByAny(checks []*Check, strict bool) bool {
	return slices.ContainsFunc(checks, func(c *Check) bool { return b.rejectedBy(c, strict) })
}

// probe is a copy of a build with a brief of its own, in which one of the
// speeds that only lazily computed quantities depend on may be set.
type probe struct {
	*Build
	speed *float64 // m/s, in the copy's brief
}

func (b *Build) probe(c *Concession) probe {
	p, brief := *b.Problem, *b.Problem.Brief
	p.Brief = &brief
	out := &Build{Problem: &p}
	out.Electrify(b.Battery, b.Controller, b.Motor, b.Count)
	out.Roll(b.Drive, b.Wheel)
	return probe{out, c.Value(&brief)}
}

// at is the build at another speed; the top speed does not depend on it.
func (p probe) at(speed float64) *Build {
	*p.speed = speed
	p.done &= haveTopSpeed | haveUncut
	if p.blank {
		p.Best().done &= haveTopSpeed | haveUncut
	}
	return p.Build
}

// bisection is how near to each other, relatively, the ends of a bisection get.
const bisection = 1e-13

// inwards is how far, relatively, a value goes on from where a bisection ends:
// that is on the very edge of the tolerance of a comparison, and a value that
// loses its last digit when it is written must hold, too.
const inwards = 1e-10

// bisect finds where ok begins to hold, between a value at which it does and
// one at which it does not.
func bisect(holds, fails float64, ok func(x float64) bool) float64 {
	for math.Abs(fails-holds) > bisection*math.Abs(fails) {
		middle := holds + (fails-holds)/2
		if middle == holds || middle == fails {
			break
		}
		if ok(middle) {
			holds = middle
		} else {
			fails = middle
		}
	}
	if x := holds + math.Copysign(inwards*holds, holds-fails); ok(x) {
		return x
	}
	return holds
}

// bisected finds the value of a speed by bisection, for checks that get easier
// all the way down from the brief's.
func bisected(c *Concession, b *Build, failing []*Check, within float64, strict bool) float64 {
	p := b.probe(c)
	from := *p.speed
	passes := func(v float64) bool { return !p.at(v).rejectedByAny(failing, strict) }
	if within >= from || !passes(within) {
		return math.NaN()
	}
	return bisect(c.least, from, passes) // whatever within is, the same bits
}

// cruiseReached is the greatest cruise speed at which the range is reached.
// With the speed v, the power P of cruising is a polynomial without negative
// coefficients and the pack's current I_b a convex rising function of P, so that
// the sublevel sets of I_b(P(v))/v are intervals: the consumption falls and then
// rises, and the speeds that will do are one stretch.
func cruiseReached(c *Concession, b *Build, failing []*Check, within float64, strict bool) float64 {
	p := b.probe(c)
	rules := failing[0].Rules
	top := rules(b, strict).SureTopSpeed()
	can := func(v float64) bool {
		x := rules(p.at(v), strict)
		_, ok := x.Cruise()
		return ok || x.electrical.R == 0 && x.OutrunsCruise()
	}
	passes := func(v float64) bool { return !p.at(v).rejectedByAny(failing, strict) }
	high := math.Min(*p.speed, top)
	switch {
	case high < within || !can(c.least):
		return math.NaN()
	case !can(high): // beyond the pack's power
		high = bisect(c.least, high, can)
	}
	if passes(high) {
		return high
	}
	if v, ok := thriftiest(c.least, high, p, passes); ok {
		return bisect(v, high, passes)
	}
	return math.NaN()
}

// thriftiest looks for a speed in a range that passes: the first that it meets
// on the way to the one of least consumption, by golden sections.
func thriftiest(low, high float64, p probe, passes func(v float64) bool) (v float64, ok bool) {
	const (
		golden = 0.6180339887498949 // (√5 − 1)/2
		near   = 1e-7               // the least is flat: its own relative error is the square
	)
	if passes(low) {
		return low, true
	}
	for high-low > near*high {
		a, b := high-golden*(high-low), low+golden*(high-low)
		for _, x := range []float64{a, b} {
			if passes(x) {
				return x, true
			}
		}
		if p.at(a).Consumption() < p.at(b).Consumption() {
			high = b
		} else {
			low = a
		}
	}
	return 0, false
}

// gradeClimbed is the steepest grade that the build climbs, as rise over run.
func (b *Build) gradeClimbed() float64 {
	grade := b.board.ClimbLimit(b.Problem.Brief.Target.ClimbSpeed)
	return unless(grade, grade == 0) // 0 stands for no climbing, too
}

// gradeOfHeat, gradeOfBelt and gradeOfGear are the grades on which the climb
// takes what the checks of those names allow; NaN where that is not known.

func (b *Build) gradeOfHeat() float64 {
	limit, _ := b.HeatLimit()
	amps := limit*b.electrical.PhaseFactor - b.electrical.NoLoad
	return b.gradeOfTorque(amps * b.electrical.K)
}

func (b *Build) gradeOfBelt() float64 {
	pulley := b.Drive.MotorPulley
	return b.gradeOfTorque(b.beltLimit() * pulley.Profile.PitchDiameter(pulley.Teeth) / 2)
}

func (b *Build) gradeOfGear() float64 {
	return b.gradeOf(b.Drive.Gear.MaxTorque * float64(b.Motors()) / b.board.Radius)
}

// gradeOfTorque is the grade on which the climb takes a torque (N·m) of each
// motor's shaft beyond that of its idling.
func (b *Build) gradeOfTorque(torque float64) float64 {
	return b.gradeOf(torque * float64(b.Motors()) * b.board.Reduction * b.board.Efficiency / b.board.Radius)
}

// gradeOf is the grade on which the climb speed takes a force (N): the
// solution of m g (sin θ + Crr cos θ) + ½ ρ A v² = force; negative where the
// flat takes more, NaN for a force that is not known.
func (b *Build) gradeOf(force float64) float64 {
	v := b.Problem.Brief.Target.ClimbSpeed
	weight := b.board.Mass * drive.Gravity
	air := b.board.Load(v, 0) - weight*b.board.Crr
	sine := (force - air) / weight / math.Hypot(1, b.board.Crr)
	return math.Tan(math.Asin(math.Max(-1, math.Min(1, sine))) - math.Atan(b.board.Crr))
}
