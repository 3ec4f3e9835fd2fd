package constraints

import (
	"slices"
	"testing"

	"gearsearch/catalog"
)

// TestReferences: what price and mass are scored against, added up by hand.
// The kit on belts: battery 100, controllers 80, motors 90, a drive 12 + 20 +
// 9 + 30 = 71, wheels 60; 1.12 kg, 0.1, 0.7, 0.255, 1, board 5.
func TestReferences(t *testing.T) {
	gear := `[[gear_drive]]
id = "gear"
ratio = 3
price = 150
mass_g = 200
`
	dear := `[[motor]]
id = "dear"
kv = 100
price = 200
mass_g = 100
`
	duo := `[[controller]]
id = "duo"
channels = 2
price = 150
mass_g = 250
`
	noPrices := []string{"-motor.price", "-controller.price", "-cell.price", "-wheel.price", "-small.price", "-large.price", "-belt.price", "-mount.price"}
	noMasses := []string{"-motor.mass_g", "-controller.mass_g", "-cell.mass_g", "-wheel.mass_g", "-small.mass_g", "-large.mass_g", "-belt.mass_g", "-mount.mass_g"}
	for _, c := range []struct {
		name, why   string
		change      []string
		price, mass float64
	}{
		{"one build", "its own price and mass: 100 + 160 + 180 + 60 + 142, 5 + 1.12 + 0.2 + 1.4 + 1 + 0.51", nil, 642, 9.23},
		{"limits", "the limits", []string{"limit.price = 700", "limit.mass_kg = 8"}, 700, 8},
		{"the most motors", "over the counts 1, 2 and 4: 100 + 320 + 360 + 60 + 284", []string{"board.motors = [1, 2, 4]"}, 1124, 5 + 1.12 + 0.4 + 2.8 + 1 + 1.02},
		{"gears beside belts", "the dearer drive is the gear, the heavier the belt's", []string{gear}, 642 - 142 + 300, 9.23},
		{"gears avoided", "not in play", []string{gear, `avoid.gear_drive = ["gear"]`}, 642, 9.23},
		{"a dear light motor", "slot by slot: the dear one's price, the heavy one's mass", []string{dear}, 642 + 220, 9.23},
		{"one controller for two", "two of 80 are more than one of 150; one of 250 g more than two of 100", []string{duo}, 642, 9.23 + 0.05},
		{"sold in tens", "ten motors for two", []string{"motor.sold_in = 10"}, 642 - 90, 9.23},
		{"owned", "costs nothing", []string{"motor.owned = true"}, 642 - 180, 9.23},
		{"a price and a mass not known", "count 0", []string{"-motor.price", "-wheel.mass_g"}, 642 - 180, 8.23},
		{"no prices", "nothing to score against", noPrices, 0, 9.23},
		{"no masses", "nothing to score against, the board alone says nothing", noMasses, 642, 0},
		{"masses of 0", "are known: the board's own is left", append(noMasses, "belt.mass_g = 0"), 642, 5},
		{"masses of 0, no board", "0", append(noMasses, "belt.mass_g = 0", "board.mass_kg = 0"), 642, 0},
		{"a mass limit without masses", "the limit", append(noMasses, "limit.mass_kg = 12"), 642, 12},
		{"only the pack's mass", "5 + 1.12", append(noMasses, "cell.mass_g = 50"), 642, 6.12},
		{"no belts, no mounts", "642 − 78", []string{"-belt", "-mount"}, 564, 9.23 - 0.27},
	} {
		p := problem(t, onBelts, c.change...)
		if !near(p.PriceReference, c.price, 1e-12) || !near(p.MassReference, c.mass, 1e-12) {
			t.Errorf("%s: references %v and %v, want %v and %v: %s", c.name, p.PriceReference, p.MassReference, c.price, c.mass, c.why)
		}
	}
}

// TestOneMassIsEnough: the mass of any one part makes masses something to score
// by: what it makes on two drives, and the board's 5 kg.
func TestOneMassIsEnough(t *testing.T) {
	belts := []string{"-motor.mass_g", "-controller.mass_g", "-cell.mass_g", "-wheel.mass_g", "-small.mass_g", "-large.mass_g", "-belt.mass_g", "-mount.mass_g"}
	gears := []string{"-motor.mass_g", "-controller.mass_g", "-cell.mass_g", "-wheel.mass_g", "-gear.mass_g"}
	for part, want := range map[string]float64{"motor": 5.02, "controller": 5.02, "wheel": 5.04, "small": 5.02, "large": 5.02, "belt": 5.02, "mount": 5.02, "gear": 5.02} {
		kit, none := onBelts, belts
		if part == "gear" {
			kit, none = onGears, gears
		}
		if p := problem(t, kit, append(slices.Clone(none), part+".mass_g = 10")...); !near(p.MassReference, want, 1e-12) {
			t.Errorf("10 g of %s alone: masses are scored against %v, want %v", part, p.MassReference, want)
		}
	}
}

// TestReferenceBoundsBuilds: no build costs or weighs more than the reference
// that the slots give.
func TestReferenceBoundsBuilds(t *testing.T) {
	p := problemOf(t, mixed("-limit.price", "-limit.mass_kg"))
	dearest, heaviest := 0.0, 0.0
	eachBuild(p, func(b *Build) {
		dearest, heaviest = max(dearest, b.Price().Known), max(heaviest, b.Mass().Known)
	})
	if dearest > p.PriceReference || heaviest > p.MassReference || dearest == 0 || heaviest == 0 {
		t.Errorf("a build of %v and %v kg, references %v and %v", dearest, heaviest, p.PriceReference, p.MassReference)
	}
}

// TestUnknownMassCountsNothing: in the physics, and the total stays unknown.
func TestUnknownMassCountsNothing(t *testing.T) {
	b := build(t, onBelts, "-motor.mass_g")
	if !near(b.TotalMass(), 89.23-1.4, 1e-12) || !b.Mass().Missing || !near(b.Mass().Total(), nan, 0) {
		t.Errorf("%v kg move, mass %+v", b.TotalMass(), b.Mass())
	}
}

// TestPackMass: the pack's overhead is as large as it is said to be assumed.
func TestPackMass(t *testing.T) {
	pack := build(t, onBelts).Battery
	if got, want := pack.Mass.Total(), 20*0.05*(1+catalog.AssumedOverhead); !near(got, want, 1e-12) {
		t.Errorf("the pack weighs %v kg, want %v", got, want)
	}
}
