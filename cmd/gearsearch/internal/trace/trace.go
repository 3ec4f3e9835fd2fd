// Package trace has the values of the curves of a build, for drawings of one build and
// of several laid over one another.
package trace

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// OnRoad is the thrust in N that reaches the road at a speed in m/s, grip included.
func OnRoad(b *drive.Board, v float64) float64 { return math.Min(b.Thrust(v), b.GripThrust(0)) }

// End is up to which speed in m/s the thrust of a board is worth drawing with its
// battery at so many volts: a little beyond where nothing is left of it, or beyond the
// top speed and the speed that is asked for on the climb.
func End(b *drive.Board, volts, climb float64) float64 {
	balance, _ := b.BalanceSpeed()
	return min(b.FreeSpeed(volts)*1.02, max(balance*1.25, climb*1.5))
}

// Warmth are the temperatures of a motor along the hill of a brief.
type Warmth struct {
	Thermal drive.Thermal
	Heating drive.Heating // to the end of the hill
	Speed   float64       // m/s
}

// Hill is the warmth of a build's motors; false where the brief has no hill with a
// length, or their heat is not known.
func Hill(b *constraints.Build) (w Warmth, ok bool) {
	if !b.Problem.HasLength() {
		return Warmth{}, false
	}
	w.Speed = b.Problem.Brief.Target.ClimbSpeed
	w.Thermal, w.Heating, ok = b.Hill()
	return w, ok
}

// At is the temperature of winding and rest in °C after so many metres.
func (w *Warmth) At(metres float64) (winding, rest float64) {
	h := w.Heating
	h.Seconds = metres / w.Speed
	return w.Thermal.After(h)
}

// Winding and Rest are one of the two: NaN from where the winding is as hot as can
// be told of.
func (w *Warmth) Winding(metres float64) float64 {
	hot, _ := w.At(metres)
	return unlessMelted(hot, hot)
}

// Rest is the temperature of the motor around its winding.
func (w *Warmth) Rest(metres float64) float64 {
	hot, rest := w.At(metres)
	return unlessMelted(rest, hot)
}

func unlessMelted(x, winding float64) float64 {
	if winding >= drive.HottestKnown {
		return math.NaN()
	}
	return x
}
