package plot

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg/draw"

	"gearsearch/cmd/gearsearch/internal/trace"
	"gearsearch/drive"
)

// The size of a figure with one pair of axes.
const (
	figureWidth  = 440
	figureHeight = 300
)

// resolution is into how many pieces a curve is cut between its corners, which
// are kept: so many that it looks smooth at these sizes.
const resolution = 120

// loads are the strokes of what the road asks for.
var loads = []stroke{
	{ink, nil, 1.2},
	{ink, dashes[3], 1.2},
}

// Thrust draws the thrust against speed at three states of charge, with what
// the flat and the target grade take, what limits the thrust along the charge
// that the brief asks for, and the top speed.
func Thrust(s Subject) (*Figure, error) {
	b := s.Build
	if !b.ThrustKnown() {
		return nil, ErrThrust
	}
	speed, force := s.speed(), s.force()
	list := s.charges()
	end, most := 0.0, 0.0
	for _, c := range list {
		end = max(end, trace.End(c.board, c.volts, b.Problem.Brief.Target.ClimbSpeed))
		most = max(most, trace.OnRoad(c.board, 0))
	}
	chart := &chart{x: axis{"speed, " + speed.unit, 0, end * speed.factor}, y: axis{label: "thrust of all driven wheels, " + force.unit}}
	for i, c := range list {
		chart.curves = append(chart.curves, curve{
			points: scaled(thrustPoints(c.board, end), speed, force),
			stroke: strokeOf(i), label: c.name(),
		})
	}
	chart.loads(s, end)
	if b.Problem.Climbs() {
		most = max(most, b.ClimbNeed())
	}
	held := b.Board().GripThrust(0)
	if held <= nearby*most {
		most = max(most, held)
		chart.rules = append(chart.rules, rule{at: held * force.factor, label: heldWord(b.Board()) + " from " + force.text(held)})
	}
	chart.y.max = roundUp(most * 1.08 * force.factor)
	now := asked(list)
	words := chart.limits(now.board, end, speed, force)
	top, by := b.TopSpeed()
	if top > 0 {
		chart.marks = append(chart.marks, mark{point{top * speed.factor, now.board.Load(top, 0) * force.factor}, disc, stroke{colour: ink}, "top " + speed.text(top)})
	}
	if c := s.ceiling(); c < end {
		chart.rules = append(chart.rules, rule{c * speed.factor, true, "rpm ceiling"})
	}
	summary := fmt.Sprintf("At %s the top speed on the flat is %s, limited by %s. From standstill up the thrust is limited by %s.",
		now.name(), speed.text(top), limitWord(by), strings.Join(words, ", then "))
	summary += fmt.Sprintf(" On the flat the %s from %s.", heldWord(b.Board()), force.text(held))
	if b.Problem.Climbs() {
		summary += fmt.Sprintf(" The target grade takes %s at %s; there are %s.",
			force.text(b.ClimbNeed()), speed.text(b.Problem.Brief.Target.ClimbSpeed), force.text(b.GrippedClimbThrust()))
	}
	return &Figure{
		Title: "Thrust against speed", Of: s.drawn(), Summary: s.corner() + summary,
		width: figureWidth, height: figureHeight,
		paint: func(c draw.Canvas) { chart.draw(c) },
	}, nil
}

// nearby is up to how many times the greatest thrust the limit of the wheels is
// drawn: one far above would press the curves flat.
const nearby = 1.5

// heldWord says what becomes of a board from the greatest thrust that its driven
// wheels hold.
func heldWord(b *drive.Board) string {
	if b.Hold.By == drive.Lift {
		return "front axle lifts"
	}
	return "driven wheels slip"
}

// loads adds what the flat and the target grade take, and the climb that is
// asked for.
func (c *chart) loads(s Subject, end float64) {
	b := s.Build
	speed, force := s.speed(), s.force()
	board := b.Board()
	add := func(name string, theta float64, k stroke) {
		c.curves = append(c.curves, curve{
			points: samples(0, end*speed.factor, resolution, func(x float64) float64 {
				return board.Load(x/speed.factor, theta) * force.factor
			}),
			stroke: k, label: name,
		})
	}
	add("load on the flat", 0, loads[0])
	if b.Problem.Climbs() && b.Problem.Theta != 0 {
		grade := b.Problem.Brief.Target.ClimbGrade * 100
		add("load on "+digits(grade, 1)+" %", b.Problem.Theta, loads[1])
	}
	if b.Problem.Climbs() {
		at := b.Problem.Brief.Target.ClimbSpeed
		c.marks = append(c.marks, mark{point{at * speed.factor, b.ClimbNeed() * force.factor}, cross, stroke{colour: ink}, "asked for: " + speed.text(at)})
	}
}

// limits names the limits along the thrust of a board and marks where one
// hands over to another. It returns the names, in order.
func (c *chart) limits(b *drive.Board, end float64, speed, force measure) []string {
	var words []string
	list := stretches(b, end)
	for i, s := range list {
		words = append(words, limitWord(s.by))
		points := scaled(samples(s.from, s.to, 60, func(v float64) float64 { return trace.OnRoad(b, v) }), speed, force)
		c.curves = append(c.curves, curve{points: points, label: "limited by " + limitWord(s.by), hidden: true})
		if i+1 < len(list) {
			c.marks = append(c.marks, mark{points[len(points)-1], tick, stroke{colour: ink}, ""})
		}
	}
	return words
}

// stretch is a range of speeds in which one limit binds.
type stretch struct {
	by       drive.Limit
	from, to float64 // m/s
}

// stretches are the limits of a board's thrust on the flat, from standstill to
// end or to where there is no thrust left.
func stretches(b *drive.Board, end float64) []stretch {
	if v := lastThrust(b); v < end {
		end = v
	}
	var out []stretch
	for from := 0.0; from < end; {
		s := stretch{b.ThrustLimit(from*(1+1e-9), 0), from, end}
		for _, p := range samples(from, end, resolution, func(v float64) float64 { return float64(b.ThrustLimit(v*(1+1e-9), 0)) }) {
			if drive.Limit(p.y) != s.by {
				s.to = handover(b, s.by, from, p.x)
				break
			}
		}
		out = append(out, s)
		from = s.to
	}
	return out
}

// handover is the speed between from and to up to which a limit binds, by
// halving.
func handover(b *drive.Board, by drive.Limit, from, to float64) float64 {
	for range 60 {
		if middle := (from + to) / 2; b.ThrustLimit(middle, 0) == by {
			from = middle
		} else {
			to = middle
		}
	}
	return to
}

// lastThrust is the speed from which a board has no thrust.
func lastThrust(b *drive.Board) float64 {
	low, high := 0.0, b.FreeSpeed(b.Pack.Volts)
	for range 60 {
		if middle := (low + high) / 2; b.Thrust(middle) > 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// thrustPoints are points of the thrust up to where there is none or to end,
// the corners among them.
func thrustPoints(b *drive.Board, end float64) []point {
	var out []point
	for _, s := range stretches(b, end) {
		n := max(2, int(math.Ceil(resolution*(s.to-s.from)/end)))
		out = append(out, samples(s.from, s.to, n, func(v float64) float64 { return trace.OnRoad(b, v) })...)
	}
	return out
}

// scaled are points in the units of a figure.
func scaled(points []point, x, y measure) []point {
	out := make([]point, len(points))
	for i, p := range points {
		out[i] = point{x.of(p.x), y.of(p.y)}
	}
	return out
}
