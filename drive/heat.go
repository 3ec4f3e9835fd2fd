package drive

import "math"

// Thermal is a motor as two bodies that store heat: the winding, and all else. It
// is good to ± 40 %: compared with a small actuator on a bench (16.3 J/K, 1.07 K/W,
// 512 J/K and 1.94 K/W in still air, of a published data set on leg actuators) and
// with the Nusselt numbers of outrunners (Saemi et al., Aerospace 2024, 11:401).
type Thermal struct {
	Winding, Rest float64 // J/K
	Inner         float64 // K/W, from the winding to the rest
	Outer         float64 // K/W, from the rest to the air
}

// Temperatures are those of a motor's winding and of its rest, °C.
type Temperatures struct{ Winding, Rest float64 }

// The heat of motors. Copper and iron store heat as tables have it; how much of a
// motor is copper, and how well heat gets out, are assumptions.
const (
	copperShare  = 0.16 // of the mass
	windingHeat  = 385  // J/(kg·K)
	restHeat     = 470  // J/(kg·K): iron, magnets, aluminium
	innerOfOne   = 0.45 // K/W of a motor of 1 kg
	stillAir     = 20   // W/(m²·K), radiation included
	movingAir    = 14   // W/(m²·K) for each root of m/s
	usualSlender = 1.2  // length of a can over its diameter
	MotorDensity = 3600 // kg/m³, mass over the volume of the can: common practice, no published source
	HottestKnown = 400  // °C: no winding survives beyond it
)

// ThermalOf returns a motor of a mass in kg and a can of a diameter and a length in
// m, at a road speed in m/s. What is 0 is not known: the mass then follows from the
// can, or the can from the mass. ok is false where neither is known.
func ThermalOf(mass, diameter, length, v float64) (t Thermal, ok bool) {
	if !(mass > 0) {
		mass = float64(MotorDensity * math.Pi / 4 * diameter * diameter * length)
	}
	if !(mass > 0) {
		return t, false
	}
	if !(diameter > 0 && length > 0) {
		diameter = math.Cbrt(4 * mass / (math.Pi * MotorDensity * usualSlender))
		length = float64(usualSlender * diameter)
	}
	area := float64(math.Pi*diameter*length) + float64(math.Pi/2*diameter*diameter)
	third := math.Cbrt(mass)
	return Thermal{
		Winding: float64(copperShare * windingHeat * mass),
		Rest:    float64((1 - copperShare) * restHeat * mass),
		Inner:   innerOfOne / (third * third),
		Outer:   1 / (float64(stillAir+float64(movingAir*math.Sqrt(v))) * area),
	}, true
}

// InWind returns a motor that ThermalOf gave for standstill at a road speed in m/s.
func (t Thermal) InWind(v float64) Thermal {
	t.Outer = float64(t.Outer * (stillAir / (stillAir + float64(movingAir*math.Sqrt(v)))))
	return t
}

// Heating is what warms a motor.
type Heating struct {
	Resistance float64 // Ω at 20 °C
	Current    float64 // A, DC-equivalent
	Iron       float64 // W of no load, into the rest
	Air        float64 // °C around
	Seconds    float64
}

// After returns the temperatures in °C of the winding and of the rest of a motor as
// warm as the air after the time, the winding's at most HottestKnown.
func (t *Thermal) After(h Heating) (winding, rest float64) {
	if winding, rest = t.after(h); !(winding < HottestKnown) {
		winding = HottestKnown
	}
	return winding, rest
}

// after is After without an end to the heat.
func (t *Thermal) after(h Heating) (winding, rest float64) {
	end := t.From(Temperatures{h.Air, h.Air}, h)
	return end.Winding, end.Rest
}

// From returns the temperatures after the time of a motor that has some at first. With
// T′ = A T + … and λ the two eigenvalues of A, which are real and distinct,
//
//	T(t) = T(0) + [m + d (A − ½(a₁₁ + a₂₂))] T′(0)
//
// where m is the mean of (e^{λt} − 1)/λ, and d half the difference of the two over
// half that of the λ. The copper's resistance rises with its temperature, so that
// the heat may run away: then the winding is hotter than HottestKnown, +Inf or NaN.
func (t *Thermal) From(first Temperatures, h Heating) Temperatures {
	squared := float64(h.Resistance * h.Current * h.Current)
	a11 := (float64(squared*copperCoefficient) - 1/t.Inner) / t.Winding
	a12 := 1 / (t.Inner * t.Winding)
	a21 := 1 / (t.Inner * t.Rest)
	a22 := -(1/t.Inner + 1/t.Outer) / t.Rest
	mean, differ := (a11+a22)/2, (a11-a22)/2
	half := math.Sqrt(float64(differ*differ) + float64(a12*a21))
	slow, fast := grown(mean+half, h.Seconds), grown(mean-half, h.Seconds)
	m, d := (slow+fast)/2, (slow-fast)/(2*half)
	inward := (first.Winding - first.Rest) / t.Inner // W
	copper := (CopperResistance(squared, first.Winding) - inward) / t.Winding
	iron := (h.Iron + inward - (first.Rest-h.Air)/t.Outer) / t.Rest
	return Temperatures{
		Winding: first.Winding + float64((m+float64(d*differ))*copper) + float64(d*a12*iron),
		Rest:    first.Rest + float64((m-float64(d*differ))*iron) + float64(d*a21*copper),
	}
}

// grown returns (e^{λt} − 1)/λ, t where λ is 0.
func grown(lambda, t float64) float64 {
	if lambda == 0 {
		return t
	}
	return math.Expm1(float64(lambda*t)) / lambda
}
