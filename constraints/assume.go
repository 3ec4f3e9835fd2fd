package constraints

import (
	"math"
	"slices"

	"gearsearch/catalog"
)

// AssumptionCode is what an assumption says.
type AssumptionCode string

// The assumptions about parts, then those about the ride. The words and the
// quantities of each are in its order.
const (
	MotorSpanned   AssumptionCode = "motor-span"       // a range for the key of each motor: its ends, for one part after the other
	CellSpanned    AssumptionCode = "cell-span"        // likewise of cells
	PackSpanned    AssumptionCode = "pack-span"        // likewise of packs without a cell
	OpenResistance AssumptionCode = "open-resistance"  // the key counts as 0 in the best corner, and is not known in the worst
	NumberAssumed  AssumptionCode = "number"           // of the key
	WordAssumed    AssumptionCode = "word"             // of the key
	CountsAsNone   AssumptionCode = "counts-as-none"   // the key counts as 0
	CountsAsHalf   AssumptionCode = "counts-as-half"   // the key counts as half the volts
	MassCountsNone AssumptionCode = "mass-counts-none" // the mass counts as 0
	RollingAssumed AssumptionCode = "rolling"          // by a tyre, on a surface

	OpenMotorCurrent       AssumptionCode = "open-motor-current"   // no limit in the best corner, not known in the worst
	OpenBatteryCurrent     AssumptionCode = "open-battery-current" // likewise
	BeltEfficiencyAssumed  AssumptionCode = "belt-efficiency"
	ChainEfficiencyAssumed AssumptionCode = "chain-efficiency"
	GripAssumed            AssumptionCode = "grip"   // on a surface, dry or wet
	BriefAssumed           AssumptionCode = "brief"  // the default of a key of the brief, a word or a quantity
	RiderFitted            AssumptionCode = "fitted" // the key of the brief is the rider's own, from a fit: its value, how sure it is
)

// Sway is how far an assumption may sway an answer.
type Sway uint8

// The sways, the farthest first.
const (
	SwaysVerdicts Sway = iota + 1 // a part lacks a key that a check reads: the build has two corners
	SwaysSums                     // what is not known counts nothing, so that a sum comes out low
	SwaysRide                     // what the ground does to every build alike
	SwaysLittle                   // a value that most parts and riders are near to
)

// assumptionRows has a row for every assumption.
var assumptionRows = []struct {
	code AssumptionCode
	sway Sway
}{
	{MotorSpanned, SwaysVerdicts},
	{CellSpanned, SwaysVerdicts},
	{PackSpanned, SwaysVerdicts},
	{OpenResistance, SwaysVerdicts},
	{NumberAssumed, SwaysLittle},
	{WordAssumed, SwaysLittle},
	{CountsAsNone, SwaysSums},
	{CountsAsHalf, SwaysSums},
	{MassCountsNone, SwaysSums},
	{RollingAssumed, SwaysRide},
	{OpenMotorCurrent, SwaysVerdicts},
	{OpenBatteryCurrent, SwaysVerdicts},
	{BeltEfficiencyAssumed, SwaysLittle},
	{ChainEfficiencyAssumed, SwaysLittle},
	{GripAssumed, SwaysRide},
	{BriefAssumed, SwaysLittle},
	{RiderFitted, SwaysLittle},
}

// AssumptionCodes lists every code.
func AssumptionCodes() []AssumptionCode {
	var out []AssumptionCode
	for _, row := range assumptionRows {
		out = append(out, row.code)
	}
	return out
}

// Sway is how far an assumption may sway an answer; 0 for a code that has no row.
func (c AssumptionCode) Sway() Sway {
	for _, row := range assumptionRows {
		if row.code == c {
			return row.sway
		}
	}
	return 0
}

// Assumption is a value that stands in for what the catalog or the brief leaves
// out, without its words.
type Assumption struct {
	Code       AssumptionCode
	Of         string   // what the parts are that it is made for: what a slot is called, or CellKind
	IDs        []string // of those parts; nil: it is made for the ride
	Key        string   // that does not stand there, of the parts, or section.key of the brief; "" where the code has it
	Words      []string // as catalogs and briefs have them
	Quantities []Quantity
}

// CellKind is the kind of the parts that packs are made of, which fill no slot.
const CellKind = "cell"

// ledger gathers assumptions, each with the parts it is made for, in the order
// in which they are first made.
type ledger struct {
	list  []Assumption
	cells map[*catalog.Cell]bool // that are looked at
}

// note adds a part to an assumption.
func (l *ledger) note(slot Slot, id string, a Assumption) { l.noteOf(slot.String(), id, a) }

func (l *ledger) noteOf(of, id string, a Assumption) {
	a.Of = of
	for i := range l.list {
		if old := &l.list[i]; old.alike(&a) {
			old.IDs = append(old.IDs, id)
			if a.spans() {
				old.Quantities = append(old.Quantities, a.Quantities...)
			}
			return
		}
	}
	a.IDs = []string{id}
	l.list = append(l.list, a)
}

// alike reports whether two assumptions differ in nothing but their parts, and in
// the ranges of these.
func (a *Assumption) alike(b *Assumption) bool {
	return a.Code == b.Code && a.Of == b.Of && a.Key == b.Key && slices.Equal(a.Words, b.Words) &&
		(a.spans() || slices.Equal(a.Quantities, b.Quantities))
}

// spans reports whether the assumption is a range for each of its parts.
func (a *Assumption) spans() bool {
	return a.Code == MotorSpanned || a.Code == CellSpanned || a.Code == PackSpanned
}

const milliohm = 1e3 // of an ohm

// span notes the range that stands in for a key, shown in perSI units.
func (l *ledger) span(code AssumptionCode, of, id, key string, s Span, perSI float64) {
	end := func(x float64) Quantity { return Quantity{SI: x, PerSI: perSI, Digits: TwoDigits} }
	l.noteOf(of, id, Assumption{Code: code, Key: key, Quantities: []Quantity{end(s.Low), end(s.High)}})
}

// unless notes the number that is assumed for a key where it is not given.
func (l *ledger) unless(value float64, slot Slot, id, key string, assumed Quantity) {
	if math.IsNaN(value) {
		l.note(slot, id, Assumption{Code: NumberAssumed, Key: key, Quantities: []Quantity{assumed}})
	}
}

// stands notes what stands in place of a key, where it is not given.
func (l *ledger) stands(missing bool, i *Instead, slot Slot, id string) {
	if !missing {
		return
	}
	switch a := (Assumption{Key: i.Key}); {
	case i.Stand == HalfVoltsStand:
		a.Code = CountsAsHalf
		l.note(slot, id, a)
	case i.Stand == WordStands:
		a.Code, a.Words = WordAssumed, []string{i.Word}
		l.note(slot, id, a)
	case i.Number != 0:
		l.unless(math.NaN(), slot, id, i.Key, bare(i.Number))
	default:
		a.Code = CountsAsNone
		l.note(slot, id, a)
	}
}

// weight notes what the physics does with a mass that is not given.
func (l *ledger) weight(slot Slot, part *catalog.Part) {
	l.weighs(!math.IsNaN(part.Mass), slot.String(), part.ID)
}

func (l *ledger) weighs(known bool, of, id string) {
	if !known {
		l.noteOf(of, id, Assumption{Code: MassCountsNone})
	}
}

func (l *ledger) motor(m *Motor) {
	l.stands(math.IsNaN(m.PolePairs), &polePairsInstead, SlotMotor, m.ID)
	of := SlotMotor.String()
	switch resistance, _ := MotorSpans(m.Motor); {
	case !resistance.None():
		l.span(MotorSpanned, of, m.ID, "resistance_mohm", resistance, milliohm)
	case math.IsNaN(m.Resistance):
		l.note(SlotMotor, m.ID, Assumption{Code: OpenResistance, Key: "resistance_mohm"})
	}
	switch _, noLoad := MotorSpans(m.Motor); {
	case !noLoad.None():
		l.span(MotorSpanned, of, m.ID, "no_load_current_a", noLoad, 1)
	case math.IsNaN(m.NoLoadCurrent):
		l.note(SlotMotor, m.ID, Assumption{Code: CountsAsNone, Key: "no_load_current_a"})
	}
	l.weight(SlotMotor, &m.Part)
}

func (l *ledger) controller(c *Controller) {
	l.unless(c.MaxDuty, SlotController, c.ID, "max_duty", bare(catalog.AssumedMaxDuty))
	l.unless(c.Efficiency, SlotController, c.ID, "efficiency", bare(catalog.AssumedControllerEfficiency))
	l.unless(c.Channels, SlotController, c.ID, "channels", bare(1))
	if c.Commutation == "" {
		l.note(SlotController, c.ID, Assumption{Code: WordAssumed, Key: "commutation", Words: []string{"foc"}})
	}
	l.weight(SlotController, &c.Part)
}

func (l *ledger) battery(b *Battery) {
	if !b.ResistanceKnown {
		l.sag(b)
	}
	l.stands((b.ResistanceKnown || b.Blank) && math.IsNaN(b.CutoffVolts()), &cutoffInstead, SlotBattery, b.ID)
	l.weighs(!b.Mass.Missing, SlotBattery.String(), b.ID)
	if !b.Mass.Missing && math.IsNaN(b.Battery.Mass) {
		l.unless(b.Overhead, SlotBattery, b.ID, "overhead_pct", Quantity{SI: catalog.AssumedOverhead, PerSI: percent})
	}
}

// sag notes what stands in for the resistance of a pack, or of its cell where it has
// one.
func (l *ledger) sag(b *Battery) {
	const key = "resistance_mohm"
	span, cell := PackSpan(b.Battery), b.Cell
	switch {
	case span.None():
		l.note(SlotBattery, b.ID, Assumption{Code: CountsAsNone, Key: key})
	case cell == nil:
		l.span(PackSpanned, SlotBattery.String(), b.ID, key, span, milliohm)
	case !l.cells[cell]:
		if l.cells == nil {
			l.cells = map[*catalog.Cell]bool{}
		}
		l.cells[cell] = true
		each := b.Series / b.Strings()
		l.span(CellSpanned, CellKind, cell.ID, key, Span{span.Low / each, span.High / each}, milliohm)
		if cell.Chemistry == catalog.ChemistryUnknown {
			l.noteOf(CellKind, cell.ID, Assumption{Code: WordAssumed, Key: "chemistry", Words: []string{catalog.AssumedChemistry.String()}})
		}
	}
}

func (l *ledger) gear(g *catalog.GearDrive) {
	l.unless(g.Efficiency, SlotGearDrive, g.ID, "efficiency", bare(assumedEfficiency(g)))
	l.weight(SlotGearDrive, &g.Part)
}

func (l *ledger) wheel(p *Problem, w *Wheel) {
	if ground := p.Brief.Ground; math.IsNaN(w.RollingResistance) && math.IsNaN(ground.RollingResistance) {
		l.stands(w.Tyre == catalog.TyreUnknown, &tyreInstead, SlotWheel, w.ID)
		l.note(SlotWheel, w.ID, Assumption{
			Code: RollingAssumed, Words: []string{tyreOf(w.Wheel).String(), ground.Surface}, Quantities: []Quantity{bare(w.Crr)},
		})
	}
	if w.Tyre == catalog.TyrePneumatic {
		l.unless(w.RollingRatio, SlotWheel, w.ID, "rolling_radius_ratio", bare(catalog.AssumedPneumaticRatio))
	}
	l.weight(SlotWheel, &w.Part)
}

// conditionsAssumed are the assumptions about the ride, on builds with belts and with
// chains or without.
func (p *Problem) conditionsAssumed(belts, chains bool) []Assumption {
	var out []Assumption
	if belts {
		out = append(out, Assumption{Code: BeltEfficiencyAssumed, Quantities: []Quantity{bare(beltEfficiency)}})
	}
	if chains {
		out = append(out, Assumption{Code: ChainEfficiencyAssumed, Quantities: []Quantity{bare(chainEfficiency)}})
	}
	if ground := p.Brief.Ground; math.IsNaN(ground.Grip) {
		out = append(out, Assumption{Code: GripAssumed, Words: []string{ground.Surface, ground.moisture()}, Quantities: []Quantity{bare(p.Grip)}})
	}
	rolling, drag := p.Brief.Fitted()
	if rolling {
		out = append(out, Assumption{Code: RiderFitted, Key: "rolling_resistance", Quantities: []Quantity{bare(p.Brief.Ground.RollingResistance), {SI: p.Brief.Vary.Rolling, PerSI: percent}}})
	}
	if drag {
		out = append(out, Assumption{Code: RiderFitted, Key: "drag_area_m2", Quantities: []Quantity{bare(p.DragArea), {SI: p.Brief.Vary.Drag, PerSI: percent}}})
	}
	return out
}
