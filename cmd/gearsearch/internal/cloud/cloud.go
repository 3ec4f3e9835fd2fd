// Package cloud gathers builds as points in the plane of two figures, to be drawn.
package cloud

import (
	"cmp"
	"math"
	"slices"

	"gearsearch/constraints"
)

// Cloud gathers builds as points in the plane of two figures, as many as there
// are in memory that does not grow with their number: points that lie within
// the width of a line count as one. The front is exact.
type Cloud struct {
	X, Y  constraints.Figure
	Count int     // of builds
	Open  int     // of builds left out, of which a figure is not known
	Front []Point // that no other beats, by rising x
	cells map[[2]int64]Point
}

// Point is a build in the plane of two figures, in the figures' units.
type Point struct{ X, Y float64 }

// New is an empty cloud. Both figures must have a better direction.
func New(x, y constraints.Figure) *Cloud {
	return &Cloud{X: x, Y: y, cells: map[[2]int64]Point{}}
}

// Add adds a build; one of which either figure is not known is left out.
func (c *Cloud) Add(b *constraints.Build) { c.Put(c.Of(b)) }

// Of is where a build is; NaN where a figure is not known.
func (c *Cloud) Of(b *constraints.Build) Point { return Point{c.X.Value(b), c.Y.Value(b)} }

// Put is Add of a build by where it is.
func (c *Cloud) Put(p Point) {
	if math.IsNaN(p.X) || math.IsNaN(p.Y) {
		c.Open++
		return
	}
	c.Count++
	key := [2]int64{coarse(p.X), coarse(p.Y)}
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
func (c *Cloud) beat(p Point) {
	beats := func(a, b Point) bool {
		x, y := float64(c.X.Better)*(a.X-b.X), float64(c.Y.Better)*(a.Y-b.Y)
		return x >= 0 && y >= 0
	}
	for _, q := range c.Front {
		if beats(q, p) { // an equal point, too
			return
		}
	}
	c.Front = slices.DeleteFunc(c.Front, func(q Point) bool { return beats(p, q) })
	i, _ := slices.BinarySearchFunc(c.Front, p, func(a, b Point) int { return cmp.Compare(a.X, b.X) })
	c.Front = slices.Insert(c.Front, i, p)
}

// Points are the points of the cloud by rising x, then y: of those that lie
// within the width of a line one.
func (c *Cloud) Points() []Point {
	var out []Point
	for _, p := range c.cells {
		out = append(out, p)
	}
	slices.SortFunc(out, func(a, b Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	return out
}
