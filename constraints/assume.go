package constraints

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/catalog"
)

// Assumptions are the values that stand in for what the catalog and the brief
// leave out, over the parts in play.
func (p *Problem) Assumptions() []string {
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
			l.weight(slot.words(), part)
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
	return append(l.lines(), p.conditionsAssumed(p.Belted(), counts...)...)
}

// Assumptions are the same for the parts of one build.
func (b *Build) Assumptions() []string {
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
			l.weight(slot.words(), part)
		}
	}
	l.wheel(p, b.Wheel)
	return append(l.lines(), p.conditionsAssumed(b.Drive.Gear == nil, b.Count)...)
}

// ledger gathers assumptions, each with the parts it is made for.
type ledger struct {
	order []string            // "kind\x00what", in order of first mention
	ids   map[string][]string // by the same
}

// note adds a part to an assumption.
func (l *ledger) note(kind, id, what string) {
	if l.ids == nil {
		l.ids = map[string][]string{}
	}
	key := kind + "\x00" + what
	if l.ids[key] == nil {
		l.order = append(l.order, key)
	}
	l.ids[key] = append(l.ids[key], id)
}

// lines writes the assumptions.
func (l *ledger) lines() []string {
	var out []string
	for _, key := range l.order {
		kind, what, _ := strings.Cut(key, "\x00")
		out = append(out, forParts(what, kind, l.ids[key]))
	}
	return out
}

// unless notes an assumption where a value is not given.
func (l *ledger) unless(value float64, kind, id, what string) {
	if math.IsNaN(value) {
		l.note(kind, id, what)
	}
}

// stands notes what stands in place of a key, where it is not given.
func (l *ledger) stands(missing bool, i *Instead, id string) {
	if missing {
		l.note(i.Kind, id, i.assumed())
	}
}

// unknownMass is what the physics does with a mass that is not given.
const unknownMass = "unknown mass counted as 0"

func (l *ledger) weight(kind string, part *catalog.Part) {
	l.unless(part.Mass, kind, part.ID, unknownMass)
}

func (l *ledger) motor(m *Motor) {
	l.stands(math.IsNaN(m.PolePairs), &polePairsInstead, m.ID)
	l.stands(math.IsNaN(m.NoLoadCurrent), &noLoadInstead, m.ID)
	l.weight("motor", &m.Part)
}

func (l *ledger) controller(c *Controller) {
	l.unless(c.MaxDuty, "controller", c.ID, fmt.Sprintf("max_duty assumed %v", catalog.AssumedMaxDuty))
	l.unless(c.Efficiency, "controller", c.ID, fmt.Sprintf("efficiency assumed %v", catalog.AssumedControllerEfficiency))
	l.unless(c.Channels, "controller", c.ID, "channels assumed 1")
	if c.Commutation == "" {
		l.note("controller", c.ID, "commutation assumed foc")
	}
	l.weight("controller", &c.Part)
}

func (l *ledger) battery(b *Battery) {
	l.stands(!b.ResistanceKnown, &resistanceInstead, b.ID)
	l.stands(b.ResistanceKnown && math.IsNaN(b.CutoffVolts()), &cutoffInstead, b.ID)
	if b.Mass.Missing {
		l.note("battery", b.ID, unknownMass)
	} else if math.IsNaN(b.Battery.Mass) {
		l.unless(b.Overhead, "battery", b.ID, fmt.Sprintf("overhead_pct assumed %v", catalog.AssumedOverhead*100))
	}
}

func (l *ledger) gear(g *catalog.GearDrive) {
	l.unless(g.Efficiency, "gear drive", g.ID, fmt.Sprintf("efficiency assumed %v", assumedEfficiency(g)))
	l.weight("gear drive", &g.Part)
}

func (l *ledger) wheel(p *Problem, w *Wheel) {
	if math.IsNaN(w.RollingResistance) && math.IsNaN(p.Brief.Ground.RollingResistance) {
		l.stands(w.Tyre == catalog.TyreUnknown, &tyreInstead, w.ID)
		l.note("wheel", w.ID, fmt.Sprintf("rolling_resistance assumed %v (%s, surface %s)", w.Crr, tyreOf(w.Wheel), p.Brief.Ground.Surface))
	}
	if w.Tyre == catalog.TyrePneumatic {
		l.unless(w.RollingRatio, "wheel", w.ID, fmt.Sprintf("rolling_radius_ratio assumed %v", catalog.AssumedPneumaticRatio))
	}
	l.weight("wheel", &w.Part)
}

// conditionsAssumed are the assumptions about the ride, with the motor counts
// at those indices.
func (p *Problem) conditionsAssumed(belts bool, counts ...int) []string {
	var out []string
	if belts {
		out = append(out, fmt.Sprintf("belt efficiency assumed %v", beltEfficiency))
	}
	if math.IsNaN(p.Brief.Ground.Grip) {
		out = append(out, fmt.Sprintf("grip assumed %v (surface %s, dry)", p.Grip, p.Brief.Ground.Surface))
	}
	if math.IsNaN(p.Brief.Board.DrivenShare) {
		for _, i := range counts {
			out = append(out, fmt.Sprintf("driven_share assumed %v with %s", p.Shares[i], counted(p.Counts[i], "motor", "motors")))
		}
	}
	return out
}
