package ease

import (
	"math"
	"slices"

	"gearsearch/constraints"
)

// How a Concession finds the value at which the checks that it eases no longer reject
// a build.

// reach finds the value of a concession for a build: see Concession.
type reach func(c *Concession, b *constraints.Build, failing []*constraints.Check, within float64, strict bool) float64

// reachOf is the reach of a key that is tried value by value.
func reachOf(t constraints.Trial) reach {
	if t == constraints.OfCruise {
		return cruiseReached
	}
	return bisected
}

// slowest is the lowest speed, m/s, that a concession goes down to: a stroll.
const slowest = 1 / 3.6

// whereEach finds the value by a formula for each check.
func whereEach(easings map[*constraints.Check]constraints.Easing) reach {
	at := func(check *constraints.Check, b *constraints.Build, strict bool) float64 {
		e := easings[check]
		if strict && e.Strictly != nil {
			return e.Strictly(check.Rules(b, strict))
		}
		return e.At(check.Rules(b, strict))
	}
	return func(c *Concession, b *constraints.Build, failing []*constraints.Check, _ float64, strict bool) float64 {
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

// rejectedByAny reports whether one of the checks rejects the build.
func rejectedByAny(b *constraints.Build, checks []*constraints.Check, strict bool) bool {
	return slices.ContainsFunc(checks, func(c *constraints.Check) bool { return b.RejectedBy(c, strict) })
}

// probe is a copy of a build with a brief of its own, in which one of the
// speeds that only lazily computed quantities depend on may be set.
type probe struct {
	*constraints.Build
	speed *float64 // m/s, in the copy's brief
}

func newProbe(b *constraints.Build, c *Concession) probe {
	p, brief := *b.Problem, *b.Problem.Brief
	p.Brief = &brief
	out := &constraints.Build{Problem: &p}
	out.Electrify(b.Battery, b.Controller, b.Motor, b.Count)
	out.Roll(b.Drive, b.Wheel)
	return probe{out, c.Value(&brief)}
}

// at is the build at another speed; the top speed does not depend on it.
func (p probe) at(speed float64) *constraints.Build {
	*p.speed = speed
	p.SpeedsChanged()
	return p.Build
}

// bisection is how near to each other, relatively, the ends of a bisection get.
const bisection = 1e-13

// inwards is how far, relatively, a value goes on from where a bisection ends:
// that is on the very edge of the tolerance of a comparison, and a value that
// loses its last digit when it is written must hold, too.
const inwards = 1e-10

// bisect finds where ok begins to hold, between a value that passes and one that does
// not.
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
func bisected(c *Concession, b *constraints.Build, failing []*constraints.Check, within float64, strict bool) float64 {
	p := newProbe(b, c)
	from := *p.speed
	passes := func(v float64) bool { return !rejectedByAny(p.at(v), failing, strict) }
	if within >= from || !passes(within) {
		return math.NaN()
	}
	return bisect(c.least, from, passes) // whatever within is, the same bits
}

// cruiseReached is the greatest cruise speed at which the range is reached.
// With the speed v, the power P of cruising is a polynomial without negative
// coefficients and the pack's current I_b a convex rising function of P, so that
// the sublevel sets of I_b(P(v))/v are intervals: the consumption falls and then
// rises, and the speeds that will do are one stretch. Stops and ascent do not change
// that; a wind from behind may, below its own speed, so that there the speeds are
// looked at one by one first.
func cruiseReached(c *Concession, b *constraints.Build, failing []*constraints.Check, within float64, strict bool) float64 {
	p := newProbe(b, c)
	rules := failing[0].Rules
	top := rules(b, strict).SureTopSpeed()
	can := func(v float64) bool {
		x := rules(p.at(v), strict)
		_, ok := x.Ridden()
		return ok || x.Board().Electrical.R == 0 && x.OutrunsCruise() && x.HoldsWind()
	}
	passes := func(v float64) bool { return !rejectedByAny(p.at(v), failing, strict) }
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
	if v, ok := thriftiest(c.least, high, p, passes, func(v float64) float64 { return rules(p.at(v), strict).Consumption() }); ok {
		return bisect(v, high, passes)
	}
	return math.NaN()
}

// thriftiest looks for a speed in a range that passes. It searches by golden sections
// for the speed of least consumption, and stops at the first that passes.
func thriftiest(low, high float64, p probe, passes func(v float64) bool, takes func(v float64) float64) (v float64, ok bool) {
	const (
		golden = 0.6180339887498949 // (√5 − 1)/2
		near   = 1e-7               // the least is flat: its own relative error is the square
	)
	if passes(low) {
		return low, true
	}
	if p.Problem.Brief.Ride.Wind > 0 {
		const steps = 64
		speed := func(i int) float64 { return low + (high-low)*float64(i)/steps }
		least, at := math.Inf(1), 0
		for i := steps; i >= 0; i-- {
			if passes(speed(i)) {
				return speed(i), true
			}
			if x := takes(speed(i)); x < least {
				least, at = x, i
			}
		}
		low, high = speed(max(at-1, 0)), speed(min(at+1, steps))
	}
	for high-low > near*high {
		a, b := high-golden*(high-low), low+golden*(high-low)
		for _, x := range []float64{a, b} {
			if passes(x) {
				return x, true
			}
		}
		if takes(a) < takes(b) {
			high = b
		} else {
			low = a
		}
	}
	return 0, false
}
