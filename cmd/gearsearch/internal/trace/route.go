package trace

import (
	"math"
	"sort"

	"gearsearch/constraints"
	"gearsearch/constraints/route"
	"gearsearch/drive"
)

// Leg is a leg of a way as a build rides it.
type Leg struct {
	route.Leg
	From, To      float64 // m from the start
	Height        float64 // m above the sea, at its end
	Wanted, Speed float64 // m/s
	Load, Braking float64 // N, braking by the motors
	PackCurrent   float64 // A, negative into the pack
	Volts         float64 // V at the pack's terminals
	MotorCurrent  float64 // A, DC-equivalent, of each motor
	Left          float64 // share of the usable charge, at its end and before its stop
	Winding       float64 // °C at its end; NaN: not known, or beyond what can be told of
	Unheld        bool    // the motors do not hold the wanted speed down it
}

// Slow reports whether the board cannot keep the speed that is wanted.
func (l *Leg) Slow() bool { return l.Speed < l.Wanted }

// Ridden is the way of a brief as a build rides it.
type Ridden struct {
	drive.Travelled
	Way    *route.Route
	Legs   []Leg   // that are ridden
	Start  float64 // share of the usable charge
	Left   float64 // at the end, or where the board stalls
	Air    float64 // °C at the start
	AtBest bool    // ridden in the best corner, as the worst is not known
}

// Ride rides the way of a build's brief; ok is false without one, and where what it
// takes of the pack is not known.
func Ride(b *constraints.Build) (w Ridden, ok bool) {
	if !b.Problem.HasRoute() {
		return w, false
	}
	usable := b.Problem.Brief.Limit.Usable
	left := func(charge float64) float64 { return (charge - (1 - usable)) / usable }
	w = Ridden{Way: b.Problem.Brief.Way, Start: left(b.Problem.Brief.Ride.Start), Air: b.Problem.Air()}
	board := b
	if _, known := b.Travelled(); !known {
		w.AtBest, board = true, b.Best()
	}
	pack := board.Board().Electrical.Pack
	height, at := w.Way.Height, 0.0
	w.Travelled, ok = b.RideRoute(func(p *drive.Passage) {
		leg := Leg{
			Leg: w.Way.Legs[len(w.Legs)], From: at, To: p.Metres,
			Wanted: p.Wanted, Speed: p.Speed, Load: p.Load, Braking: p.Braking,
			PackCurrent: p.PackCurrent, MotorCurrent: p.Current,
			Left: left(p.Charge), Winding: p.Warm.Winding,
		}
		height, at = height+leg.Rise, leg.To
		leg.Height = height
		pack.Volts = p.Volts
		leg.Volts = pack.Terminal(p.PackCurrent)
		leg.Unheld = p.Load < 0 && !drive.AtLeast(p.Braking, -p.Load) && !math.IsNaN(p.Travelled.Unheld)
		if !(p.Travelled.Winding < drive.HottestKnown) {
			leg.Winding = math.NaN()
		}
		w.Legs = append(w.Legs, leg)
	})
	w.Left = left(w.Charge)
	return w, ok
}

// At is the leg on which the board is after so many metres, and the charge that is left
// and the winding's temperature there; nil beyond the end of the ride.
func (w *Ridden) At(metres float64) (l *Leg, left, winding float64) {
	const hair = 1e-6 // m
	i := sort.Search(len(w.Legs), func(i int) bool { return w.Legs[i].To >= metres-hair })
	if i == len(w.Legs) {
		return nil, math.NaN(), math.NaN()
	}
	l = &w.Legs[i]
	left, winding = w.Start, w.Air
	if i > 0 {
		left, winding = w.Legs[i-1].Left, w.Legs[i-1].Winding
	}
	share := min(max((metres-l.From)/(l.To-l.From), 0), 1)
	return l, left + float64(share*(l.Left-left)), winding + float64(share*(l.Winding-winding))
}
