package plot

import (
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// placer places names beside what they name: where they lie inside the axes,
// over no other name and no mark, and over as little of any line as can be.
type placer struct {
	canvas draw.Canvas
	taken  []vg.Rectangle // names and marks
	dots   []vg.Point     // lines, as points that are near each other
}

func newPlacer(canvas draw.Canvas) *placer { return &placer{canvas: canvas} }

// block keeps names off a rectangle.
func (l *placer) block(r vg.Rectangle) { l.taken = append(l.taken, r) }

// avoid keeps names off lines where it can.
func (l *placer) avoid(lines [][]vg.Point) {
	const every = 3 // points along the line
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			a, b := line[i-1], line[i]
			n := max(1, int(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))/every))
			for k := range n {
				l.dots = append(l.dots, a.Add(b.Sub(a).Scale(vg.Length(k)/vg.Length(n))))
			}
		}
		if len(line) > 0 {
			l.dots = append(l.dots, line[len(line)-1])
		}
	}
}

// Costs of a place, against each other: names over each other cannot be read,
// names over lines only badly, and the middle of a line is its best place.
const (
	overTaken  = 1000
	overDot    = 6
	offMiddle  = 8
	farther    = 4 // for each ring away from the anchor
	rings      = 4
	unreadable = overTaken // a name at this cost is left out
)

// sample is how long a piece of a curve stands before its name, and the room
// that it takes.
const (
	sampleLength = 16
	sampleRoom   = sampleLength + 4
)

// place writes a name beside one of the anchors, at a distance; before it a
// sample of the stroke, if there is one. Where there is no room it writes none.
func (l *placer) place(name string, style text.Style, anchors []vg.Point, distance vg.Length, sample *stroke) {
	const air = 2 // around a name
	width, height := style.Width(name), style.Height(name)
	if sample != nil {
		width += sampleRoom
	}
	best, cost := vg.Point{}, math.Inf(1)
	for i, at := range anchors {
		middle := math.Abs((float64(i)+0.5)/float64(len(anchors))-0.5) * offMiddle
		for step := range rings {
			for side, corner := range corners(at, distance+vg.Length(6*step), width, height) {
				r := vg.Rectangle{Min: corner.Sub(vg.Point{X: air, Y: 0}), Max: corner.Add(vg.Point{X: width + air, Y: height})}
				if !l.inside(r) {
					continue
				}
				if c := l.cost(r) + middle + farther*float64(step) + float64(side)/10; c < cost {
					best, cost = corner, c
				}
			}
		}
	}
	if cost >= unreadable {
		return
	}
	text := best
	if sample != nil {
		y := best.Y + height*0.4
		l.canvas.StrokeLine2(sample.line(), best.X, y, best.X+sampleLength, y)
		text.X += sampleRoom
	}
	l.canvas.FillText(style, text, name)
	l.block(vg.Rectangle{Min: best.Sub(vg.Point{X: air, Y: 0}), Max: best.Add(vg.Point{X: width + air, Y: height})})
}

// corners are the lower left corners of a name on all sides of an anchor.
func corners(at vg.Point, distance, width, height vg.Length) [8]vg.Point {
	return [8]vg.Point{
		{X: at.X + distance, Y: at.Y + distance/2},
		{X: at.X + distance, Y: at.Y - distance/2 - height},
		{X: at.X - distance - width, Y: at.Y + distance/2},
		{X: at.X - distance - width, Y: at.Y - distance/2 - height},
		{X: at.X - width/2, Y: at.Y + distance},
		{X: at.X - width/2, Y: at.Y - distance - height},
		{X: at.X + distance, Y: at.Y - height/2},
		{X: at.X - distance - width, Y: at.Y - height/2},
	}
}

// inside reports whether a rectangle lies inside the axes.
func (l *placer) inside(r vg.Rectangle) bool {
	return l.canvas.Contains(r.Min) && l.canvas.Contains(r.Max)
}

func (l *placer) cost(r vg.Rectangle) float64 {
	sum := 0.0
	for _, t := range l.taken {
		if r.Min.X < t.Max.X && t.Min.X < r.Max.X && r.Min.Y < t.Max.Y && t.Min.Y < r.Max.Y {
			sum += overTaken
		}
	}
	for _, d := range l.dots {
		if d.X > r.Min.X && d.X < r.Max.X && d.Y > r.Min.Y && d.Y < r.Max.Y {
			sum += overDot
		}
	}
	return sum
}
