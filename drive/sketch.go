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
	if l.Turned && l.Axis != Upright {
		return l.standing(rows, width)
	}
	half := strings.Repeat(" ", (width+1)/2) // a cell with the space after it
	var out []string
	for j, row := range rows {
		var line []string
		if l.Staggered && j%2 == 1 {
			line = append(line, half)
		}
		for _, group := range row {
			line = append(line, cellText(group, width))
		}
		out = append(out, lineOf(line))
	}
	if l.Axis != Upright { // the first row is the lowest
		slices.Reverse(out)
	}
	return out
}

// standing draws one slice whose rows stand upright: a line for each cell's
// height, or half of it where rows are staggered.
func (l Layout) standing(rows [][]int, width int) []string {
	blank := strings.Repeat(" ", width+1)
	levels := l.PerRow
	if l.Staggered {
		levels *= 2
	}
	var out []string
	for level := levels - 1; level >= 0; level-- {
		var line []string
		for j, row := range rows {
			place, drawn := level, true
			if l.Staggered {
				place, drawn = level/2, level%2 == j%2
			}
			text := blank
			if drawn && place < len(row) {
				text = cellText(row[place], width)
			}
			line = append(line, text)
		}
		out = append(out, lineOf(line))
	}
	return out
}

// cellText is a cell of a group, 0 for a free place, with the space after it.
func cellText(group, width int) string {
	mark := "."
	if group > 0 {
		mark = fmt.Sprint(group) + poles[group%2]
	}
	return fmt.Sprintf("%*s ", width, mark)
}

// lineOf joins cells to a line.
func lineOf(cells []string) string { return strings.TrimRight(strings.Join(cells, ""), " ") }

// poles are what faces the reader of cells of even and of odd groups.
var poles = [2]string{"-", "+"}

// spot is a row and a place in it.
type spot struct{ row, place int }

// way runs to and fro across the longer side of a slice, through every place.
func (l Layout) way() []spot {
	var way []spot
	if l.Count <= l.PerRow {
		for place := range l.PerRow {
			for row := range l.Count {
				if place%2 == 1 {
					row = l.Count - 1 - row
				}
				if place < l.places(row) {
					way = append(way, spot{row, place})
				}
			}
		}
		return way
	}
	for row := range l.Count {
		for place := range l.places(row) {
			if row%2 == 1 {
				place = l.places(row) - 1 - place
			}
			way = append(way, spot{row, place})
		}
	}
	return way
}

// groups returns for each slice, row and place the number of the series group of
// its cell, 0 for none. The groups follow the way through a slice, and through
// the next slice back again.
func (l Layout) groups(series, parallel int) [][][]int {
	way := l.way()
	out := make([][][]int, l.Slices)
	met := 0
	for slice := range out {
		out[slice] = make([][]int, l.Count)
		for row := range out[slice] {
			out[slice][row] = make([]int, l.places(row))
		}
		for _, at := range way[:min(len(way), series*parallel-met)] {
			out[slice][at.row][at.place] = met/parallel + 1
			met++
		}
		slices.Reverse(way)
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
