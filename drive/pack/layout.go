package pack

import (
	"gearsearch/drive"
)

// Box is the inside of a box, or a block in it, in metres.
type Box struct{ Length, Width, Height float64 }

// Volume returns length × width × height in m³.
func (b Box) Volume() float64 { return float64(b.Length * b.Width * b.Height) }

// Cylinders are the cells of a pack and the room that they need beyond
// themselves, all in metres. Without a number or a size there is no layout.
type Cylinders struct {
	Number           int
	Diameter, Length float64
	Sleeve           float64 // wall of the sleeve round each cell
	Gap              float64 // from one cell to the next, sideways and end to end
	End              float64 // at each end of a cell: strip, insulating ring
	Wall             float64 // along every wall of the box: padding
}

// Axis is the side of the box that the cells lie along.
type Axis uint8

// The axes. Upright: along the height.
const (
	Upright Axis = iota
	AlongLength
	AlongWidth
)

// MostLayers is how many cells may lie above each other. More leave the inner
// ones without a way for their heat: common practice, no published source.
const MostLayers = 2

// Layout is one way to lay a pack's cells into a box: slices of rows.
type Layout struct {
	Axis   Axis
	Rows        // of each slice across the cells
	Turned bool // the rows run along the second side of the slice, not the first
	Slices int  // one behind the other along the cells: of upright cells, layers
	Layers int  // of cells above each other in the box
	Room   int  // cells that it has places for, at least their number
	Used   Box  // by cells and allowances, walls included
	Free   Box  // the largest block beside, before or above them
}

// BestLayout returns the best layout found: upright or lying along either side,
// square or staggered rows along either side of the slice, one or two layers.
// Fewer layers are better, then more volume in the one free block, then square
// rows, then the order of the axes. ok is false where none of these holds the
// cells, which says nothing of layouts beyond them.
func BestLayout(c Cylinders, box Box) (best Layout, ok bool) {
	for _, g := range c.grids(box) {
		for slices := 1; slices <= g.slices; slices++ {
			for perRow := 1; perRow <= g.most.PerRow; perRow++ {
				for _, rows := range g.rows(perRow, (c.Number+slices-1)/slices) {
					l := c.layout(g, rows, slices, box)
					if !ok || better(l, best) {
						best, ok = l, true
					}
				}
			}
		}
	}
	return best, ok
}

// MostCells returns the most cells that BestLayout finds a layout for.
func MostCells(c Cylinders, box Box) int {
	most := 0
	for _, g := range c.grids(box) {
		most = max(most, g.most.Capacity()*g.slices)
	}
	return most
}

// better reports whether a is to be preferred to b.
func better(a, b Layout) bool {
	switch {
	case a.Layers != b.Layers:
		return a.Layers < b.Layers
	case !drive.AtMost(a.Free.Volume(), b.Free.Volume()):
		return true
	case !drive.AtLeast(a.Free.Volume(), b.Free.Volume()):
		return false
	}
	return !a.Staggered && b.Staggered
}

// grid is one way of all that BestLayout tries, filled up.
type grid struct {
	axis   Axis
	turned bool
	along  float64 // circles that a row has room for
	most   Rows
	slices int
}

// grids returns what BestLayout tries in a box, within MostLayers.
func (c Cylinders) grids(box Box) []grid {
	if c.Number < 1 || !(c.Diameter > 0) || !(c.Length > 0) {
		return nil
	}
	var out []grid
	for _, axis := range []Axis{Upright, AlongLength, AlongWidth} {
		first, second, deep := axis.slice(box)
		for _, staggered := range []bool{false, true} {
			for _, turned := range []bool{false, true} {
				along, across := c.circles(first), c.circles(second)
				if turned {
					along, across = across, along
				}
				g := grid{axis: axis, turned: turned, along: along, slices: fits(c.free(deep) / c.depth())}
				switch {
				case axis == Upright:
					g.slices = min(g.slices, MostLayers)
				case turned:
					g.along = min(along, MostLayers+0.5)
				default:
					across = min(across, Rows{Count: MostLayers, Staggered: staggered}.Across())
				}
				if g.most = MostRows(g.along, across, staggered); g.most.Count > 0 && g.slices > 0 {
					out = append(out, g)
				}
			}
		}
	}
	return out
}

// rows returns the rows of so many circles that hold a number of them, as few
// as it takes; none where the grid has not as many.
func (g grid) rows(perRow, number int) []Rows {
	seconds := []int{perRow}
	if g.most.Staggered {
		seconds = append(seconds, perRow-1)
		if fits(g.along-0.5) < perRow {
			seconds = seconds[1:]
		}
	}
	var out []Rows
	for _, second := range seconds {
		r := Rows{PerRow: perRow, Second: second, Staggered: g.most.Staggered}
		r.Count = 2 * (number / (perRow + second))
		for r.Capacity() < number {
			r.Count++
		}
		if r.Count <= g.most.Count {
			out = append(out, r)
		}
	}
	return out
}

// layout measures rows in slices.
func (c Cylinders) layout(g grid, rows Rows, slices int, box Box) Layout {
	l := Layout{Axis: g.axis, Rows: rows, Turned: g.turned, Slices: slices, Room: rows.Capacity() * slices}
	first, second := c.extent(rows.Along()), c.extent(rows.Across())
	l.Layers = rows.Count
	if g.turned {
		first, second = second, first
		l.Layers = rows.PerRow
	}
	if g.axis == Upright {
		l.Layers = slices
	}
	l.Used = g.axis.box(first, second, float64(float64(slices)*c.depth())-c.Gap+float64(2*c.Wall))
	for _, free := range []Box{
		{box.Length - l.Used.Length, box.Width, box.Height},
		{box.Length, box.Width - l.Used.Width, box.Height},
		{box.Length, box.Width, box.Height - l.Used.Height},
	} {
		if free.Volume() > l.Free.Volume() {
			l.Free = free
		}
	}
	return l
}

// pitch returns the distance between the axes of two cells side by side, m.
func (c Cylinders) pitch() float64 { return c.Diameter + float64(2*c.Sleeve) + c.Gap }

// depth returns the distance of two cells end to end, m.
func (c Cylinders) depth() float64 { return c.Length + float64(2*c.End) + c.Gap }

// free returns the room between two walls, with the gap that the last cell does
// not need, m.
func (c Cylinders) free(side float64) float64 { return side - float64(2*c.Wall) + c.Gap }

// circles returns a side of the box in pitches.
func (c Cylinders) circles(side float64) float64 { return c.free(side) / c.pitch() }

// extent returns the metres from wall to wall that so many pitches take.
func (c Cylinders) extent(circles float64) float64 {
	return float64(circles*c.pitch()) - c.Gap + float64(2*c.Wall)
}

// slice returns the sides of a slice across cells of this axis, and the side
// along them.
func (a Axis) slice(b Box) (first, second, along float64) {
	switch a {
	case AlongLength:
		return b.Width, b.Height, b.Length
	case AlongWidth:
		return b.Length, b.Height, b.Width
	}
	return b.Length, b.Width, b.Height
}

// box is the inverse of slice.
func (a Axis) box(first, second, along float64) Box {
	switch a {
	case AlongLength:
		return Box{Length: along, Width: first, Height: second}
	case AlongWidth:
		return Box{Length: first, Width: along, Height: second}
	}
	return Box{Length: first, Width: second, Height: along}
}
