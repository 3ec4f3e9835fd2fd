package say

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/drive/pack"
)

// Sketch draws a layout of a pack's cells as lines of text, slice by slice: each cell as the
// number of its group and the pole that faces the reader, a free place as a
// dot. pack.Upright cells are seen from above, lying ones along their axes, the
// upper above the lower; slices of one line each make a view from above. The
// cells of one number are parallel; the groups are in series from 1 up, each
// beside the one before, whose poles face the other way. It is a proposal of
// where they run, not a plan to weld by.
func Sketch(l pack.Layout, series, parallel int) []string {
	var out []string
	for i, rows := range l.Groups(series, parallel) {
		lines := sliceLines(l, rows, len(fmt.Sprint(series))+1)
		if l.Slices > 1 && len(lines) > 1 {
			name := "slice"
			if l.Axis == pack.Upright {
				name = "layer"
			}
			out = append(out, fmt.Sprintf("%s %d of %d", name, i+1, l.Slices))
		}
		out = append(out, lines...)
	}
	return out
}

// sliceLines draws one slice, each cell in a number of characters.
func sliceLines(l pack.Layout, rows [][]int, width int) []string {
	if l.Turned && l.Axis != pack.Upright {
		return standing(l, rows, width)
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
	if l.Axis != pack.Upright { // the first row is the lowest
		slices.Reverse(out)
	}
	return out
}

// standing draws one slice whose rows stand upright: a line for each cell's
// height, or half of it where rows are staggered.
func standing(l pack.Layout, rows [][]int, width int) []string {
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
