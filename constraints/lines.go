package constraints

import (
	"slices"

	"gearsearch/catalog"
)

// Line is one line of what a build is made of.
type Line struct {
	Slot   Slot
	Part   *catalog.Part
	Pieces int
	Price  float64 // of all pieces, in lots as sold; NaN: not known
	Mass   float64 // kg, of all pieces; NaN: not known
}

// Lines lists the parts of the build with how many it takes, in the order of
// the slots.
func (b *Build) Lines() []Line {
	var lines []Line
	for _, slot := range Slots() {
		part, n := b.Part(slot), b.Pieces(slot)
		switch {
		case part == nil:
		case slot == SlotBattery: // cells and wiring count
			lines = append(lines, Line{slot, part, n, b.Battery.Price.Total(), b.Battery.Battery.PackMass()})
		default:
			lines = append(lines, line(slot, part, n))
		}
	}
	return lines
}

func line(slot Slot, part *catalog.Part, n int) Line {
	return Line{slot, part, n, part.Cost(n), part.Mass * float64(n)}
}

// Together lists the parts for several builds that are ridden one at a time, from the
// lines of each: of every part as many as the build that needs the most of it, in the
// order of the slots.
func Together(builds ...[]Line) []Line {
	var out []Line
	for _, lines := range builds {
		for _, l := range lines {
			i := slices.IndexFunc(out, func(o Line) bool { return o.Part.ID == l.Part.ID })
			switch {
			case i < 0:
				out = append(out, l)
			case out[i].Pieces < l.Pieces:
				out[i] = l
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Line) int { return int(a.Slot) - int(b.Slot) })
	return out
}
