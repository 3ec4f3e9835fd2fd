package plot

import (
	"fmt"
	"math"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/trace"
	"gearsearch/drive"
)

// summary tells the ride in words.
func (r *ride) summary() string {
	out := r.corner()
	if r.AtBest {
		out = "Drawn at the best of what is not known: at the worst the ride cannot be computed. "
	}
	whole := r.km.text(r.Way.Length())
	switch {
	case r.Stalled && len(r.Legs) == 0:
		return out + fmt.Sprintf("The board stalls at the start of the %s: there is no ride to draw.", whole)
	case r.Stalled:
		out += fmt.Sprintf("The board stalls after %s of %s, where the lines end.", r.km.text(r.Metres), whole)
	default:
		out += fmt.Sprintf("The board rides all %s, in %s min.", whole, digits(r.Seconds/60, 0))
	}
	out += r.slowWords() + r.unheldWords()
	reserve := digits(r.Build.Problem.Brief.Limit.Reserve*100, 1)
	left := digits(r.Left*100, 1)
	if r.Stalled {
		out += fmt.Sprintf(" There %s %% of the usable charge is left.", left)
	} else {
		out += fmt.Sprintf(" At its end %s %% of the usable charge is left; the reserve is %s %%.", left, reserve)
	}
	return out + r.heatWords() + r.stopWords()
}

// slowest is the slowest leg on which the wanted speed is not kept; nil: none.
func (r *ride) slowest() *trace.Leg {
	var out *trace.Leg
	for i := range r.Legs {
		if l := &r.Legs[i]; l.Slow() && (out == nil || l.Speed < out.Speed) {
			out = l
		}
	}
	return out
}

// slowWords tell where the board is slower than is wanted.
func (r *ride) slowWords() string {
	l := r.slowest()
	if l == nil {
		return " It keeps the wanted speed."
	}
	long := 0.0
	for i := range r.Legs {
		if r.Legs[i].Slow() {
			long += r.Legs[i].Length
		}
	}
	return fmt.Sprintf(" It is slower than wanted on %s, slowest with %s at %s.", r.m.whole(long), r.kmh.text(l.Speed), r.km.text(l.From))
}

// unheldWords tell where the motors do not hold the board.
func (r *ride) unheldWords() string {
	switch {
	case math.IsNaN(r.Unheld):
		return " Whether the motors hold it downhill is not known: that takes the pack's charge_a."
	case r.Unheld == 0:
		return " The motors hold it down every slope."
	}
	for i := range r.Legs {
		if l := &r.Legs[i]; l.Unheld {
			return fmt.Sprintf(" Downhill the motors do not hold it on %s, first at %s.", r.m.whole(r.Unheld), r.km.text(l.From))
		}
	}
	return ""
}

// heatWords tell how hot the windings get, and where.
func (r *ride) heatWords() string {
	if math.IsNaN(r.Winding) {
		return " The windings' temperature is not known: that takes the motor's mass_g, or the size of its can."
	}
	at, hot := r.hottest()
	limit := heatLimit(r.Build.Problem.Brief.Limit.WindingMax, r.celsius)
	rise := hot - r.Air
	return fmt.Sprintf(" The windings get to %s, at %s; the limit is %s. The rise is good to ± 40 %%: %s to %s.",
		heatText(hot, r.celsius), r.km.text(at), limit,
		heatText(r.Air+float64((1-heatDoubt)*rise), r.celsius), heatText(r.Air+float64((1+heatDoubt)*rise), r.celsius))
}

// stopWords count the stops.
func (r *ride) stopWords() string {
	n := 0
	for i := range r.Legs {
		if r.Legs[i].Stop {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return " There are " + layout.Counted(float64(n), "stop", "stops") + " on the route."
}

// hottest is where the windings are hottest, and how hot.
func (r *ride) hottest() (at, celsius float64) {
	celsius = r.Air
	for i := range r.Legs {
		l := &r.Legs[i]
		if math.IsNaN(l.Winding) {
			return l.To, drive.HottestKnown
		}
		if l.Winding > celsius {
			at, celsius = l.To, l.Winding
		}
	}
	return at, celsius
}

// whole is a value in SI with its unit, without decimals.
func (m measure) whole(si float64) string { return digits(m.of(si), 0) + " " + m.unit }
