package catalog

import (
	"fmt"
	"math"
	"slices"

	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// Idle are the parts that can be in no build that passes the checks which go by
// the parts alone: bore, profile, hub, belt and voltage. The remark says why.
// What a part does not say is taken to fit, and where a catalog has no part of
// a kind at all, nothing is held against the others.
//
// A part that goes only with parts which are in no build themselves is in none
// either, so the question is asked again until the answer stays the same. What
// goes with what makes a tree (controller, battery, motor, drive, wheel), and
// in a tree a part that keeps a partner on each side is in a build. So the
// answer is exact, but for very large catalogs of belt drives, of which not
// every combination is tried: there a part may be passed over.
//
// Of accessories those are idle that suit no pack.
func Idle(c *Catalog) []Remark {
	s := newIdleSearch(c)
	for s.changed = true; s.changed; {
		s.changed = false
		s.electrics()
		s.drives()
		s.beltParts()
	}
	s.leftovers()
	return c.remarks(s.found)
}

// side is the parts of one place in a build, and which of them may still be in
// one.
type side[T any] struct {
	kind string
	all  []*T
	dead map[*T]bool
	part func(*T) *Part
}

func newSide[T any](kind string, all []*T, part func(*T) *Part) side[T] {
	return side[T]{kind, all, map[*T]bool{}, part}
}

// live are the parts that may still be in a build.
func (s *side[T]) live() []*T {
	return slices.DeleteFunc(slices.Clone(s.all), func(t *T) bool { return s.dead[t] })
}

// partner looks for a part that fits: ok where one that may be in a build does,
// or there are none at all. Else gone are those that would fit and are in no
// build.
func (s *side[T]) partner(fits func(*T) bool) (ok bool, gone []string) {
	for _, t := range s.all {
		switch {
		case !fits(t):
		case !s.dead[t]:
			return true, nil
		default:
			gone = append(gone, s.part(t).ID)
		}
	}
	return len(s.all) == 0, gone
}

// idleSearch strikes out parts until no more can be.
type idleSearch struct {
	*Catalog
	batteries    side[Battery]
	controllers  side[Controller]
	motors       side[Motor]
	small, large side[Pulley]
	mounts       side[Mount]
	belts        side[Belt]
	gears        side[GearDrive]
	wheels       side[Wheel]
	changed      bool
	found        []remark
}

func newIdleSearch(c *Catalog) *idleSearch {
	onSide := func(side Side) []*Pulley {
		return slices.DeleteFunc(slices.Clone(c.Pulleys), func(p *Pulley) bool { return p.Side != side })
	}
	pulley := func(p *Pulley) *Part { return &p.Part }
	return &idleSearch{
		Catalog:     c,
		batteries:   newSide("battery", c.Batteries, func(b *Battery) *Part { return &b.Part }),
		controllers: newSide("controller", c.Controllers, func(c *Controller) *Part { return &c.Part }),
		motors:      newSide("motor", c.Motors, func(m *Motor) *Part { return &m.Part }),
		small:       newSide("pulley", onSide(MotorSide), pulley),
		large:       newSide("pulley", onSide(WheelSide), pulley),
		mounts:      newSide("mount", c.Mounts, func(m *Mount) *Part { return &m.Part }),
		belts:       newSide("belt", c.Belts, func(b *Belt) *Part { return &b.Part }),
		gears:       newSide("gear_drive", c.GearDrives, func(g *GearDrive) *Part { return &g.Part }),
		wheels:      newSide("wheel", c.Wheels, func(w *Wheel) *Part { return &w.Part }),
	}
}

// idleBasis is what the remarks go by.
const idleBasis = "the checks bore, profile, hub, belt and voltage, and what they say of every combination"

// note says that a part is in no build, about one of its keys.
func (s *idleSearch) note(kind, id, key, why, hint string) {
	s.found = append(s.found, remark{kind, id, key, "in no build: " + why, hint, idleBasis, false})
}

// noteNext says that a part is in no build because others are in none.
func (s *idleSearch) noteNext(kind, id, key, why, hint string) {
	s.note(kind, id, key, why, hint)
	s.found[len(s.found)-1].follows = true
}

// strike asks each part of a side that is left what is missing for it, and
// strikes out those for which something is.
func strike[T any](s *idleSearch, of *side[T], missing func(*T) (lack, bool)) {
	for _, t := range of.live() {
		if l, ok := missing(t); !ok {
			of.dead[t] = true
			s.changed = true
			if len(l.gone) > 0 {
				s.noteNext(of.kind, of.part(t).ID, l.key, "what would go with it is in no build itself: "+few(l.gone), l.hint)
				continue
			}
			s.note(of.kind, of.part(t).ID, l.key, l.why, l.hint)
		}
	}
}

// lack is what a part does not find: the key that it goes by, why, and the
// parts that would do if they were in a build.
type lack struct {
	key, why, hint string
	gone           []string
}

// mm is a length of m as a message has it.
func mm(x float64) string { return field.FormatNumber(x*perMilli) + " mm" }

// electrics strikes out what finds no partner by voltage.
func (s *idleSearch) electrics() {
	strike(s, &s.batteries, func(b *Battery) (lack, bool) {
		full := b.FullVolts()
		l := lack{key: "series"}
		ok, gone := s.controllers.partner(func(c *Controller) bool { return voltsFit(full, c.MaxVolts) })
		if !ok {
			l.why, l.gone = fmt.Sprintf("full it has %s V, more than any controller bears", field.FormatNumber(full)), gone
			return l, false
		}
		ok, gone = s.motors.partner(func(m *Motor) bool { return voltsFit(full, m.MaxVolts) })
		l.why, l.gone = fmt.Sprintf("full it has %s V, more than any motor bears", field.FormatNumber(full)), gone
		return l, ok
	})
	volts := func(most float64) (lack, bool) {
		ok, gone := s.batteries.partner(func(b *Battery) bool { return voltsFit(b.FullVolts(), most) })
		return lack{key: "max_volts", why: fmt.Sprintf("it bears %s V, less than any battery has when full", field.FormatNumber(most)), gone: gone}, ok
	}
	strike(s, &s.controllers, func(c *Controller) (lack, bool) { return volts(c.MaxVolts) })
	strike(s, &s.motors, func(m *Motor) (lack, bool) { return volts(m.MaxVolts) })
}

// drives strikes out what finds no partner by bore or hub.
func (s *idleSearch) drives() {
	strike(s, &s.motors, func(m *Motor) (lack, bool) {
		onPulley, gone := s.small.partner(func(p *Pulley) bool { return pulleyOnMotor(p, m) })
		onGear, more := s.gears.partner(func(g *GearDrive) bool { return gearOnMotor(g, m) })
		why := "no motor pulley or gear drive goes on its shaft"
		if !math.IsNaN(m.Shaft) {
			why += " of " + mm(m.Shaft)
		}
		return lack{key: "shaft_mm", why: why, gone: append(gone, more...)}, either(onPulley, len(s.small.all), onGear, len(s.gears.all))
	})
	strike(s, &s.small, func(p *Pulley) (lack, bool) {
		ok, gone := s.motors.partner(func(m *Motor) bool { return pulleyOnMotor(p, m) })
		return s.noShaft(p.Bore, p.ShaftKey, gone), ok
	})
	strike(s, &s.large, func(p *Pulley) (lack, bool) {
		ok, gone := s.wheels.partner(func(w *Wheel) bool { return hubsMeet(p.Hubs, w.Hubs) })
		return noWheel(p.Hubs, gone), ok
	})
	strike(s, &s.gears, func(g *GearDrive) (lack, bool) {
		if ok, gone := s.motors.partner(func(m *Motor) bool { return gearOnMotor(g, m) }); !ok {
			return s.noShaft(g.Bore, g.ShaftKey, gone), false
		}
		ok, gone := s.wheels.partner(func(w *Wheel) bool { return gearOnWheel(g, w) })
		return noWheel(g.Hubs, gone), ok
	})
	strike(s, &s.wheels, func(w *Wheel) (lack, bool) {
		onPulley, gone := s.large.partner(func(p *Pulley) bool { return hubsMeet(p.Hubs, w.Hubs) })
		onGear, more := s.gears.partner(func(g *GearDrive) bool { return gearOnWheel(g, w) })
		why := "no wheel pulley or gear drive goes on it"
		if len(w.Hubs) > 0 {
			why = "no wheel pulley or gear drive has its hub, " + few(w.Hubs)
		}
		return lack{key: "hub", why: why, gone: append(gone, more...)}, either(onPulley, len(s.large.all), onGear, len(s.gears.all))
	})
}

// either reports whether one of two kinds of drives goes with a part: true
// where there are none of either.
func either(a bool, ofA int, b bool, ofB int) bool {
	return a && ofA > 0 || b && ofB > 0 || ofA+ofB == 0
}

// noShaft is what something lacks that goes on no motor's shaft.
func (s *idleSearch) noShaft(bore float64, key ShaftKey, gone []string) lack {
	fits := func(m *Motor) bool { return boreFits(bore, m.Shaft) }
	if slices.ContainsFunc(s.motors.all, fits) && key != KeyUnknown {
		return lack{key: "shaft_key", why: fmt.Sprintf("no motor with a shaft of its bore has a %s", key), gone: gone}
	}
	return lack{key: "bore_mm", why: "no motor has a shaft of " + mm(bore), gone: gone}
}

// noWheel is what something lacks that bolts to no wheel.
func noWheel(hubs, gone []string) lack {
	return lack{key: "hub", why: "no wheel has its hub, " + few(hubs), gone: gone}
}

// leftovers finds cells and profiles that nothing is made of, and accessories
// that suit no pack.
func (s *idleSearch) leftovers() {
	packs := s.batteries.live()
	for _, c := range s.Cells {
		if !slices.ContainsFunc(s.Batteries, func(b *Battery) bool { return b.Cell == c }) {
			s.note("cell", c.ID, "", "no battery is made of it", "")
		} else if !slices.ContainsFunc(packs, func(b *Battery) bool { return b.Cell == c }) {
			s.noteNext("cell", c.ID, "", "the batteries that are made of it are in none", "")
		}
	}
	for _, p := range s.Profiles {
		if !slices.ContainsFunc(s.Pulleys, func(x *Pulley) bool { return x.Profile == p }) {
			s.note("profile", p.ID, "", "no pulley has it", "")
		}
	}
	if len(packs) > 0 {
		s.accessories(packs)
	}
}

// accessories finds those that suit none of the packs.
func (s *idleSearch) accessories(packs []*Battery) {
	lowest := math.Inf(1) // V, of the packs when full
	for _, b := range packs {
		lowest = math.Min(lowest, b.FullVolts())
	}
	suits := func(fits func(*Battery) bool) bool { return slices.ContainsFunc(packs, fits) }
	tooLow := func(kind, id, key string, most float64) {
		if !voltsFit(lowest, most) {
			s.note(kind, id, key, fmt.Sprintf("it bears %s V, less than any battery has when full", field.FormatNumber(most)), "")
		}
	}
	for _, x := range s.BMSs {
		if !suits(func(b *Battery) bool { return b.Series == x.Series }) {
			s.note("bms", x.ID, "series", fmt.Sprintf("no battery has %s cells in series", field.FormatNumber(x.Series)), "")
		}
	}
	for _, x := range s.Switches {
		tooLow("switch", x.ID, "max_volts", x.MaxVolts)
	}
	for _, x := range s.Fuses {
		tooLow("fuse", x.ID, "max_volts_dc", x.MaxVoltsDC)
	}
	for _, x := range s.Connectors {
		tooLow("connector", x.ID, "max_volts", x.MaxVolts)
	}
	for _, x := range s.Wires {
		tooLow("wire", x.ID, "max_volts", x.MaxVolts)
	}
	for _, x := range s.Chargers {
		if !suits(func(b *Battery) bool { return chargerEnds(x, b) }) {
			s.note("charger", x.ID, "full_v", fmt.Sprintf("no battery has %s V when full", field.FormatNumber(x.Full)), "a charger for another number of cells is dangerous")
		}
	}
	for _, x := range s.Boxes {
		if room := x.Length * x.Width * x.Height; !suits(func(b *Battery) bool { return !(cellVolume(b) > room) }) {
			s.note("box", x.ID, "", fmt.Sprintf("the cells of every battery take more than its %s l", field.FormatNumber(math.Round(room*1e5)/100)), "")
		}
	}
}

// chargerEnds reports whether a charger ends at a pack's full voltage, or up to
// a fiftieth below it: an assumption.
func chargerEnds(c *Charger, b *Battery) bool {
	full := b.FullVolts()
	return drive.AtMost(c.Full, full) && drive.AtLeast(c.Full, 0.98*full)
}

// cellVolume is what the cells of a pack take in m³; NaN when not known.
func cellVolume(b *Battery) float64 {
	if b.Cell == nil {
		return math.NaN()
	}
	return float64(b.Cells()) * cylinder(b.Cell.Diameter, b.Cell.Length)
}

// cylinder is the volume in m³ of one of a diameter and a length in m.
func cylinder(diameter, length float64) float64 { return math.Pi / 4 * diameter * diameter * length }
