package constraints

import (
	"math"
	"slices"

	"gearsearch/catalog"
)

// Need is a key of a part without which a check is undecided.
type Need struct {
	Kind, Key string

	// Of reports whether the key counts for a part; nil: for all of the
	// kind.
	Of func(s *Stock, p *catalog.Part) bool
	// Unless reports whether other keys of the catalog answer for this one;
	// nil: none does.
	Unless func(s *Stock) bool
}

// needs are keys of one kind, without conditions.
func needs(kind string, keys ...string) []Need {
	var out []Need
	for _, key := range keys {
		out = append(out, Need{Kind: kind, Key: key})
	}
	return out
}

// Stock is a catalog that is asked which keys count in it.
type Stock struct {
	*catalog.Catalog
	packs map[*catalog.Cell][]*catalog.Battery // made of each cell
}

// NewStock looks a catalog through.
func NewStock(c *catalog.Catalog) *Stock {
	s := &Stock{c, map[*catalog.Cell][]*catalog.Battery{}}
	for _, b := range c.Batteries {
		s.packs[b.Cell] = append(s.packs[b.Cell], b)
	}
	return s
}

// each reports whether all of a list have a value: true for parts that are
// there. A catalog without them says nothing.
func each[T any](list []*T, value func(*T) float64) bool {
	return len(list) > 0 && !slices.ContainsFunc(list, func(t *T) bool { return math.IsNaN(value(t)) })
}

// motorLimitNeeds are those of a limit of the motor current.
var motorLimitNeeds = [2]Need{
	{Kind: "motor", Key: "peak_current_a", Unless: func(s *Stock) bool {
		return each(s.Controllers, func(c *catalog.Controller) float64 { return c.MotorCurrent })
	}},
	{Kind: "controller", Key: "motor_current_a", Unless: func(s *Stock) bool {
		return each(s.Motors, func(m *catalog.Motor) float64 { return m.PeakCurrent })
	}},
}

// thrustNeeds are the keys that every check on the thrust needs: the winding's
// resistance, and a limit of the current on either side of the controller.
func thrustNeeds() []Need {
	controllersLimitPacks := func(s *Stock) bool {
		return each(s.Controllers, func(c *catalog.Controller) float64 { return c.BatteryCurrent })
	}
	return append(needs("motor", "resistance_mohm"),
		motorLimitNeeds[0], motorLimitNeeds[1],
		Need{Kind: "controller", Key: "battery_current_a", Unless: func(s *Stock) bool {
			return each(s.Batteries, (*catalog.Battery).DischargeLimit)
		}},
		Need{Kind: "cell", Key: "discharge_a", Of: GoesByCell(func(b *catalog.Battery) float64 { return b.Discharge }), Unless: controllersLimitPacks},
		Need{Kind: "battery", Key: "discharge_a", Of: WithoutCell, Unless: controllersLimitPacks})
}

// sumNeeds are the keys that a sum over all parts of a build needs: a key that every
// kind has, and what a pack itself says in its place. of may be nil. Profiles are no
// parts of a build.
func sumNeeds(key string, own func(*catalog.Battery) float64, of func(s *Stock, p *catalog.Part) bool) []Need {
	both := func(a, b func(s *Stock, p *catalog.Part) bool) func(s *Stock, p *catalog.Part) bool {
		if b == nil {
			return a
		}
		return func(s *Stock, p *catalog.Part) bool { return a(s, p) && b(s, p) }
	}
	var out []Need
	for _, kind := range catalog.KindNames() {
		if kind != SlotBattery.Kind() && slices.ContainsFunc(Slots(), func(s Slot) bool { return slices.Contains(s.Kinds(), kind) }) {
			out = append(out, Need{Kind: kind, Key: key, Of: of})
		}
	}
	return append(out,
		Need{Kind: "cell", Key: key, Of: both(GoesByCell(own), of)},
		Need{Kind: "battery", Key: key, Of: both(WithoutCell, of)})
}

// priceNeeds and massNeeds are those of the two sums. What is owned costs
// nothing.
func priceNeeds() []Need {
	return sumNeeds("price", func(b *catalog.Battery) float64 { return b.Cost(1) }, notOwned)
}

func massNeeds() []Need {
	return sumNeeds("mass_g", func(b *catalog.Battery) float64 { return b.Mass }, nil)
}

// notOwned reports whether a part is to be bought.
func notOwned(_ *Stock, p *catalog.Part) bool { return !p.Owned }

// Conditions that several needs share.

// turned reports whether the catalog has pulleys or sprockets.
func (s *Stock) turned() bool { return len(s.Pulleys)+len(s.Sprockets) > 0 }

// WithoutCell reports whether a pack has no cell to go by.
func WithoutCell(s *Stock, p *catalog.Part) bool {
	b, ok := catalog.ByID(s.Batteries, p.ID)
	return ok && b.Cell == nil
}

// withoutCan reports whether a motor's mass does not follow from its can.
func withoutCan(s *Stock, p *catalog.Part) bool {
	m, ok := catalog.ByID(s.Motors, p.ID)
	return ok && (math.IsNaN(m.CanDiameter) || math.IsNaN(m.CanLength))
}

// MadeIntoPacks reports whether a pack is made of a cell.
func MadeIntoPacks(s *Stock, p *catalog.Part) bool {
	cell, ok := catalog.ByID(s.Cells, p.ID)
	return ok && len(s.packs[cell]) > 0
}

// GoesByCell makes the condition of a cell that a pack goes by it for want of a
// value of its own.
func GoesByCell(own func(*catalog.Battery) float64) func(s *Stock, p *catalog.Part) bool {
	return func(s *Stock, p *catalog.Part) bool {
		cell, ok := catalog.ByID(s.Cells, p.ID)
		return ok && slices.ContainsFunc(s.packs[cell], func(b *catalog.Battery) bool { return math.IsNaN(own(b)) })
	}
}

// onSide makes the condition of a pulley or sprocket that it sits on a side.
func onSide(side catalog.Side) func(s *Stock, p *catalog.Part) bool {
	return func(s *Stock, p *catalog.Part) bool {
		pulley, ok := s.PulleyByID(p.ID)
		return ok && pulley.Side == side
	}
}

// unlisted makes the condition of a gear drive that it names no ids of what it
// fits.
func unlisted(fits func(*catalog.GearDrive) []string) func(s *Stock, p *catalog.Part) bool {
	return func(s *Stock, p *catalog.Part) bool {
		g, ok := catalog.ByID(s.GearDrives, p.ID)
		return ok && fits(g) == nil
	}
}

// anyUnlisted makes the condition that something is held against the part: not
// where there are gear drives alone and each names ids.
func anyUnlisted(fits func(*catalog.GearDrive) []string) func(s *Stock, p *catalog.Part) bool {
	return func(s *Stock, _ *catalog.Part) bool {
		return s.turned() || len(s.GearDrives) == 0 ||
			slices.ContainsFunc(s.GearDrives, func(g *catalog.GearDrive) bool { return fits(g) == nil })
	}
}

func motorsOf(g *catalog.GearDrive) []string { return g.FitsMotors }

func wheelsOf(g *catalog.GearDrive) []string { return g.FitsWheels }
