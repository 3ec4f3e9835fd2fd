package drive

import "math"

// HeatWindow returns the gearings, up to the greatest that is asked about, at which
// the windings end a hill no hotter than a limit in °C: with a force in newtons
// at a speed in m/s through drives of an efficiency. h has what does not depend on
// the gearing, and cool is CoolCurrent. 0 for the greatest asks about all.
//
// The temperature is a convex function of the gearing: the current falls with it,
// the heat of no load rises.
func (e *Electrical) HeatWindow(t *Thermal, h Heating, cool, v, force, efficiency, limit, greatest float64) Window {
	const far = 1e6 // 1/m: no gearing
	f, idle := force/(e.torque*efficiency), e.K*v*e.NoLoad
	excess := func(turn float64) float64 {
		h.Current, h.Iron = f/turn+e.NoLoad, idle*turn
		hot, _ := t.after(h)
		return hot - limit
	}
	// Below the gearing at which copper alone is too hot, it surely is.
	if !(cool > e.NoLoad) {
		return none
	}
	w := Window{math.Max(f/(cool-e.NoLoad), 1/far), far}
	if greatest > 0 {
		w.High = greatest
	}
	if w.Empty() {
		return none
	}
	if excess(w.High) > 0 {
		return halved(w, excess)
	}
	w.Low, w.High = falls(w.Low, w.High, excess), math.Inf(1)
	return w
}

// CoolCurrent returns the DC-equivalent current in amperes at which copper alone
// brings a winding to a limit in °C at the end of a hill: 0 where it is hotter to
// begin with, +Inf without resistance.
func (t *Thermal) CoolCurrent(h Heating, limit float64) float64 {
	if !(limit > h.Air) {
		return 0
	}
	// The temperature is a rising convex function of the square of the current: it
	// lies above its tangent at the start.
	const small = 0.01 // A², next to no heat
	h.Iron = 0
	excess := func(square float64) float64 {
		h.Current = math.Sqrt(square)
		hot, _ := t.After(h)
		return hot - limit
	}
	rise := excess(small) - excess(0)
	if !(rise > 0) { // next to no resistance
		return math.Inf(1)
	}
	most := max(small, (limit-h.Air)/rise*small)
	return math.Sqrt(falls(most, 0, excess))
}

// falls returns where a continuous function in K comes to 0, to a hundred-thousandth of a K,
// between a place at which it is 0 or more and one at which it is 0 or less: by the
// Illinois form of false position. The place itself where it is 0 or less at both.
func falls(from, to float64, f func(x float64) float64) float64 {
	const (
		enough = 1e-5 // K
		most   = 1e4  // K: a winding that runs away further counts as this hot
	)
	capped := func(x float64) float64 {
		if value := f(x); value < most {
			return value
		}
		return most
	}
	high, low := capped(from), capped(to)
	if high <= 0 {
		return from
	}
	kept := 0 // how often, and on which side, an end has stayed
	for range 200 {
		x := to + (from-to)*low/(low-high)
		value := capped(x)
		switch {
		case math.Abs(value) <= enough:
			return x
		case value > 0:
			from, high = x, value
			if kept = max(kept, 0) + 1; kept > 1 {
				low /= 2
			}
		default:
			to, low = x, value
			if kept = min(kept, 0) - 1; kept < -1 {
				high /= 2
			}
		}
	}
	return to
}
