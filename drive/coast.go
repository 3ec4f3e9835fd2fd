package drive

import "math"

// Coast is a board that rolls out with no power: m dv/dt = −(C + D v²).
type Coast struct {
	Mass   float64 // kg, above 0
	Steady float64 // N, C: rolling, motors that are turned idle, the road's slope; below 0 where the slope drives
	Drag   float64 // kg/m, D = ½ρA; below 0, as a fit may try, it drives
}

// IdleDrag is the force in N at the ground that the motors take to be turned without
// current, n k I₀ N/(r η): the drive's loss is theirs to overcome. A drive that
// freewheels takes none.
func (b *Board) IdleDrag() float64 {
	return b.torque * b.NoLoad * b.Reduction / (b.Radius * b.Efficiency)
}

// Speed returns the speed in m/s at t seconds after v0 m/s, both 0 or more; 0 once the
// board stands.
//
// It is v = √(C/D) tan(atan(v₀ √(D/C)) − √(CD) t/m), in the form of the tangent of a
// difference, v = (v₀ − C T)/(1 + v₀ D T) with T = tan(√(CD) t/m)/√(CD), which also
// holds at C = 0, at D = 0 and, with the hyperbolic tangent, at C below 0.
func (c *Coast) Speed(v0, t float64) float64 {
	if t >= c.Duration(v0) {
		return 0
	}
	v, _ := c.at(v0, t)
	return v
}

// SpeedRise is what the speed of a coast rises by with each of its inputs, to first
// order; all 0 once the board stands.
type SpeedRise struct {
	Start  float64 // per m/s of v0
	Steady float64 // m/s per N
	Drag   float64 // m/s per kg/m
}

// SpeedAndRise is Speed with its derivatives.
func (c *Coast) SpeedAndRise(v0, t float64) (float64, SpeedRise) {
	if t >= c.Duration(v0) {
		return 0, SpeedRise{}
	}
	v, lag := c.at(v0, t)
	tau := t / c.Mass
	below := 1 + float64(v0*c.Drag*lag)
	byLag := -(c.Steady + float64(c.Drag*v0*v0)) / (below * below)
	bend := tangentSlope(float64(c.Steady * c.Drag * tau * tau))
	bend = float64(bend * tau * tau * tau)
	return v, SpeedRise{
		Start:  (1 + float64(c.Steady*c.Drag*lag*lag)) / (below * below),
		Steady: float64(byLag*bend*c.Drag) - lag/below,
		Drag:   float64(byLag*bend*c.Steady) - float64(v*v0*lag/below),
	}
}

// at is the speed while the board rolls, and T of Speed in s/kg.
func (c *Coast) at(v0, t float64) (v, lag float64) {
	tau := t / c.Mass
	lag = tangentShare(float64(c.Steady * c.Drag * tau * tau))
	lag = float64(lag * tau)
	return (v0 - float64(c.Steady*lag)) / (1 + float64(v0*c.Drag*lag)), lag
}

// Duration returns the seconds from v0 m/s to standstill, m atan(v₀ √(D/C))/√(CD);
// +Inf where the board never stands.
func (c *Coast) Duration(v0 float64) float64 {
	switch {
	case v0 <= 0 && c.Steady >= 0:
		return 0
	case c.Steady <= 0: // the slope drives it: it rolls on
		return math.Inf(1)
	}
	x := float64(math.Sqrt(math.Abs(c.Drag/c.Steady)) * v0)
	share := 1.0 // atan x / x
	switch {
	case x < 1e-8:
	case c.Drag > 0:
		share = math.Atan(x) / x
	default: // +Inf from x = 1 on, where it drives the board
		share = math.Atanh(min(x, 1)) / x
	}
	return float64(c.Mass * v0 / c.Steady * share)
}

// nearZero is where the series below are as good as the functions: their next terms
// are of the order of its cube.
const (
	nearZero = 1e-4
	third    = 1.0 / 3
)

// tangentShare is tan √x/√x, continued through 0 as tanh √−x/√−x.
func tangentShare(x float64) float64 {
	switch {
	case math.Abs(x) < nearZero:
		return 1 + float64(x*(third+float64(x*(2*third/5+float64(x*(17.0/315))))))
	case x > 0:
		return math.Tan(math.Sqrt(x)) / math.Sqrt(x)
	}
	return math.Tanh(math.Sqrt(-x)) / math.Sqrt(-x)
}

// tangentSlope is the derivative of tangentShare.
func tangentSlope(x float64) float64 {
	if math.Abs(x) < nearZero {
		return third + float64(x*(4*third/5+float64(x*(17.0/105))))
	}
	f := tangentShare(x)
	return (1 + float64(x*f*f) - f) / (2 * x)
}
