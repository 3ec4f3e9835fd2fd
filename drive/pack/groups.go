package pack

import "slices"

// Groups returns for each slice, row and place the number of the series group of
// its cell, from 1, or 0 for none. The groups follow a way to and fro through a
// slice, and through the next slice back again, so that each lies beside the one
// before. A layout with fewer places than series × parallel leaves the last
// cells out.
func (l Layout) Groups(series, parallel int) [][][]int {
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

// places returns how many cells a row holds, counted from 0.
func (l Layout) places(row int) int {
	if row%2 == 1 {
		return l.Second
	}
	return l.PerRow
}
