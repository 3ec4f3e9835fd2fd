package constraints

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// Sum is a total of which some addends may be missing.
type Sum struct {
	Known   float64 // of the addends that are known
	Missing bool    // an addend is not known
}

// add returns s with one more addend; NaN: not known.
func (s Sum) add(x float64) Sum {
	if math.IsNaN(x) {
		s.Missing = true
		return s
	}
	s.Known += float64(x) // rounded: the addend is a product
	return s
}

// plus returns the total of two sums.
func (s Sum) plus(o Sum) Sum {
	return Sum{s.Known + o.Known, s.Missing || o.Missing}
}

// Total is the whole sum, NaN when an addend is missing.
func (s Sum) Total() float64 {
	if s.Missing {
		return math.NaN()
	}
	return s.Known
}

// Battery is a pack prepared under a brief.
type Battery struct {
	*catalog.Battery
	Pack            drive.Pack // at the brief's charge, in the worst corner
	Best            drive.Pack // in the best corner
	Blank           bool       // the corners differ
	ResistanceKnown bool       // of the cells; wiring may be added to nothing
	Price, Mass     Sum
}

// Controller is a speed controller prepared under a brief.
type Controller struct {
	*catalog.Controller
	Drive   drive.Controller
	Ceiling float64 // electrical rpm, the lower of its own and the brief's; NaN: none
	Price   []Sum   // by index of the motor count
	Mass    []Sum
	Pieces  []int // needed, by index of the motor count
}

// Motor is a motor prepared under a brief.
type Motor struct {
	*catalog.Motor
	Drive drive.Motor // in the worst corner
	Best  drive.Motor // in the best corner
	Blank bool        // the corners differ
	Price []Sum       // by index of the motor count
	Mass  []Sum
}

// Wheel is a wheel prepared under a brief; a board has four.
type Wheel struct {
	*catalog.Wheel
	Radius      float64 // m, rolling
	Crr         float64
	Price, Mass Sum

	stray float64 // by how much the rolling resistance of this one is greater, as a share
}

// wheels is how many wheels a board has.
const wheels = 4

// beltEfficiency is that of every belt drive: synchronous belts run at 0.94 to
// 0.98 (US DOE motor tip sheet).
const beltEfficiency = 0.96

// chainEfficiency is that of every chain drive: a roller chain that is lined up and
// oiled loses 2 to 4 % (machine-element handbooks, from memory).
const chainEfficiency = 0.97

// orElse is x, or other when x is not known.
func orElse(x, other float64) float64 {
	if math.IsNaN(x) {
		return other
	}
	return x
}

// unless is x, or NaN if something is the case.
func unless(x float64, otherwise bool) float64 {
	if otherwise {
		return math.NaN()
	}
	return x
}

// lower is the lower of those of a and b that are known, NaN when neither is.
func lower(a, b float64) float64 {
	switch {
	case math.IsNaN(a):
		return b
	case math.IsNaN(b):
		return a
	}
	return math.Min(a, b)
}

// cost is the price of n pieces of a part as a sum of one addend.
func cost(part *catalog.Part, n int) Sum { return Sum{}.add(part.Cost(n)) }

// weight is the mass of n pieces of a part as a sum of one addend.
func weight(part *catalog.Part, n int) Sum { return Sum{}.add(part.Mass * float64(n)) }

// battery prepares a pack.
func (p *Problem) battery(b *catalog.Battery) *Battery {
	cells, known := b.CellsResistance()
	wiring := orElse(b.Wiring, 0)
	colder := func(cells float64) float64 { return float64(cells*p.Cold.Resistance) + wiring }
	out := &Battery{
		Battery: b,
		Pack: drive.Pack{
			Volts:     p.chargeVolts(b),
			Nominal:   b.NominalVolts(),
			Full:      b.FullVolts(),
			Cutoff:    orElse(b.CutoffVolts(), 0),
			Discharge: orElse(b.DischargeLimit(), 0),
			Capacity:  orElse(b.CapacityAh(), 0),
			Curve:     curveOf(b),
		},
		ResistanceKnown: known,
		Price:           Sum{}.add(b.PackPrice()),
		Mass:            Sum{}.add(b.PackMass()),
	}
	span := PackSpan(b)
	out.Best, out.Blank = out.Pack, !span.None()
	if known {
		span = Span{cells, cells}
	}
	out.Pack.Resistance, out.Best.Resistance = colder(span.High), colder(span.Low)
	return out
}

// chemistryOf is what a pack is made of, as far as it is given.
func chemistryOf(b *catalog.Battery) catalog.Chemistry {
	if b.Cell != nil {
		return b.Cell.Chemistry
	}
	return b.Chemistry
}

// curveOf is how the volts of a pack go with its charge, like those of most cells
// where nobody says what it is made of.
func curveOf(b *catalog.Battery) drive.Curve {
	if chemistryOf(b) == catalog.LFP {
		return drive.LFP
	}
	return drive.LiIon
}

// controller prepares a speed controller.
func (p *Problem) controller(c *catalog.Controller) *Controller {
	out := &Controller{
		Controller: c,
		Drive: drive.Controller{
			MotorCurrent:   orElse(c.MotorCurrent, 0),
			BatteryCurrent: orElse(c.BatteryCurrent, 0),
			MaxDuty:        orElse(c.MaxDuty, catalog.AssumedMaxDuty),
			Efficiency:     orElse(c.Efficiency, catalog.AssumedControllerEfficiency),
		},
		Ceiling: lower(c.ERPMCeiling, p.Brief.Limit.ERPMCeiling),
	}
	if c.Commutation == "six-step" {
		out.Drive.Commutation = drive.SixStep
	}
	channels := int(orElse(c.Channels, 1))
	for _, n := range p.Counts {
		pieces := (n + channels - 1) / channels
		out.Pieces = append(out.Pieces, pieces)
		out.Price = append(out.Price, cost(&c.Part, pieces))
		out.Mass = append(out.Mass, weight(&c.Part, pieces))
	}
	return out
}

// motor prepares a motor.
func (p *Problem) motor(m *catalog.Motor) *Motor {
	out := &Motor{Motor: m}
	out.electric()
	for _, n := range p.Counts {
		out.Price = append(out.Price, cost(&m.Part, n))
		out.Mass = append(out.Mass, weight(&m.Part, n))
	}
	return out
}

// tyreOf is a wheel's tyre, the assumed one where it is not given.
func tyreOf(w *catalog.Wheel) catalog.Tyre {
	if w.Tyre == catalog.TyreUnknown {
		return catalog.AssumedTyre
	}
	return w.Tyre
}

// wheel prepares a wheel.
func (p *Problem) wheel(w *catalog.Wheel) *Wheel {
	crr := p.Brief.Ground.RollingResistance
	if math.IsNaN(crr) {
		crr = orElse(w.RollingResistance, surfaces[p.Brief.Ground.Surface].rolling(tyreOf(w)))
	}
	return &Wheel{
		Wheel:  w,
		Radius: w.RollingRadius(),
		Crr:    crr,
		Price:  cost(&w.Part, wheels),
		Mass:   weight(&w.Part, wheels),
	}
}
