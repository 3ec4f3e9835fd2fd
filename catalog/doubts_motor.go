package catalog

import (
	"math"
	"slices"
)

const windingBasis = "R·kv² goes with 1/(D⁴ L) for motors of like build: torque per root of heat grows with the air gap's area and the copper's (electrical machine design); a factor of 1.8, and what counts as a similar can, are an assumption"

// Motors whose cans differ by no more than these factors, or a little more, are
// similar. As many as that many must be there to tell one that is not like the
// others. All are assumptions.
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
func canOf(m *Motor) (c can, ok bool) {
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
func canConstant(m *Motor) float64 {
	d := m.CanDiameter * m.CanDiameter
	return m.Resistance * m.KV * m.KV * d * d * m.CanLength
}

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
			d.add("motor", &m.Part, "resistance_mohm", windingHint(ratio), "resistance_mohm is %s at %s rpm/V; a can of %s × %s mm would have about %s there, by %d motors of a similar can",
				num(m.Resistance*perMilli), num(m.KV), num(m.CanDiameter*perMilli), num(m.CanLength*perMilli), about(m.Resistance*perMilli/ratio), counts[c])
		}
	}
}

// similarCans are the constants of a class and of those beside it, so that no
// class ends where a can is.
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

func windingHint(ratio float64) string {
	if math.Abs(ratio-0.5) < 0.1 {
		return "about half: it is measured from phase to phase, not from a phase to the star point"
	}
	return "R·kv² is alike for all windings of a can: do kv and resistance belong to one winding, and is the unit mΩ?"
}

// density is the mass in kg of a part over the volume in m³ of a cylinder.
func density(p *Part, diameter, length float64) float64 { return p.Mass / cylinder(diameter, length) }

// perDense is g/cm³ of kg/m³.
const perDense = 0.001

func (d *doubter) motorMass() {
	const light, heavy = 1500, 7500 // kg/m³
	for _, m := range d.Motors {
		if x := density(&m.Part, m.CanDiameter, m.CanLength); outside(x, light, heavy) {
			d.add("motor", &m.Part, "mass_g", "the mass of one motor, and the can's outside diameter and length", "mass_g is %s for a can of %s × %s mm, %s g/cm³; motors have %s to %s",
				num(m.Mass*perMilli), num(m.CanDiameter*perMilli), num(m.CanLength*perMilli), about(x*perDense), num(light*perDense), num(heavy*perDense))
		}
	}
}

func (d *doubter) noLoad() {
	for _, m := range d.Motors {
		for _, limit := range []struct {
			key   string
			value float64
		}{{"peak_current_a", m.PeakCurrent}, {"continuous_current_a", m.ContinuousCurrent}} {
			if limit.value <= m.NoLoadCurrent {
				d.add("motor", &m.Part, limit.key, "", "%s is %s, no more than no_load_current_a, %s", limit.key, num(limit.value), num(m.NoLoadCurrent))
			}
		}
	}
}

func (d *doubter) shaft() {
	for _, m := range d.Motors {
		if m.Shaft >= m.CanDiameter/2 {
			d.add("motor", &m.Part, "shaft_mm", "", "shaft_mm is %s in a can of %s mm", num(m.Shaft*perMilli), num(m.CanDiameter*perMilli))
		}
	}
}

func (d *doubter) packSide() {
	for _, c := range d.Controllers {
		if c.BatteryCurrent > c.MotorCurrent {
			d.add("controller", &c.Part, "battery_current_a", "are the two mixed up?", "battery_current_a is %s, above motor_current_a, %s", num(c.BatteryCurrent), num(c.MotorCurrent))
		}
	}
}

func (d *doubter) efficiency() {
	const (
		poorGear, bestGear             = 0.7, 0.99
		poorController, bestController = 0.85, 0.995
	)
	for _, c := range d.Controllers {
		if outside(c.Efficiency, poorController, bestController) {
			d.add("controller", &c.Part, "efficiency", "", "efficiency is %s; controllers have %s to %s", num(c.Efficiency), num(poorController), num(bestController))
		}
	}
	for _, g := range d.GearDrives {
		direct := g.InWheel && g.Ratio == 1
		if outside(g.Efficiency, poorGear, bestGear) && !direct {
			d.add("gear_drive", &g.Part, "efficiency", "", "efficiency is %s; gears have %s to %s", num(g.Efficiency), num(poorGear), num(bestGear))
		}
	}
}
