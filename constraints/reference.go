package constraints

import (
	"math"
	"slices"

	"gearsearch/catalog"
)

// references sets what prices and masses are scored against: the brief's
// limit, else the largest total that the dearest (or heaviest) part of each
// slot gives over the motor counts, what is not known counting nothing.
func (p *Problem) references() {
	p.PriceReference = p.Brief.Limit.Price
	if math.IsNaN(p.PriceReference) {
		p.PriceReference = p.greatest(cost, func(b *Battery) Sum { return b.Price })
	}
	p.MassReference = p.Brief.Limit.Mass
	if math.IsNaN(p.MassReference) {
		p.MassReference = 0
		if p.someMassKnown() {
			p.MassReference = p.greatest(weight, func(b *Battery) Sum { return b.Mass }) + p.Brief.Board.Mass
		}
	}
}

// someMassKnown reports whether the mass of any part in play is known.
func (p *Problem) someMassKnown() bool {
	return slices.ContainsFunc(p.Batteries, func(b *Battery) bool { return !b.Mass.Missing }) ||
		slices.ContainsFunc(Slots(), func(slot Slot) bool { return slot != SlotBattery && p.weighed(slot) })
}

// weighed reports whether the mass of any of the parts in play in a slot is
// known.
func (p *Problem) weighed(slot Slot) bool {
	for part := range slotRows[slot].inPlay(p) {
		if !math.IsNaN(part.Mass) {
			return true
		}
	}
	return false
}

// greatest is the largest total over the motor counts that the largest part
// of each slot gives, by a measure of n pieces of a part.
func (p *Problem) greatest(measure func(part *catalog.Part, n int) Sum, pack func(*Battery) Sum) float64 {
	battery := 0.0
	for _, b := range p.Batteries {
		battery = max(battery, pack(b).Known)
	}
	wheel := 0.0
	for _, w := range p.Wheels {
		wheel = max(wheel, measure(&w.Part, wheels).Known)
	}
	total := 0.0
	for i, n := range p.Counts {
		controllers, motors, gears := 0.0, 0.0, 0.0
		for _, c := range p.Controllers {
			controllers = max(controllers, measure(&c.Part, c.Pieces[i]).Known)
		}
		for _, m := range p.Motors {
			motors = max(motors, measure(&m.Part, n).Known)
		}
		for _, g := range p.GearDrives {
			gears = max(gears, measure(&g.Part, n).Known)
		}
		total = max(total, battery+controllers+motors+wheel+max(gears, p.greatestBeltDrive(measure, n)))
	}
	return total
}

// greatestBeltDrive is the part of greatest that n belt drives give.
func (p *Problem) greatestBeltDrive(measure func(part *catalog.Part, n int) Sum, n int) float64 {
	small, large, belt, mount := 0.0, 0.0, 0.0, 0.0
	for _, x := range p.MotorPulleys {
		small = max(small, measure(&x.Part, n).Known)
	}
	for _, x := range p.WheelPulleys {
		large = max(large, measure(&x.Part, n).Known)
	}
	for _, x := range p.Belts {
		belt = max(belt, measure(&x.Part, n).Known)
	}
	for _, x := range p.Mounts {
		mount = max(mount, measure(&x.Part, n).Known)
	}
	return small + large + belt + mount
}
