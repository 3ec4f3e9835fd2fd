package outfit

import "math"

// Wishes are what the builder decides and no brief says. DefaultWishes gives
// the defaults, all of them assumptions.
type Wishes struct {
	BatteryWire float64 // m, from the pack to the controllers, one way
	PhaseWire   float64 // m, from a controller to its motor
	Ambient     float64 // °C, of the air round the wires
	WireRise    float64 // K, by which a steady current may warm the copper of a wire
	WireHottest float64 // °C, that the copper may reach at the end of a peak and as long as the fuse holds, whatever its insulation bears: for plugs and joints
	PeakSeconds float64 // s, that a peak lasts
	ChargeHours float64 // h from empty to full at most; NaN: any charger that suits

	// Room round the cells of a pack, m.
	Sleeve float64 // wall of the sleeve round each cell
	Gap    float64 // between cells
	End    float64 // at each end of a cell
	Wall   float64 // along each wall of the box
}

// DefaultWishes returns the wishes of somebody who has none: wires of an
// ordinary board, 40 K over 30 °C, so that copper stays at the 70 °C that any
// insulation bears, 105 °C at the end of a peak of 20 s, in which a board is at its
// top speed, and as long as the fuse holds, and cells in shrink sleeves with half a
// millimetre between them, a millimetre for strips and rings at each end and padding
// of 3 mm.
func DefaultWishes() Wishes {
	return Wishes{
		BatteryWire: 0.3, PhaseWire: 0.4, Ambient: 30, WireRise: 40, WireHottest: 105, PeakSeconds: 20, ChargeHours: math.NaN(),
		Sleeve: 0.0001, Gap: 0.0005, End: 0.001, Wall: 0.003,
	}
}
