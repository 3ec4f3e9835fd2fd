package constraints

import (
	"iter"
	"slices"
	"strconv"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
	"gearsearch/drive"
)

// strangers reports ids in keep and avoid that are no part of their slot.
func (b *Brief) strangers(r *field.Report, c *catalog.Catalog) {
	for _, section := range []struct {
		name  string
		lists *[slotCount][]string
	}{{"keep", &b.Keep}, {"avoid", &b.Avoid}} {
		for slot, ids := range section.lists {
			if len(ids) == 0 {
				continue
			}
			known := set(slices.Collect(listNames(c, Slot(slot))))
			for _, id := range ids {
				if !known[id] {
					b.stranger(r, c, section.name, Slot(slot), id)
				}
			}
		}
	}
}

// stranger reports one id that is no part of its slot.
func (b *Brief) stranger(r *field.Report, c *catalog.Catalog, section string, slot Slot, id string) {
	hint := ""
	if r.Hinting() {
		hint = strangerHint(c, slot, id, listNames(c, slot))
	}
	b.complainOf(r, section+"."+slot.String(), id, field.UnknownID, hint, "the catalog has no %s %s", slot, field.Quote(id))
}

// strangerHint says what an id that is no part of its slot is instead, or
// which part of the slot was meant.
func strangerHint(c *catalog.Catalog, slot Slot, id string, names iter.Seq[string]) string {
	if other, ok := slotOf(c, id); ok {
		return id + " is a " + other.String()
	}
	if kind, _, ok := c.Find(id); ok {
		return id + " is a " + kind
	}
	for _, other := range Slots() {
		if list := family(c, other, id); list != nil {
			return id + " is a family of parts: " + few(list)
		}
	}
	if near, ok := field.Nearest(id, names); ok {
		return "did you mean " + near + "?"
	}
	return ""
}

// few is so many of a list as a line holds.
func few(list []string) string {
	const most = 6
	if more := len(list) - most; more > 0 {
		return strings.Join(list[:most], ", ") + " and " + strconv.Itoa(more) + " more"
	}
	return strings.Join(list, ", ")
}

// family is the ids of a slot's parts of one family, nil where there is none of
// that id.
func family(c *catalog.Catalog, slot Slot, id string) []string {
	var out []string
	for part := range slot.Parts(c) {
		if part.Family == id && id != "" {
			out = append(out, part.ID)
		}
	}
	return out
}

// familyIDs lists the ids of the families of a slot's parts, each once, without those
// that are also the id of a part.
func familyIDs(c *catalog.Catalog, slot Slot) iter.Seq[string] {
	return func(yield func(string) bool) {
		seen := set(slices.Collect(slotIDs(c, slot)))
		for part := range slot.Parts(c) {
			if part.Family == "" || seen[part.Family] {
				continue
			}
			seen[part.Family] = true
			if !yield(part.Family) {
				return
			}
		}
	}
}

// listNames are what keep and avoid may name in a slot: parts and families.
func listNames(c *catalog.Catalog, slot Slot) iter.Seq[string] {
	return func(yield func(string) bool) {
		for _, ids := range []iter.Seq[string]{slotIDs(c, slot), familyIDs(c, slot)} {
			for id := range ids {
				if !yield(id) {
					return
				}
			}
		}
	}
}

// slotIDs lists the ids of a catalog's parts that go into a slot.
func slotIDs(c *catalog.Catalog, slot Slot) iter.Seq[string] {
	return func(yield func(string) bool) {
		for part := range slot.Parts(c) {
			if !yield(part.ID) {
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

// foreign reports a limit of the price in another currency than the catalog's.
func (b *Brief) foreign(c *catalog.Catalog) error {
	var r field.Report
	if named := b.Limit.PriceCurrency; named != "" && !unit.SameCurrency(named, c.Currency) {
		b.complain(&r, "limit.price", field.Contradiction, "write it in "+c.Currency, "price is in %s, must be in %s, the catalog's currency", field.Quote(named), c.Currency)
	}
	return r.Err()
}

// gaps reports slots for which keep and avoid leave no part; not where these name
// parts that do not exist, as the mistake is reported then.
func (p *Problem) gaps(r *field.Report) {
	c := p.Catalog
	sound := r.Len() == 0
	gap := func(left, all int, what string, slots ...Slot) {
		switch {
		case left > 0:
		case all == 0:
			r.Add(field.Place{}, field.NoPart, "a build needs one: add it to the catalog", "the catalog has no %s", what)
		case sound:
			key := ""
			for _, s := range slots {
				for _, section := range []string{"keep.", "avoid."} {
					if _, origin := p.Brief.places.find(section + s.String()); origin != "" || p.Brief.places.at[section+s.String()] != (field.Place{}) {
						key = section + s.String()
					}
				}
			}
			p.Brief.complain(r, key, field.NoPart, "", "keep and avoid leave no %s; the catalog has %d", what, all)
		}
	}
	all := func(slot Slot) int { return length(slot.Parts(c)) }
	left := func(slot Slot) int {
		n := 0
		accepts := p.accepts(slot)
		for id := range slotIDs(c, slot) {
			if accepts(id) {
				n++
			}
		}
		return n
	}
	for _, slot := range Slots() {
		if slot.Always() {
			gap(left(slot), all(slot), slot.words(), slot)
		}
	}
	drives := func(n func(Slot) int) int { return n(SlotMotorPulley)*n(SlotWheelPulley) + n(SlotGearDrive) }
	gap(drives(left), drives(all), "drive, neither a motor pulley with a wheel pulley nor a gear drive", SlotMotorPulley, SlotWheelPulley, SlotGearDrive)
}

// length is how many items a sequence has.
func length[T any](seq iter.Seq[T]) int {
	n := 0
	for range seq {
		n++
	}
	return n
}

// flat reports whether the brief's charge leaves a pack at or below its cut-off,
// so that there is nothing to ride on.
func (p *Problem) flat(b *catalog.Battery) bool {
	return drive.AtMost(p.chargeVolts(b), b.CutoffVolts()) // an unknown cut-off, too, leaves it
}

// flatPack reports a pack that is flat at the brief's charge.
func (p *Problem) flatPack(r *field.Report, b *catalog.Battery) {
	if p.flat(b) {
		p.Brief.complain(r, "target.charge", field.OutOfRange, "charge is in volts per cell; raise it, or avoid that battery",
			"charge gives %s V, at or below the cut-off of %s V of battery %s", num(p.chargeVolts(b)), num(b.CutoffVolts()), b.ID)
	}
}

// powered is an error where every pack in play is flat.
func (p *Problem) powered() error {
	var r field.Report
	if len(p.Batteries) == 0 {
		for _, b := range p.Flat {
			p.flatPack(&r, b)
		}
	}
	return r.Err()
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
