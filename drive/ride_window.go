package drive

import "math"

// RideDemand is what bounds the gearings of a ride, for one or many boards: forces
// in newtons of drives of an efficiency, and energies.
type RideDemand struct {
	Into, With float64 // N at the cruise speed, against the wind and with it
	Up         float64 // N while gathering speed, at half the cruise speed
	// PerUp is the energy in J/m of stops and ascent for each J/m that gathering
	// speed takes.
	PerUp      float64
	Efficiency float64
	Most       float64 // J/m that all of it may take, what comes back added
}

// RideWindow returns the gearings at which a ride takes no more than it may of a
// pack of open-circuit volts. Needs R.
//
// Each of the powers is a convex function of the gearing, a/turn² + b turn + c, and
// the pack's current a convex rising function of the power, so that the sum is
// convex, and its sublevel set one range.
func (e *Electrical) RideWindow(v, volts float64, d RideDemand) Window {
	half := 0.5
	if d.With == d.Into {
		half = 1
	}
	all := [3]pull{
		e.pullOf(v, d.Into, d.Efficiency, half/v),
		e.pullOf(v, d.With, d.Efficiency, 0.5/v),
		e.pullOf(v/2, d.Up, d.Efficiency, 2*d.PerUp/v),
	}
	pulls := all[:0]
	for i, p := range all {
		if i == 0 || i == 1 && half < 1 || i == 2 && d.PerUp > 0 {
			pulls = append(pulls, p)
		}
	}
	w, steep := Window{0, math.Inf(1)}, false
	for i := range pulls {
		one, end := e.pullWindow(&pulls[i], volts, d.Most)
		w, steep = w.And(one), steep || end
	}
	if w.Empty() || len(pulls) == 1 || math.IsInf(d.Most, 1) {
		return w
	}
	excess := func(turn float64) (value, slope float64) {
		value = -d.Most
		for i := range pulls {
			energy, rise := e.pullEnergy(&pulls[i], volts, turn)
			value, slope = value+energy, slope+rise
		}
		return value, slope
	}
	if steep {
		return halved(w, func(turn float64) float64 { value, _ := excess(turn); return value })
	}
	return narrowed(w, excess)
}

// narrowed is what of a window a convex function is 0 or less in, nothing where it
// is nowhere.
func narrowed(w Window, excess func(turn float64) (value, slope float64)) Window {
	low, ok := descend(w.Low, excess, -1)
	if !ok {
		return none
	}
	w.Low = low
	if !math.IsInf(w.High, 1) {
		if w.High, ok = descend(w.High, excess, +1); !ok {
			return none
		}
	}
	return w
}

// halved is narrowed for a function that Newton's steps do not suit, or of which
// no slope is known: by sections of the range, to 1e-10 of it.
func halved(w Window, excess func(turn float64) float64) Window {
	const (
		golden = 0.6180339887498949 // (√5 − 1)/2
		near   = 1e-10
		far    = 1e9 // 1/m: no gearing
	)
	low, high := w.Low, math.Min(w.High, far)
	a, b := low, high
	inside := (a + b) / 2
	for excess(inside) > 0 { // towards the least value
		if b-a <= near*b {
			return none
		}
		x, y := b-golden*(b-a), a+golden*(b-a)
		if excess(x) < excess(y) {
			b, inside = y, x
		} else {
			a, inside = x, y
		}
	}
	edge := func(out float64) float64 {
		if excess(out) <= 0 {
			return out
		}
		in := inside
		for math.Abs(out-in) > near*math.Abs(in) {
			if middle := in + (out-in)/2; excess(middle) <= 0 {
				in = middle
			} else {
				out = middle
			}
		}
		return in
	}
	out := Window{edge(low), w.High}
	if excess(high) > 0 {
		out.High = edge(high)
	}
	return out
}

// pull is a steady force at a speed.
type pull struct {
	amps   float64 // A of each motor beyond the no-load current, times the gearing
	emf    float64 // V of back-EMF, over the gearing
	weight float64 // J/m of the whole for each watt of the cells
}

func (e *Electrical) pullOf(v, force, efficiency, weight float64) pull {
	return pull{max(0, force) / (e.torque * efficiency), e.K * v, weight}
}

// steepEnd is the share of V/(2R), the current at which the pack gives the most,
// from which the energy rises too steeply with the gearing for Newton's steps.
const steepEnd = 0.95

// pullWindow is the gearings at which one pull alone takes no more than most, nor
// more than the pack can give; steep tells that the latter is near.
func (e *Electrical) pullWindow(p *pull, volts, most float64) (w Window, steep bool) {
	resistance := e.Pack.Resistance
	amps := most / (p.weight * volts)
	if resistance > 0 {
		all := volts / (2 * resistance)
		steep = amps > steepEnd*all
		amps = min(amps, all)
	}
	if math.IsInf(amps, 1) {
		return Window{0, amps}, false
	}
	watts := (volts*amps - resistance*amps*amps) * e.Controller.Efficiency / float64(e.Motors)
	if p.amps == 0 {
		high := (watts - e.R*e.NoLoad*e.NoLoad) / (e.NoLoad * p.emf)
		if math.IsNaN(high) { // no current at all
			high = math.Inf(1)
		}
		return Window{0, high}, steep
	}
	return e.powerWindowOf(p.amps, p.emf, watts), steep
}

// pullEnergy is the energy of a pull in J/m, and its rise with the gearing.
func (e *Electrical) pullEnergy(p *pull, volts, turn float64) (energy, rise float64) {
	beyond := 0.0
	if p.amps > 0 {
		beyond = p.amps / turn
	}
	amps := beyond + e.NoLoad
	each := float64(e.Motors) / e.Controller.Efficiency
	power := each * amps * (p.emf*turn + e.R*amps)
	slope := each * (e.NoLoad*p.emf - 2*e.R*amps*beyond/turn)
	root := math.Sqrt(max(0, volts*volts-4*e.Pack.Resistance*power))
	return p.weight * volts * 2 * power / (volts + root), p.weight * volts * slope / max(root, 1e-6*volts)
}
