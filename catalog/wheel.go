package catalog

import "math"

// RollingRadius is the distance in m from the axle to the ground under load:
// half the diameter, times the ratio that is given, or that of a pneumatic tyre.
func (w *Wheel) RollingRadius() float64 {
	switch {
	case !math.IsNaN(w.RollingRatio):
		return w.Diameter / 2 * w.RollingRatio
	case w.Tyre == TyrePneumatic:
		return w.Diameter / 2 * AssumedPneumaticRatio
	}
	return w.Diameter / 2
}
