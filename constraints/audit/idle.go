package audit

import (
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// Idle are the parts that can be in no build that passes the checks which go by the
// parts alone: bore, profile, hub, belt and voltage. The remark says why. A part
// without a key is taken to fit, and where a catalog has no part of a kind at all,
// that rules out no other part.
//
// A part that goes only with parts which are in no build themselves is in none
// either, so the question is asked again until the answer stays the same. What
// goes with what makes a tree (controller, battery, motor, drive, wheel), and
// in a tree a part that keeps a partner on each side is in a build. So the
// answer is exact, but for very large catalogs of belt drives, of which not
// every combination is tried: there a part may be passed over.
//
// Of accessories those are idle that suit no pack.
func Idle(c *catalog.Catalog) []Remark {
	s := newIdleSearch(c)
	for s.changed = true; s.changed; {
		s.changed = false
		s.electrics()
		s.drives()
		s.beltParts()
	}
	s.leftovers()
	return remarks(c, s.found)
}

// side is the parts of one place in a build, and which of them may still be in
// one.
type side[T any] struct {
	kind func(*T) string
	all  []*T
	dead map[*T]bool
	part func(*T) *catalog.Part
}

func newSide[T any](kind string, all []*T, part func(*T) *catalog.Part) side[T] {
	return newSides(func(*T) string { return kind }, all, part)
}

// newSides is a side of parts of several kinds.
func newSides[T any](kind func(*T) string, all []*T, part func(*T) *catalog.Part) side[T] {
	return side[T]{kind, all, map[*T]bool{}, part}
}

// live are the parts that may still be in a build.
func (s *side[T]) live() []*T {
	return slices.DeleteFunc(slices.Clone(s.all), func(t *T) bool { return s.dead[t] })
}

// partner looks for a part that fits: ok where one fits that may be in a build, or
// where there are no parts at all. Otherwise gone are the parts that would fit but
// are in no build.
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
	*catalog.Catalog
	batteries    side[catalog.Battery]
	controllers  side[catalog.Controller]
	motors       side[catalog.Motor]
	small, large side[catalog.Pulley]
	mounts       side[catalog.Mount]
	belts        side[catalog.Belt]
	gears        side[catalog.GearDrive]
	wheels       side[catalog.Wheel]
	bench        *bench
	basis        string // what the remarks go by
	changed      bool
	found        []finding
}

func newIdleSearch(c *catalog.Catalog) *idleSearch {
	onSide := func(side catalog.Side) []*catalog.Pulley {
		return slices.DeleteFunc(slices.Clone(c.AllPulleys()), func(p *catalog.Pulley) bool { return p.Side != side })
	}
	pulley := func(p *catalog.Pulley) *catalog.Part { return &p.Part }
	return &idleSearch{
		Catalog:     c,
		bench:       newBench(),
		basis:       idleBasis(),
		batteries:   newSide("battery", c.Batteries, func(b *catalog.Battery) *catalog.Part { return &b.Part }),
		controllers: newSide("controller", c.Controllers, func(c *catalog.Controller) *catalog.Part { return &c.Part }),
		motors:      newSide("motor", c.Motors, func(m *catalog.Motor) *catalog.Part { return &m.Part }),
		small:       newSides((*catalog.Pulley).Kind, onSide(catalog.MotorSide), pulley),
		large:       newSides((*catalog.Pulley).Kind, onSide(catalog.WheelSide), pulley),
		mounts:      newSide("mount", c.Mounts, func(m *catalog.Mount) *catalog.Part { return &m.Part }),
		belts:       newSides((*catalog.Belt).Kind, c.AllBelts(), func(b *catalog.Belt) *catalog.Part { return &b.Part }),
		gears:       newSide("gear_drive", c.GearDrives, func(g *catalog.GearDrive) *catalog.Part { return &g.Part }),
		wheels:      newSide("wheel", c.Wheels, func(w *catalog.Wheel) *catalog.Part { return &w.Part }),
	}
}

// idleBasis names the checks that the remarks go by.
func idleBasis() string {
	var names []string
	for _, c := range constraints.Registry() {
		if c.Alone {
			names = append(names, c.Name)
		}
	}
	last := len(names) - 1
	return "the checks " + strings.Join(names[:last], ", ") + " and " + names[last] + ", and what they say of every combination"
}

// lack is the partner that a part does not find: the key that decides, what is
// missing, and the parts that would fit if they could be in a build.
type lack struct {
	key        string
	code       Code
	quantities []Quantity
	gone       []string
}

// strike asks what each remaining part of a side is missing, and strikes out the
// parts that are missing something.
func strike[T any](s *idleSearch, of *side[T], missing func(*T) (lack, bool)) {
	for _, t := range of.live() {
		if l, ok := missing(t); !ok {
			of.dead[t] = true
			s.changed = true
			f := finding{code: l.code, kind: of.kind(t), id: of.part(t).ID, key: l.key, quantities: l.quantities}
			if len(l.gone) > 0 {
				f.code, f.quantities, f.follows = PartnersIdle, []Quantity{named(l.gone...)}, true
			}
			s.note(f)
		}
	}
}

// note notes that a part is in no build.
func (s *idleSearch) note(f finding) {
	f.basis = s.basis
	s.found = append(s.found, f)
}

// electrics strikes out what finds no partner by voltage.
func (s *idleSearch) electrics() {
	strike(s, &s.batteries, func(b *catalog.Battery) (lack, bool) {
		full := []Quantity{plain(b.FullVolts())}
		ok, gone := s.controllers.partner(func(c *catalog.Controller) bool { return s.bench.controllerBears(c, b) })
		if !ok {
			return lack{"series", AboveControllers, full, gone}, false
		}
		ok, gone = s.motors.partner(func(m *catalog.Motor) bool { return s.bench.motorBears(m, b) })
		return lack{"series", AboveMotors, full, gone}, ok
	})
	volts := func(most float64, bears func(*catalog.Battery) bool) (lack, bool) {
		ok, gone := s.batteries.partner(bears)
		return lack{"max_volts", BelowBatteries, []Quantity{plain(most)}, gone}, ok
	}
	strike(s, &s.controllers, func(c *catalog.Controller) (lack, bool) {
		return volts(c.MaxVolts, func(b *catalog.Battery) bool { return s.bench.controllerBears(c, b) })
	})
	strike(s, &s.motors, func(m *catalog.Motor) (lack, bool) {
		return volts(m.MaxVolts, func(b *catalog.Battery) bool { return s.bench.motorBears(m, b) })
	})
}

// drives strikes out what finds no partner by bore or hub.
func (s *idleSearch) drives() {
	strike(s, &s.motors, func(m *catalog.Motor) (lack, bool) {
		onPulley, gone := s.small.partner(func(p *catalog.Pulley) bool { return s.bench.pulleyOnMotor(p, m) })
		onGear, more := s.gears.partner(func(g *catalog.GearDrive) bool { return s.bench.gearOnMotor(g, m) })
		l := lack{"shaft_mm", NothingOnShaft, []Quantity{given(m.Shaft, perMilli)}, append(gone, more...)}
		return l, either(onPulley, len(s.small.all), onGear, len(s.gears.all))
	})
	strike(s, &s.small, func(p *catalog.Pulley) (lack, bool) {
		ok, gone := s.motors.partner(func(m *catalog.Motor) bool { return s.bench.pulleyOnMotor(p, m) })
		return s.noShaft(p.Bore, p.ShaftKey, gone), ok
	})
	strike(s, &s.large, func(p *catalog.Pulley) (lack, bool) {
		ok, gone := s.wheels.partner(func(w *catalog.Wheel) bool { return s.bench.pulleyOnWheel(p, w) })
		return noWheel(p.Hubs, gone), ok
	})
	strike(s, &s.gears, func(g *catalog.GearDrive) (lack, bool) {
		if ok, gone := s.motors.partner(func(m *catalog.Motor) bool { return s.bench.gearOnMotor(g, m) }); !ok {
			return s.noShaft(g.Bore, g.ShaftKey, gone), false
		}
		ok, gone := s.wheels.partner(func(w *catalog.Wheel) bool { return s.bench.gearOnWheel(g, w) })
		return noWheel(g.Hubs, gone), ok
	})
	strike(s, &s.wheels, func(w *catalog.Wheel) (lack, bool) {
		onPulley, gone := s.large.partner(func(p *catalog.Pulley) bool { return s.bench.pulleyOnWheel(p, w) })
		onGear, more := s.gears.partner(func(g *catalog.GearDrive) bool { return s.bench.gearOnWheel(g, w) })
		l := lack{"hub", NothingOnHub, []Quantity{named(w.Hubs...)}, append(gone, more...)}
		return l, either(onPulley, len(s.large.all), onGear, len(s.gears.all))
	})
}

// either reports whether one of two kinds of drives goes with a part: true
// where there are none of either.
func either(a bool, ofA int, b bool, ofB int) bool {
	return a && ofA > 0 || b && ofB > 0 || ofA+ofB == 0
}

// noShaft is what a pulley or gear drive lacks that goes on no motor's shaft: a motor
// with its key, where the bore fits, else one with its shaft.
func (s *idleSearch) noShaft(bore float64, key catalog.ShaftKey, gone []string) lack {
	plainly := &catalog.Pulley{Bore: bore}
	fits := func(m *catalog.Motor) bool { return s.bench.pulleyOnMotor(plainly, m) }
	if slices.ContainsFunc(s.motors.all, fits) && key != catalog.KeyUnknown {
		return lack{"shaft_key", NoSuchKey, []Quantity{named(key.String())}, gone}
	}
	return lack{"bore_mm", NoSuchShaft, []Quantity{given(bore, perMilli)}, gone}
}

// noWheel is what something lacks that bolts to no wheel.
func noWheel(hubs, gone []string) lack {
	return lack{"hub", NoSuchHub, []Quantity{named(hubs...)}, gone}
}
