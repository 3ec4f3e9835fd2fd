package outfit

import (
	"fmt"
	"math"

	"gearsearch/catalog"
	"gearsearch/drive/pack"
)

// sourceBox names where the demand on a box comes from.
const sourceBox = "geometry: the best of square and staggered rows, upright and lying, in one or two layers; the allowances are an assumption"

// cylinders are the pack's cells with the room wished round them; ok is false
// where their size is not known.
func (m *maker) cylinders() (c pack.Cylinders, ok bool) {
	cell := m.build.Battery.Cell
	if cell == nil || math.IsNaN(cell.Diameter) || math.IsNaN(cell.Length) {
		return pack.Cylinders{}, false
	}
	w := m.wishes
	return pack.Cylinders{
		Number: m.build.Battery.Cells(), Diameter: cell.Diameter, Length: cell.Length,
		Sleeve: w.Sleeve, Gap: w.Gap, End: w.End, Wall: w.Wall,
	}, true
}

// inside is the room in a box of the catalog.
func inside(b *catalog.Box) pack.Box {
	return pack.Box{Length: b.Length, Width: b.Width, Height: b.Height}
}

// box is the need of a box for the pack, and the layout in the one chosen.
func (m *maker) box() (*Need, *pack.Layout) {
	n := &Need{Kind: "box", Pieces: 1}
	c, ok := m.cylinders()
	room := yes("length_mm", "the cells fit in", "", sourceBox)
	if !ok {
		room.Open = "the diameter or the length of the pack's cells is not known"
	}
	choose(n, m.catalog.Boxes, []ask[*catalog.Box]{{room, func(b *catalog.Box) float64 {
		if _, fits := pack.BestLayout(c, inside(b)); !fits {
			return 0
		}
		return 1
	}}})
	for i, t := range n.Turned {
		b, _ := catalog.ByID(m.catalog.Boxes, t.ID)
		n.Turned[i].Why = fmt.Sprintf("has room for %s, not %d", counted(pack.MostCells(c, inside(b)), "cell", "cells"), c.Number)
	}
	n.Words = m.boxWords(c, ok)
	if n.Part == nil {
		return n, nil
	}
	b, _ := catalog.ByID(m.catalog.Boxes, n.Part.ID)
	layout, _ := pack.BestLayout(c, inside(b))
	n.Notes = []string{
		fmt.Sprintf("%s; it has places for %s and leaves a block of %s for what else goes in",
			LayoutWords(layout), counted(layout.Room, "cell", "cells"), m.blockWords(layout.Free, down)),
	}
	return n, &layout
}

// boxWords says what box to buy: one that a flat block of the pack's columns
// fills.
func (m *maker) boxWords(c pack.Cylinders, ok bool) string {
	if !ok {
		return "a box for the pack, of unknown size"
	}
	series, strings := int(m.build.Battery.Series), int(m.build.Battery.Strings())
	pitch := c.Diameter + 2*c.Sleeve + c.Gap
	side := func(cells int) float64 { return float64(cells)*pitch - c.Gap + 2*c.Wall }
	return fmt.Sprintf("a box in which %s of %s × %s mm fit: inside %s for upright cells in a block of %d by %d",
		counted(c.Number, "cell", "cells"), num(c.Diameter*mm), num(c.Length*mm),
		m.blockWords(pack.Box{Length: side(series), Width: side(strings), Height: c.Length + 2*c.End + 2*c.Wall}, up),
		series, strings)
}

// blockWords writes the sides of a block, rounded up or down.
func (m *maker) blockWords(b pack.Box, write func(float64) string) string {
	return m.wishes.Units.lengths(" × ", write, b.Length, b.Width, b.Height)
}
