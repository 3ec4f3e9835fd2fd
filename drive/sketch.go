package drive

import (
	"fmt"
	"slices"
	"strings"
)

// Words says in a few words how the cells lie.
func (l Layout) Words() string {
	how := [...]string{"upright", "lying along the length", "lying along the width"}[l.Axis]
	rows := "square"
	if l.Staggered {
		rows = "staggered"
	}
	layers := "one layer"
	if l.Layers > 1 {
		layers = fmt.Sprintf("%d layers", l.Layers)
	}
	return how + ", " + rows + " rows, " + layers
}

// Sketch draws the layout as lines of text, slice by slice: each cell as the
// number of its group and the pole that faces the reader, a free place as a
// dot. Upright cells are seen from above, lying ones along their axes, the
// upper above the lower; slices of one line each make a view from above. The
// cells of one number are parallel; the groups are in series from 1 up, each
// beside the one before, whose poles face the other way. It is a proposal of
// where they run, not a plan to weld by.
func (l Layout) Sketch(series, parallel int) []string {
	var out []string
	for i, rows := range l.groups(series, parallel) {
		lines := l.lines(rows, len(fmt.Sprint(series))+1)
		if l.Slices > 1 && len(lines) > 1 {
			name := "slice"
			if l.Axis == Upright {
				name = "layer"
			}
			out = append(out, fmt.Sprintf("%s %d of %d", name, i+1, l.Slices))
		}
		out = append(out, lines...)
	}
	return out
}

// lines draws one slice, each cell in a number of characters.
func (l Layout) lines(rows [][]int, width int) []string {
	// Half a cell with the space after it, and a whole one.
	half, blank := strings.Repeat(" ", (width+1)/2), strings.Repeat(" ", width+1)
	var out []string
	draw := func(cells ...string) { out = append(out, strings.TrimRight(strings.Join(cells, ""), " ")) }
	cell := func(group int) string {
		mark := "."
		if group > 0 {
			mark = fmt.Sprint(group) + poles[group%2]
		}
		return fmt.Sprintf("%*s ", width, mark)
	}
	if l.Turned && l.Axis != Upright {
		// The rows stand upright: a line for each half of a cell's height.
		levels := l.PerRow
		if l.Staggered {
			levels *= 2
		}
		for level := levels - 1; level >= 0; level-- {
			var line []string
			for j, row := range rows {
				place, drawn := level, true
				if l.Staggered {
					place, drawn = level/2, level%2 == j%2
				}
				if drawn && place < len(row) {
					line = append(line, cell(row[place]))
				} else {
					line = append(line, blank)
				}
			}
			draw(line...)
		}
		return out
	}
	for j, row := range rows {
		var line []string
		if l.Staggered && j%2 == 1 {
			line = append(line, half)
		}
		for _, group := range row {
			line = append(line, cell(group))
		}
		draw(line...)
	}
	if l.Axis != Upright { // the first row is the lowest
		slices.Reverse(out)
	}
	return out
}

// poles are what faces the reader of cells of even and of odd groups.
var poles = [2]string{"-", "+"}

// groups returns for each slice, row and place the number of the series group of
// its cell, 0 for none. The groups follow a way that runs to and fro across the
// longer side of a slice, and through the next slice back again.
func (l Layout) groups(series, parallel int) [][][]int {
	var way [][2]int // row and place
	if l.Count <= l.PerRow {
		for place := range l.PerRow {
			for row := range l.Count {
				if place%2 == 1 {
					row = l.Count - 1 - row
				}
				if place < l.places(row) {
					way = append(way, [2]int{row, place})
				}
			}
		}
	} else {
		for row := range l.Count {
			for place := range l.places(row) {
				if row%2 == 1 {
					place = l.places(row) - 1 - place
				}
				way = append(way, [2]int{row, place})
			}
		}
	}
	out := make([][][]int, l.Slices)
	met := 0
	for slice := range out {
		out[slice] = make([][]int, l.Count)
		for row := range out[slice] {
			out[slice][row] = make([]int, l.places(row))
		}
		for i := range way {
			if slice%2 == 1 {
				i = len(way) - 1 - i
			}
			if met == series*parallel {
				break
			}
			out[slice][way[i][0]][way[i][1]] = met/parallel + 1
			met++
		}
	}
	return out
}

// places returns how many cells a row holds, counted from 0.
func (l Layout) places(row int) int {
	if row%2 == 1 {
		return l.Second
	}
	return l.PerRow
}
