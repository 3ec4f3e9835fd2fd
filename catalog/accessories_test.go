package catalog

import (
	"math"
	"testing"
)

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
poles = 2
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
	const awg10 = 5.261e-6 // m²: 5.261 mm² is the table of ASTM B258
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
		{math.Round(c.Connectors[0].WireMax*1e9) / 1e9, awg10},
		{c.Connectors[0].WireMaxAWG, 10},
		{c.Connectors[0].Poles, 2},
		{c.Connectors[1].Poles, nan},
		{c.Connectors[1].WireMax, 5.5e-6},
		{c.Connectors[1].WireMaxAWG, nan},
		{c.Connectors[2].WireMax, nan},
		{c.Connectors[2].WireMaxAWG, nan},
		{math.Round(c.Wires[0].Area*1e9) / 1e9, awg10},
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
