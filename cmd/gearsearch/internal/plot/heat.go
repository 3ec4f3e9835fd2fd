package plot

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/plot/vg/draw"

	"gearsearch/cmd/gearsearch/internal/trace"
	"gearsearch/drive"
)

// ErrNoHill says that a figure cannot be drawn since the brief has no hill with a
// length.
var ErrNoHill = errors.New("the brief asks for no hill with a length: set target.climb_length_m, and target.climb_grade_pct")

// ErrHeat says that a figure cannot be drawn since the motor's heat is not known.
var ErrHeat = errors.New("the motors' heat cannot be computed: it takes the motor's resistance, and its mass or its can")

// heatDoubt is how far the winding's rise may be off, as a share of it: how good
// drive.Thermal is.
const heatDoubt = 0.4

// doubts are the strokes of the ends of that band.
var doubts = stroke{hues[0], dashes[2], 1}

// warmth are the temperatures of a motor along a hill, as they are drawn.
type warmth struct{ trace.Warmth }

// doubted is the winding's temperature with its rise off by a share.
func (w *warmth) doubted(share float64) func(metres float64) float64 {
	return func(metres float64) float64 {
		return w.Heating.Air + float64((1+share)*(w.Winding(metres)-w.Heating.Air))
	}
}

// reaches are the metres after which the winding has a temperature that it has not
// at first and has at end, by halving.
func (w *warmth) reaches(celsius, end float64) float64 {
	low, high := 0.0, end
	for range 60 {
		middle := (low + high) / 2
		if hot, _ := w.At(middle); hot < celsius {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// Heat draws the temperatures of a motor's winding and of the rest of it over the
// length of the hill, from cold, with the limit of the winding and how far its rise
// may be off.
func Heat(s Subject) (*Figure, error) {
	b := s.Build
	if !b.Problem.HasLength() {
		return nil, ErrNoHill
	}
	target, limit := b.Problem.Brief.Target, b.Problem.Brief.Limit.WindingMax
	along, ok := trace.Hill(b)
	if !ok {
		return nil, ErrHeat
	}
	w := warmth{along}
	long, celsius := s.measure("m", 1), s.measure("°C", 1)
	length, air := target.ClimbLength, w.Heating.Air
	end, hot := length, b.WindingEnd()
	if hot >= drive.HottestKnown { // beyond, nothing is drawn
		end = w.reaches(drive.HottestKnown, length)
	}
	line := func(y func(metres float64) float64) []point {
		return scaled(samples(0, end*(1-1e-12), resolution, y), long, celsius)
	}
	chart := &chart{
		x:     axis{"way up the hill, " + long.unit, 0, length * 1.02 * long.factor},
		y:     axis{label: "temperature, " + celsius.unit},
		keyed: true,
		curves: []curve{
			{points: line(w.Winding), stroke: strokeOf(0), label: "winding"},
			{points: line(w.Rest), stroke: strokeOf(1), label: "rest of the motor"},
			{points: line(w.doubted(heatDoubt)), stroke: doubts, label: "rise 40 % more"},
			{points: line(w.doubted(-heatDoubt)), stroke: doubts, label: "rise 40 % less"},
		},
		rules: []rule{{at: celsius.of(limit), label: "limit: " + heatLimit(limit, celsius)}},
		marks: []mark{{point{end * long.factor, celsius.of(hot)}, disc, stroke{colour: ink}, heatText(hot, celsius)}},
	}
	chart.y.min = 0
	if cold := celsius.of(air); cold < 0 {
		chart.y.min = -roundUp(-cold)
	}
	chart.y.max = roundUp(celsius.of(math.Max(limit, math.Min(air+(1+heatDoubt)*(hot-air), drive.HottestKnown))) * 1.08)
	return &Figure{
		Title: "Heat of a motor on the hill", Of: s.drawn(), Summary: s.corner() + w.summary(long, celsius, length, limit, hot),
		width: figureWidth, height: figureHeight, paint: func(c draw.Canvas) { chart.draw(c) },
	}, nil
}

// summary tells the temperatures at the end of the hill, what they may be, and where
// the limit is passed.
func (w *warmth) summary(long, celsius measure, length, limit, hot float64) string {
	_, rest := w.At(length)
	air := w.Heating.Air
	low, high := air+(1-heatDoubt)*(hot-air), air+(1+heatDoubt)*(hot-air)
	out := fmt.Sprintf("After %s from cold the winding has %s", long.text(length), heatText(hot, celsius))
	if hot < drive.HottestKnown {
		out += fmt.Sprintf(" and the rest of the motor %s. The rise is good to ± 40 %%: the winding may have %s to %s.",
			heatText(rest, celsius), digits(celsius.of(low), 0)+" "+celsius.unit, heatText(math.Min(high, drive.HottestKnown), celsius))
	} else {
		out += ". The rise is good to ± 40 %."
	}
	switch {
	case hot <= limit && high <= limit:
		return out + fmt.Sprintf(" The limit is %s.", heatLimit(limit, celsius))
	case hot <= limit:
		return out + fmt.Sprintf(" The limit of %s is kept, but lies within that doubt.", heatLimit(limit, celsius))
	case air >= limit:
		return out + fmt.Sprintf(" The limit of %s is passed from the first.", heatLimit(limit, celsius))
	}
	return out + fmt.Sprintf(" The limit of %s is passed after %s.", heatLimit(limit, celsius), long.text(w.reaches(limit, length)))
}

// heatText is a temperature in words.
func heatText(x float64, in measure) string {
	if x >= drive.HottestKnown {
		return digits(in.of(drive.HottestKnown), 0) + " " + in.unit + " or more"
	}
	return digits(in.of(x), 0) + " " + in.unit
}

// heatLimit is a limit in words, with what stands behind its point.
func heatLimit(x float64, in measure) string { return digits(in.of(x), 1) + " " + in.unit }
