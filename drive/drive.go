package drive

import "math"

// Gravity is the standard acceleration of gravity, m/s² (3rd CGPM, 1901).
const Gravity = 9.80665

// Board is an Electrical coupled to the road. All fields are set by the
// caller; speeds are road speeds in m/s throughout.
type Board struct {
	*Electrical
	Reduction  float64 // motor turns per wheel turn
	Efficiency float64 // of the drive, (0, 1]
	Radius     float64 // m, rolling
	Mass       float64 // kg, rider included
	Crr        float64 // rolling-resistance coefficient
	DragArea   float64 // m²
	AirDensity float64 // kg/m³
	Hold       Hold    // what the driven wheels hold
}

// FreeSpeed returns the road speed in m/s of the unloaded motor at pack volts
// and the controller's highest duty, without any loss.
func (b *Board) FreeSpeed(volts float64) float64 {
	return b.Controller.MaxDuty * volts / b.K * b.Radius / b.Reduction
}

// ERPMSpeed returns the road speed in m/s at an electrical rpm.
func (b *Board) ERPMSpeed(ceiling float64) float64 {
	return ceiling / float64(b.Motor.PolePairs) * (2 * math.Pi / 60) * b.Radius / b.Reduction
}

// ERPMAt returns the electrical rpm at a road speed in m/s.
func (b *Board) ERPMAt(v float64) float64 {
	return float64(v * b.Reduction / b.Radius * (60 / (2 * math.Pi)) * float64(b.Motor.PolePairs))
}
