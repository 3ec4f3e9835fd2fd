package constraints

import (
	"math"
	"slices"
	"testing"

	"gearsearch/catalog"
)

// TestSlotRowsAreWhole names the empty field of a slot's row.
func TestSlotRowsAreWhole(t *testing.T) {
	for i, row := range slotRows {
		empty := map[string]bool{
			"name": row.name == "", "kind": !slices.Contains(catalog.KindNames(), row.kind),
			"parts": row.parts == nil, "inPlay": row.inPlay == nil, "pieces": row.pieces == nil,
			"in or of": (row.in == nil) == (row.of == nil),
		}
		for field, is := range empty {
			if is {
				t.Errorf("slot %d, %s: %s is empty or wrong", i, row.name, field)
			}
		}
		if s, ok := SlotNamed(row.name); !ok || s != Slot(i) {
			t.Errorf("slot %d is named %s, which is slot %d", i, row.name, s)
		}
	}
}

// TestSlotsHoldTheirParts: what fills a slot of a build is one of the catalog's
// parts for it and in play, of its kind, and the pieces of all slots cost and
// weigh what the build does.
func TestSlotsHoldTheirParts(t *testing.T) {
	p := problemOf(t, mixed())
	filled := map[Slot]bool{}
	eachBuild(p, func(b *Build) {
		price, mass := 0.0, p.Brief.Board.Mass
		for _, l := range b.Lines() {
			if l.Pieces != b.Pieces(l.Slot) || l.Part != b.Part(l.Slot) || l.Part.ID != b.ID(l.Slot) {
				t.Fatalf("%s: %d of %s in the list, %d of %s in the build", l.Slot, l.Pieces, l.Part.ID, b.Pieces(l.Slot), b.ID(l.Slot))
			}
			filled[l.Slot] = true
			price, mass = price+l.Price, mass+l.Mass
			if kind, _, _ := p.Catalog.Find(l.Part.ID); kind != l.Slot.Kind() {
				t.Fatalf("%s is a %s, in the slot %s for a %s", l.Part.ID, kind, l.Slot, l.Slot.Kind())
			}
		}
		if x := b.Price().Total(); !near(price, x, 1e-12) || !near(mass, b.Mass().Total(), 1e-12) && !math.IsNaN(mass) {
			t.Fatalf("the lines cost %v and weigh %v, the build %v and %v", price, mass, x, b.Mass().Total())
		}
	})
	for _, s := range Slots() {
		if !filled[s] {
			t.Errorf("no build fills the slot %s: the test does not test", s)
		}
		here := slices.Collect(s.Parts(p.Catalog))
		for part := range slotRows[s].inPlay(p) {
			if !slices.Contains(here, part) {
				t.Errorf("%s is in play in the slot %s, and the catalog has it for another", part.ID, s)
			}
		}
	}
}
