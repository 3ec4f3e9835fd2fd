package plot

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg/draw"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Cloud gathers builds as points in the plane of two figures, as many as there
// are in memory that does not grow with their number: points that lie within
// the width of a line count as one. The front is exact.
type Cloud struct {
	X, Y  constraints.Figure
	count int // of builds
	open  int // of builds left out, of which a figure is not known
	cells map[[2]int64]point
	front []point // that no other beats, by rising x
}

// NewCloud is an empty cloud. Both figures must have a better direction.
func NewCloud(x, y constraints.Figure) *Cloud {
	return &Cloud{X: x, Y: y, cells: map[[2]int64]point{}}
}

// Add adds a build; one of which either figure is not known is left out.
func (c *Cloud) Add(b *constraints.Build) {
	p := point{c.X.Value(b), c.Y.Value(b)}
	if math.IsNaN(p.x) || math.IsNaN(p.y) {
		c.open++
		return
	}
	c.count++
	key := [2]int64{coarse(p.x), coarse(p.y)}
	if _, ok := c.cells[key]; !ok {
		c.cells[key] = p
	}
	c.beat(p)
}

// coarse numbers values so that those within about half a percent, of values
// of any size, have one number.
func coarse(x float64) int64 {
	const levels = 400 // for each power of e
	switch {
	case x > 0:
		return int64(math.Round(levels*math.Log(x))) + 1<<40
	case x < 0:
		return -int64(math.Round(levels*math.Log(-x))) - 1<<40
	}
	return 0
}

// beat takes a point into the front if no point there beats it, and takes out
// those that it beats.
func (c *Cloud) beat(p point) {
	beats := func(a, b point) bool {
		x, y := float64(c.X.Better)*(a.x-b.x), float64(c.Y.Better)*(a.y-b.y)
		return x >= 0 && y >= 0
	}
	for _, q := range c.front {
		if beats(q, p) { // an equal point, too
			return
		}
	}
	c.front = slices.DeleteFunc(c.front, func(q point) bool { return beats(p, q) })
	i, _ := slices.BinarySearchFunc(c.front, p, func(a, b point) int { return cmp.Compare(a.x, b.x) })
	c.front = slices.Insert(c.front, i, p)
}

// Named is a build to point out in a cloud.
type Named struct {
	Label string
	Build *constraints.Build
}

// Plane draws a cloud with its front and the builds to point out. of says
// whose builds they are.
func (c *Cloud) Plane(of, currency string, system quantity.System, named ...Named) (*Figure, error) {
	if c.count == 0 {
		return nil, fmt.Errorf("no feasible build has both figures, %s and %s", c.X.Name, c.Y.Name)
	}
	x, y := figureMeasure(c.X, currency, system), figureMeasure(c.Y, currency, system)
	ch := &chart{x: axis{label: axisName(c.X, x)}, y: axis{label: axisName(c.Y, y)}}
	var points []point
	for _, p := range c.cells {
		points = append(points, p)
	}
	points = append(scaled(points, x, y), scaled(c.front, x, y)...)
	slices.SortFunc(points, func(a, b point) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y)) })
	ch.x.min, ch.x.max = around(points, func(p point) float64 { return p.x })
	ch.y.min, ch.y.max = around(points, func(p point) float64 { return p.y })
	ch.cloud = points
	ch.curves = []curve{{points: staircase(scaled(c.front, x, y), c.X.Better), stroke: strokeOf(0), label: "front"}}
	const few = 24
	if len(c.front) <= few {
		for _, p := range scaled(c.front, x, y) {
			ch.marks = append(ch.marks, mark{p, box, strokeOf(0), ""})
		}
	}
	summary := fmt.Sprintf("%s, %d of them on the front that no other beats in both.", layout.Counted(float64(c.count), "feasible build", "feasible builds"), len(c.front))
	if c.open > 0 {
		summary += fmt.Sprintf(" %s more are left out, of which one of the two is not known.", layout.Count(uint64(c.open)))
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
