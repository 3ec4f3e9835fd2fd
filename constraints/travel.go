package constraints

import (
	"math"
	"slices"

	"gearsearch/constraints/route"
	"gearsearch/drive"
)

// trip is the brief's way to ride as every build of a problem meets it.
type trip struct {
	way      *route.Route // nil: none
	legs     []drive.Leg
	blocks   []drive.Block
	surfaces []string  // by Leg.Ground
	grips    []float64 // likewise
}

// HasRoute reports whether the brief has a way to ride.
func (p *Problem) HasRoute() bool { return p.trip.way != nil }

// takeRoute prepares the brief's way.
func (p *Problem) takeRoute() {
	way := p.Brief.Way
	if way == nil {
		p.trip = trip{}
		return
	}
	t := trip{way: way}
	legs := make([]drive.Leg, len(way.Legs))
	for i, l := range way.Legs {
		surface := l.Surface
		if surface == "" {
			surface = p.Brief.Ground.Surface
		}
		at := slices.Index(t.surfaces, surface)
		if at < 0 {
			at = len(t.surfaces)
			t.surfaces = append(t.surfaces, surface)
			t.grips = append(t.grips, p.gripOn(surface))
		}
		legs[i] = drive.Leg{Slope: drive.SlopeOver(l.Rise, l.Length), Length: l.Length, Speed: orElse(l.Speed, 0), Ground: at, Stop: l.Stop}
	}
	t.legs, t.blocks = legs, drive.Blocks(legs)
	p.trip = t
}

// gripOn is the friction coefficient on a surface, the brief's where it gives one.
func (p *Problem) gripOn(surface string) float64 {
	ground := p.Brief.Ground
	ground.Surface = surface
	return ground.friction() * (1 + p.slip)
}

// on is the wheel's rolling-resistance coefficient on a surface.
func (w *Wheel) on(surface string, p *Problem) float64 {
	ground := &p.Brief.Ground
	if surface == ground.Surface || !math.IsNaN(ground.RollingResistance) || !math.IsNaN(w.RollingResistance) {
		return w.Crr
	}
	return surfaces[surface].rolling(tyreOf(w.Wheel)) * (1 + w.stray)
}

// travels are a build on the brief's way, in the worst corner and in the best. They
// are of a worst corner only.
type travels struct {
	worst, best           drive.Travelled
	worstKnown, bestKnown bool
}

// Travelled is the brief's way ridden by the build; ok is false without a way, and
// where the pack's capacity or cut-off, the resistance or the thrust is not known.
func (b *Build) Travelled() (t drive.Travelled, ok bool) {
	if b.worst != nil {
		return b.worst.BestTravelled()
	}
	b.travel()
	return b.travels.worst, b.travels.worstKnown
}

// BestTravelled is Travelled in the best corner. There the pack takes whatever its volts
// let in where nobody gives its limit.
func (b *Build) BestTravelled() (t drive.Travelled, ok bool) {
	if b.worst != nil {
		b = b.worst
	}
	b.travel()
	return b.travels.best, b.travels.bestKnown
}

// travel rides the brief's way in both corners.
func (b *Build) travel() {
	if b.done&haveTravel != 0 {
		return
	}
	b.done |= haveTravel
	b.travels = travels{}
	if pack := &b.Battery.Pack; !b.Problem.HasRoute() || pack.Capacity == 0 || pack.Cutoff == 0 {
		return
	}
	x := &b.travels
	unsure := b.intakeUnknown()
	if b.electrical.R > 0 && b.ThrustKnown() {
		trip := b.trip(unsure)
		x.worst, x.worstKnown = trip.Ride(&b.board, nil), true
	}
	if !b.blank && !unsure {
		x.best, x.bestKnown = x.worst, x.worstKnown
		return
	}
	trip := b.trip(false)
	x.best, x.bestKnown = trip.Ride(&b.Best().board, nil), true
}

// intakeUnknown reports whether nobody says what the pack takes while the motors brake.
func (b *Build) intakeUnknown() bool {
	return b.Problem.Warmth > 0 && math.IsNaN(b.Battery.ChargeLimit())
}

// Trip is the brief's way as the build meets it; RideTrip tells of each leg of it.
func (b *Build) trip(unsure bool) drive.Trip {
	p := b.Problem
	t := drive.Trip{
		Legs:   p.trip.legs,
		Speed:  p.Brief.Target.Cruise,
		Charge: p.Brief.Ride.Start,
		Stores: b.Battery.Pack.Capacity * p.Cold.Capacity,
		Limit:  b.Battery.ChargeLimit(),
		Warmth: p.Warmth,
		Unsure: unsure,
		Regen:  b.Journey().Regen,
		Air:    p.Air(),
	}
	for i, surface := range p.trip.surfaces {
		crr, hold := b.Wheel.on(surface, p), drive.Hold{Drive: p.Grip, By: drive.Grip, Brake: p.Grip}
		if !math.IsInf(p.Grip, 1) {
			hold = p.Stance.Hold(b.Motors(), p.trip.grips[i], crr)
		}
		b.grounds = append(b.grounds[:i], drive.Ground{Crr: crr, Hold: hold})
	}
	t.Grounds = b.grounds
	m := b.Motor.Motor
	if body, ok := drive.ThermalOf(orElse(m.Mass, 0), orElse(m.CanDiameter, 0), orElse(m.CanLength, 0), 0); ok {
		t.Body = &body
	}
	return t
}

// RideRoute rides the brief's way in the worst corner, or in the best where that is
// not known, and tells of each leg; ok is false where neither is known.
func (b *Build) RideRoute(each func(p *drive.Passage)) (t drive.Travelled, ok bool) {
	switch _, known := b.Travelled(); {
	case known:
		trip := b.trip(b.intakeUnknown())
		return trip.Ride(&b.board, each), true
	default:
		if t, ok = b.BestTravelled(); !ok {
			return t, false
		}
		trip := b.trip(false)
		return trip.Ride(&b.Best().board, each), true
	}
}

// chargeLeft is the share of the usable charge that is left at the end of the way, NaN
// where the board does not come to it.
func (p *Problem) chargeLeft(t drive.Travelled) float64 {
	usable := p.Brief.Limit.Usable
	return unless((t.Charge-(1-usable))/usable, t.Stalled)
}

// travelled makes a value of the way ridden in the worst corner, and of that in the best;
// NaN where that is not known.
func travelled(value func(p *Problem, t drive.Travelled) float64) (worst, best func(b *Build) float64) {
	worst = func(b *Build) float64 {
		t, ok := b.Travelled()
		if !ok {
			return math.NaN()
		}
		return value(b.Problem, t)
	}
	best = func(b *Build) float64 {
		t, ok := b.BestTravelled()
		if !ok {
			return math.NaN()
		}
		return value(b.Problem, t)
	}
	return worst, best
}

// The metres of a way that the motors do not hold, in the order of how long they are.

func unheldLong(b *Build) float64 {
	worst, best := travelled(unheldMetres)
	w := worst(b)
	return unless(max(w, best(b)), math.IsNaN(w))
}

func unheldShort(b *Build) float64 {
	worst, best := travelled(unheldMetres)
	return min(orElse(worst(b), math.Inf(1)), best(b))
}

func unheldMetres(_ *Problem, t drive.Travelled) float64 { return t.Unheld }
