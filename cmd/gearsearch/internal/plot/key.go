package plot

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// key writes the names of the curves in one block, from the curve that ends highest to
// the one that ends lowest, each with a sample of its stroke. It reports whether there
// is room for it.
func (c *chart) key(l *placer, canvas draw.Canvas, to func(point) vg.Point) bool {
	type row struct {
		*curve
		end vg.Length
	}
	var rows []row
	style := textStyle(labelSize, draw.XLeft, draw.YBottom)
	size := vg.Point{}
	for i := range c.curves {
		k := &c.curves[i]
		if k.hidden || k.label == "" {
			continue
		}
		rows = append(rows, row{k, k.end(to)})
		size.X = max(size.X, style.Width(k.label)+sampleRoom)
		size.Y += keyRow
	}
	corner, ok := l.clear(size)
	if !ok {
		return false
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(b.end, a.end) })
	for i, r := range rows {
		at := vg.Point{X: corner.X, Y: corner.Y + size.Y - keyRow*vg.Length(i+1)}
		y := at.Y + style.Height(r.label)*0.4
		l.canvas.StrokeLine2(r.stroke.line(), at.X, y, at.X+sampleLength, y)
		at.X += sampleRoom
		l.canvas.FillText(style, at, r.label)
	}
	l.block(roomOf(corner, size))
	return true
}

// keyRow is the height of a row of a key.
const keyRow = 15

// end is the height at which a curve ends.
func (k *curve) end(to func(point) vg.Point) vg.Length {
	for _, q := range slices.Backward(k.points) {
		if !math.IsNaN(q.x) && !math.IsNaN(q.y) {
			return to(q).Y
		}
	}
	return 0
}

// clear is the lower left corner of room of a size that nothing is in, as near to the
// upper left as there is some.
func (l *placer) clear(size vg.Point) (corner vg.Point, ok bool) {
	const step = 4
	for y := l.canvas.Max.Y - size.Y - keyRow; y >= l.canvas.Min.Y+air; y -= step {
		for x := l.canvas.Min.X + 2*step; x+size.X+air <= l.canvas.Max.X; x += step {
			if at := (vg.Point{X: x, Y: y}); l.cost(roomOf(at, size)) == 0 {
				return at, true
			}
		}
	}
	return vg.Point{}, false
}
