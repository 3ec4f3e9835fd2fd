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
	Most       float64 // J/m that the ride may take, with what braking returns
	Greatest   float64 // 1/m, the greatest gearing that is asked about; 0: any
}

// RideWindow returns the gearings at which a ride takes no more than it may of a
// pack of open-circuit volts. Needs R.
//
// Each of the powers is a convex function of the gearing, a/turn² + b turn + c, and
// the pack's current a convex rising function of the power, so that the sum is
// convex, and its sublevel set one range.
func (e *Electrical) RideWindow(v, volts float64, d RideDemand) Window {
	into := e.pullOf(v, d.Into, d.Efficiency, 1/v)
	with, up := into, pull{}
	least := 0.0 // J/m that drive and controller lose at least
	lossless := d.Efficiency * e.Controller.Efficiency
	if d.With != d.Into {
		into.weight /= 2
		with = e.pullOf(v, d.With, d.Efficiency, into.weight)
		least = max(0, d.With) / 2 / lossless
	}
	if d.PerUp > 0 {
		up = e.pullOf(v/2, d.Up, d.Efficiency, 2*d.PerUp/v)
		least += d.PerUp * d.Up / lossless
	}
	excess := func(turn float64) (value, slope float64) {
		value, slope = e.pullEnergy(&into, volts, turn)
		for _, p := range [...]*pull{&with, &up} {
			if p.weight > 0 && (p == &up || d.With != d.Into) {
				energy, rise := e.pullEnergy(p, volts, turn)
				value, slope = value+energy, slope+rise
			}
		}
		return value - d.Most, slope
	}
	if low, ok := e.rideLow(&into, &up, volts, d.Most-least, d.Greatest, excess); ok {
		return Window{low, math.Inf(1)}
	}
	// Against the wind more power is needed than with it: where the pack can give
	// the one, it can give the other.
	w, steep := e.pullWindow(&into, volts, d.Most-least)
	if w.Empty() || least == 0 && d.With == d.Into || math.IsInf(d.Most, 1) && up.weight == 0 {
		return w
	}
	if math.IsInf(d.Most, 1) { // only the pack's power counts
		if resistance := e.Pack.Resistance; resistance > 0 {
			w = w.And(e.powerWindowOf(up.amps, up.emf, volts*volts/(4*resistance)*e.Controller.Efficiency/float64(e.Motors)))
		}
		return w
	}
	steep = steep || w.Low == 0 // where no current is small enough for Newton's steps to begin at
	if up.weight > 0 && !steep && (e.strained(&up, volts, w.Low) || e.strained(&up, volts, w.High)) {
		// Newton's steps begin where the pack is not strained, if that is too much.
		watts := steepEnd * volts * volts / (4 * e.Pack.Resistance) * e.Controller.Efficiency / float64(e.Motors)
		easy := w.And(e.powerWindowOf(up.amps, up.emf, watts))
		over := func(end, own, sign float64) bool { // and it falls from there inward
			value, slope := excess(end)
			return end == own || value > 0 && slope*sign > 0
		}
		if steep = easy.Empty() || !over(easy.Low, w.Low, -1) || !over(easy.High, w.High, +1); !steep {
			w = easy
		}
	}
	if steep {
		return halved(w, func(turn float64) float64 { value, _ := excess(turn); return value })
	}
	return narrowed(w, excess)
}

// rideLow is the low end of a window whose high end lies beyond the greatest gearing
// asked about, as most do; ok is false for any other window, and where Newton's steps
// from a gearing that is surely too low do not find the end.
func (e *Electrical) rideLow(into, up *pull, volts, most, greatest float64, excess func(turn float64) (value, slope float64)) (low float64, ok bool) {
	if greatest == 0 || math.IsInf(most, 1) {
		return 0, false
	}
	if value, _ := excess(greatest); !(value <= 0) {
		return 0, false
	}
	amps := most / (into.weight * volts)
	all := math.Inf(1) // W of each motor that the pack can give without strain
	if resistance := e.Pack.Resistance; resistance > 0 {
		amps = min(amps, volts/(2*resistance))
		all = steepEnd * volts * volts / (4 * resistance) * e.Controller.Efficiency / float64(e.Motors)
	}
	watts := (volts*amps - e.Pack.Resistance*amps*amps) * e.Controller.Efficiency / float64(e.Motors)
	low = max(e.heatLow(into, min(watts, all)), e.heatLow(up, all))
	for _, p := range [...]*pull{into, up} {
		if low > 0 && p.amps > 0 && e.strained(p, volts, low) {
			low = max(low, e.powerWindowOf(p.amps, p.emf, all).Low)
		}
	}
	if !(low > 0 && low < greatest) {
		return 0, false
	}
	if value, _ := excess(low); !(value > 0) {
		return 0, false
	}
	return descend(low, excess, -1)
}

// heatLow is a gearing below which the heat of a pull alone takes more than so many
// watts of each motor.
func (e *Electrical) heatLow(p *pull, watts float64) float64 {
	spare := watts - p.amps*p.emf - e.R*e.NoLoad*e.NoLoad
	if math.IsInf(watts, 1) || p.amps == 0 {
		return 0
	}
	if spare <= 0 {
		return math.Inf(1)
	}
	return p.amps * math.Sqrt(e.R/spare)
}

// narrowed is the part of a window in which a convex function is 0 or less; empty
// where there is none.
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

// halved is narrowed by sections of the range, to 1e-10 of it: for a function that
// Newton's steps do not suit, or whose slope is not known.
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

// steepEnd is a share of V²/(4R), the most power that a pack gives: from there on the
// energy rises too steeply for Newton's steps.
const steepEnd = 0.9

// strained reports whether a pull takes nearly all that the pack can give, or more.
func (e *Electrical) strained(p *pull, volts, turn float64) bool {
	if math.IsInf(turn, 1) { // without no-load current: all that is lost is gone
		turn = farthest
	}
	return !(4*e.Pack.Resistance*e.pullPower(p, turn) <= steepEnd*volts*volts) // at a gearing of 0 it is NaN
}

// pullPower is the power of a pull out of the pack's terminals, W.
func (e *Electrical) pullPower(p *pull, turn float64) float64 {
	amps := p.at(turn) + e.NoLoad
	return float64(e.Motors) / e.Controller.Efficiency * amps * (p.emf*turn + e.R*amps)
}

// at is the current of each motor beyond the no-load current with a gearing.
func (p *pull) at(turn float64) float64 {
	if p.amps == 0 {
		return 0
	}
	return p.amps / turn
}

// pullWindow is the gearings at which one pull alone takes no more than most, nor
// more than the pack can give; steep tells that the latter is near.
func (e *Electrical) pullWindow(p *pull, volts, most float64) (w Window, steep bool) {
	resistance := e.Pack.Resistance
	amps := most / (p.weight * volts)
	if resistance > 0 {
		all := volts / (2 * resistance)
		steep = amps > 0.7*all // where the power is nearly steepEnd of the most
		amps = min(amps, all)
	}
	switch {
	case !(amps > 0):
		return none, false
	case math.IsInf(amps, 1):
		return Window{0, amps}, false
	case p.amps == 0:
		watts := (volts*amps - resistance*amps*amps) * e.Controller.Efficiency / float64(e.Motors)
		high := (watts - e.R*e.NoLoad*e.NoLoad) / (e.NoLoad * p.emf)
		if math.IsNaN(high) { // no current at all
			high = math.Inf(1)
		}
		return Window{0, high}, steep
	}
	watts := (volts*amps - resistance*amps*amps) * e.Controller.Efficiency / float64(e.Motors)
	return e.powerWindowOf(p.amps, p.emf, watts), steep
}

// beyondPack stands for the energy of a pull that the pack cannot give, J/m: more
// than any ride may take.
const beyondPack = 1e12

// pullEnergy is the energy of a pull in J/m, and its rise with the gearing.
func (e *Electrical) pullEnergy(p *pull, volts, turn float64) (energy, rise float64) {
	beyond := p.at(turn)
	amps := beyond + e.NoLoad
	each := float64(e.Motors) / e.Controller.Efficiency
	power := each * amps * (p.emf*turn + e.R*amps)
	slope := each * (e.NoLoad*p.emf - 2*e.R*amps*beyond/turn)
	root := math.Sqrt(max(0, volts*volts-4*e.Pack.Resistance*power))
	energy = p.weight * volts * 2 * power / (volts + root)
	if root == 0 { // more than the pack can give, by how much
		energy = beyondPack * 4 * e.Pack.Resistance * power / (volts * volts)
	}
	return energy, p.weight * volts * slope / root
}
