package drive

import "math"

// Profile is a tooth profile of synchronous belts. NaN is not known.
type Profile struct {
	Name      string
	Pitch     float64 // m
	PitchLine float64 // m, from the tooth tip to the belt's pitch line, on one side
	Pull      float64 // N per m of width, allowable working tension
}

// Profiles returns the built-in tooth profiles. Geometry: ISO 13050 for the HTD
// and GT profiles, ISO 5296 for XL and L, DIN 7721 for T. Pull: a handbook of
// synchronous belts, whose table is per 25.4 mm of width.
func Profiles() []Profile {
	const mm, perMM = 1e-3, 1e3
	unknown := math.NaN()
	return []Profile{
		{"htd-3m", 3 * mm, 0.381 * mm, 11.22 * perMM},
		{"htd-5m", 5 * mm, 0.5715 * mm, 17.87 * perMM},
		{"htd-8m", 8 * mm, 0.686 * mm, 31.18 * perMM},
		{"gt-2", 2 * mm, 0.254 * mm, 4.37 * perMM},
		{"gt-3", 3 * mm, 0.381 * mm, 19.96 * perMM},
		{"gt-5", 5 * mm, 0.5715 * mm, 28.03 * perMM},
		{"t5", 5 * mm, 0.42 * mm, unknown},
		{"t10", 10 * mm, 0.93 * mm, unknown},
		{"xl", 5.08 * mm, 0.254 * mm, 4.92 * perMM},
		{"l", 9.525 * mm, 0.381 * mm, unknown},
	}
}

// PitchDiameter returns the pitch diameter in metres of a pulley, teeth × pitch
// / π.
func (p Profile) PitchDiameter(teeth int) float64 {
	return float64(teeth) * p.Pitch / math.Pi
}

// OutsideDiameter returns the diameter in metres over the teeth of a pulley,
// without flanges. NaN when the pitch line is not known.
func (p Profile) OutsideDiameter(teeth int) float64 {
	return p.PitchDiameter(teeth) - float64(2*p.PitchLine)
}
