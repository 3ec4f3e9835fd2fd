package drive

import "math"

// BalanceSpeed returns the road speed in m/s where thrust and load balance on
// the flat, and what limits it, the first of equals. Every limit's thrust falls
// or stays with speed and the load rises, so it is the lowest of the speeds at
// which each limit alone balances the load. 0, NoLimit when the thrust cannot
// start the board: where at rest it is not above the load, by more than Tolerance.
// NaN, NoLimit unless ThrustKnown.
func (b *Board) BalanceSpeed() (v float64, by Limit) {
	if !b.ThrustKnown {
		return math.NaN(), NoLimit
	}
	r := b.road(level)
	volt := r.voltageBalance(b.Electrical)
	motor := r.flatBalance(float64(r.gain * (b.motorCurrent - b.NoLoad)))
	grip := r.flatBalance(r.grip)
	v = min(volt, motor, grip)

	powered := r.powerLoad(b.Electrical)
	if powered.excess(v) > 0 {
		v = powered.balance(v)
	}
	switch {
	case v == 0:
		return 0, NoLimit
	case AtMost(volt, v):
		return v, Voltage
	case AtMost(motor, v):
		return v, MotorCurrent
	case !AtMost(grip, v) || powered.excess(float64(v*(1+Tolerance))) >= 0:
		return v, b.powerBy
	}
	return v, b.Hold.By
}

// TopSpeed returns BalanceSpeed, held down by the road speed in m/s of an
// electrical-rpm ceiling (+Inf: none).
func (b *Board) TopSpeed(erpmSpeed float64) (v float64, by Limit) {
	v, by = b.BalanceSpeed()
	if erpmSpeed < v {
		if !AtMost(v, erpmSpeed) {
			by = ERPM
		}
		v = erpmSpeed
	}
	return v, by
}

// EstimatedTopSpeed returns the top speed in m/s of a board whose losses cannot
// be computed: the speed without load at full duty times derate (0.85 is common
// practice, no published source), held down by the road speed of an
// electrical-rpm ceiling (+Inf: none).
func (b *Board) EstimatedTopSpeed(derate, erpmSpeed float64) (v float64, by Limit) {
	v = derate * b.Pack.Volts / b.K * b.Radius / b.Reduction
	if AtMost(erpmSpeed, v) {
		return min(v, erpmSpeed), ERPM
	}
	return v, Estimate
}

// voltageBalance returns the speed where the voltage-limited thrust, a falling
// line, meets the load: the positive root of drag v² + slope v − start = 0 in
// the form that neither cancels nor divides by a drag of 0.
func (r *road) voltageBalance(e *Electrical) float64 {
	start, slope := r.voltageLine(e)
	if !(start > r.least()) {
		return 0
	}
	return 2 * start / (slope + math.Sqrt(float64(slope*slope)+float64(4*r.drag*start)))
}

// voltageLine returns the voltage-limited thrust less what standstill takes,
// in newtons at standstill, and its fall in newtons per m/s.
func (r *road) voltageLine(e *Electrical) (start, slope float64) {
	start = float64(r.gain*(e.dutyVolts/e.loop-e.NoLoad)) - r.still
	return start, r.gain * r.emf / e.loop
}

// least returns the thrust in newtons beyond what standstill takes that counts as
// none.
func (r *road) least() float64 { return float64(Tolerance * math.Abs(r.still)) }

// flatBalance returns the speed where a thrust in newtons that does not depend
// on speed meets the load; +Inf without drag.
func (r *road) flatBalance(thrust float64) float64 {
	if !(thrust-r.still > r.least()) {
		return 0
	}
	return math.Sqrt((thrust - r.still) / r.drag)
}

// powerLoad is the electrical power that each motor draws to hold a speed, less
// its power limit. With the load current I = base + rise v² it is
// I (emf v + R I) − P, a quartic in v without negative coefficients but the
// last: rising and convex, one root.
type powerLoad struct {
	base  float64 // A
	rise  float64 // A per (m/s)²
	emf   float64 // V per m/s
	r     float64 // Ω
	power float64 // W
	start float64 // A that count as no more than base
}

func (r *road) powerLoad(e *Electrical) powerLoad {
	still := r.still / r.gain
	return powerLoad{
		base:  still + e.NoLoad,
		rise:  r.drag / r.gain,
		emf:   r.emf,
		r:     e.R,
		power: e.power,
		start: float64(still*(1+Tolerance)) + e.NoLoad,
	}
}

// amps returns the current that holds a speed.
func (p *powerLoad) amps(v float64) float64 {
	return p.base + float64(p.rise*v*v)
}

// excess returns the power above the limit that holding a speed takes.
func (p *powerLoad) excess(v float64) float64 {
	amps := p.amps(v)
	return float64(amps*(float64(p.emf*v)+float64(p.r*amps))) - p.power
}

// balance returns the speed of no excess, by Newton's method from a speed
// where there is some: on a rising convex function every step stays above the
// root and gets nearer. 0 when standstill already takes too much, +Inf from +Inf.
func (p *powerLoad) balance(v float64) float64 {
	// The error left after a step is at most 3/2 of its square, relatively,
	// since v h″ ≤ 3 h′ for such a quartic.
	const enough = 1e-7
	if p.start >= 0 && float64(p.r*p.start*p.start) >= p.power {
		return 0
	}
	if math.IsInf(v, 1) {
		return v
	}
	for {
		amps := p.amps(v)
		volts := float64(p.emf*v) + float64(p.r*amps)
		ampsSlope := float64(2 * p.rise * v)
		slope := float64(ampsSlope*volts) + float64(amps*(p.emf+float64(p.r*ampsSlope)))
		step := (float64(amps*volts) - p.power) / slope
		v -= step
		if !(step > enough*v) {
			return v
		}
	}
}

// holdSpeed returns the speed in m/s, at most one that the thrust does not hold, at
// which thrust, grip included, and load balance on a slope. Down a slope without thrust
// that is the speed at which the air holds the board back.
func (b *Board) holdSpeed(s Slope) float64 {
	r := b.road(s)
	volt := r.voltageBalance(b.Electrical)
	motor := r.flatBalance(float64(r.gain * (b.motorCurrent - b.NoLoad)))
	grip := r.flatBalance(r.grip)
	coasting := 0.0
	if r.still < 0 {
		coasting = math.Sqrt(-r.still / r.drag)
	}
	v := max(min(volt, motor, grip), coasting)
	if powered := r.powerLoad(b.Electrical); powered.excess(v) > 0 {
		v = max(powered.balance(v), coasting)
	}
	return v
}
