package constraints

import (
	"math"

	"gearsearch/drive"
)

// usualAir is the temperature around a motor in °C where nobody says: a warm day,
// on the safe side of the pack's.
const usualAir = 25

// longHill is the time in s from which a hill counts as long for a controller:
// what it bears for long is then the limit of its current.
const longHill = 60

// HasLength reports whether a length of the hill is asked for, so that the
// windings' temperature at its end counts.
func (p *Problem) HasLength() bool { return p.Climbs() && !math.IsNaN(p.Brief.Target.ClimbLength) }

// hillSeconds is the time on the hill.
func (p *Problem) hillSeconds() float64 {
	return p.Brief.Target.ClimbLength / p.Brief.Target.ClimbSpeed
}

// Air is the temperature around the motors in °C.
func (p *Problem) Air() float64 { return orElse(p.Brief.Ground.Temperature, usualAir) }

// thermal is the motor as bodies that store heat; ok is false where neither its
// mass nor its can is known.
func (b *Build) thermal() (t drive.Thermal, ok bool) {
	m := b.Motor.Motor
	return drive.ThermalOf(orElse(m.Mass, 0), orElse(m.CanDiameter, 0), orElse(m.CanLength, 0), b.Problem.Brief.Target.ClimbSpeed)
}

// heating is what warms a motor on the hill, but for its current and the losses at
// no load.
func (b *Build) heating() drive.Heating {
	return drive.Heating{Resistance: b.electrical.Motor.Resistance, Air: b.Problem.Air(), Seconds: b.Problem.hillSeconds()}
}

// copperCool is the DC-equivalent current that the windings bear up the hill when
// copper alone warms them; it goes by the electrical half.
func (b *Build) copperCool(t *drive.Thermal) float64 {
	if b.copper == 0 {
		b.copper = t.CoolCurrent(b.heating(), b.Problem.Brief.Limit.WindingMax)
	}
	return b.copper
}

// Hill is how the windings warm on the hill: the motor and what warms it for a
// time in s; ok is false without a length, and where mass and can, or the
// resistance, are not known.
func (b *Build) Hill() (t drive.Thermal, h drive.Heating, ok bool) {
	if t, ok = b.thermal(); !ok || !b.Problem.HasLength() || b.electrical.R == 0 {
		return t, h, false
	}
	h = b.heating()
	omega := b.Problem.Brief.Target.ClimbSpeed * b.board.Reduction / b.board.Radius
	h.Current = b.board.MotorCurrentFor(b.ClimbNeed())
	h.Iron = b.electrical.K * omega * b.electrical.NoLoad
	return t, h, true
}

// WindingEnd is the temperature of the windings at the end of the hill in °C, at
// most drive.HottestKnown; NaN where it is not known or not asked for.
func (b *Build) WindingEnd() float64 {
	if b.done&haveWinding == 0 {
		b.done |= haveWinding
		b.winding = math.NaN()
		if t, h, ok := b.Hill(); ok {
			b.winding, _ = t.After(h)
		}
	}
	return b.winding
}

// bearingLimit is the current in A that a long hill may take of the controller; NaN
// where none is known, and on a short one.
func (b *Build) bearingLimit() float64 {
	if drive.AtMost(b.Problem.hillSeconds(), longHill) {
		return math.NaN()
	}
	return b.Problem.Brief.Limit.HeatFactor * b.Controller.ContinuousCurrent
}

// overdriven reports whether the hill takes more of the controller than its limit.
func (b *Build) overdriven() (limit float64, over bool) {
	limit = b.bearingLimit()
	return limit, !math.IsNaN(limit) && !drive.AtMost(b.ClimbCurrent(), limit)
}

// windingRow is heatCheck on a hill with a length, as it is shown: it then holds the
// windings to their limit.
var windingRow = Check{
	Name:    heatName,
	Subject: "windings on the climb",
	Figure:  "winding_end_c",
	Meaning: "the windings stay below their greatest temperature up the hill",
	Unit:    "°C",
	PerSI:   1,
}

const heatName = "heat"

// windingCheck is heatCheck without the controller's limit of current.
var windingCheck = Check{
	Name: "heat-winding", Meaning: windingRow.Meaning, Unit: windingRow.Unit, PerSI: windingRow.PerSI,
	Scope: on(OnAll), Applies: (*Problem).HasLength, Lists: anyDrive, Corners: true,
	Corner: (*Build).heatOfWinding, Window: windingWindow,
}

// heatOfWinding holds the windings to their limit.
func (b *Build) heatOfWinding() Outcome {
	o := atMost(b.WindingEnd(), b.Problem.Brief.Limit.WindingMax)
	o.Row, o.Base = &windingRow, b.Problem.Air()
	return o
}

// bearingCheck is what is left of heatCheck on a hill with a length where the
// windings may be as hot as they like.
var bearingCheck = Check{
	Name: "heat-current", Meaning: "the current on a long hill is within what the controller bears for long", Unit: "A", PerSI: 1,
	Scope: on(OnAll), Applies: (*Problem).HasLength, Lists: anyDrive, Corners: true,
	Corner: func(b *Build) Outcome {
		limit, over := b.overdriven()
		o := Outcome{Verdict: Pass, Value: b.ClimbCurrent(), Limit: limit}
		switch {
		case over:
			o.Verdict = Fail
		case math.IsNaN(b.WindingEnd()):
			o.Verdict = Undecided
		}
		return o
	},
	Window: func(b *Build, lane Lane, demand float64) Gearings {
		g := bearingWindow(b, lane, demand)
		if winding := windingWindow(b, lane, demand); winding.Inside == Undecided {
			g.Inside = Undecided
			if g.Outside == Pass {
				g.Outside = Undecided
			}
		}
		return g
	},
}

// heatOnHill is the outcome of heatCheck on a hill with a length.
func (b *Build) heatOnHill() Outcome {
	o := b.heatOfWinding()
	if limit, over := b.overdriven(); over && o.Verdict != Fail {
		return Outcome{Verdict: Fail, Value: b.ClimbCurrent(), Limit: limit}
	}
	return o
}

// factorBorne is the heat factor with which the climb takes what motor and
// controller bear for long, or on a long hill with a length the controller alone.
func (b *Build) factorBorne() float64 {
	limit, _ := b.HeatLimit()
	if b.Problem.HasLength() {
		limit = b.bearingLimit()
	}
	return b.ClimbCurrent() / limit * b.Problem.Brief.Limit.HeatFactor
}

// coolCurrent is the most DC-equivalent current of a motor that heatCheck lets pass
// on this build's gearing; NaN where it is not known.
func (b *Build) coolCurrent() float64 {
	if !b.Problem.HasLength() {
		limit, _ := b.HeatLimit()
		return limit * b.electrical.PhaseFactor
	}
	amps := b.bearingLimit() * b.electrical.PhaseFactor
	t, h, ok := b.Hill()
	if !ok {
		return amps
	}
	limit, most := b.Problem.Brief.Limit.WindingMax, h.Current
	stays := func(x float64) bool {
		h.Current = x
		hot, _ := t.After(h)
		return hot <= limit
	}
	switch {
	case !stays(0):
		return 0
	case stays(most): // the controller's current alone is too much
		return amps
	}
	cool := 0.0
	for middle := most / 2; middle > cool && middle < most; middle = cool + (most-cool)/2 {
		if stays(middle) {
			cool = middle
		} else {
			most = middle
		}
	}
	return lower(amps, cool)
}
