package drive

import "math"

// stefanBoltzmann is the constant of radiation, W/(m²·K⁴) (SI, exact to the
// digits given).
const stefanBoltzmann = 5.670374e-8

// air is still air at 101 325 Pa and one temperature.
type air struct {
	expansion    float64 // 1/K
	viscosity    float64 // m²/s, kinematic
	diffusivity  float64 // m²/s, thermal
	conductivity float64 // W/(m·K)
}

// airAt returns the properties of air at a temperature in kelvin: the ideal
// gas, and the viscosity and conductivity of ISO 2533.
func airAt(kelvin float64) air {
	density := seaLevelPressure / (gasConstant * kelvin)
	root := float64(kelvin * math.Sqrt(kelvin))
	viscosity := 1.458e-6 * root / (kelvin + 110.4)
	conductivity := 2.648151e-3 * root / (kelvin + float64(245.4*math.Pow(10, -12/kelvin)))
	const heat = 1.4 / 0.4 * gasConstant // J/(kg·K) at constant pressure, ISO 2533
	return air{
		expansion:    1 / kelvin,
		viscosity:    viscosity / density,
		diffusivity:  conductivity / (density * heat),
		conductivity: conductivity,
	}
}

// Convection returns the watts that a metre of a horizontal cylinder of a
// diameter in metres gives to still air by free convection, from the
// temperatures of its surface and of the air in degrees Celsius; 0 where the
// surface is not the warmer. The correlation is that of Churchill & Chu, Int. J.
// Heat Mass Transfer 18 (1975) 1049, air as at the mean of the two temperatures.
func Convection(diameter, surface, ambient float64) float64 {
	warmer := surface - ambient
	if !(warmer > 0) {
		return 0
	}
	a := airAt((surface+ambient)/2 + zeroCelsius)
	rayleigh := Gravity * a.expansion * warmer * diameter * diameter * diameter / (a.viscosity * a.diffusivity)
	prandtl := a.viscosity / a.diffusivity
	root := 0.60 + float64(0.387*math.Pow(rayleigh, 1.0/6)/math.Pow(1+math.Pow(0.559/prandtl, 9.0/16), 8.0/27))
	// Nusselt number × conductivity × π, in which the diameter drops out.
	return float64(root * root * a.conductivity * math.Pi * warmer)
}

// Radiation returns the watts that a metre of a cylinder of a diameter in metres
// and an emissivity radiates into surroundings that are as warm as the air,
// temperatures in degrees Celsius (Stefan–Boltzmann).
func Radiation(diameter, emissivity, surface, ambient float64) float64 {
	hot, cold := surface+zeroCelsius, ambient+zeroCelsius
	hot, cold = float64(hot*hot), float64(cold*cold)
	return float64(math.Pi * diameter * emissivity * stefanBoltzmann * (hot - cold) * (hot + cold))
}
