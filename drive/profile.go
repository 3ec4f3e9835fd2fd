package drive

import "math"

// Profile is a tooth profile: of synchronous belts and their pulleys or, where it
// has a Chain, of a chain and its sprockets. NaN is not known.
type Profile struct {
	Name      string
	Pitch     float64 // m
	PitchLine float64 // m, from the tooth tip to the belt's pitch line, on one side; NaN of a chain
	Pull      float64 // N per m of width, allowable working tension; NaN of a chain
	Chain     *Chain  // nil: it is a belt's
}

// Profiles returns the built-in tooth profiles. Geometry: ISO 13050 for the HTD
// and GT profiles, ISO 5296 for XL and L, DIN 7721 for T. Pull: a handbook of
// synchronous belts, whose table is per 25.4 mm of width. The chains are the three
// smallest of ISO 606.
func Profiles() []Profile {
	const mm, perMM = 1e-3, 1e3
	unknown := math.NaN()
	return []Profile{
		{"htd-3m", 3 * mm, 0.381 * mm, 11.22 * perMM, nil},
		{"htd-5m", 5 * mm, 0.5715 * mm, 17.87 * perMM, nil},
		{"htd-8m", 8 * mm, 0.686 * mm, 31.18 * perMM, nil},
		{"gt-2", 2 * mm, 0.254 * mm, 4.37 * perMM, nil},
		{"gt-3", 3 * mm, 0.381 * mm, 19.96 * perMM, nil},
		{"gt-5", 5 * mm, 0.5715 * mm, 28.03 * perMM, nil},
		{"t5", 5 * mm, 0.42 * mm, unknown, nil},
		{"t10", 10 * mm, 0.93 * mm, unknown, nil},
		{"xl", 5.08 * mm, 0.254 * mm, 4.92 * perMM, nil},
		{"l", 9.525 * mm, 0.381 * mm, unknown, nil},
		{"chain-04c", 6.35 * mm, unknown, unknown, &Chain{3.30 * mm, 6.02 * mm, 3500}},
		{"chain-05b", 8 * mm, unknown, unknown, &Chain{5.00 * mm, 7.11 * mm, 4400}},
		{"chain-06c", 9.525 * mm, unknown, unknown, &Chain{5.08 * mm, 9.05 * mm, 7900}},
	}
}

// PitchDiameter returns the pitch diameter in metres of a pulley, teeth × pitch
// / π, or of a sprocket, pitch / sin(π / teeth) (ISO 606).
func (p Profile) PitchDiameter(teeth int) float64 {
	if p.Chain != nil {
		return p.Pitch / math.Sin(math.Pi/float64(teeth))
	}
	return float64(teeth) * p.Pitch / math.Pi
}

// OutsideDiameter returns the diameter in metres over the teeth of a pulley,
// without flanges, NaN when the pitch line is not known; or of a sprocket, the
// greatest that ISO 606 allows, d + 1.25 p − d₁.
func (p Profile) OutsideDiameter(teeth int) float64 {
	if c := p.Chain; c != nil {
		return p.PitchDiameter(teeth) + float64(1.25*p.Pitch) - c.Roller
	}
	return p.PitchDiameter(teeth) - float64(2*p.PitchLine)
}

// Length returns how many teeth a belt has, or how many links a chain, that is taut
// round pulleys or sprockets of a and b teeth at a centre distance in metres, whole
// and part.
func (p Profile) Length(centre float64, a, b int) float64 {
	if p.Chain != nil {
		return ChainLinks(centre/p.Pitch, a, b)
	}
	return BeltLength(centre, p.PitchDiameter(a), p.PitchDiameter(b)) / p.Pitch
}

// CentreDistance returns the centre distance in metres at which a belt of a number of
// teeth, or a chain of a number of links, is taut round pulleys or sprockets of a and
// b teeth: the inverse of Length. ok is false when it does not reach round both.
func (p Profile) CentreDistance(around, a, b int) (centre float64, ok bool) {
	if p.Chain != nil {
		pitches, ok := ChainCentre(around, a, b)
		return float64(pitches * p.Pitch), ok
	}
	return CentreDistance(float64(p.Pitch*float64(around)), p.PitchDiameter(a), p.PitchDiameter(b))
}
