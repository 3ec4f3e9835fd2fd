package audit

import (
	"math"
	"slices"

	"gearsearch/catalog"
)

const windingBasis = "R·kv² goes with 1/(D⁴ L) for motors of like build: torque per root of heat grows with the air gap's area and the copper's (electrical machine design); a factor of 1.8, and what counts as a similar can, are an assumption"

// Motors whose cans differ by no more than these factors, or a little more, are
// similar. To tell that one is unlike the others, at least so many must be there. All
// are assumptions.
const (
	canDiameterStep = 1.15
	canLengthStep   = 1.3
	fewestSimilar   = 3
	oddWinding      = 1.8
)

// can is a class of similar cans, by the logarithms of diameter and length.
type can struct{ diameter, length int }

// canOf is the class of a motor's can; ok is false where it, the winding or kv
// is not known.
func canOf(m *catalog.Motor) (c can, ok bool) {
	if !(m.CanDiameter > 0 && m.CanLength > 0 && m.Resistance > 0) {
		return can{}, false
	}
	return can{
		int(math.Floor(math.Log(m.CanDiameter) / math.Log(canDiameterStep))),
		int(math.Floor(math.Log(m.CanLength) / math.Log(canLengthStep))),
	}, true
}

// canConstant is R·kv² of a motor times D⁴·L, which is alike for motors of like
// build.
func canConstant(m *catalog.Motor) float64 {
	d := m.CanDiameter * m.CanDiameter
	return m.Resistance * m.KV * m.KV * d * d * m.CanLength
}

// winding doubts a resistance that does not go with the kv of a motor, by motors of
// a similar can.
func (d *doubter) winding() {
	classes := map[can][]float64{}
	for _, m := range d.Motors {
		if c, ok := canOf(m); ok {
			classes[c] = append(classes[c], canConstant(m))
		}
	}
	medians := map[can]float64{}
	counts := map[can]int{}
	for c := range classes {
		similar := similarCans(classes, c)
		medians[c], counts[c] = median(similar), len(similar)
	}
	for _, m := range d.Motors {
		c, ok := canOf(m)
		if !ok || counts[c] < fewestSimilar {
			continue
		}
		if ratio := canConstant(m) / medians[c]; outside(ratio, 1/oddWinding, oddWinding) {
			d.add(windingCode(ratio), "motor", &m.Part, "resistance_mohm", given(m.Resistance, perMilli), plain(m.KV),
				given(m.CanDiameter, perMilli), given(m.CanLength, perMilli), rough(m.Resistance/ratio, perMilli), plain(float64(counts[c])))
		}
	}
}

// similarCans are the constants of a class and of its neighbours, so that a can on
// the edge of a class has similar ones on both sides.
func similarCans(classes map[can][]float64, of can) []float64 {
	var out []float64
	for i := -1; i <= 1; i++ {
		for j := -1; j <= 1; j++ {
			out = append(out, classes[can{of.diameter + i, of.length + j}]...)
		}
	}
	return out
}

// median is the middle of xs, the geometric mean of the two middle ones of an
// even number. It sorts xs.
func median(xs []float64) float64 {
	slices.Sort(xs)
	n := len(xs)
	return math.Sqrt(xs[(n-1)/2] * xs[n/2])
}

// windingCode tells half the resistance, a common mistake, from any other.
func windingCode(ratio float64) Code {
	if math.Abs(ratio-0.5) < 0.1 {
		return WindingHalf
	}
	return WindingOdd
}

// The motor constant squared by mass of small outrunners, (N·m)²/(W·kg), and how
// far beyond it is no longer believed. Common practice, no published source.
const (
	poorConstant, bestConstant = 0.02, 0.12
	constantSlack              = 2
)

// motorConstant doubts a resistance that does not go with the kv and the mass of a
// motor.
func (d *doubter) motorConstant() {
	for _, m := range d.Motors {
		k := 60 / (2 * math.Pi * m.KV)
		of := k * k / m.Mass // times 1/R
		if x := of / m.Resistance; outside(x, poorConstant/constantSlack, bestConstant*constantSlack) {
			d.add(MotorConstant, "motor", &m.Part, "resistance_mohm", given(m.Resistance, perMilli), plain(m.KV), given(m.Mass, perMilli),
				rough(of/bestConstant, perMilli), rough(of/poorConstant, perMilli))
		}
	}
}

// Below this can magnets are mostly so few that as many pairs have no room: 14
// magnets, 7 pairs, are the rule. Common practice, no published source.
const (
	smallCan   = 0.09 // m
	manyAsPair = 12
)

// polePairs doubts numbers of magnets that were taken for pairs, which doubles
// every electrical rpm.
func (d *doubter) polePairs() {
	for _, m := range d.Motors {
		if m.CanDiameter < smallCan && m.PolePairs >= manyAsPair && math.Mod(m.PolePairs, 2) == 0 {
			d.add(MagnetsAsPairs, "motor", &m.Part, "pole_pairs", plain(m.PolePairs), given(m.CanDiameter, perMilli), plain(m.PolePairs), plain(m.PolePairs/2))
		}
	}
}

// density is the mass in kg of a part over the volume in m³ of a cylinder.
func density(p *catalog.Part, diameter, length float64) float64 {
	return p.Mass / cylinder(diameter, length)
}

// motorMass doubts a motor lighter than half a can of aluminium, or as heavy as a
// can of steel.
func (d *doubter) motorMass() {
	const light, heavy = 1500, 7500 // kg/m³
	for _, m := range d.Motors {
		if x := density(&m.Part, m.CanDiameter, m.CanLength); outside(x, light, heavy) {
			d.add(MotorMass, "motor", &m.Part, "mass_g", given(m.Mass, perMilli), given(m.CanDiameter, perMilli), given(m.CanLength, perMilli),
				rough(x, perDense), given(light, perDense), given(heavy, perDense))
		}
	}
}

// noLoad doubts a motor current that is no more than the motor takes without load.
func (d *doubter) noLoad() {
	for _, m := range d.Motors {
		for _, limit := range []struct {
			key   string
			value float64
		}{{"peak_current_a", m.PeakCurrent}, {"continuous_current_a", m.ContinuousCurrent}} {
			if limit.value <= m.NoLoadCurrent {
				d.add(LimitBelowNoLoad, "motor", &m.Part, limit.key, named(limit.key), plain(limit.value), plain(m.NoLoadCurrent))
			}
		}
	}
}

// shaft doubts a shaft of half the can's diameter or more.
func (d *doubter) shaft() {
	for _, m := range d.Motors {
		if m.Shaft >= m.CanDiameter/2 {
			d.add(ShaftInCan, "motor", &m.Part, "shaft_mm", given(m.Shaft, perMilli), given(m.CanDiameter, perMilli))
		}
	}
}

// packSide doubts a controller that takes more from the pack than it gives a motor.
func (d *doubter) packSide() {
	for _, c := range d.Controllers {
		if c.BatteryCurrent > c.MotorCurrent {
			d.add(PackAboveMotorSide, "controller", &c.Part, "battery_current_a", plain(c.BatteryCurrent), plain(c.MotorCurrent))
		}
	}
}

// efficiency doubts gears or a controller with next to no loss, or with much.
func (d *doubter) efficiency() {
	const (
		poorGear, bestGear             = 0.7, 0.99
		poorController, bestController = 0.85, 0.995
	)
	for _, c := range d.Controllers {
		if outside(c.Efficiency, poorController, bestController) {
			d.add(ControllerEfficiency, "controller", &c.Part, "efficiency", plain(c.Efficiency), plain(poorController), plain(bestController))
		}
	}
	for _, g := range d.GearDrives {
		direct := g.InWheel && g.Ratio == 1
		if outside(g.Efficiency, poorGear, bestGear) && !direct {
			d.add(GearEfficiency, "gear_drive", &g.Part, "efficiency", plain(g.Efficiency), plain(poorGear), plain(bestGear))
		}
	}
}
