package constraints

import "gearsearch/catalog"

// Unchosen is why no drive of a problem uses a belt: what stops it on the pulleys and
// mount where it comes closest.
type Unchosen uint8

// The reasons, by how far a belt gets.
const (
	BeltChosen     Unchosen = iota
	BeltNoPulleys           // no two pulleys in play have its profile
	BeltNoMount             // no mount is in play by which a belt could be chosen
	ChainOdd                // it has an odd number of links, and closes only with a cranked one
	BeltTooWide             // for the narrower of any two pulleys of its profile
	BeltTooShort            // to go around any two pulleys that are wide enough
	BeltOutOfRange          // no mount in play holds the motor as far away as it wants
	BeltOutdone             // it would do, and another is chosen wherever it would
)

// UnchosenBelt is a belt or chain in play that no drive uses. Instead is a belt that is used
// where this one would fit; nil where it fits nowhere.
type UnchosenBelt struct {
	Belt    *catalog.Belt
	Why     Unchosen
	Instead *catalog.Belt
}

// UnchosenBelts lists the belts in play that no drive in play has, in the order
// of the catalog.
func (p *Problem) UnchosenBelts() []UnchosenBelt {
	chosen := map[string]bool{}
	for _, d := range p.Drives {
		chosen[d.ID(SlotBelt)] = true
	}
	drives := demanding(p.Drives)
	alike := map[beltLook]UnchosenBelt{} // for the same reason
	var out []UnchosenBelt
	for _, belt := range p.Belts {
		if chosen[belt.ID] {
			continue
		}
		u, known := alike[lookOf(belt)]
		if !known {
			u = unchosen(belt, drives)
			alike[lookOf(belt)] = u
		}
		u.Belt = belt
		out = append(out, u)
	}
	return out
}

// unchosen finds the reason why none of the drives has a belt.
func unchosen(belt *catalog.Belt, drives []*Drive) UnchosenBelt {
	u := UnchosenBelt{Belt: belt, Why: BeltNoPulleys}
	for _, d := range drives {
		switch why := d.misses(belt); {
		case why == BeltOutdone:
			return UnchosenBelt{belt, why, d.Belt}
		case why > u.Why:
			u.Why = why
		}
	}
	return u
}

// demanding lists the first of all belt drives that ask the same of a belt.
func demanding(drives []*Drive) []*Drive {
	type demand struct {
		motor, wheel string // profiles
		small, large int    // teeth
		face         float64
		from, to     float64 // of the mount
	}
	known := map[demand]bool{}
	var out []*Drive
	for _, d := range drives {
		if d.Gear != nil {
			continue
		}
		a, b := d.MotorPulley, d.WheelPulley
		asks := demand{a.Profile.ID, b.Profile.ID, a.Teeth, b.Teeth, orElse(Face(a, b), -1), -1, -1}
		if d.Mount != nil {
			asks.from, asks.to = d.Mount.CentreMin, d.Mount.CentreMax
		}
		if !known[asks] {
			known[asks] = true
			out = append(out, d)
		}
	}
	return out
}

// misses is why a belt drive does not have a belt, which it has not chosen.
func (d *Drive) misses(belt *catalog.Belt) Unchosen {
	if d.MotorPulley.Profile.ID != belt.Profile.ID || d.WheelPulley.Profile.ID != belt.Profile.ID {
		return BeltNoPulleys
	}
	if d.Mount == nil {
		return BeltNoMount
	}
	if !belt.Closes() {
		return ChainOdd
	}
	if !RunsOn(belt.Width, Face(d.MotorPulley, d.WheelPulley)) {
		return BeltTooWide
	}
	around := centres(d.MotorPulley, d.WheelPulley, []*catalog.Belt{belt})
	switch {
	case len(around) == 0:
		return BeltTooShort
	case !HoldsAt(d.Mount, around[0].centre):
		return BeltOutOfRange
	}
	return BeltOutdone
}
