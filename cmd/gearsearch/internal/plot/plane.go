package plot

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg/draw"

	"gearsearch/cmd/gearsearch/internal/cloud"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Named is a build to point out in a cloud.
type Named struct {
	Label string
	Build *constraints.Build
}

// Plane draws a cloud with its front and the builds to point out. of says
// whose builds they are.
func Plane(c *cloud.Cloud, of, currency string, system quantity.System, named ...Named) (*Figure, error) {
	if c.Count == 0 {
		return nil, fmt.Errorf("no feasible build has both figures, %s and %s", c.X.Name, c.Y.Name)
	}
	x, y := figureMeasure(c.X, currency, system), figureMeasure(c.Y, currency, system)
	ch := &chart{x: axis{label: axisName(c.X, x)}, y: axis{label: axisName(c.Y, y)}}
	front := scaled(pointsOf(c.Front), x, y)
	points := append(scaled(pointsOf(c.Points()), x, y), front...)
	slices.SortFunc(points, func(a, b point) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y)) })
	ch.x.min, ch.x.max = around(points, func(p point) float64 { return p.x })
	ch.y.min, ch.y.max = around(points, func(p point) float64 { return p.y })
	ch.cloud = points
	ch.curves = []curve{{points: staircase(front, c.X.Better), stroke: strokeOf(0), label: "front"}}
	const few = 24
	if len(c.Front) <= few {
		for _, p := range front {
			ch.marks = append(ch.marks, mark{p, box, strokeOf(0), ""})
		}
	}
	summary := fmt.Sprintf("%s, %d of them on the front that no other beats in both.", layout.Counted(float64(c.Count), "feasible build", "feasible builds"), len(c.Front))
	if c.Open > 0 {
		summary += fmt.Sprintf(" %s more are left out, of which one of the two is not known.", layout.Count(uint64(c.Open)))
	}
	for _, n := range named {
		p := point{c.X.Value(n.Build) * x.factor, c.Y.Value(n.Build) * y.factor}
		if math.IsNaN(p.x) || math.IsNaN(p.y) {
			continue
		}
		ch.widen(p)
		ch.marks = append(ch.marks, mark{p, disc, strokeOf(1), n.Label})
		summary += fmt.Sprintf(" %s: %s %s, %s %s.", n.Label, layout.Fixed(p.x, x.decimals), x.unit, layout.Fixed(p.y, y.decimals), y.unit)
	}
	return &Figure{
		Title: "Feasible builds: " + c.Y.Label + " against " + c.X.Label, Of: of, Summary: summary,
		width: figureWidth + 120, height: figureHeight + 40,
		paint: func(c draw.Canvas) { ch.draw(c) },
	}, nil
}

func pointsOf(list []cloud.Point) []point {
	var out []point
	for _, p := range list {
		out = append(out, point{p.X, p.Y})
	}
	return out
}

// staircase is the edge of what the front beats, by rising x.
func staircase(front []point, better constraints.Direction) []point {
	var out []point
	for i, p := range front {
		if i > 0 {
			last := front[i-1]
			corner := point{p.x, last.y} // less x is better: up to p the last one is the best
			if better == constraints.Greater {
				corner = point{last.x, p.y}
			}
			out = append(out, corner)
		}
		out = append(out, p)
	}
	return out
}

// around are the ends of an axis that holds all points with some air.
func around(points []point, at func(point) float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		low, high = math.Min(low, at(p)), math.Max(high, at(p))
	}
	air := 0.04 * (high - low)
	if air == 0 {
		air = math.Max(0.1*math.Abs(high), 1)
	}
	return low - air, high + air
}

// widen makes room for a point.
func (c *chart) widen(p point) {
	for _, a := range []struct {
		axis *axis
		at   float64
	}{{&c.x, p.x}, {&c.y, p.y}} {
		air := 0.04 * (a.axis.max - a.axis.min)
		a.axis.min, a.axis.max = math.Min(a.axis.min, a.at-air), math.Max(a.axis.max, a.at+air)
	}
}

// figureMeasure is how a figure is shown.
func figureMeasure(f constraints.Figure, currency string, system quantity.System) measure {
	if f.Unit == "price" {
		return measure{currency, 1, quantity.Decimals("price"), 0}
	}
	unit, factor := system.Show(f.Unit)
	return measure{unit, factor, quantity.Decimals(unit), 0}
}

// axisName is a figure with its unit and which way is better.
func axisName(f constraints.Figure, m measure) string {
	better := "more is better"
	if f.Better == constraints.Lesser {
		better = "less is better"
	}
	name := f.Label
	if m.unit != "" {
		name += ", " + m.unit
	}
	return name + " (" + better + ")"
}
