package plot

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg/draw"
)

// launchShare is the share of the top speed up to which a launch is drawn: the
// rest takes for ever.
const launchShare = 0.97

// Launch draws the speed against time from standstill on the flat, at three
// states of charge.
func Launch(s Subject) (*Figure, error) {
	b := s.Build
	if !b.ThrustKnown() {
		return nil, ErrThrust
	}
	speed, second := s.speed(), measure{"s", 1, 1, 0}
	list := s.charges()
	chart := &chart{x: axis{label: "time, s"}, y: axis{label: "speed, " + speed.unit}}
	fastest, end := 0.0, 0.0
	for i, c := range list {
		top, _ := c.board.TopSpeed(s.ceiling())
		points := []point{{0, 0}}
		for _, p := range samples(0, launchShare*top, resolution, func(v float64) float64 { return seconds(&c, v, top) })[1:] {
			points = append(points, point{p.y, p.x})
		}
		fastest = max(fastest, top)
		if c.asked {
			end = points[len(points)-1].x
		}
		chart.curves = append(chart.curves, curve{points: scaled(points, second, speed), stroke: strokeOf(i), label: c.name()})
	}
	target := b.Problem.Brief.Target
	now := asked(list)
	top, _ := b.TopSpeed()
	summary := fmt.Sprintf("At %s the top speed of %s is nearly reached after %s s.", now.name(), speed.text(top), digits(end, 1))
	if to := target.LaunchSpeed; !math.IsNaN(to) {
		if !math.IsNaN(target.LaunchTime) {
			end = max(end, target.LaunchTime*1.1)
			chart.marks = append(chart.marks, mark{point{target.LaunchTime, to * speed.factor}, cross, stroke{colour: ink}, "asked for: " + digits(target.LaunchTime, 2) + " s"})
			summary += fmt.Sprintf(" The brief asks for %s after %s s.", speed.text(to), digits(target.LaunchTime, 2))
		}
		if t := b.Launch(); !math.IsNaN(t) {
			chart.marks = append(chart.marks, mark{point{t, to * speed.factor}, disc, stroke{colour: ink}, digits(t, 2) + " s"})
			summary += fmt.Sprintf(" %s are reached after %s s.", speed.text(to), digits(t, 2))
		}
	}
	if !(end > 0) {
		return nil, errStands
	}
	chart.x.max = end
	chart.y.max = roundUp(fastest * 1.05 * speed.factor)
	return &Figure{
		Title: "Speed against time from standstill", Of: s.drawn(), Summary: s.corner() + summary,
		width: figureWidth, height: figureHeight, paint: func(c draw.Canvas) { chart.draw(c) },
	}, nil
}

// seconds is the time from rest to a speed, NaN where it is not reached.
func seconds(c *charge, v, top float64) float64 {
	if t, ok := c.board.LaunchTime(v, top); ok {
		return t
	}
	return math.NaN()
}
