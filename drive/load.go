package drive

import "math"

// Load returns the force in newtons that the road asks for at a speed in m/s on
// a slope of theta rad: weight along the slope, rolling and air resistance.
// Wind and bends are left out.
func (b *Board) Load(v, theta float64) float64 {
	return b.LoadOn(v, SlopeOf(theta))
}

// LoadOn is Load on a slope whose sine and cosine are known.
func (b *Board) LoadOn(v float64, s Slope) float64 {
	return float64(b.weight()*(s.Sin+float64(b.Crr*s.Cos))) + float64(b.drag()*v*v)
}

// Slope is the sine and cosine of a road's angle. The flat is {0, 1}.
type Slope struct{ Sin, Cos float64 }

// SlopeOf is the slope of an angle in rad.
func SlopeOf(theta float64) Slope {
	if theta == 0 {
		return Slope{0, 1}
	}
	sin, cos := math.Sincos(theta)
	return Slope{sin, cos}
}

// weight returns m g in newtons.
func (b *Board) weight() float64 {
	return float64(b.Mass * Gravity)
}

// drag returns ½ρA, newtons per (m/s)².
func (b *Board) drag() float64 {
	return float64(0.5 * b.AirDensity * b.DragArea)
}

// level is the flat.
var level = Slope{0, 1}

// road is what the crossings of thrust and load on a slope are made of.
type road struct {
	gain  float64 // N of thrust per DC-equivalent A above the no-load current
	emf   float64 // V of back-EMF per m/s
	still float64 // N of load at standstill: rolling resistance and slope, negative down a steep one
	drag  float64 // N per (m/s)²
	grip  float64 // N
}

func (b *Board) road(s Slope) road {
	turn := b.Reduction / b.Radius
	weight := b.weight()
	return road{
		gain:  float64(b.torque * b.Efficiency * turn),
		emf:   float64(b.K * turn),
		still: float64(weight * (s.Sin + float64(b.Crr*s.Cos))),
		drag:  b.drag(),
		grip:  float64(b.Hold.Drive * weight * s.Cos),
	}
}

// SlopeOver is the slope of a rise in m over a length of road in m, above 0.
func SlopeOver(rise, length float64) Slope {
	if rise == 0 {
		return level
	}
	over := math.Hypot(rise, length)
	return Slope{rise / over, length / over}
}
