package constraints

import (
	"math"

	"gearsearch/drive"
)

// Teeth are the teeth of the pair that turns the wheel, and how often the same two
// meet.
type Teeth struct {
	Gears        bool    // else pulleys or sprockets
	Small, Large float64 // of the motor's side and of the wheel's; NaN: not known
	// Common is the greatest common divisor of both, each tooth meeting one in
	// Common of the other; 0 where the teeth are not known.
	Common int
}

// Teeth are those of the drive's pair.
func (d *Drive) Teeth() Teeth {
	t := Teeth{Gears: d.Gear != nil}
	if t.Gears {
		t.Small, t.Large = d.Gear.Driver, d.Gear.Driven
	} else {
		t.Small, t.Large = float64(d.MotorPulley.Teeth), float64(d.WheelPulley.Teeth)
	}
	if !math.IsNaN(t.Small) && !math.IsNaN(t.Large) {
		t.Common = drive.CommonDivisor(int(t.Small), int(t.Large))
	}
	return t
}
