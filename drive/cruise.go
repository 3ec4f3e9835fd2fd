package drive

import "math"

// Cruise is the board at a steady speed on the flat.
type Cruise struct {
	MotorCurrent   float64 // A, DC-equivalent, each motor
	Power          float64 // W, out of the pack's terminals
	PackCurrent    float64 // A
	EnergyPerMetre float64 // J/m, the pack's inner loss included
}

// Cruise returns the board's currents and energy at a steady speed in m/s,
// above 0, on the flat, from a pack of open-circuit volts. ok is false when the
// motor's resistance is not known or the speed takes more power than the pack
// can give, volts²/(4R). Whether the board reaches the speed is for TopSpeed to
// tell.
func (b *Board) Cruise(v, volts float64) (c Cruise, ok bool) {
	if !(b.R > 0) {
		return Cruise{}, false
	}
	emf := b.K * v * b.Reduction / b.Radius
	c.MotorCurrent = b.MotorCurrentFor(b.Load(v, 0))
	c.Power = float64(b.Motors) * b.drawn(c.MotorCurrent, emf) / b.Controller.Efficiency
	// The lower root of R I² − volts I + P = 0.
	root := float64(volts*volts) - float64(4*b.Pack.Resistance*c.Power)
	if root < 0 {
		if !AtMost(float64(4*b.Pack.Resistance*c.Power), float64(volts*volts)) {
			return Cruise{}, false
		}
		root = 0
	}
	c.PackCurrent = 2 * c.Power / (volts + math.Sqrt(root))
	c.EnergyPerMetre = volts * c.PackCurrent / v
	return c, true
}
