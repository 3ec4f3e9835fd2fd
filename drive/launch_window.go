package drive

import "math"

// LaunchWindow returns gearings with which a board gets from standstill to a road speed
// in m/s, above 0, in at most so many seconds, as LaunchTime has it; the board's own
// gearing does not matter. The board gets there with every gearing of the window, and
// with few others; it is empty where nothing holds the board back. Needs ThrustKnown.
//
// The time is a convex function of the logarithm of the gearing. Under each limit the
// logarithm of the thrust at a speed is a concave one; so is that of what the lowest of
// them leaves over the load, which does not depend on the gearing; and the reciprocal of
// the latter is a convex one at every speed.
func (b *Board) LaunchWindow(to, most float64) Window {
	const margin = 1e-5 // a speed that is to be reached surely
	v := to * (1 + margin)
	w := b.ThrustWindow(v, b.LoadOn(v, level)*(1+margin), b.Efficiency)
	if !(w.Low > 0 && w.Low < w.High && w.High < farthest) {
		return none
	}
	try := *b
	spare := func(u float64) float64 {
		const plenty = 1e3
		try.Reduction = math.Exp(u) * try.Radius
		s, ok := try.LaunchTime(to, math.Inf(1))
		if !ok {
			return -1
		}
		return math.Min(most/s, plenty) - 1
	}
	low, high := math.Log(w.Low), math.Log(w.High)
	at, value := quick(low, high, spare)
	if value < 0 {
		return none
	}
	return Window{math.Exp(rim(at, value, low, spare)), math.Exp(rim(at, value, high, spare))}
}

// quick returns a place between two where a function of one peak is well above 0 or, if it
// is not, near its peak, by golden sections.
func quick(low, high float64, f func(x float64) float64) (x, value float64) {
	const (
		golden = 1 / math.Phi
		well   = 1e-2
		most   = 16
	)
	left, right := high-golden*(high-low), low+golden*(high-low)
	atLeft, atRight := f(left), f(right)
	for range most {
		switch {
		case atRight >= well:
			return right, atRight
		case atLeft >= well:
			return left, atLeft
		case atLeft < atRight:
			low, left, atLeft = left, right, atRight
			right = low + golden*(high-low)
			atRight = f(right)
		default:
			high, right, atRight = right, left, atLeft
			left = high - golden*(high-low)
			atLeft = f(left)
		}
	}
	if atRight > atLeft {
		return right, atRight
	}
	return left, atLeft
}

// rim returns a place near where a function falls below 0 between one place, of the value
// given, and another, but where it is not below: by false position and halving in turn, so
// that neither a slope nor a step takes long.
func rim(in, value, out float64, f func(x float64) float64) float64 {
	const (
		near  = 1e-3 // a value that is aimed at
		steps = 20
	)
	beyond := f(out)
	if beyond >= 0 {
		return out
	}
	for i := range steps {
		if value <= 2*near {
			break
		}
		x := in + (out-in)*(value-near)/(value-beyond)
		if i%2 > 0 {
			x = (in + out) / 2
		}
		if got := f(x); got >= 0 {
			in, value = x, got
		} else {
			out, beyond = x, got
		}
	}
	return in
}
