package drive

import "math"

// LaunchTime returns the seconds from standstill to a road speed in m/s on the flat,
// ∫ m dv/(F − L), the thrust held down by grip, without the inertia of what rotates;
// 0 to 0 and less. top is the board's top speed. ok is false when the thrust is not
// known, or the speed lies above top, or, to rounding, at the speed where thrust and
// load balance or beyond, which is never reached.
//
// The integral is split where the binding limit changes. It has closed forms
// where grip, motor current or voltage binds; where power binds it is found by
// quadrature, to 1e-10 relative.
func (b *Board) LaunchTime(to, top float64) (s float64, ok bool) {
	balance, by := b.BalanceSpeed()
	if by == NoLimit || !AtMost(to, top) || AtLeast(to, balance) {
		return 0, false
	}
	l := b.launch()
	// Neighbouring pieces with one limit are one piece.
	binding, from, at := NoLimit, 0.0, 0.0
	for _, next := range l.marks(b.Electrical, to) {
		if !(next > at) {
			continue
		}
		if by := l.binding(b.Electrical, (at+next)/2); by != binding {
			s += l.seconds(b.Electrical, binding, from, at)
			binding, from = by, at
		}
		at = next
	}
	s += l.seconds(b.Electrical, binding, from, at)
	if to > 0 && !(float64(b.Mass*to) > float64(s*rounding*l.still) && s > 0) {
		return 0, false
	}
	return s, true
}

// rounding is a share of the load that the mean force of a launch must pass:
// what is left of it below is the rounding of a difference of equals.
const rounding = 1e-12

// launch is a road with what the pieces of a launch need beyond it.
type launch struct {
	road
	mass float64 // kg
	flat float64 // A, the lower of what motor current and grip allow
}

func (b *Board) launch() launch {
	r := b.road(level)
	return launch{
		road: r,
		mass: b.Mass,
		flat: min(b.motorCurrent, r.grip/r.gain+b.NoLoad),
	}
}

// marks returns, rising, the speeds up to to where one limit can take over from
// another; to is the last. Speeds out of range are returned as to.
//
// With the back-EMF e, the current is I = flat, or (dV − e)/(R + sag), or
// bound by R I² + e I = P. The second and the third meet at the currents of
// sag I² − dV I + P = 0.
func (l *launch) marks(e *Electrical, to float64) [5]float64 {
	most := float64(e.dutyVolts * e.dutyVolts)
	root := math.Sqrt(max(0, most-float64(4*e.sag*e.power)))
	less := 2 * e.power / (e.dutyVolts + root)
	more := (e.dutyVolts + root) / (2 * e.sag)
	marks := [5]float64{
		(e.dutyVolts - float64(l.flat*e.loop)) / l.emf,
		(e.power/l.flat - float64(l.flat*e.R)) / l.emf,
		(e.dutyVolts - float64(less*e.loop)) / l.emf,
		(e.dutyVolts - float64(more*e.loop)) / l.emf,
		to,
	}
	for i, v := range marks {
		if !(v > 0 && v < to) { // NaN and infinities too
			v = to
		}
		j := i
		for ; j > 0 && marks[j-1] > v; j-- {
			marks[j] = marks[j-1]
		}
		marks[j] = v
	}
	return marks
}

// binding returns the limit that binds at a speed: MotorCurrent for all that
// does not depend on speed, Voltage, or BatteryCurrent for power.
func (l *launch) binding(e *Electrical, v float64) Limit {
	emf := float64(l.emf * v)
	amps, by := l.flat, MotorCurrent
	if volt := (e.dutyVolts - emf) / e.loop; volt < amps {
		amps, by = volt, Voltage
	}
	if e.drawn(amps, emf) > e.power {
		return BatteryCurrent
	}
	return by
}

// seconds returns the time from one speed to another while one limit, as binding
// tells it, binds; 0 for none.
func (l *launch) seconds(e *Electrical, by Limit, from, to float64) float64 {
	switch by {
	case MotorCurrent:
		return float64(l.mass * l.flatIntegral(from, to, e.NoLoad))
	case Voltage:
		return float64(l.mass * l.voltageIntegral(e, from, to))
	case BatteryCurrent:
		return float64(l.mass * l.powerIntegral(e, from, to))
	}
	return 0
}

// flatIntegral returns ∫ dv/(start − drag v²) = artanh(s(v₁−v₀)/(1−s²v₀v₁)) /
// (s start), s = √(drag/start).
func (l *launch) flatIntegral(from, to, noLoad float64) float64 {
	start := float64(l.gain*(l.flat-noLoad)) - l.still
	s := math.Sqrt(l.drag / start)
	if s == 0 {
		return (to - from) / start
	}
	return math.Atanh(s*(to-from)/(1-float64(s*from*s*to))) / (s * start)
}

// voltageIntegral returns ∫ dv/(start − slope v − drag v²), through the roots of
// the denominator and in a form without cancellation that holds for no drag.
func (l *launch) voltageIntegral(e *Electrical, from, to float64) float64 {
	start, slope := l.voltageLine(e)
	root := math.Sqrt(float64(slope*slope) + float64(4*l.drag*start))
	balance := 2 * start / (slope + root)
	twice := float64(2 * l.drag)
	return (math.Log1p((to-from)/(balance-to)) +
		math.Log1p(twice*(to-from)/(float64(twice*from)+slope+root))) / root
}

// powerIntegral returns ∫ dv/(F − L) where power binds. With the load current
// I_L and the power-bound current I_P, F − L = gain (I_P − I_L), and the excess
// power h(v) = R I_L² + e I_L − P of holding the speed factors it:
// I_P − I_L = −h / (R (I_P + I_L) + e). Dividing h by its root, the balance
// speed, leaves a polynomial H without negative coefficients:
//
//	dv/(F − L) = (R (I_P + I_L) + e) / (gain H(v)) · dv/(balance − v)
//
// where nothing cancels however near the balance speed. Near it the variable is
// u = ln((balance − from)/(balance − v)), in which the integrand is smooth.
func (l *launch) powerIntegral(e *Electrical, from, to float64) float64 {
	q := l.powerLoad(e)
	balance := q.balance(q.above())
	if math.IsInf(balance, 1) {
		return adaptive(from, to, func(v float64) float64 {
			return 1 / (l.gain * e.powerCurrent(float64(l.emf*v)))
		})
	}
	gap := balance - from
	if balance-to >= to-from {
		return adaptive(from, to, func(v float64) float64 {
			return q.smooth(v, balance) / (balance - v)
		}) / l.gain
	}
	return adaptive(0, math.Log(gap/(balance-to)), func(u float64) float64 {
		return q.smooth(balance-float64(gap*math.Exp(-u)), balance)
	}) / l.gain
}

// above returns a speed not below the balance; +Inf when nothing holds the
// board back.
func (p *powerLoad) above() float64 {
	return min(p.power/(p.emf*p.base), math.Cbrt(p.power/(p.emf*p.rise)))
}

// smooth returns (R (I_P + I_L) + e) / H at a speed.
func (p *powerLoad) smooth(v, balance float64) float64 {
	emf := float64(p.emf * v)
	sum := v + balance
	squares := float64(v*v) + float64(balance*balance)
	// H: the divided differences of h's four powers of the speed.
	h := float64(p.base*p.emf) + float64(2*p.base*p.rise*p.r*sum) +
		float64(p.rise*p.emf*(squares+float64(v*balance))) +
		float64(p.rise*p.rise*p.r*sum*squares)
	both := float64((emf+math.Sqrt(float64(emf*emf)+float64(4*p.r*p.power)))/2) + float64(p.r*p.amps(v))
	return both / h
}
