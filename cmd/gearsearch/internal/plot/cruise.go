package plot

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg/draw"
)

// slowest is the lowest cruise speed drawn, m/s: near standstill the current
// that a motor takes without load counts for ever more per distance.
const slowest = 5 / 3.6

// Cruise draws the energy per distance and the range against the cruise speed,
// from a pack at nominal volts.
func Cruise(s Subject) (*Figure, error) {
	b := s.Build
	target := b.Problem.Brief.Target
	speed := s.speed()
	each, far := s.measure("Wh/km", 1/3.6), s.measure("km", 0.001)
	top, _ := b.TopSpeed()
	if top <= slowest {
		return nil, errStands
	}
	need := func(v float64) float64 { return s.consumption(v) }
	reach := func(v float64) float64 { return b.Energy() * b.Problem.Brief.Limit.Usable / s.consumption(v) }
	use, distance := samples(slowest, top, resolution, need), samples(slowest, top, resolution, reach)
	if math.IsNaN(use[0].y) {
		return nil, ErrCruise
	}
	end := top * 1.04 * speed.factor
	upper := &chart{
		x:      axis{"cruise speed, " + speed.unit, 0, end},
		y:      axis{"energy, " + each.unit, 0, roundUp(highest(use) * each.factor * 1.05)},
		curves: []curve{{points: scaled(use, speed, each), stroke: strokeOf(0), label: "energy per distance"}},
	}
	charts := []*chart{upper}
	summary := fmt.Sprintf("At %s it takes %s, stops, ascent and wind included.", speed.text(target.Cruise), each.text(need(target.Cruise)))
	cruises := target.Cruise <= top && !math.IsNaN(need(target.Cruise))
	if cruises {
		upper.marks = []mark{{point{target.Cruise * speed.factor, need(target.Cruise) * each.factor}, disc, stroke{colour: ink}, each.text(need(target.Cruise))}}
	} else {
		summary = fmt.Sprintf("The cruise speed of %s is not reached.", speed.text(target.Cruise))
	}
	if !math.IsNaN(b.Energy()) {
		upper.bare = true
		lower := &chart{
			x:      axis{"cruise speed, " + speed.unit, 0, end},
			y:      axis{"range, " + far.unit, 0, roundUp(math.Max(highest(distance), orZero(target.Range)) * far.factor * 1.05)},
			curves: []curve{{points: scaled(distance, speed, far), stroke: strokeOf(1), label: "range"}},
		}
		if cruises {
			lower.marks = []mark{{point{target.Cruise * speed.factor, reach(target.Cruise) * far.factor}, disc, stroke{colour: ink}, far.text(reach(target.Cruise))}}
			summary += fmt.Sprintf(" The usable energy gives %s.", far.text(reach(target.Cruise)))
		}
		if !math.IsNaN(target.Range) {
			lower.rules = []rule{{at: target.Range * far.factor, label: "asked for: " + far.text(target.Range)}}
			summary += fmt.Sprintf(" The brief asks for %s.", far.text(target.Range))
		}
		charts = append(charts, lower)
	}
	return &Figure{
		Title: "Energy and range against cruise speed", Of: s.drawn(), Summary: s.corner() + summary,
		width: figureWidth, height: figureHeight + 60, paint: func(c draw.Canvas) { stacked(c, charts) },
	}, nil
}

// consumption is the energy per distance of the ride at a cruise speed, J/m; NaN where it cannot be held.
func (s Subject) consumption(v float64) float64 {
	b := s.Build
	ride := b.Journey()
	ride.Speed = v
	r, ok := b.Board().Ride(ride, b.Battery.Pack.Nominal)
	if !ok {
		return math.NaN()
	}
	return r.EnergyPerMetre * b.Problem.Brief.Limit.RideFactor
}

// stacked draws charts over each other, their x axes in line.
func stacked(into draw.Canvas, charts []*chart) {
	plots := make([][]*plot.Plot, len(charts))
	for i, c := range charts {
		plots[i] = []*plot.Plot{c.plot()}
	}
	tiles := draw.Tiles{Cols: 1, Rows: len(charts), PadTop: yStrip, PadY: yStrip + 6, PadLeft: margin, PadRight: margin, PadBottom: 1}
	for i, row := range plot.Align(plots, tiles, into) {
		charts[i].over(row[0])
		plots[i][0].Draw(row[0])
	}
}

// highest is the greatest y that is a number.
func highest(points []point) float64 {
	most := 0.0
	for _, p := range points {
		if p.y > most {
			most = p.y
		}
	}
	return most
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
