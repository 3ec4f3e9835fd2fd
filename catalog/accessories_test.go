package catalog

import (
	"math"
	"testing"
)

// The resistance of a kilometre of solid copper wire at 20 °C is the table of
// ASTM B258 for copper of ASTM B3, 100 % IACS: 1/58 Ω·mm²/m.
func TestAWGArea(t *testing.T) {
	const resistivity = 1 / 58e6 // Ω·m
	for _, test := range []struct {
		gauge     float64
		ohmPerKM  float64
		tolerance float64
	}{{10, 3.277, 0.0005}, {12, 5.211, 0.0005}, {14, 8.285, 0.001}} {
		if got := resistivity * 1000 / AWGArea(test.gauge); math.Abs(got-test.ohmPerKM) > test.tolerance {
			t.Errorf("%v AWG: %.4f Ω/km, the table has %v", test.gauge, got, test.ohmPerKM)
		}
	}
	// The two diameters that the standard fixes: 0.46 in at 4/0, 0.005 in at 36.
	for gauge, inch := range map[float64]float64{-3: 0.46, 36: 0.005} {
		d := inch * 0.0254
		if want := math.Pi / 4 * d * d; !near(AWGArea(gauge), want) {
			t.Errorf("%v AWG: %v m², want %v", gauge, AWGArea(gauge), want)
		}
	}
	if !math.IsNaN(AWGArea(math.NaN())) {
		t.Error("a gauge that is not given has an area")
	}
}

// Accessories are held in SI units, and what they do not give is not known.
func TestAccessories(t *testing.T) {
	c := read(t, `
[[bms]]
id = "guard"
series = 12
charge_a = 8
balance = "passive"
balance_ma = 60
[[switch]]
id = "switch"
precharge = false
[[fuse]]
id = "fuse"
rated_a = 80
[[connector]]
id = "plug"
wire_max_awg = 10
[[connector]]
id = "plug-2"
wire_max_mm2 = 5.5
[[connector]]
id = "plug-3"
[[wire]]
id = "a"
awg = 10
[[wire]]
id = "b"
area_mm2 = 2.5
insulation_c = 200
[[charger]]
id = "charger"
full_v = 50.4
current_a = 5
[[remote]]
id = "remote"
[[box]]
id = "box"
length_mm = 340
width_mm = 170
height_mm = 48
`)
	nan := math.NaN()
	awg10 := AWGArea(10)
	b, s, f, box := c.BMSs[0], c.Switches[0], c.Fuses[0], c.Boxes[0]
	for i, test := range []struct{ got, want float64 }{
		{b.Series, 12},
		{b.Charge, 8},
		{b.Discharge, nan},
		{b.PeakDischarge, nan},
		{b.BalanceCurrent, 0.06},
		{b.CellFull, nan},
		{s.MaxVolts, nan},
		{s.Continuous, nan},
		{f.Rated, 80},
		{f.MaxVoltsDC, nan},
		{f.Breaking, nan},
		{c.Connectors[0].WireMax, awg10},
		{c.Connectors[0].WireMaxAWG, 10},
		{c.Connectors[1].WireMax, 5.5e-6},
		{c.Connectors[1].WireMaxAWG, nan},
		{c.Connectors[2].WireMax, nan},
		{c.Connectors[2].WireMaxAWG, nan},
		{c.Wires[0].Area, awg10},
		{c.Wires[0].AWG, 10},
		{c.Wires[0].Insulation, nan},
		{c.Wires[1].Area, 2.5e-6},
		{c.Wires[1].AWG, nan},
		{c.Wires[1].Insulation, 200},
		{c.Chargers[0].Full, 50.4},
		{c.Chargers[0].Current, 5},
		{box.Length, 0.34},
		{box.Width, 0.17},
		{box.Height, 0.048},
	} {
		if !near(test.got, test.want) {
			t.Errorf("value %d is %v, want %v", i, test.got, test.want)
		}
	}
	if s.Precharge == nil || *s.Precharge || c.Remotes[0].Telemetry != nil || b.Balance != "passive" || b.SoldIn != 1 {
		t.Errorf("switch %+v, remote %+v, bms %+v", s, c.Remotes[0], b)
	}
}
