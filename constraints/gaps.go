package constraints

import (
	"fmt"
	"iter"
	"math"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// strangers reports ids in keep and avoid that are no part of their slot.
func (b *Brief) strangers(r *field.Report, c *catalog.Catalog) {
	for _, section := range []struct {
		name  string
		lists *[slotCount][]string
	}{{"keep", &b.Keep}, {"avoid", &b.Avoid}} {
		for slot, ids := range section.lists {
			for _, id := range ids {
				if !holds(c, Slot(slot), id) {
					b.stranger(r, c, section.name, Slot(slot), id)
				}
			}
		}
	}
}

// stranger reports one id that is no part of its slot.
func (b *Brief) stranger(r *field.Report, c *catalog.Catalog, section string, slot Slot, id string) {
	key := section + "." + slot.String()
	hint := ""
	if near, ok := field.Nearest(id, slotIDs(c, slot)); ok {
		hint = "did you mean " + near + "?"
	} else if other, ok := slotOf(c, id); ok {
		hint = fmt.Sprintf("%s is a %s", id, other)
	}
	at, ok := b.places.at[key+"/"+id]
	if origin := b.places.origins[key]; origin != "" || !ok {
		b.complain(r, key, hint, "the catalog has no %s %s", slot, field.Quote(id))
		return
	}
	r.Add(at, hint, "the catalog has no %s %s", slot, field.Quote(id))
}

// slotIDs yields the ids of a catalog's parts that go into a slot.
func slotIDs(c *catalog.Catalog, slot Slot) iter.Seq[string] {
	return func(yield func(string) bool) {
		for part := range slotParts(c, slot) {
			if !yield(part.ID) {
				return
			}
		}
	}
}

// slotParts yields the parts of a catalog that go into a slot.
func slotParts(c *catalog.Catalog, slot Slot) iter.Seq[*catalog.Part] {
	switch slot {
	case SlotBattery:
		return parts(c.Batteries)
	case SlotController:
		return parts(c.Controllers)
	case SlotMotor:
		return parts(c.Motors)
	case SlotGearDrive:
		return parts(c.GearDrives)
	case SlotMount:
		return parts(c.Mounts)
	case SlotBelt:
		return parts(c.Belts)
	case SlotWheel:
		return parts(c.Wheels)
	}
	return func(yield func(*catalog.Part) bool) {
		for _, pulley := range c.Pulleys {
			if pulleySlot(pulley) == slot && !yield(&pulley.Part) {
				return
			}
		}
	}
}

// parts yields what the parts of one kind have in common.
func parts[T interface{ Common() *catalog.Part }](list []T) iter.Seq[*catalog.Part] {
	return func(yield func(*catalog.Part) bool) {
		for _, x := range list {
			if !yield(x.Common()) {
				return
			}
		}
	}
}

// holds reports whether a slot has a part of that id.
func holds(c *catalog.Catalog, slot Slot, id string) bool {
	for other := range slotIDs(c, slot) {
		if other == id {
			return true
		}
	}
	return false
}

// slotOf finds the slot that a part goes into.
func slotOf(c *catalog.Catalog, id string) (Slot, bool) {
	for _, slot := range Slots() {
		if holds(c, slot, id) {
			return slot, true
		}
	}
	return 0, false
}

// gaps reports slots that no part is left for.
func (p *Problem) gaps(r *field.Report, batteries, controllers, motors, wheels int) {
	c := p.Catalog
	gap := func(left, all int, what string, slots ...Slot) {
		switch {
		case left > 0:
		case all == 0:
			r.Add(field.Place{}, "a build needs one: add it to the catalog", "the catalog has no %s", what)
		default:
			key := ""
			for _, s := range slots {
				for _, section := range []string{"keep.", "avoid."} {
					if _, origin := p.Brief.places.find(section + s.String()); origin != "" || p.Brief.places.at[section+s.String()] != (field.Place{}) {
						key = section + s.String()
					}
				}
			}
			p.Brief.complain(r, key, "", "keep and avoid leave no %s of the catalog's %d", what, all)
		}
	}
	gap(batteries, len(c.Batteries), "battery", SlotBattery)
	gap(controllers, len(c.Controllers), "controller", SlotController)
	gap(motors, len(c.Motors), "motor", SlotMotor)
	gap(wheels, len(c.Wheels), "wheel", SlotWheel)
	drives := len(p.MotorPulleys)*len(p.WheelPulleys) + len(p.GearDrives)
	small, large := 0, 0
	for _, pulley := range c.Pulleys {
		if pulley.Side == catalog.MotorSide {
			small++
		} else {
			large++
		}
	}
	gap(drives, small*large+len(c.GearDrives), "drive (a motor pulley with a wheel pulley, or a gear drive)", SlotMotorPulley, SlotWheelPulley, SlotGearDrive)
}

// flatPacks reports a charge at or below the cut-off of packs in play.
func (p *Problem) flatPacks(r *field.Report, batteries []*catalog.Battery) {
	for _, b := range batteries {
		volts := p.chargeVolts(b)
		if cutoff := b.CutoffVolts(); !math.IsNaN(cutoff) && drive.AtMost(volts, cutoff) {
			p.Brief.complain(r, "target.charge", "charge is in volts per cell; raise it, or avoid that battery",
				"charge gives %s V, at or below the cut-off of %s V of battery %s", num(volts), num(cutoff), b.ID)
		}
	}
}

// chargeVolts is the open-circuit voltage of a pack at the brief's charge.
func (p *Problem) chargeVolts(b *catalog.Battery) float64 {
	switch p.Brief.Target.Charge.Word {
	case "full":
		return b.FullVolts()
	case "nominal":
		return b.NominalVolts()
	default:
		return p.Brief.Target.Charge.Volts * b.Series
	}
}
