package drive

// Cruise is the board at a steady speed on the flat.
type Cruise struct {
	MotorCurrent   float64 // A, DC-equivalent, each motor
	Power          float64 // W, out of the pack's terminals
	PackCurrent    float64 // A
	EnergyPerMetre float64 // J/m, the pack's inner loss included
}

// Cruise returns the board's currents and energy at a steady speed in m/s,
// above 0, on the flat and in still air, from a pack of open-circuit volts. ok is
// false when the motor's resistance is not known or the speed takes more power
// than the pack can give, volts²/(4R). Whether the board reaches the speed is for
// TopSpeed to tell.
func (b *Board) Cruise(v, volts float64) (c Cruise, ok bool) {
	return b.steady(v, b.Load(v, 0), volts)
}
