package catalog

import (
	"math"
	"testing"
)

func near(a, b float64) bool {
	return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b))
}

// Ten lithium-ion cells in series are 37 V nominal and 42 V full: a fact of the
// trade (common practice, no published source). The rest follows from cells in
// series and in parallel.
func TestPackOfCells(t *testing.T) {
	c := read(t, `
[[cell]]
id = "cell"
nominal_v = 3.7
full_v = 4.2
cutoff_v = 3.0
capacity_ah = 2.5
resistance_mohm = 20
discharge_a = 20
charge_a = 4
price = 3.5
mass_g = 45
[[battery]]
id = "p"
series = 10
parallel = 4
cell = "cell"
wiring_mohm = 6
[[battery]]
id = "q"
series = 12
cell = "cell"
overhead_pct = 20
[[battery]]
id = "r"
series = 10
parallel = 2
cell = "cell"
capacity_ah = 4.6
resistance_mohm = 90
discharge_a = 30
charge_a = 6
mass_g = 1111
price = 150
`)
	tests := []struct {
		why                                    string
		nominal, full, cutoff                  float64
		ohm, discharge, charge, ah, mass, cost float64
	}{
		{"cells and wiring", 37, 42, 30, 0.020*10/4 + 0.006, 80, 16, 10, 40 * 0.045 * 1.12, 40 * 3.5},
		{"one string, own overhead", 44.4, 50.4, 36, 0.24, 20, 4, 2.5, 12 * 0.045 * 1.2, 12 * 3.5},
		{"the pack's own values come first", 37, 42, 30, 0.090, 30, 6, 4.6, 1.111, 150},
	}
	for i, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			b := c.Batteries[i]
			ohm, known := b.PackResistance()
			got := []float64{b.NominalVolts(), b.FullVolts(), b.CutoffVolts(), ohm, b.DischargeLimit(), b.ChargeLimit(), b.CapacityAh(), b.PackMass(), b.PackPrice()}
			want := []float64{test.nominal, test.full, test.cutoff, test.ohm, test.discharge, test.charge, test.ah, test.mass, test.cost}
			for j := range want {
				if !near(got[j], want[j]) {
					t.Errorf("value %d: %v, want %v", j, got[j], want[j])
				}
			}
			if !known {
				t.Error("the resistance is known")
			}
		})
	}
}

func TestPackWithoutCells(t *testing.T) {
	c := read(t, "[[battery]]\nid = 'b'\nseries = 10\nnominal_v = 36\nfull_v = 42\nwiring_mohm = 5\n")
	b := c.Batteries[0]
	ohm, known := b.PackResistance()
	if known || ohm != 0.005 {
		t.Errorf("resistance %v, known %v; want the wiring alone, unknown", ohm, known)
	}
	if b.NominalVolts() != 36 || b.FullVolts() != 42 {
		t.Errorf("%v V, %v V full", b.NominalVolts(), b.FullVolts())
	}
	for name, x := range map[string]float64{
		"cut-off": b.CutoffVolts(), "discharge": b.DischargeLimit(), "charge": b.ChargeLimit(), "capacity": b.CapacityAh(), "mass": b.PackMass(), "price": b.PackPrice(),
	} {
		if !math.IsNaN(x) {
			t.Errorf("%s is %v, must be unknown", name, x)
		}
	}
}

func TestCost(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		why  string
		part Part
		n    int
		want float64
	}{
		{"one", Part{Price: 25, SoldIn: 1}, 1, 25},
		{"several", Part{Price: 25, SoldIn: 1}, 3, 75},
		{"a set of four", Part{Price: 100, SoldIn: 4}, 4, 100},
		{"fewer than a set", Part{Price: 100, SoldIn: 4}, 2, 100},
		{"one more than a set", Part{Price: 100, SoldIn: 4}, 5, 200},
		{"owned", Part{Price: 25, SoldIn: 1, Owned: true}, 3, 0},
		{"owned without a price", Part{Price: nan, SoldIn: 1, Owned: true}, 3, 0},
		{"price not known", Part{Price: nan, SoldIn: 1}, 3, nan},
		{"none", Part{Price: nan, SoldIn: 1}, 0, 0},
		{"zero value is sold one by one", Part{Price: 2}, 3, 6},
	}
	for _, test := range tests {
		if got := test.part.Cost(test.n); !near(got, test.want) {
			t.Errorf("%s: %v, want %v", test.why, got, test.want)
		}
	}
}

func TestPackPrice(t *testing.T) {
	nan := math.NaN()
	cell := func(price float64, soldIn int, owned bool) *Cell {
		return &Cell{Part: Part{Price: price, SoldIn: soldIn, Owned: owned}}
	}
	tests := []struct {
		why  string
		pack Battery
		want float64
	}{
		{"its own price", Battery{Part: Part{Price: 200}, Cell: cell(5, 1, false)}, 200},
		{"its own price beats owned cells", Battery{Part: Part{Price: 200}, Cell: cell(5, 1, true)}, 200},
		{"owned", Battery{Part: Part{Price: 200, Owned: true}, Cell: cell(5, 1, false)}, 0},
		{"owned without a price", Battery{Part: Part{Price: nan, Owned: true}}, 0},
		{"its cells", Battery{Part: Part{Price: nan}, Cell: cell(5, 1, false)}, 100},
		{"its cells in boxes of eight", Battery{Part: Part{Price: nan}, Cell: cell(30, 8, false)}, 90},
		{"owned cells", Battery{Part: Part{Price: nan}, Cell: cell(5, 1, true)}, 0},
		{"cells without a price", Battery{Part: Part{Price: nan}, Cell: cell(nan, 1, false)}, nan},
		{"neither cells nor price", Battery{Part: Part{Price: nan}}, nan},
	}
	for _, test := range tests {
		test.pack.Series, test.pack.Parallel = 10, 2
		if got := test.pack.PackPrice(); !near(got, test.want) {
			t.Errorf("%s: %v, want %v", test.why, got, test.want)
		}
	}
}
