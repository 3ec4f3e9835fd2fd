package drive

import "math"

// The constants of the standard atmosphere (ISO 2533), troposphere.
const (
	seaLevelPressure    = 101325     // Pa
	seaLevelTemperature = 288.15     // K
	lapseRate           = 0.0065     // K/m
	pressureSlope       = 2.25577e-5 // 1/m: lapse rate over sea-level temperature
	pressureExponent    = 5.25588    // g/(R·lapse rate)
	gasConstant         = 287.05287  // J/(kg·K), dry air
	zeroCelsius         = 273.15     // K
)

// AirDensity returns the density of air in kg/m³ at an altitude in metres, at
// the temperature of the standard atmosphere there: 1.225 at sea level. It
// holds for the troposphere, −2 to 11 km (ISO 2533).
func AirDensity(altitude float64) float64 {
	return airDensity(altitude, seaLevelTemperature-float64(lapseRate*altitude))
}

// AirDensityAt is AirDensity with a given air temperature in degrees Celsius;
// the pressure stays that of the standard atmosphere at the altitude.
func AirDensityAt(altitude, celsius float64) float64 {
	return airDensity(altitude, celsius+zeroCelsius)
}

func airDensity(altitude, kelvin float64) float64 {
	p := float64(seaLevelPressure * math.Pow(1-float64(pressureSlope*altitude), pressureExponent))
	return p / (gasConstant * kelvin)
}
