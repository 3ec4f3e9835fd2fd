package say

import (
	"strings"
	"testing"

	"gearsearch/drive/pack"

	"pgregory.net/rapid"
)

// cells18 are bare cells of 18 × 65 mm with 2 mm between them.
func cells18(number int) pack.Cylinders {
	return pack.Cylinders{Number: number, Diameter: 0.018, Length: 0.065, Gap: 0.002}
}

func TestSketch(t *testing.T) {
	box := func(length, width, height float64) pack.Box {
		return pack.Box{Length: length, Width: width, Height: height}
	}
	for _, tt := range []struct {
		why              string
		series, parallel int
		box              pack.Box
		want             []string
	}{
		{
			"4 side by side across the box are one group", 10, 4, box(0.198, 0.078, 0.065),
			[]string{
				" 1+  2-  3+  4-  5+  6-  7+  8-  9+ 10-",
				" 1+  2-  3+  4-  5+  6-  7+  8-  9+ 10-",
				" 1+  2-  3+  4-  5+  6-  7+  8-  9+ 10-",
				" 1+  2-  3+  4-  5+  6-  7+  8-  9+ 10-",
			},
		},
		{
			"groups of 3 in columns of 2 run in a meander", 4, 3, box(0.118, 0.038, 0.065),
			[]string{
				"1+ 2- 2- 3+ 3+ 4-",
				"1+ 1+ 2- 3+ 4- 4-",
			},
		},
		{
			"a place that is not needed", 13, 1, box(0.158, 0.038, 0.065),
			[]string{
				" 1+  4-  5+  8-  9+ 12- 13+",
				" 2-  3+  6-  7+ 10- 11+   .",
			},
		},
		{
			"two layers: the second goes back the way", 4, 2, box(0.038, 0.038, 0.132),
			[]string{
				"layer 1 of 2",
				"1+ 2-",
				"1+ 2-",
				"layer 2 of 2",
				"4- 3+",
				"4- 3+",
			},
		},
		{
			"staggered rows leave more of the length than square ones", 5, 1, box(0.058, 0.038, 0.065),
			[]string{
				"1+ 2-",
				" 3+",
				"4- 5+",
			},
		},
		{
			"lying in one layer: a line for each slice", 4, 2, box(0.135, 0.078, 0.018),
			[]string{
				"1+ 1+ 2- 2-",
				"4- 4- 3+ 3+",
			},
		},
		{
			"lying in two layers, the lower below", 3, 2, box(0.058, 0.065, 0.038),
			[]string{
				"1+ 2- 3+",
				"1+ 2- 3+",
			},
		},
		{
			"a zigzag of one layer", 5, 1, box(0.0875, 0.065, 0.0281),
			[]string{
				"   2-    4-",
				"1+    3+    5+",
			},
		},
	} {
		l, ok := pack.BestLayout(cells18(tt.series*tt.parallel), tt.box)
		if !ok {
			t.Errorf("%s: does not fit", tt.why)
			continue
		}
		if got := strings.Join(Sketch(l, tt.series, tt.parallel), "\n"); got != strings.Join(tt.want, "\n") {
			t.Errorf("%s: got\n%s\nwant\n%s", tt.why, got, strings.Join(tt.want, "\n"))
		}
	}
}

// Every cell is drawn once, in its group, and every free place.
func TestSketchDrawsEveryCell(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		series := rapid.IntRange(1, 14).Draw(t, "series")
		parallel := rapid.IntRange(1, 6).Draw(t, "parallel")
		c := cells18(series * parallel)
		l, ok := pack.BestLayout(c, pack.Box{
			Length: rapid.Float64Range(0.05, 0.7).Draw(t, "length"),
			Width:  rapid.Float64Range(0.05, 0.25).Draw(t, "width"),
			Height: rapid.Float64Range(0.018, 0.15).Draw(t, "height"),
		})
		if !ok {
			return
		}
		counts := map[string]int{}
		for _, line := range Sketch(l, series, parallel) {
			if strings.HasPrefix(line, "layer") || strings.HasPrefix(line, "slice") {
				continue
			}
			for _, cell := range strings.Fields(line) {
				counts[cell]++
			}
		}
		free := counts["."]
		delete(counts, ".")
		if len(counts) != series || free != l.Room-c.Number {
			t.Fatalf("%d groups and %d free places, want %d and %d: %v", len(counts), free, series, l.Room-c.Number, counts)
		}
		for cell, n := range counts {
			if n != parallel {
				t.Fatalf("group %s has %d cells, want %d", cell, n, parallel)
			}
		}
	})
}
