package drive

import "math"

// The wire gauges that ThinnestGauge chooses from. A gauge of 0 is 1/0, −1 is
// 2/0, and so on to −3 for 4/0 (ASTM B258).
const (
	ThickestGauge = -3
	FinestGauge   = 30
)

// copperResistivity is that of annealed copper at 20 °C, 100 % IACS: 1/58
// Ω·mm²/m (IEC 60028; ASTM B3).
const copperResistivity = 1e-6 / 58

// The insulation assumed where it is not known: silicone rubber, with a wall that
// makes the wire twice as thick as its copper. Silicone conducts 0.2 to 0.3 W/(m·K);
// rubbers and plastics radiate at 0.9 to 0.95.
const (
	InsulationConductivity = 0.2 // W/(m·K)
	InsulationEmissivity   = 0.9
	insulatedToBare        = 2
)

// GaugeDiameter returns the diameter in metres of a solid wire of an American
// wire gauge, 0.127 mm × 92^((36−n)/39) (ASTM B258). A stranded conductor has
// the copper of this diameter and is thicker by the gaps between its strands.
func GaugeDiameter(gauge int) float64 {
	return float64(0.127e-3 * math.Pow(92, float64(36-gauge)/39))
}

// GaugeArea returns the copper in m² of an American wire gauge.
func GaugeArea(gauge int) float64 {
	d := GaugeDiameter(gauge)
	return float64(math.Pi / 4 * d * d)
}

// Wire is one insulated copper wire.
type Wire struct {
	Area    float64 // m², of copper, above 0
	Outside float64 // m, diameter over the insulation; 0: not known, twice that of the copper is assumed
}

// GaugeWire returns a wire of an American wire gauge with an insulation that is
// not known.
func GaugeWire(gauge int) Wire { return Wire{Area: GaugeArea(gauge)} }

// copper returns the diameter in metres of the copper drawn into one rod.
func (w Wire) copper() float64 { return float64(2 * math.Sqrt(w.Area/math.Pi)) }

// outside returns the diameter in metres over the insulation, at least that of
// the copper.
func (w Wire) outside() float64 {
	if w.Outside > 0 {
		return max(w.Outside, w.copper())
	}
	return float64(insulatedToBare * w.copper())
}

// InsulatedDiameter returns the diameter in metres over the insulation of a wire of so
// much copper in m², with the wall that is assumed of one that is not known.
func InsulatedDiameter(area float64) float64 { return Wire{Area: area}.outside() }

// Resistance returns the ohms of a metre of the wire with its copper at a
// temperature in degrees Celsius. Strands, which lie a little longer than the
// wire, and tin add a few per cent that are left out.
func (w Wire) Resistance(celsius float64) float64 {
	return CopperResistance(copperResistivity/w.Area, celsius)
}

// Drop returns the volts that a current in amperes loses on a way out and back
// over a distance in metres, with the copper at a temperature in degrees
// Celsius. The power lost is the current times these volts.
func (w Wire) Drop(amps, distance, celsius float64) float64 {
	return float64(amps * 2 * distance * w.Resistance(celsius))
}

// Ampacity returns the steady current in amperes, DC or root mean square, that
// warms the copper by a rise in kelvin over still air of a temperature in
// degrees Celsius. The wire lies alone and level in free air: not in a bundle,
// nor in a closed box, where it bears less.
//
// The copper's heat, I² R, passes through the insulation as through the wall of a
// tube, and goes from there by Convection and Radiation.
func (w Wire) Ampacity(rise, ambient float64) float64 {
	if !(rise > 0) {
		return 0
	}
	core := ambient + rise
	return math.Sqrt(w.heat(core, ambient) / w.Resistance(core))
}

// heat returns the watts that leave a metre of the wire with its copper at a
// temperature.
func (w Wire) heat(core, ambient float64) float64 {
	// A warmer surface gives off more heat and gets less.
	wall := w.wall()
	surface := bisect(ambient, core, func(surface float64) float64 {
		return float64(w.leaving(surface, ambient)*wall) - (core - surface)
	})
	return w.leaving(surface, ambient)
}

// wall returns the kelvins over the insulation for a watt that a metre of the wire
// gives off.
func (w Wire) wall() float64 {
	return math.Log(w.outside()/w.copper()) / (2 * math.Pi * InsulationConductivity)
}

// leaving returns the watts that leave a metre of the wire at a temperature of its
// surface.
func (w Wire) leaving(surface, ambient float64) float64 {
	outside := w.outside()
	return Convection(outside, surface, ambient) + Radiation(outside, InsulationEmissivity, surface, ambient)
}

// hottest is a rise in kelvin far beyond what any insulation or solder bears.
const hottest = 2000

// Rise returns the kelvin by which a steady current in amperes warms the copper
// over still air: the inverse of Ampacity. +Inf beyond 2000 K.
func (w Wire) Rise(amps, ambient float64) float64 {
	if !(amps > 0) {
		return 0
	}
	if w.Ampacity(hottest, ambient) < amps {
		return math.Inf(1)
	}
	// A warmer surface gives off more heat, so a greater current is needed to make
	// it, and the copper is warmer.
	wall := w.wall()
	core := func(surface float64) float64 { return surface + float64(w.leaving(surface, ambient)*wall) }
	surface := bisect(ambient, ambient+hottest, func(surface float64) float64 {
		return math.Sqrt(w.leaving(surface, ambient)/w.Resistance(core(surface))) - amps
	})
	return core(surface) - ambient
}

// What a current of a few seconds does to copper that loses no heat meanwhile (IEC
// 60949; IEC 60364-5-54, annex A).
const (
	copperHeat = 3.45e6 // J/(K·m³)
	copperEnd  = 234.5  // degrees below 0 °C at which its resistance would end
	copperK2   = copperHeat * (copperEnd + 20) / copperResistivity
)

// PeakAmpacity returns the current in amperes that warms the copper from one
// temperature in degrees Celsius to another in so many seconds without losing heat, 0
// where it must not warm: I² t = (k S)² with k² = c (β + 20)/ρ ln((β + to)/(β +
// from)), as in IEC 60364-5-54. Copper that loses some heat bears more.
func (w Wire) PeakAmpacity(from, to, seconds float64) float64 {
	if !(to > from) {
		return 0
	}
	return float64(w.Area * math.Sqrt(copperK2*math.Log((copperEnd+to)/(copperEnd+from))/seconds))
}

// After returns the temperature in degrees Celsius to which a current in amperes
// warms the copper in so many seconds from another temperature, without losing heat:
// the inverse of PeakAmpacity.
func (w Wire) After(amps, seconds, from float64) float64 {
	density := amps / w.Area
	return float64((copperEnd+from)*math.Exp(density*density*seconds/copperK2)) - copperEnd
}

// ThinnestGauge returns the thinnest American wire gauge, from 30 to −3 (4/0), that
// will do; ok is false when none does.
func ThinnestGauge(does func(Wire) bool) (gauge int, ok bool) {
	for gauge = FinestGauge; gauge >= ThickestGauge; gauge-- {
		if does(GaugeWire(gauge)) {
			return gauge, true
		}
	}
	return 0, false
}

// bisect returns where a rising function passes 0 between two values.
func bisect(low, high float64, f func(float64) float64) float64 {
	for range 100 {
		middle := low + (high-low)/2
		if middle == low || middle == high {
			break
		}
		if f(middle) < 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return low + (high-low)/2
}
