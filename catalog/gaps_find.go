package catalog

import (
	"math"
	"slices"
)

// gapFinder knows what of a catalog answers for keys that are not given.
type gapFinder struct {
	*Catalog
	packs map[*Cell][]*Battery // made of each cell
}

func newGapFinder(c *Catalog) *gapFinder {
	f := &gapFinder{c, map[*Cell][]*Battery{}}
	for _, b := range c.Batteries {
		f.packs[b.Cell] = append(f.packs[b.Cell], b)
	}
	return f
}

// lacks reports whether a part does not give a key that counts for it.
func (f *gapFinder) lacks(n need, e Entry) bool {
	if _, value := e.Value(n.key); value != nil {
		return false
	}
	return n.of == nil || n.of(f, e)
}

// each reports whether all of a list have a value: true for parts that are
// there. A catalog without them says nothing.
func each[T any](list []*T, value func(*T) float64) bool {
	return len(list) > 0 && !slices.ContainsFunc(list, func(t *T) bool { return math.IsNaN(value(t)) })
}

func (f *gapFinder) controllersHaveVolts() bool {
	return each(f.Controllers, func(c *Controller) float64 { return c.MaxVolts })
}

func (f *gapFinder) motorsHaveVolts() bool {
	return each(f.Motors, func(m *Motor) float64 { return m.MaxVolts })
}

// noCeilings reports whether no controller has a ceiling: then the check does
// not apply, or the brief's decides it.
func (f *gapFinder) noCeilings() bool {
	return !slices.ContainsFunc(f.Controllers, func(c *Controller) bool { return !math.IsNaN(c.ERPMCeiling) })
}

func (f *gapFinder) controllersLimitMotors() bool {
	return each(f.Controllers, func(c *Controller) float64 { return c.MotorCurrent })
}

func (f *gapFinder) motorsHavePeak() bool {
	return each(f.Motors, func(m *Motor) float64 { return m.PeakCurrent })
}

func (f *gapFinder) controllersLimitPacks() bool {
	return each(f.Controllers, func(c *Controller) float64 { return c.BatteryCurrent })
}

func (f *gapFinder) packsHaveDischarge() bool { return each(f.Batteries, (*Battery).DischargeLimit) }

// boreCounts reports whether a motor's shaft is held against the bore of
// anything: not where every drive names its motors.
func (f *gapFinder) boreCounts(Entry) bool {
	return len(f.Pulleys) > 0 || len(f.GearDrives) == 0 ||
		slices.ContainsFunc(f.GearDrives, func(g *GearDrive) bool { return g.FitsMotors == nil })
}

// keyCounts reports whether something that needs a key may go on the motor's
// shaft.
func (f *gapFinder) keyCounts(e Entry) bool {
	shaft := f.Motors[e.index].Shaft
	wants := func(bore float64, key ShaftKey) bool {
		return (key == KeyFlat || key == KeyKeyway) && boreFits(bore, shaft)
	}
	return slices.ContainsFunc(f.Pulleys, func(p *Pulley) bool { return p.Side == MotorSide && wants(p.Bore, p.ShaftKey) }) ||
		slices.ContainsFunc(f.GearDrives, func(g *GearDrive) bool { return g.FitsMotors == nil && wants(g.Bore, g.ShaftKey) })
}

// hubCounts reports whether a wheel's hub is held against that of anything: not
// where every drive names its wheels.
func (f *gapFinder) hubCounts(Entry) bool {
	return len(f.Pulleys) > 0 || len(f.GearDrives) == 0 ||
		slices.ContainsFunc(f.GearDrives, func(g *GearDrive) bool { return g.FitsWheels == nil })
}

// usedCell reports whether a pack is made of the cell.
func usedCell(f *gapFinder, e Entry) bool { return len(f.packs[f.Cells[e.index]]) > 0 }

// lacksOfPack reports whether a pack of the cell goes by the cell for want of
// a value of its own.
func lacksOfPack(own func(*Battery) float64) func(*gapFinder, Entry) bool {
	return func(f *gapFinder, e Entry) bool {
		return slices.ContainsFunc(f.packs[f.Cells[e.index]], func(b *Battery) bool { return math.IsNaN(own(b)) })
	}
}

// withoutCell reports whether a pack has no cell to go by.
func withoutCell(f *gapFinder, e Entry) bool { return f.Batteries[e.index].Cell == nil }

// onSide makes a condition of the side of a pulley.
func onSide(side Side) func(*gapFinder, Entry) bool {
	return func(f *gapFinder, e Entry) bool { return f.Pulleys[e.index].Side == side }
}
