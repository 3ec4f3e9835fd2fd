package plot

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg/draw"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// ErrStop says that a figure cannot be drawn since nothing is known of stops.
var ErrStop = errors.New("no stop of this build can be computed: nothing brakes it, not even the road")

// stopWords name the shares of the charge at which stops are drawn, in the order of
// their curves.
var stopWords = []struct {
	word   string
	charge float64
}{{"full", 1}, {"90 %", 0.9}, {"half", 0.5}}

// stopping is a stop at one charge.
type stopping struct {
	word string
	constraints.Stop
	board *drive.Board
	from  float64 // m/s
}

// metres are the metres from which the speed is v on: what the whole stop takes
// less what is left of it.
func (s *stopping) metres(v float64) float64 {
	left, _ := s.board.StoppingDistance(v, s.Intake)
	return math.Max(0, s.Long-left)
}

// known reports whether the stop is told, and has an end.
func (s *stopping) known() bool { return !math.IsNaN(s.Long) && !math.IsInf(s.Long, 1) }

// handover is the speed from which on down grip or current limits the braking in
// place of the pack; ok is false where the pack never does.
func (s *stopping) handover() (v float64, ok bool) {
	if s.Coasts() || s.By != drive.BatteryCurrent {
		return 0, false
	}
	low, high := 0.0, s.from
	for range 60 {
		middle := (low + high) / 2
		if _, by := s.board.StoppingDistance(middle, s.Intake); by == drive.BatteryCurrent {
			high = middle
		} else {
			low = middle
		}
	}
	return high, true
}

// points are the stop as points of metres and speeds, the handover among them.
func (s *stopping) points() []point {
	var corners []float64
	if v, ok := s.handover(); ok {
		corners = append(corners, v)
	}
	var out []point
	for _, v := range withCorners(0, s.from, corners) {
		out = append(out, point{s.metres(v), v})
	}
	slices.Reverse(out)
	return out
}

// rolled are the points of rolling out: more of them, as most may be cut off.
func (s *stopping) rolled() []point {
	const finer = 4
	out := samples(0, s.from, finer*resolution, s.metres)
	for i, p := range out {
		out[i] = point{p.y, p.x}
	}
	slices.Reverse(out)
	return out
}

// stops are the stops at all charges.
func (s Subject) stops() []stopping {
	var out []stopping
	for _, w := range stopWords {
		out = append(out, stopping{w.word, s.Build.Stop(w.charge), s.Build.Board(), s.Build.Problem.Brief.Target.StopFrom})
	}
	return out
}

// brakeWord is what limits the braking, in words.
func brakeWord(by drive.Limit) string {
	if by == drive.BatteryCurrent {
		return "what the pack takes"
	}
	return limitWord(by)
}

// Stop draws the speed against the distance of stops on the flat by the motors alone,
// from the brief's speed, at full, 90 % and half charge. A pack that takes nothing
// does not stop the board: it rolls out, and its curve says so.
func Stop(s Subject) (*Figure, error) {
	list := s.stops()
	speed, long := s.speed(), s.measure("m", 1)
	target := s.Build.Problem.Brief.Target
	chart := &chart{
		x: axis{label: "distance, " + long.unit},
		y: axis{"speed, " + speed.unit, 0, roundUp(target.StopFrom * 1.15 * speed.factor)},
	}
	braked, rolled := orZero(target.Stop), 0.0
	words := []string{fmt.Sprintf("From %s on the flat, by the motors alone.", speed.text(target.StopFrom))}
	var rolling []string // the charges at which the board only rolls out
	for i, stop := range list {
		switch {
		case math.IsNaN(stop.Long):
			words = append(words, fmt.Sprintf("At %s charge it is not known: it takes the pack's charge_a and a limit of the motors' current.", stop.word))
		case stop.Coasts():
			rolling = append(rolling, stop.word)
			if rolled = stop.Long; stop.known() && len(rolling) == 1 {
				chart.curves = append(chart.curves, curve{points: scaled(stop.rolled(), long, speed), stroke: strokeOf(i)})
			}
		case !stop.known():
			words = append(words, fmt.Sprintf("At %s charge nothing stops it.", stop.word))
		default:
			braked = math.Max(braked, stop.Long)
			chart.stop(&stop, strokeOf(i), long, speed)
			words = append(words, stop.told(long))
		}
	}
	if rolling != nil {
		takes := rollsOut(rolling, rolled, long)
		if !math.IsInf(rolled, 1) {
			chart.curves[0].label = takes // the full pack's is the first
		}
		words = append(words, strings.ToUpper(takes[:1])+takes[1:]+", without electric braking.")
	}
	if len(chart.curves) == 0 {
		return nil, ErrStop
	}
	if !math.IsNaN(target.Stop) {
		chart.marks = append(chart.marks, mark{point{target.Stop * long.factor, 0}, cross, stroke{colour: ink}, "asked for: " + long.text(target.Stop)})
		words = append(words, fmt.Sprintf("The brief asks for %s at 90 %% charge.", long.text(target.Stop)))
	}
	chart.x.max = rolled * 1.04 * long.factor
	if braked > 0 { // what rolls out is cut off, so that the stops can be read
		chart.x.max = roundUp(braked * 1.5 * long.factor)
	}
	return &Figure{
		Title: "Speed against distance of a stop", Of: s.drawn(), Summary: s.corner() + strings.Join(words, " "),
		width: figureWidth, height: figureHeight, paint: func(c draw.Canvas) { chart.draw(c) },
	}, nil
}

// rollsOut says that the pack takes nothing at some charges.
func rollsOut(charges []string, metres float64, long measure) string {
	takes := "takes"
	if len(charges) > 1 {
		takes = "each takes"
	}
	out := strings.Join(charges, ", ") + ": " + takes + " nothing; "
	if math.IsInf(metres, 1) {
		return out + "rolls on without end"
	}
	return out + "rolls out in " + digits(metres*long.factor, 0) + " " + long.unit
}

// told is a stop in a sentence.
func (s *stopping) told(long measure) string {
	limits := brakeWord(s.By)
	if _, ok := s.handover(); ok {
		_, by := s.board.StoppingDistance(0, s.Intake)
		limits += ", then by " + brakeWord(by)
	}
	return fmt.Sprintf("At %s charge it stops in %s, limited by %s.", s.word, long.text(s.Long), limits)
}

// stop adds a stop with what limits it.
func (c *chart) stop(s *stopping, k stroke, long, speed measure) {
	points := scaled(s.points(), long, speed)
	c.curves = append(c.curves, curve{points: points, stroke: k, label: s.word + ": " + long.text(s.Long)})
	v, ok := s.handover()
	if !ok {
		c.curves = append(c.curves, curve{points: points, label: "limited by " + brakeWord(s.By), hidden: true})
		return
	}
	_, below := s.board.StoppingDistance(0, s.Intake)
	for i, p := range points {
		if p.y <= v*speed.factor*(1+1e-12) {
			c.marks = append(c.marks, mark{p, tick, stroke{colour: ink}, ""})
			c.curves = append(c.curves,
				curve{points: points[:i+1], label: "limited by " + brakeWord(s.By), hidden: true},
				curve{points: points[i:], label: "limited by " + brakeWord(below), hidden: true})
			return
		}
	}
}
