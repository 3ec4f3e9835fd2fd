package constraints

import (
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// A key that a part leaves out, though every real one has a value for it, gets the
// range in which the value likely lies. A build is computed at both ends: the best
// corner takes the low ends, the worst the high ones. The zero Span stands for a key
// that is given, or for one without a range.

// Span is a range that stands in for a value that is not given, SI.
type Span struct{ Low, High float64 }

// None reports whether nothing stands in.
func (s Span) None() bool { return s == Span{} }

// How motors and cells are spread: small outrunners and cells of all makers,
// common practice, no published source. A kilogram of motor makes so many
// (N·m)² for each watt of heat and, idling, takes so many N·m; the resistance
// of a cell goes with one over its ampere-hours.
const (
	leastSteepness, mostSteepness = 0.02, 0.12 // k²/R for each kg, (N·m)²/W
	leastIdle, mostIdle           = 0.02, 0.12 // k I₀ for each kg, N·m
)

// cellSpans are the resistance of one cell times its ampere-hours, Ω·Ah. A pack
// of which nobody says what is in it may be either.
func cellSpan(c catalog.Chemistry) Span {
	switch c {
	case catalog.LiIon:
		return Span{0.02, 0.16}
	case catalog.LFP:
		return Span{0.015, 0.12}
	default:
		return Span{0.008, 0.10}
	}
}

// bodyMass is the mass of a motor in kg, else that of its can; NaN when neither
// is known.
func bodyMass(m *catalog.Motor) float64 {
	return orElse(m.Mass, drive.MotorDensity*math.Pi/4*m.CanDiameter*m.CanDiameter*m.CanLength)
}

// MotorSpans are what stands in for a motor's resistance (Ω, at 20 °C) and
// no-load current (A) where it gives neither, and its mass or can is known.
func MotorSpans(m *catalog.Motor) (resistance, noLoad Span) {
	mass, k := bodyMass(m), drive.TorqueConstant(m.KV)
	if !(mass > 0) {
		return
	}
	if math.IsNaN(m.Resistance) {
		resistance = Span{k * k / (mostSteepness * mass), k * k / (leastSteepness * mass)}
	}
	if math.IsNaN(m.NoLoadCurrent) {
		noLoad = Span{leastIdle * mass / k, mostIdle * mass / k}
	}
	return
}

// PackSpan is what stands in for the resistance of a pack (Ω, without its
// wiring) where neither it nor its cell gives one, and the ampere-hours are
// known.
func PackSpan(b *catalog.Battery) Span {
	if _, known := b.PackResistance(); known {
		return Span{}
	}
	is, charge, strings := b.Chemistry, b.Capacity, 1.0
	if b.Cell != nil {
		is, charge, strings = b.Cell.Chemistry, b.Cell.Capacity, b.Strings()
		if is == catalog.ChemistryUnknown {
			is = catalog.AssumedChemistry
		}
	}
	if math.IsNaN(charge) {
		return Span{}
	}
	s, each := cellSpan(is), b.Series/strings/charge
	return Span{s.Low * each, s.High * each}
}

// electric sets what a motor is in either corner. What has no range is not known
// in the worst corner and costs nothing in the best.
func (m *Motor) electric() {
	resistance, noLoad := MotorSpans(m.Motor)
	m.Drive = drive.Motor{
		KV:            m.KV,
		PolePairs:     int(orElse(m.PolePairs, catalog.AssumedPolePairs)),
		Resistance:    orElse(m.Resistance, resistance.High),
		NoLoadCurrent: orElse(m.NoLoadCurrent, noLoad.High),
		PeakCurrent:   orElse(m.PeakCurrent, 0),
		MaxPower:      orElse(m.MaxPower, 0),
	}
	m.Best = m.Drive
	m.Best.Resistance = orElse(m.Resistance, resistance.Low)
	m.Best.NoLoadCurrent = orElse(m.NoLoadCurrent, noLoad.Low)
	if m.Best.Resistance == 0 {
		m.Best.Resistance = drive.Lossless
	}
	m.Blank = m.Best != m.Drive
}

// Blank reports whether a catalog leaves something out for which builds have two
// corners: a resistance, a no-load current, or a limit of current or power.
func Blank(c *catalog.Catalog) bool {
	absent := func(values ...float64) bool { return slices.ContainsFunc(values, math.IsNaN) }
	return slices.ContainsFunc(c.Motors, func(m *catalog.Motor) bool {
		return absent(m.Resistance, m.NoLoadCurrent, m.PeakCurrent, m.MaxPower)
	}) || slices.ContainsFunc(c.Controllers, func(x *catalog.Controller) bool {
		return absent(x.MotorCurrent, x.BatteryCurrent)
	}) || slices.ContainsFunc(c.Batteries, func(b *catalog.Battery) bool {
		_, known := b.PackResistance()
		return !known || absent(b.DischargeLimit(), b.ChargeLimit())
	})
}
