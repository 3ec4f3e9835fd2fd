package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// Line is one line of the shopping list.
type Line struct {
	Slot   string
	Called string  // what people call the slot: in a chain drive by other names
	ID     string  // "" for what the catalog does not have
	Name   string  // "" where the part has none
	Pieces int     // that the build takes; of wire, metres
	SoldIn int     // pieces for one price
	Packs  int     // to buy, as sold; 0 for what is owned
	Unit   float64 // price of one such pack; NaN: not known
	Total  float64 // NaN: not known
	Owned  bool
	Made   string // how it is made; "": it is bought
	// Invented: a part of the demo catalog.
	Invented bool
	Link     string
	Priced   string    // the day of the price; "" not told
	Source   string    // where price and values are from; "" not told
	Own      string    // what the catalog notes of the part
	Note     Statement // says nothing where there is nothing to know
}

// lineOf is the line of so many pieces of a part.
func lineOf(slot string, p *catalog.Part, pieces int) Line {
	l := Line{
		Slot: slot, Called: slot, ID: p.ID, Name: p.Name, Pieces: pieces, SoldIn: max(p.SoldIn, 1),
		Unit: p.Price, Total: p.Cost(pieces), Owned: p.Owned, Link: p.Link, Priced: p.Priced, Source: p.Source, Own: p.Note, Invented: p.Invented(),
	}
	if !l.Owned {
		l.Made = p.Made
		l.Packs = (pieces + l.SoldIn - 1) / l.SoldIn
	}
	return l
}

// Carrying is the build file of a build that carries its brief and its parts, those that
// it needs around it too.
func Carrying(b *constraints.Build) []byte {
	var ids []string
	for _, l := range b.Lines() {
		ids = append(ids, l.Part.ID)
	}
	for _, n := range Complete(b, DefaultWishes()).Needs {
		if n.Part != nil {
			ids = append(ids, n.Part.ID)
		}
	}
	return b.Carrying(ids...)
}

// lines are the parts of the build itself. A pack without a price of its own is
// bought as its cells.
func lines(b *constraints.Build) []Line {
	var out []Line
	for _, l := range b.Lines() {
		line := lineOf(l.Slot.String(), l.Part, l.Pieces)
		line.Called = l.Slot.Called(b.Drive.Chained())
		if l.Slot != constraints.SlotBattery {
			out = append(out, line)
			continue
		}
		pack := b.Battery
		if !line.Owned {
			line.Made = pack.Battery.HowMade()
		}
		if pack.Owned || !math.IsNaN(pack.Battery.Price) || pack.Cell == nil {
			out = append(out, line)
			continue
		}
		cells := lineOf("cell", &pack.Cell.Part, pack.Cells())
		line.Packs, line.Total = 0, 0
		line.Note = said(MadeOfCells, count(cells.Pieces))
		out = append(out, line, cells)
	}
	return out
}
