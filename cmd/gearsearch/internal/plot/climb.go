package plot

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg/draw"
)

// Climb draws the steepest grade against speed at three states of charge.
func Climb(s Subject) (*Figure, error) {
	b := s.Build
	if !b.ThrustKnown() {
		return nil, ErrThrust
	}
	speed := s.speed()
	percent := measure{unit: "%", factor: 100}
	list := s.charges()
	end, most := 0.0, 0.0
	for _, c := range list {
		balance, _ := c.board.BalanceSpeed()
		end = max(end, balance*1.02)
		most = max(most, c.board.ClimbLimit(0))
	}
	target := b.Problem.Brief.Target
	end = max(end, target.ClimbSpeed*1.2)
	chart := &chart{x: axis{"speed, " + speed.unit, 0, end * speed.factor}, y: axis{label: "steepest grade, %"}}
	for i, c := range list {
		var points []point
		for _, v := range withCorners(0, end, gradeCorners(&c, end)) {
			grade := c.board.ClimbLimit(v)
			if grade == 0 { // from here on it does not even hold the flat
				if balance, _ := c.board.BalanceSpeed(); balance > 0 {
					points = append(points, point{balance, 0})
				}
				break
			}
			points = append(points, point{v, grade})
		}
		chart.curves = append(chart.curves, curve{points: scaled(points, speed, percent), stroke: strokeOf(i), label: c.name()})
	}
	now := asked(list)
	limit := now.board.ClimbLimit(target.ClimbSpeed)
	summary := fmt.Sprintf("At %s the steepest grade at %s is %s %%.", now.name(), speed.text(target.ClimbSpeed), digits(limit*100, 1))
	chart.marks = append(chart.marks, mark{point{target.ClimbSpeed * speed.factor, limit * 100}, disc, stroke{colour: ink}, digits(limit*100, 1) + " %"})
	if b.Problem.Climbs() {
		most = max(most, target.ClimbGrade)
		asked := fmt.Sprintf("asked for: %s %%", digits(target.ClimbGrade*100, 1))
		chart.marks = append(chart.marks, mark{point{target.ClimbSpeed * speed.factor, target.ClimbGrade * 100}, cross, stroke{colour: ink}, asked})
		summary += fmt.Sprintf(" The brief asks for %s %%.", digits(target.ClimbGrade*100, 1))
	}
	chart.y.max = roundUp(most * 108)
	return &Figure{
		Title: "Steepest grade against speed", Of: s.drawn(), Summary: s.corner() + summary,
		width: figureWidth, height: figureHeight, paint: func(c draw.Canvas) { chart.draw(c) },
	}, nil
}

// gradeCorners are the speeds at which the steepest grade may have a corner:
// where the limits of the thrust hand over, grip aside, which has its own.
func gradeCorners(c *charge, end float64) []float64 {
	free := *c.board
	free.Hold.Drive = math.Inf(1)
	var out []float64
	for _, s := range stretches(&free, end) {
		out = append(out, s.to)
	}
	return out
}

// withCorners are speeds from low to high, evenly and the corners among them.
func withCorners(low, high float64, corners []float64) []float64 {
	var out []float64
	next := 0
	for i := range resolution + 1 {
		v := low + (high-low)*float64(i)/resolution
		for next < len(corners) && corners[next] < v {
			if corners[next] > low {
				out = append(out, corners[next])
			}
			next++
		}
		out = append(out, v)
	}
	return out
}
