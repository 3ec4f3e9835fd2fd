package pack

import (
	"math"

	"gearsearch/drive"
)

// Rows are circles of diameter 1 in straight rows: square, each above one of the
// row before, or staggered, every second row moved by half a circle into the
// dips of the one before. No claim is made that nothing denser exists: for some
// rectangles there is (Szabó et al., New Approaches to Circle Packing in a
// Square).
type Rows struct {
	Count     int // rows
	PerRow    int // circles in the first, third, … row
	Second    int // circles in the second, fourth, … row: PerRow, or staggered one less
	Staggered bool
}

// Capacity returns how many circles the rows hold.
func (r Rows) Capacity() int {
	return (r.Count+1)/2*r.PerRow + r.Count/2*r.Second
}

// Along returns the length of the rows, in circles: a second row that holds as
// many as the first reaches half a circle beyond it.
func (r Rows) Along() float64 {
	if r.Staggered && r.Count > 1 && r.Second == r.PerRow {
		return float64(r.PerRow) + 0.5
	}
	return float64(r.PerRow)
}

// Across returns the height of the rows, in circles.
func (r Rows) Across() float64 {
	return 1 + float64(float64(r.Count-1)*r.pitch())
}

// pitch returns the distance from row to row.
func (r Rows) pitch() float64 {
	if r.Staggered {
		return math.Sqrt(3) / 2
	}
	return 1
}

// MostRows returns the rows along the first side of a rectangle that hold the most
// circles; none where not one circle fits.
func MostRows(along, across float64, staggered bool) Rows {
	r := Rows{PerRow: fits(along), Staggered: staggered}
	r.Second = r.PerRow
	if staggered && fits(along-0.5) < r.PerRow {
		r.Second--
	}
	if r.PerRow > 0 && fits(across) > 0 {
		r.Count = 1 + fits((across-1)/r.pitch())
	}
	if r.Count == 0 {
		return Rows{Staggered: staggered}
	}
	return r
}

// fits returns the whole number in x, one that x falls short of by no more than
// drive.Tolerance included; 0 for less.
func fits(x float64) int {
	const most = 1 << 20
	return int(max(0, min(math.Floor(x+float64(drive.Tolerance*math.Abs(x))), most)))
}
