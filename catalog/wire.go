package catalog

import "math"

// AWGArea returns the area in m² of a solid wire of an American wire gauge:
// the diameter is 0.127 mm at 36 AWG and grows by the 39th root of 92 with
// each gauge below (ASTM B258). 0 is 1/0, -1 is 2/0, and so on to -3, 4/0. The
// copper of a stranded wire of that gauge has nearly the same area.
func AWGArea(gauge float64) float64 {
	d := 0.127e-3 * math.Pow(92, (36-gauge)/39)
	return math.Pi / 4 * d * d
}

// areaOf is an area in m² that was given as such, or as a gauge; NaN where
// neither was.
func areaOf(area, gauge float64) float64 {
	if math.IsNaN(area) {
		return AWGArea(gauge)
	}
	return area
}
