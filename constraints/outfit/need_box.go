package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
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
	room := yes(DemandRoom, "length_mm", sourceBox)
	if !ok {
		room.Open = alone(NoCellSize)
	}
	choose(n, m.catalog.Boxes, []ask[*catalog.Box]{{room, func(b *catalog.Box) float64 {
		if _, fits := pack.BestLayout(c, inside(b)); !fits {
			return 0
		}
		return 1
	}}})
	for i, t := range n.Turned {
		b, _ := catalog.ByID(m.catalog.Boxes, t.ID)
		n.Turned[i].Why = alone(RoomFor, count(pack.MostCells(c, inside(b))), count(c.Number))
	}
	n.Buy = m.buyBox(c, ok)
	if n.Part == nil {
		return n, nil
	}
	b, _ := catalog.ByID(m.catalog.Boxes, n.Part.ID)
	layout, _ := pack.BestLayout(c, inside(b))
	axis, rows := Lie(layout)
	free := block(layout.Free, constraints.ThreeDown)
	n.Notes = []Statement{said(CellsLie, append([]constraints.Quantity{count(layout.Layers), count(layout.Room)}, free...)...).about(axis, rows)}
	return n, &layout
}

// Lie names how cells lie: "upright" or along the "length" or "width" of the
// box, in "square" or "staggered" rows.
func Lie(l pack.Layout) (axis, rows string) {
	axis, rows = [...]string{"upright", "length", "width"}[l.Axis], "square"
	if l.Staggered {
		rows = "staggered"
	}
	return axis, rows
}

// buyBox is what box to buy: one that a flat block of the pack's columns fills.
func (m *maker) buyBox(c pack.Cylinders, ok bool) Statement {
	if !ok {
		return said(BuyBoxUnknown)
	}
	series, strings := int(m.build.Battery.Series), int(m.build.Battery.Strings())
	pitch := c.Diameter + 2*c.Sleeve + c.Gap
	side := func(cells int) float64 { return float64(cells)*pitch - c.Gap + 2*c.Wall }
	inside := block(pack.Box{Length: side(series), Width: side(strings), Height: c.Length + 2*c.End + 2*c.Wall}, constraints.ThreeUp)
	cells := []constraints.Quantity{count(c.Number), sold(c.Diameter), sold(c.Length)}
	return said(BuyBox, append(append(cells, inside...), count(series), count(strings))...)
}

// block are the sides of a block, rounded up or down.
func block(b pack.Box, digits constraints.Digits) []constraints.Quantity {
	return []constraints.Quantity{shown(b.Length, mm, "mm", digits), shown(b.Width, mm, "mm", digits), shown(b.Height, mm, "mm", digits)}
}
