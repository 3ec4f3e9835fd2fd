package way

import (
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
)

// outline draws the heights of the way as lines of text, the highest first, with the
// heights at its left; nil where they hardly differ.
func (s *Answer) outline(in shown) []string {
	const columns, rows, least = 60, 4, 5 // least: m, below which there is nothing to see
	const parts = 8                       // of a cell that can be filled
	low, high := s.like.Lowest.Height, s.like.Highest.Height
	if high-low < least {
		return nil
	}
	filled := s.filled(columns)
	top, bottom := in.high(high), in.high(low)
	margin := max(layout.Width(top), layout.Width(bottom))
	var lines []string
	for row := range rows {
		label := ""
		switch row {
		case 0:
			label = top
		case rows - 1:
			label = bottom
		}
		var b strings.Builder
		b.WriteString(strings.Repeat(" ", margin-layout.Width(label)) + label + " ")
		for _, share := range filled {
			// The lowest part of the lowest cell is filled everywhere.
			eighths := 1 + int(math.Round(share*(rows*parts-1))) - (rows-1-row)*parts
			b.WriteRune([]rune(" ▁▂▃▄▅▆▇█")[min(max(eighths, 0), parts)])
		}
		lines = append(lines, strings.TrimRight(b.String(), " "))
	}
	end := in.far(s.like.Length)
	start := "0"
	return append(lines, strings.Repeat(" ", margin+1)+start+strings.Repeat(" ", columns-len(start)-layout.Width(end))+end)
}

// filled are the mean heights of equal parts of the way, as shares from its lowest to its
// highest.
func (s *Answer) filled(columns int) []float64 {
	out := make([]float64, columns)
	low, span := s.like.Lowest.Height, s.like.Highest.Height-s.like.Lowest.Height
	const samples = 4 // of each part
	before, after := s.Route.Height, s.Route.Height
	from, to, leg := 0.0, 0.0, -1
	for i := range columns * samples {
		at := (float64(i) + 0.5) / float64(columns*samples) * s.like.Length
		for to < at && leg+1 < len(s.Route.Legs) {
			leg++
			from, before = to, after
			to, after = from+s.Route.Legs[leg].Length, before+s.Route.Legs[leg].Rise
		}
		height := before + (after-before)*(at-from)/(to-from)
		out[i/samples] += (height - low) / span / samples
	}
	return out
}
