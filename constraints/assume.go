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
	NumberAssumed  AssumptionCode = "number"           // of the key
	WordAssumed    AssumptionCode = "word"             // of the key
	CountsAsNone   AssumptionCode = "counts-as-none"   // the key counts as 0
	CountsAsHalf   AssumptionCode = "counts-as-half"   // the key counts as half the volts
	MassCountsNone AssumptionCode = "mass-counts-none" // the mass counts as 0
	RollingAssumed AssumptionCode = "rolling"          // by a tyre, on a surface

	BeltEfficiencyAssumed AssumptionCode = "belt-efficiency"
	GripAssumed           AssumptionCode = "grip"         // on a surface
	DrivenShareAssumed    AssumptionCode = "driven-share" // with a number of motors
)

// AssumptionCodes lists every code.
func AssumptionCodes() []AssumptionCode {
	return []AssumptionCode{
		NumberAssumed, WordAssumed, CountsAsNone, CountsAsHalf, MassCountsNone, RollingAssumed,
		BeltEfficiencyAssumed, GripAssumed, DrivenShareAssumed,
	}
}

// Assumption is a value that stands in for what the catalog or the brief leaves
// out, without its words.
type Assumption struct {
	Code       AssumptionCode
	Slot       Slot     // of the parts that it is made for
	IDs        []string // of those parts; nil: it is made for the ride
	Key        string   // of the parts that does not stand there; "" where the code has it
	Words      []string // as catalogs and briefs have them
	Quantities []Quantity
}

// Assumptions are the values that stand in for what the catalog and the brief
// leave out, over the parts in play.
func (p *Problem) Assumptions() []Assumption {
	var l ledger
	for _, m := range p.Motors {
		l.motor(m)
	}
	for _, c := range p.Controllers {
		l.controller(c)
	}
	for _, b := range p.Batteries {
		l.battery(b)
	}
	for _, slot := range beltSlots() {
		for part := range slotRows[slot].inPlay(p) {
			l.weight(slot, part)
		}
	}
	for _, g := range p.GearDrives {
		l.gear(g)
	}
	for _, w := range p.Wheels {
		l.wheel(p, w)
	}
	var counts []int
	for i := range p.Counts {
		counts = append(counts, i)
	}
	return append(l.list, p.conditionsAssumed(p.Belted(), counts...)...)
}

// Assumptions are the same for the parts of one build.
func (b *Build) Assumptions() []Assumption {
	var l ledger
	p := b.Problem
	l.motor(b.Motor)
	l.controller(b.Controller)
	l.battery(b.Battery)
	if g := b.Drive.Gear; g != nil {
		l.gear(g)
	}
	for _, slot := range beltSlots() {
		if part := b.Part(slot); part != nil {
			l.weight(slot, part)
		}
	}
	l.wheel(p, b.Wheel)
	return append(l.list, p.conditionsAssumed(b.Drive.Gear == nil, b.Count)...)
}

// ledger gathers assumptions, each with the parts it is made for, in the order
// in which they are first made.
type ledger struct{ list []Assumption }

// note adds a part to an assumption.
func (l *ledger) note(slot Slot, id string, a Assumption) {
	a.Slot = slot
	for i := range l.list {
		if l.list[i].alike(&a) {
			l.list[i].IDs = append(l.list[i].IDs, id)
			return
		}
	}
	a.IDs = []string{id}
	l.list = append(l.list, a)
}

// alike reports whether two assumptions differ in nothing but their parts.
func (a *Assumption) alike(b *Assumption) bool {
	return a.Code == b.Code && a.Slot == b.Slot && a.Key == b.Key && slices.Equal(a.Words, b.Words) && slices.Equal(a.Quantities, b.Quantities)
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
	l.weighs(!math.IsNaN(part.Mass), slot, part.ID)
}

func (l *ledger) weighs(known bool, slot Slot, id string) {
	if !known {
		l.note(slot, id, Assumption{Code: MassCountsNone})
	}
}

func (l *ledger) motor(m *Motor) {
	l.stands(math.IsNaN(m.PolePairs), &polePairsInstead, SlotMotor, m.ID)
	l.stands(math.IsNaN(m.NoLoadCurrent), &noLoadInstead, SlotMotor, m.ID)
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
	l.stands(!b.ResistanceKnown, &resistanceInstead, SlotBattery, b.ID)
	l.stands(b.ResistanceKnown && math.IsNaN(b.CutoffVolts()), &cutoffInstead, SlotBattery, b.ID)
	l.weighs(!b.Mass.Missing, SlotBattery, b.ID)
	if !b.Mass.Missing && math.IsNaN(b.Battery.Mass) {
		l.unless(b.Overhead, SlotBattery, b.ID, "overhead_pct", Quantity{SI: catalog.AssumedOverhead, PerSI: percent})
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

// conditionsAssumed are the assumptions about the ride, with the motor counts
// at those indices.
func (p *Problem) conditionsAssumed(belts bool, counts ...int) []Assumption {
	var out []Assumption
	if belts {
		out = append(out, Assumption{Code: BeltEfficiencyAssumed, Quantities: []Quantity{bare(beltEfficiency)}})
	}
	if ground := p.Brief.Ground; math.IsNaN(ground.Grip) {
		out = append(out, Assumption{Code: GripAssumed, Words: []string{ground.Surface}, Quantities: []Quantity{bare(p.Grip)}})
	}
	if math.IsNaN(p.Brief.Board.DrivenShare) {
		for _, i := range counts {
			out = append(out, Assumption{Code: DrivenShareAssumed, Quantities: []Quantity{bare(p.Shares[i]), count(p.Counts[i])}})
		}
	}
	return out
}
