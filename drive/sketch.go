package drive

import (
	"fmt"
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

// Sketch draws the layout as lines of text: for each slice its rows, each cell as
// the number of its group with the pole that faces the reader, a free place as
// a dot. The cells of one number are parallel; the groups are in series from 1
// up, each next to the one before, whose poles face the other way. It is a
// proposal of where they run, not a plan to weld by.
func (l Layout) Sketch(series, parallel int) []string {
	width := len(fmt.Sprint(series)) + 1
	blank := strings.Repeat(" ", (width+2)/2) // half a cell with the space after it
	var out []string
	groups := l.groups(series, parallel)
	for i, rows := range groups {
		if len(groups) > 1 {
			name := "slice"
			if l.Axis == Upright {
				name = "layer"
			}
			out = append(out, fmt.Sprintf("%s %d of %d", name, i+1, len(groups)))
		}
		for j, row := range rows {
			var line strings.Builder
			if l.Staggered && j%2 == 1 {
				line.WriteString(blank)
			}
			for _, group := range row {
				cell := "."
				if group > 0 {
					cell = fmt.Sprint(group) + poles[group%2]
				}
				fmt.Fprintf(&line, "%*s ", width, cell)
			}
			out = append(out, strings.TrimRight(line.String(), " "))
		}
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
