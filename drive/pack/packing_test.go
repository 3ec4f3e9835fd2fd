package pack_test

import (
	"math"
	"testing"

	"gearsearch/drive/pack"

	"pgregory.net/rapid"
)

// Skiena & Revilla, Programming Challenges, problem of the plates in a box: of
// diameter 1 in a box of 4 by 4 there are 16 on a square grid and 14 in
// staggered rows of 4, 3, 4 and 3.
func TestPlatesInABox(t *testing.T) {
	if got := pack.MostRows(4, 4, false).Capacity(); got != 16 {
		t.Errorf("square: %d, want 16", got)
	}
	r := pack.MostRows(4, 4, true)
	if r.Capacity() != 14 || r.Count != 4 || r.PerRow != 4 || r.Second != 3 {
		t.Errorf("staggered: %d in %+v, want 4 + 3 + 4 + 3", r.Capacity(), r)
	}
}

// Gardner, Mathematical Carnival, chapter on penny puzzles: of the 10 by 10 box
// with its 100 pennies in a square, rows that are staggered throughout make 105
// (from memory).
func TestPenniesInABox(t *testing.T) {
	if got := pack.MostRows(10, 10, true).Capacity(); got != 105 {
		t.Errorf("staggered: %d, want 105", got)
	}
}

// OEIS A084616: the most circles of diameter 1 that anybody has put into a square
// of area n. None of our rows may hold more; at 64 they hold as many.
func TestNoMoreThanEverPacked(t *testing.T) {
	known := []int{
		1, 1, 2, 4, 4, 5, 5, 6, 9, 9, 9, 10, 12, 13, 14, 16, 16, 16, 18, 19, 20, 21, 22, 23, 25, 25, 26, 27, 28, 30,
		30, 31, 33, 33, 34, 36, 36, 39, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 52, 52, 53, 53, 55, 56, 57, 58, 59,
		59, 61, 62, 63, 65, 68, 68, 68, 69, 69, 70, 72, 73, 74, 74,
	}
	for i, most := range known {
		side := math.Sqrt(float64(i + 1))
		best := max(pack.MostRows(side, side, false).Capacity(), pack.MostRows(side, side, true).Capacity())
		if whole := int(side + 1e-9); best > most || best < whole*whole {
			t.Errorf("area %d: %d, want %d to %d", i+1, best, whole*whole, most)
		}
		if i+1 == 64 && best != most {
			t.Errorf("area 64: %d, want %d", best, most)
		}
	}
}

// cells18 are 40 bare cells of 18 × 65 mm with 2 mm between them.
func cells18(number int) pack.Cylinders {
	return pack.Cylinders{Number: number, Diameter: 0.018, Length: 0.065, Gap: 0.002}
}

// By hand: 10 × 4 upright cells at a pitch of 20 mm take 198 × 78 × 65 mm.
func TestLayoutByHand(t *testing.T) {
	l, ok := pack.BestLayout(cells18(40), pack.Box{Length: 0.198, Width: 0.078, Height: 0.065})
	if !ok {
		t.Fatal("40 cells do not fit where they must")
	}
	if l.Axis != pack.Upright || l.Staggered || l.Room != 40 || l.Layers != 1 {
		t.Errorf("layout %+v", l)
	}
	near(t, "length", l.Used.Length, 0.198)
	near(t, "width", l.Used.Width, 0.078)
	near(t, "height", l.Used.Height, 0.065)
	if volume := l.Free.Volume(); volume > 1e-12 {
		t.Errorf("%g m³ are left of a box that is full", volume)
	}
	for _, box := range []pack.Box{{0.1979, 0.078, 0.065}, {0.198, 0.0779, 0.065}, {0.198, 0.078, 0.0649}} {
		if l, ok := pack.BestLayout(cells18(40), box); ok {
			t.Errorf("a box that is 0.1 mm too small takes them: %+v in %+v", l, box)
		}
	}
	// 5 mm of padding at every wall, 0.5 mm sleeves, 1 mm at each end: pitch 21,
	// 10 mm more in each direction.
	c := cells18(40)
	c.Sleeve, c.End, c.Wall = 0.0005, 0.001, 0.005
	l, ok = pack.BestLayout(c, pack.Box{Length: 0.218, Width: 0.092, Height: 0.077})
	if !ok {
		t.Fatal("with allowances 40 cells do not fit where they must")
	}
	near(t, "length", l.Used.Length, 10*0.021-0.002+0.010)
	near(t, "width", l.Used.Width, 4*0.021-0.002+0.010)
	near(t, "height", l.Used.Height, 0.077)
}

// By hand: in 20 mm of height cells can only lie. Of 65 mm, two end to end along
// a width of 135 mm; 20 pairs side by side at a pitch of 20 mm, 398 mm; 202 mm of
// the 600 are left.
func TestLyingByHand(t *testing.T) {
	l, ok := pack.BestLayout(cells18(40), pack.Box{Length: 0.6, Width: 0.135, Height: 0.020})
	if !ok || l.Axis != pack.AlongWidth || l.Slices != 2 || l.Layers != 1 {
		t.Fatalf("layout %+v, %v", l, ok)
	}
	near(t, "length", l.Used.Length, 0.398)
	near(t, "free length", l.Free.Length, 0.202)
	near(t, "free width", l.Free.Width, 0.135)
	// With 27 mm of height, half a cell to spare, they zigzag: two staggered rows
	// turned upright, a pitch of √3/2 × 20 mm. 40 in two slices: 20 columns.
	l, ok = pack.BestLayout(cells18(40), pack.Box{Length: 0.6, Width: 0.135, Height: 0.0281})
	if !ok || !l.Staggered || !l.Turned || l.Layers != 1 {
		t.Fatalf("layout %+v, %v", l, ok)
	}
	near(t, "length of the zigzag", l.Used.Length, 0.018+19*0.020*math.Sqrt(3)/2)
}

// Two layers only where one does not do.
func TestTwoLayers(t *testing.T) {
	box := pack.Box{Length: 0.198, Width: 0.078, Height: 0.132}
	if l, ok := pack.BestLayout(cells18(80), box); !ok || l.Layers != 2 {
		t.Errorf("80 cells: %+v, %v", l, ok)
	}
	if l, ok := pack.BestLayout(cells18(40), box); !ok || l.Layers != 1 {
		t.Errorf("40 cells: %+v, %v", l, ok)
	}
	box.Height = 1
	if l, ok := pack.BestLayout(cells18(81), box); ok {
		t.Errorf("81 cells in two layers: %+v", l)
	}
	if most := pack.MostCells(cells18(1), box); most != 80 {
		t.Errorf("at most %d cells, want 80", most)
	}
}

func TestNoLayoutOfNothing(t *testing.T) {
	for _, c := range []pack.Cylinders{{}, cells18(0), {Number: 3, Length: 0.065}, {Number: 3, Diameter: math.NaN(), Length: 0.065}} {
		box := pack.Box{Length: 1, Width: 1, Height: 1}
		if l, ok := pack.BestLayout(c, box); ok || pack.MostCells(c, box) != 0 {
			t.Errorf("%+v: %+v", c, l)
		}
	}
}

// orZero draws from a range, or 0 one time in four.
func orZero(t *rapid.T, low, high float64, name string) float64 {
	if rapid.IntRange(0, 3).Draw(t, name+" given") == 0 {
		return 0
	}
	return rapid.Float64Range(low, high).Draw(t, name)
}

// near fails unless got is within a distance of want, in metres.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-12) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

func anyPack(t *rapid.T) (pack.Cylinders, pack.Box) {
	real := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	cells := pack.Cylinders{
		Number:   rapid.IntRange(1, 90).Draw(t, "number"),
		Diameter: real(0.010, 0.040, "diameter"),
		Length:   real(0.030, 0.120, "length"),
		Sleeve:   orZero(t, 0.0001, 0.001, "sleeve"),
		Gap:      orZero(t, 0.0001, 0.003, "gap"),
		End:      orZero(t, 0.0001, 0.003, "end"),
		Wall:     orZero(t, 0.001, 0.008, "wall"),
	}
	box := pack.Box{
		Length: real(0.05, 0.7, "box length"),
		Width:  real(0.05, 0.25, "box width"),
		Height: real(0.015, 0.20, "box height"),
	}
	return cells, box
}

// A layout keeps to its box, and the cells, put where the rows say, keep their
// distance and touch no wall.
func TestLayoutsHoldTheirCells(t *testing.T) {
	fitted := 0
	rapid.Check(t, func(t *rapid.T) {
		c, box := anyPack(t)
		l, ok := pack.BestLayout(c, box)
		most := pack.MostCells(c, box)
		if ok != (most >= c.Number) {
			t.Fatalf("%d cells: %v, though there is room for %d", c.Number, ok, most)
		}
		if !ok {
			return
		}
		fitted++
		const slack = 1e-9
		u := l.Used
		if u.Length > box.Length+slack || u.Width > box.Width+slack || u.Height > box.Height+slack {
			t.Fatalf("%+v do not fit %+v: %+v", u, box, l)
		}
		if l.Room < c.Number || l.Layers > pack.MostLayers {
			t.Fatalf("%d cells in %+v", c.Number, l)
		}
		if free := l.Free.Volume(); free > box.Volume()-float64(c.Number)*math.Pi/4*c.Diameter*c.Diameter*c.Length+slack {
			t.Fatalf("%g m³ free and the cells: more than the box", free)
		}
		// The slice, in its own axes.
		first, second := u.Length, u.Width
		switch l.Axis {
		case pack.AlongLength:
			first, second = u.Width, u.Height
		case pack.AlongWidth:
			first, second = u.Length, u.Height
		}
		if l.Turned {
			first, second = second, first
		}
		sleeved := c.Diameter + 2*c.Sleeve
		pitch := sleeved + c.Gap
		type point struct{ x, y float64 }
		var centres []point
		for row := range l.Count {
			n, x := l.PerRow, c.Wall+sleeved/2
			if row%2 == 1 {
				n = l.Second
			}
			y := x + float64(row)*pitch
			if l.Staggered {
				y = x + float64(row)*pitch*math.Sqrt(3)/2
				if row%2 == 1 {
					x += pitch / 2
				}
			}
			for i := range n {
				centres = append(centres, point{x + float64(i)*pitch, y})
			}
		}
		if len(centres)*l.Slices != l.Room {
			t.Fatalf("%d places in %d slices, want %d", len(centres), l.Slices, l.Room)
		}
		edge := c.Wall + sleeved/2 - slack
		for i, p := range centres {
			if p.x < edge || p.y < edge || p.x > first-edge || p.y > second-edge {
				t.Fatalf("a cell at %+v of %g × %g touches a wall: %+v", p, first, second, l)
			}
			for _, q := range centres[:i] {
				if math.Hypot(p.x-q.x, p.y-q.y) < pitch-slack {
					t.Fatalf("cells at %+v and %+v are too near: %+v", p, q, l)
				}
			}
		}
	})
	if fitted < 30 && !testing.Short() {
		t.Errorf("only %d packs fitted", fitted)
	}
}

// A larger box, or fewer cells, never takes a fit away.
func TestLargerBoxesHoldAsMuch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, box := anyPack(t)
		larger := pack.Box{Length: box.Length * 1.1, Width: box.Width * 1.1, Height: box.Height * 1.1}
		if most, more := pack.MostCells(c, box), pack.MostCells(c, larger); more < most {
			t.Fatalf("%d cells, %d in a larger box", most, more)
		}
		c.Number = max(1, pack.MostCells(c, box))
		_, all := pack.BestLayout(c, box)
		c.Number = (c.Number + 1) / 2
		if _, half := pack.BestLayout(c, box); all && !half {
			t.Fatal("half the cells do not fit")
		}
	})
}

// Every cell has a place in its group, and every other place none.
func TestGroupsHoldEveryCell(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, box := anyPack(t)
		series := rapid.IntRange(1, 14).Draw(t, "series")
		parallel := rapid.IntRange(1, 6).Draw(t, "parallel")
		c.Number = series * parallel
		l, ok := pack.BestLayout(c, box)
		if !ok {
			return
		}
		counts := make([]int, series+1)
		for _, slice := range l.Groups(series, parallel) {
			for _, row := range slice {
				for _, group := range row {
					counts[group]++
				}
			}
		}
		if counts[0] != l.Room-c.Number {
			t.Fatalf("%d free places, want %d", counts[0], l.Room-c.Number)
		}
		for group, n := range counts[1:] {
			if n != parallel {
				t.Fatalf("group %d has %d cells, want %d", group+1, n, parallel)
			}
		}
	})
}
