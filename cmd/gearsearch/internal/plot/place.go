package plot

import (
	"math"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// placer places names beside what they name: inside the axes, over no other name and
// no mark, and off every line and dot as long as there is room for that anywhere. A
// name that stands away from what it names has a leader to it.
type placer struct {
	canvas draw.Canvas
	taken  []vg.Rectangle // names and marks
	lines  [][2]vg.Point  // pieces of lines
	dots   []vg.Point     // of a cloud
	named  []namedCurve
}

// namedCurve is a curve that has its name.
type namedCurve struct {
	room  vg.Rectangle // of the name
	along []vg.Point
}

func newPlacer(canvas draw.Canvas) *placer { return &placer{canvas: canvas} }

// block keeps names off a rectangle.
func (l *placer) block(r vg.Rectangle) { l.taken = append(l.taken, r) }

// avoid keeps names off lines where it can.
func (l *placer) avoid(lines [][]vg.Point) {
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			l.lines = append(l.lines, [2]vg.Point{line[i-1], line[i]})
		}
	}
}

// Costs of a place, against each other: names over each other cannot be read,
// names over lines only badly, and the middle of a line is its best place.
const (
	overTaken  = 1000
	overLine   = 20
	offMiddle  = 8
	farther    = 4 // for each ring away from the anchor
	beyond     = 6 // for each line between the name and the anchor
	disordered = 8 // for each name that stands in another order than its curve
	rings      = 4
	unreadable = overTaken // a name at this cost is left out
)

// sample is how long a piece of a curve stands before its name, and the room
// that it takes.
const (
	sampleLength = 16
	sampleRoom   = sampleLength + 4
)

// air is kept around a name.
const air = 2

// spot is a place for a name.
type spot struct {
	corner vg.Point // the lower left
	anchor vg.Point
	cost   float64
	led    bool // with a leader
}

// place writes a name beside one of the anchors, at a distance; before it a
// sample of the stroke, if there is one. Where there is no room it writes none.
func (l *placer) place(name string, style text.Style, anchors []vg.Point, distance vg.Length, sample *stroke) {
	size := vg.Point{X: style.Width(name), Y: style.Height(name)}
	if sample != nil {
		size.X += sampleRoom
	}
	best := l.near(size, anchors, distance, sample != nil)
	if best.cost >= overLine {
		if far := l.far(size, anchors, sample != nil); far.cost < overLine || best.cost >= unreadable && far.cost < best.cost {
			best = far
		}
	}
	if best.cost >= unreadable {
		return
	}
	if best.led && sample == nil {
		l.lead(best, size)
	}
	text := best.corner
	if sample != nil {
		y := text.Y + size.Y*0.4
		l.canvas.StrokeLine2(sample.line(), text.X, y, text.X+sampleLength, y)
		text.X += sampleRoom
	}
	l.canvas.FillText(style, text, name)
	l.block(roomOf(best.corner, size))
	if sample != nil {
		l.named = append(l.named, namedCurve{roomOf(best.corner, size), anchors})
	}
}

// near is the best place for a name of a size right beside one of the anchors.
func (l *placer) near(size vg.Point, anchors []vg.Point, distance vg.Length, sampled bool) spot {
	best := spot{cost: math.Inf(1)}
	for i, at := range anchors {
		middle := math.Abs((float64(i)+0.5)/float64(len(anchors))-0.5) * offMiddle
		for step := range rings {
			for side, corner := range corners(at, distance+vg.Length(6*step), size.X, size.Y) {
				r := roomOf(corner, size)
				if !l.inside(r) {
					continue
				}
				c := l.cost(r) + middle + farther*float64(step) + float64(side)/10
				if c < best.cost {
					c += beyond * float64(l.between(leader(r, at)))
				}
				if sampled && c < best.cost {
					c += disordered * float64(l.disorder(r, anchors))
				}
				if c < best.cost {
					best = spot{corner: corner, anchor: at, cost: c}
				}
			}
		}
	}
	return best
}

// far is the clear place for a name of a size that is nearest to an anchor, with a
// leader that runs through no other name, unless the name has a sample of its curve.
// Of many anchors those near the ends are left out, where one curve meets the next.
func (l *placer) far(size vg.Point, anchors []vg.Point, sampled bool) spot {
	const step = 4
	const aside = 5 // of a line between: as much as so many steps
	inner := anchors[len(anchors)/4 : len(anchors)-len(anchors)/4]
	best := spot{cost: math.Inf(1), led: true}
	long := vg.Length(math.Inf(1))
	for x := l.canvas.Min.X + air; x+size.X+air <= l.canvas.Max.X; x += step {
		for y := l.canvas.Min.Y + air; y+size.Y <= l.canvas.Max.Y; y += step {
			corner := vg.Point{X: x, Y: y}
			r := roomOf(corner, size)
			at, length := nearestTo(r, inner)
			if length >= long || l.cost(r) > 0 || !sampled && l.covered(leader(r, at)) {
				continue
			}
			if length += aside * step * vg.Length(l.between(leader(r, at))); length >= long {
				continue
			}
			if sampled && l.disorder(r, anchors) > 0 {
				continue
			}
			long = length
			best.corner, best.anchor, best.cost = corner, at, 0
		}
	}
	return best
}

// nearestTo is the anchor that is nearest to a rectangle, and how far it is.
func nearestTo(r vg.Rectangle, anchors []vg.Point) (at vg.Point, length vg.Length) {
	length = vg.Length(math.Inf(1))
	for _, a := range anchors {
		line := leader(r, a)
		if d := vg.Length(math.Hypot(float64(line[1].X-line[0].X), float64(line[1].Y-line[0].Y))); d < length {
			at, length = a, d
		}
	}
	return at, length
}

// leader is the line from a rectangle to a point.
func leader(r vg.Rectangle, to vg.Point) [2]vg.Point {
	return [2]vg.Point{{X: min(max(to.X, r.Min.X), r.Max.X), Y: min(max(to.Y, r.Min.Y), r.Max.Y)}, to}
}

// disorder counts the curves that have their names above a place, in the same
// columns, and run below the curve whose name is to stand there, or the other way
// about.
func (l *placer) disorder(r vg.Rectangle, along []vg.Point) int {
	const alike = 3 // curves that are nearer have no order
	n := 0
	for _, other := range l.named {
		left, right := max(r.Min.X, other.room.Min.X), min(r.Max.X, other.room.Max.X)
		if left >= right {
			continue
		}
		x := (left + right) / 2
		apart := heightAt(along, x) - heightAt(other.along, x)
		if (apart > alike || apart < -alike) && (apart > 0) != (r.Min.Y > other.room.Min.Y) {
			n++
		}
	}
	return n
}

// heightAt is the height of a curve at the point whose x is nearest.
func heightAt(along []vg.Point, x vg.Length) vg.Length {
	best := along[0]
	for _, p := range along {
		if math.Abs(float64(p.X-x)) < math.Abs(float64(best.X-x)) {
			best = p
		}
	}
	return best.Y
}

// How far from its end a leader is drawn at a mark, and how far it is looked at:
// there it touches what it leads to.
const (
	offMark = 5
	offLine = 1.5
)

// shortened is a leader without its end; ok is false where nothing is left of it.
func shortened(line [2]vg.Point, short vg.Length) (left [2]vg.Point, ok bool) {
	way := line[1].Sub(line[0])
	long := vg.Length(math.Hypot(float64(way.X), float64(way.Y)))
	if long <= short {
		return line, false
	}
	return [2]vg.Point{line[0], line[1].Sub(way.Scale(short / long))}, true
}

// between is how many lines a leader crosses before it ends.
func (l *placer) between(line [2]vg.Point) int {
	line, ok := shortened(line, offLine)
	if !ok {
		return 0
	}
	side := func(a, b, p vg.Point) bool { return (b.X-a.X)*(p.Y-a.Y) > (b.Y-a.Y)*(p.X-a.X) }
	n := 0
	for _, other := range l.lines {
		a, b := other[0], other[1]
		if side(a, b, line[0]) != side(a, b, line[1]) && side(line[0], line[1], a) != side(line[0], line[1], b) {
			n++
		}
	}
	return n
}

// covered reports whether a leader runs through a name or a mark, but for the mark
// that it leads to.
func (l *placer) covered(line [2]vg.Point) bool {
	for _, t := range l.taken {
		if !holds(t, line[1]) && cuts(line, t) {
			return true
		}
	}
	return false
}

// marked reports whether a mark stands at a point.
func (l *placer) marked(at vg.Point) bool {
	return slices.ContainsFunc(l.taken, func(r vg.Rectangle) bool { return holds(r, at) })
}

// holds reports whether a point is inside a rectangle.
func holds(r vg.Rectangle, at vg.Point) bool {
	return r.Min.X < at.X && at.X < r.Max.X && r.Min.Y < at.Y && at.Y < r.Max.Y
}

// lead draws the leader of a name and keeps other names off it.
func (l *placer) lead(s spot, size vg.Point) {
	line := leader(roomOf(s.corner, size), s.anchor)
	if l.marked(s.anchor) {
		line, _ = shortened(line, offMark)
	}
	l.canvas.StrokeLine2(draw.LineStyle{Color: faint(0.6), Width: 0.7}, line[0].X, line[0].Y, line[1].X, line[1].Y)
	l.lines = append(l.lines, line)
}

// roomOf is the room that a name of a size takes, with what hangs below its line.
func roomOf(corner, size vg.Point) vg.Rectangle {
	return vg.Rectangle{Min: corner.Sub(vg.Point{X: air, Y: size.Y / 4}), Max: corner.Add(vg.Point{X: size.X + air, Y: size.Y})}
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
	grown := vg.Rectangle{Min: r.Min.Sub(vg.Point{X: 1, Y: 1}), Max: r.Max.Add(vg.Point{X: 1, Y: 1})}
	for _, line := range l.lines {
		if cuts(line, grown) {
			sum += overLine
		}
	}
	for _, d := range l.dots {
		if d.X > grown.Min.X && d.X < grown.Max.X && d.Y > grown.Min.Y && d.Y < grown.Max.Y {
			sum += overLine
		}
	}
	return sum
}

// cuts reports whether a piece of a line is inside a rectangle for some of its length.
func cuts(line [2]vg.Point, r vg.Rectangle) bool {
	a, b := &line[0], &line[1]
	if a.X <= r.Min.X && b.X <= r.Min.X || a.X >= r.Max.X && b.X >= r.Max.X ||
		a.Y <= r.Min.Y && b.Y <= r.Min.Y || a.Y >= r.Max.Y && b.Y >= r.Max.Y {
		return false // most
	}
	low, high := vg.Length(0), vg.Length(1)
	within := func(from, to, least, most vg.Length) bool {
		step := to - from
		if step == 0 {
			return from > least && from < most
		}
		a, b := (least-from)/step, (most-from)/step
		low, high = max(low, min(a, b)), min(high, max(a, b))
		return true
	}
	return within(line[0].X, line[1].X, r.Min.X, r.Max.X) && within(line[0].Y, line[1].Y, r.Min.Y, r.Max.Y) && low < high
}
