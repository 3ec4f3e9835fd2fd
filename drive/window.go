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
	return e.powerWindow(force/(e.torque*efficiency), e.K*v, e.power, w)
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

// PowerWindow returns the gearings at which a force in newtons at a speed in
// m/s takes at most so many electrical watts from each motor. Needs R.
func (e *Electrical) PowerWindow(v, force, efficiency, watts float64) Window {
	return e.powerWindowOf(force/(e.torque*efficiency), e.K*v, watts)
}

// powerWindowOf is PowerWindow for f A of each motor beyond the no-load current at
// a gearing of 1, and for the back-EMF there.
func (e *Electrical) powerWindowOf(f, emf, watts float64) Window {
	spare := watts - f*emf - e.R*e.NoLoad*e.NoLoad
	if spare <= 0 {
		return none
	}
	// At the low end R (f/turn)² is at most what is to spare, at the high end
	// I₀ k v turn is.
	w := Window{f * math.Sqrt(e.R/spare), math.Inf(1)}
	if e.NoLoad == 0 {
		return w
	}
	w.High = spare / (e.NoLoad * emf)
	return e.powerWindow(f, emf, watts, w)
}

// powerWindow narrows a window to the gearings at which f takes at most so many
// watts.
//
// With I = f/turn + I₀ the power is f e + I₀ e turn + R I², convex in the turn. So an
// end where the power is small enough stays; from any other, Newton's steps approach
// the place where it becomes so without passing it.
func (e *Electrical) powerWindow(f, emf, watts float64, w Window) Window {
	if watts <= 0 {
		return none
	}
	excess := func(turn float64) (value, slope float64) {
		amps := f/turn + e.NoLoad
		return amps*(emf*turn+e.R*amps) - watts, e.NoLoad*emf - 2*e.R*amps*f/(turn*turn)
	}
	// At the gearing where the heat alone is all of the power there is too little for
	// the rest, and it is nearer than a low end of next to no resistance.
	w.Low = math.Max(w.Low, f*math.Sqrt(e.R/watts))
	return narrowed(w, excess)
}

// SpinWindow returns the gearings at which the thrust at a motor speed in rad/s,
// above 0, is at least a load on the flat of so many newtons and newtons per
// (m/s)², through drives of an efficiency; the grip cap is left out. At one motor
// speed the thrust goes with the turn and the road speed with 1/turn, so it is
// from some turn on: T turn³ − rolling turn² − drag ω² ≥ 0. Needs ThrustKnown.
func (e *Electrical) SpinWindow(omega, rolling, drag, efficiency float64) Window {
	b := Board{Electrical: e, Reduction: 1, Radius: 1, Efficiency: efficiency}
	torque := b.Thrust(omega)
	switch {
	case !(torque > 0):
		return none
	case math.IsInf(torque, 1):
		return Window{0, math.Inf(1)}
	}
	air := drag * omega * omega
	low, _ := descend(rolling/torque+math.Cbrt(air/torque), func(t float64) (value, slope float64) {
		return torque*t*t*t - rolling*t*t - air, 3*torque*t*t - 2*rolling*t
	}, +1)
	return Window{low, math.Inf(1)}
}

// farthest is a gearing in 1/m that no drive comes near.
const farthest = 1e12

// newtonSteps bounds descend. The steps converge quadratically; only windows that
// close on a point need the bound.
const newtonSteps = 60

// descend walks from x to where a convex function falls to 0, by Newton's
// steps, on the side where its slope has the sign given; not at all where it is
// 0 or less already. ok is false when the function has no root there.
func descend(x float64, f func(float64) (value, slope float64), sign float64) (root float64, ok bool) {
	for range newtonSteps {
		value, slope := f(x)
		if value <= 0 {
			return x, true
		}
		if slope*sign <= 0 {
			return x, false // past the least value, which is above 0
		}
		next := x - value/slope
		if math.Abs(next-x) <= 1e-8*math.Abs(x) { // the error left is its square
			return next, true
		}
		if !(math.Abs(next) < farthest) {
			return x, false // it falls for ever, and never to 0
		}
		x = next
	}
	return x, true
}
