package catalog

import (
	"math"

	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// The checks of one accessory that no single key can make.

func finishBMS(r *reader, g field.Given, b *BMS) {
	if g.Has("peak_discharge_a") && !g.Has("discharge_a") {
		r.report.Add(g.Place("peak_discharge_a"), field.Contradiction, "without discharge_a it does not carry the discharge: give both, or neither",
			"bms %s has peak_discharge_a but no discharge_a", field.Quote(b.ID))
	}
	if b.CellCutoff >= b.CellFull {
		r.report.Add(g.Place("cell_cutoff_v"), field.Contradiction, "", "cell_cutoff_v is %s, must be below cell_full_v, %s",
			field.FormatNumber(b.CellCutoff), field.FormatNumber(b.CellFull))
	}
	if b.Balance == "none" && g.Has("balance_ma") {
		r.report.Add(g.Place("balance_ma"), field.Contradiction, "take out either", `balance_ma is for a bms that balances, this one has balance = "none"`)
	}
}

func finishFuse(r *reader, g field.Given, f *Fuse) {
	if f.Breaking < f.Rated {
		r.report.Add(g.Place("breaking_a"), field.Contradiction, "it is the fault current that the fuse can break, thousands of amperes mostly",
			"breaking_a is %s, must be at least rated_a, %s", field.FormatNumber(f.Breaking), field.FormatNumber(f.Rated))
	}
}

func finishConnector(r *reader, g field.Given, c *Connector) {
	if g.Has("wire_max_awg") && g.Has("wire_max_mm2") {
		r.report.Add(g.Place("wire_max_mm2"), field.Contradiction, "take out either", "connector %s has both wire_max_awg and wire_max_mm2", field.Quote(c.ID))
		return
	}
	c.WireMax = areaOf(c.WireMax, c.WireMaxAWG)
}

func finishWire(r *reader, g field.Given, w *Wire) {
	switch gauge, area := g.Has("awg"), g.Has("area_mm2"); {
	case gauge && area:
		r.report.Add(g.Place("area_mm2"), field.Contradiction, "give one of them", "wire %s has both awg and area_mm2", field.Quote(w.ID))
	case !gauge && !area:
		r.report.Add(g.Section().Place(), field.Missing, "give awg, or area_mm2 of the copper", "wire %s has neither awg nor area_mm2", field.Quote(w.ID))
	default:
		w.Area = areaOf(w.Area, w.AWG)
	}
}

// areaOf is an area in m² that was given as such, or as a gauge; NaN where
// neither was.
func areaOf(area, gauge float64) float64 {
	if math.IsNaN(gauge) {
		return area
	}
	return drive.GaugeArea(int(gauge))
}
