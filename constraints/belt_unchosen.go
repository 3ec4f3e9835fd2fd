package constraints

import "gearsearch/catalog"

// Unchosen is why no drive of a problem has a belt: the reason that holds where
// the belt gets furthest.
type Unchosen uint8

// The reasons, by how far a belt gets.
const (
	BeltChosen     Unchosen = iota
	BeltNoPulleys           // no two pulleys in play have its profile
	BeltNoMount             // no mount is in play by which a belt could be chosen
	BeltTooWide             // for the narrower of any two pulleys of its profile
	BeltTooShort            // to go around any two pulleys that are wide enough
	BeltOutOfRange          // no mount in play holds the motor as far away as it wants
	BeltOutdone             // it would do, and another is chosen wherever it would
)

// UnchosenBelt is a belt in play that no drive chooses. Instead is one that is
// chosen where it would do, nil where it does nowhere.
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
	var out []UnchosenBelt
	for _, belt := range p.Belts {
		if chosen[belt.ID] {
			continue
		}
		u := UnchosenBelt{Belt: belt, Why: BeltNoPulleys}
		for _, d := range p.Drives {
			if d.Gear != nil {
				continue
			}
			if why := d.misses(belt); why > u.Why {
				u.Why, u.Instead = why, nil
				if why == BeltOutdone {
					u.Instead = d.Belt
				}
			}
		}
		out = append(out, u)
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
