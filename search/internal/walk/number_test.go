package walk

import (
	"testing"

	"gearsearch/search/internal/randcat"
)

// TestNumbersAreInOrder: the choices of each number have that number, the pairs
// of one group follow one another, and units and groups are each met once.
func TestNumbersAreInOrder(t *testing.T) {
	tested := 0
	for seed := range uint64(30) {
		p, ok := randcat.Problem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		tested++
		for id := range uint64(p.Combinations()) {
			c := ChoicesOf(p, id)
			if got := c.Number(p); got != id {
				t.Fatalf("seed %d: %+v are those of %d, and have the number %d", seed, c, id, got)
			}
			first := c
			first.Drive, first.Wheel = 0, 0
			if got := first.Number(p) + PairNumber(p, c.Drive, c.Wheel); got != id {
				t.Fatalf("seed %d: %d by its group and pair, want %d", seed, got, id)
			}
		}
		units := map[Choices]bool{}
		for n := range Units(p) {
			units[Unit(p, n)] = true
		}
		if want := len(p.Motors) * len(p.Counts) * len(p.Batteries); len(units) != want {
			t.Fatalf("seed %d: %d units, want %d", seed, len(units), want)
		}
		groups := map[Choices]bool{}
		for g := range NewPlan(p, false).WholeGroups() {
			for place, member := range g.Members() {
				for battery := range p.Batteries {
					for controller := range p.Controllers {
						c := g.Choices(p, GroupAt(p, place, battery, controller))
						if want := (Choices{Battery: battery, Controller: controller, Motor: member.Motor, Count: member.Count}); c != want {
							t.Fatalf("seed %d: a group of %+v, want %+v", seed, c, want)
						}
						groups[c] = true
					}
				}
			}
		}
		if want := len(units) * len(p.Controllers); len(groups) != want {
			t.Fatalf("seed %d: %d groups, want %d", seed, len(groups), want)
		}
	}
	if tested < 10 {
		t.Errorf("only %d catalogs tested", tested)
	}
}
