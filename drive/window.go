package drive

import "math"

// Window is a range of gearings: of reduction over rolling radius, 1/m, both
// ends included. It is empty where Low > High; High may be +Inf.
type Window struct{ Low, High float64 }

// none is the empty window.
var none = Window{math.Inf(1), math.Inf(-1)}

// Empty reports whether no gearing is in the window.
func (w Window) Empty() bool { return !(w.Low <= w.High) }

// And returns the gearings in both windows.
func (w Window) And(o Window) Window { return Window{math.Max(w.Low, o.Low), math.Min(w.High, o.High)} }

// ThrustWindow returns the gearings at which all driven wheels together can
// give a force in newtons, above 0, at a speed in m/s through drives of an
// efficiency: where neither current, nor volts, nor power stand against it.
// The grip cap is left out. Each of the three gives a range, since thrust is a
// concave function of the gearing under each. Needs ThrustKnown.
func (e *Electrical) ThrustWindow(v, force, efficiency float64) Window {
	w := e.CurrentWindow(force, efficiency, e.motorCurrent).And(e.voltWindow(v, force, efficiency))
	if math.IsInf(e.power, 1) || w.Empty() {
		return w
	}
	return w.And(e.PowerWindow(v, force, efficiency, e.power))
}

// CurrentWindow returns the gearings at which a force in newtons takes at most
// so many DC-equivalent amperes in each motor.
func (e *Electrical) CurrentWindow(force, efficiency, amps float64) Window {
	if !(amps > e.NoLoad) {
		return none
	}
	return Window{force / (e.torque * efficiency * (amps - e.NoLoad)), math.Inf(1)}
}

// voltWindow returns the gearings at which the volts allow a force at a speed:
// those between the roots of a turn² − b turn + f = 0.
func (e *Electrical) voltWindow(v, force, efficiency float64) Window {
	a, b, f := e.K*v/e.loop, e.dutyVolts/e.loop-e.NoLoad, force/(e.torque*efficiency)
	discriminant := b*b - 4*a*f
	if b <= 0 || discriminant < 0 {
		return none
	}
	root := b + math.Sqrt(discriminant)
	return Window{2 * f / root, root / (2 * a)}
}

// powerSteps bounds the Newton steps to an end of a power window. They
// converge quadratically; it is there for windows that close on a point.
const powerSteps = 60

// PowerWindow returns the gearings at which a force in newtons at a speed in
// m/s takes at most so many electrical watts from each motor. Needs R.
//
// With I = f/turn + I₀ the power is f k v + I₀ k v turn + R I², convex in the
// turn. Newton's steps from outside the window therefore come up to its ends
// without passing them.
func (e *Electrical) PowerWindow(v, force, efficiency, watts float64) Window {
	f := force / (e.torque * efficiency)
	emf := e.K * v // V per 1/m
	spare := watts - f*emf - e.R*e.NoLoad*e.NoLoad
	if spare <= 0 {
		return none
	}
	excess := func(turn float64) (value, slope float64) {
		amps := f/turn + e.NoLoad
		return amps*(emf*turn+e.R*amps) - watts, e.NoLoad*emf - 2*e.R*amps*f/(turn*turn)
	}
	// At the low end R (f/turn)² is at most what is to spare, at the high end
	// I₀ k v turn is.
	w := Window{f * math.Sqrt(e.R/spare), math.Inf(1)}
	if e.NoLoad == 0 {
		return w
	}
	w.High = spare / (e.NoLoad * emf)
	ok := newton(&w.Low, excess, -1) && newton(&w.High, excess, +1)
	if !ok {
		return none
	}
	return w
}

// newton walks x to the root of a convex function from the side on which its
// slope has the sign given; false when the function has no root there.
func newton(x *float64, f func(float64) (value, slope float64), sign float64) bool {
	for range powerSteps {
		value, slope := f(*x)
		if value <= 0 {
			return true
		}
		if slope*sign <= 0 {
			return false // past the least value, which is above 0
		}
		next := *x - value/slope
		if math.Abs(next-*x) <= 1e-13*math.Abs(*x) {
			*x = next
			return true
		}
		*x = next
	}
	return true
}
