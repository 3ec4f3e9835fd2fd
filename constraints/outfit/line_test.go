package outfit

import (
	"math"
	"testing"

	"gearsearch/constraints"
)

// line finds the line of a slot.
func lineNamed(t *testing.T, o *Outfit, slot string) Line {
	t.Helper()
	for _, l := range o.Lines {
		if l.Slot == slot {
			return l
		}
	}
	t.Fatalf("no line for %s", slot)
	return Line{}
}

func TestLines(t *testing.T) {
	for _, tt := range []struct {
		why, slot     string
		change        []string
		pieces, packs int
		unit, total   float64
	}{
		{"a pack without a price is made of cells", "battery", nil, 1, 0, nan, 0},
		{"which are sold in tens", "cell", nil, 20, 2, 5, 10},
		{"with a price it is bought", "battery", []string{"battery.price = 300"}, 1, 1, 300, 300},
		{"an owned pack costs nothing", "battery", []string{"battery.owned = true"}, 1, 0, nan, 0},
		{"owned cells too", "cell", []string{"cell.owned = true"}, 20, 0, 5, 0},
		{"nobody knows the price of the cells", "cell", []string{"-cell.price"}, 20, 2, nan, nan},
		{"one of each controller for each motor", "controller", nil, 2, 2, 80, 160},
		{"one for both", "controller", []string{"controller.channels = 2"}, 1, 1, 80, 80},
		{"two mounts are one pack of two", "mount", nil, 2, 1, 30, 30},
		{"wheels are sold in fours", "wheel", nil, 4, 1, 60, 60},
		{"wheels sold one by one", "wheel", []string{"wheel.sold_in = 1"}, 4, 4, 60, 240},
		{"what is owned is not bought", "motor", []string{"motor.owned = true"}, 2, 0, 90, 0},
	} {
		l := lineNamed(t, outfitOf(t, tt.change...), tt.slot)
		if l.Pieces != tt.pieces || l.Packs != tt.packs {
			t.Errorf("%s: %d pieces in %d packs, want %d in %d", tt.why, l.Pieces, l.Packs, tt.pieces, tt.packs)
		}
		near(t, tt.why+": unit price", l.Unit, tt.unit, 0)
		near(t, tt.why+": total", l.Total, tt.total, 0)
	}
	o := outfitOf(t, `motor.link = "https://example.org/m"`, `motor.name = "Stout"`)
	if l := lineNamed(t, o, "motor"); l.Link != "https://example.org/m" || l.Name != "Stout" || l.ID != "motor" {
		t.Errorf("line %+v", l)
	}
	if l := lineNamed(t, o, "battery"); briefly(l.Note) != "made-of-cells 20" {
		t.Error("nothing tells that the pack is made of the cells below it")
	}
	for _, l := range outfitOf(t, "battery.price = 300").Lines {
		if l.Slot == "cell" {
			t.Errorf("cells are bought beside a pack that has a price: %+v", l)
		}
	}
}

// The lines of the drivetrain cost what the build does, always.
func TestLinesCostWhatTheBuildDoes(t *testing.T) {
	for _, change := range [][]string{
		nil, {"battery.price = 300"}, {"battery.owned = true"}, {"cell.owned = true"}, {"-cell.price"}, {"motor.owned = true"}, {"-wheel.price"},
	} {
		o := outfitOf(t, change...)
		var sum constraints.Sum
		for _, l := range o.Lines {
			if math.IsNaN(l.Total) {
				sum.Missing = true
			} else {
				sum.Known += l.Total
			}
		}
		want := o.Build.Price()
		if sum.Missing != want.Missing {
			t.Errorf("%v: missing %v, want %v", change, sum.Missing, want.Missing)
		}
		near(t, "known", sum.Known, want.Known, 1e-12)
	}
}

// By hand: 522 for the drivetrain; 25 + 40 + 4 + 3 + 45 + 50 + 30 around it, a
// metre and three of wire at 2. Plugs of the phases, keys and screws have no
// price.
func TestTotal(t *testing.T) {
	o := outfitOf(t)
	near(t, "known", o.Total.Known, 522+197+8, 0)
	if !o.Total.Missing {
		t.Error("nothing is missing in the total, though the plugs of the phases have no price")
	}
	near(t, "without accessories", outfitOf(t, bare()...).Total.Known, 522, 0)
	for _, n := range outfitOf(t, bare()...).Needs {
		if l := n.Line(); l.ID != "" || l.Name != "" || !math.IsNaN(l.Total) || l.Packs != n.Pieces || l.Slot == "" {
			t.Errorf("line %+v of a need that the catalog does not meet", l)
		}
	}
	if l := o.Need("wire", "phase").Line(); l.Slot != "phase wire" || l.ID != "lead" || l.Pieces != 3 || l.Total != 6 {
		t.Errorf("line %+v", l)
	}
}
