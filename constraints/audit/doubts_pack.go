package audit

import (
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

// chemistry is the cell voltages of a chemistry: the least and the most of
// each that is usual.
type chemistry struct {
	name                  string
	is                    []catalog.Chemistry // none: catalogs have no word for it
	nominal, full, cutoff [2]float64
}

// chemistries are common practice, no published source.
func chemistries() []chemistry {
	return []chemistry{
		{"li-ion", []catalog.Chemistry{catalog.LiIon, catalog.LiPo}, [2]float64{3.5, 3.85}, [2]float64{4.1, 4.25}, [2]float64{2.5, 3.5}},
		{"high-voltage li-ion", []catalog.Chemistry{catalog.LiIon, catalog.LiPo}, [2]float64{3.7, 3.9}, [2]float64{4.3, 4.5}, [2]float64{2.7, 3.5}},
		{"lfp", []catalog.Chemistry{catalog.LFP}, [2]float64{3.15, 3.35}, [2]float64{3.5, 3.7}, [2]float64{2, 2.9}},
		{"lto", nil, [2]float64{2.2, 2.5}, [2]float64{2.6, 2.9}, [2]float64{1.4, 2.1}},
		{"sodium-ion", nil, [2]float64{2.9, 3.2}, [2]float64{3.8, 4.1}, [2]float64{1.5, 2.5}},
		{"nimh", nil, [2]float64{1.15, 1.3}, [2]float64{1.35, 1.6}, [2]float64{0.8, 1.1}},
		{"lead", nil, [2]float64{1.95, 2.15}, [2]float64{2.2, 2.5}, [2]float64{1.6, 2}},
	}
}

// chemistryNamed finds the voltages of a chemistry, those of the first kind of it.
func chemistryNamed(is catalog.Chemistry) (c chemistry, ok bool) {
	for _, c := range chemistries() {
		if slices.Contains(c.is, is) {
			return c, true
		}
	}
	return chemistry{}, false
}

// voltage is one of the voltages of a cell, V, with what is usual for it.
type voltage struct {
	key   string
	value float64
	usual [2]float64
}

// of are a cell's voltages beside those of the chemistry.
func (c *chemistry) of(nominal, full, cutoff float64) []voltage {
	return []voltage{{"full_v", full, c.full}, {"nominal_v", nominal, c.nominal}, {"cutoff_v", cutoff, c.cutoff}}
}

// odd are those of the voltages that are not usual.
func odd(voltages []voltage) []voltage {
	var out []voltage
	for _, v := range voltages {
		if outside(v.value, v.usual[0], v.usual[1]) {
			out = append(out, v)
		}
	}
	return out
}

// chemistry doubts cell voltages that the chemistry does not have.
func (d *doubter) chemistry() {
	for _, c := range d.Cells {
		d.voltages("cell", &c.Part, c.Chemistry, 1, c.Nominal, c.Full, c.Cutoff)
	}
	for _, b := range d.Batteries {
		if b.Cell == nil {
			d.voltages("battery", &b.Part, b.Chemistry, b.Series, b.Nominal, b.Full, b.Cutoff)
		}
	}
}

// voltages holds the voltages of a cell, or of a pack of so many in series,
// against those of its chemistry, or of any where it does not say.
func (d *doubter) voltages(kind string, p *catalog.Part, is catalog.Chemistry, series, nominal, full, cutoff float64) {
	if c, known := chemistryNamed(is); known {
		name := c.name
		if series > 1 {
			name = field.FormatNumber(series) + " " + name
		}
		for _, v := range odd(c.of(nominal/series, full/series, cutoff/series)) {
			d.add(VoltageOdd, kind, p, v.key, named(v.key), workedOut(v.value*series, 1), named(name), workedOut(v.usual[0]*series, 1), workedOut(v.usual[1]*series, 1))
		}
		return
	}
	for _, c := range chemistries() {
		if len(odd(c.of(nominal/series, full/series, cutoff/series))) == 0 {
			return
		}
	}
	d.add(NoChemistry, kind, p, "full_v", workedOut(full/series, 1), workedOut(nominal/series, 1), workedOut(cutoff/series, 1), plain(series))
}

// cellMass doubts a cell far lighter or heavier than cells of its size.
func (d *doubter) cellMass() {
	const light, heavy = 1300, 4000 // kg/m³
	for _, c := range d.Cells {
		if x := density(&c.Part, c.Diameter, c.Length); outside(x, light, heavy) {
			d.add(CellMass, "cell", &c.Part, "mass_g", given(c.Mass, perMilli), given(c.Diameter, perMilli), given(c.Length, perMilli),
				rough(x, perDense), given(light, perDense), given(heavy, perDense))
		}
	}
}

// energy doubts a cell or pack that holds more energy than any that is sold, or
// very little.
func (d *doubter) energy() {
	const (
		poor, best   = 20, 350     // W·h/kg of a cell
		bestByVolume = 900         // W·h/l
		bestPack     = 0.85 * best // W·h/kg: what is not cells weighs too
	)
	for _, c := range d.Cells {
		wh := c.Capacity * c.Nominal
		byMass, byVolume := wh/c.Mass, wh/(cylinder(c.Diameter, c.Length)*1000)
		switch {
		case c.Mass > 0 && outside(byMass, poor, best):
			d.add(EnergyByMass, "cell", &c.Part, "capacity_ah", plain(c.Capacity), workedOut(wh, 1), given(c.Mass, perMilli), rough(byMass, 1), plain(poor), plain(best))
		case byVolume > bestByVolume:
			d.add(EnergyByVolume, "cell", &c.Part, "capacity_ah", plain(c.Capacity), workedOut(wh, 1),
				given(c.Diameter, perMilli), given(c.Length, perMilli), rough(byVolume, 1), plain(bestByVolume))
		}
	}
	for _, b := range d.Batteries {
		if b.Cell != nil {
			continue // its cells are judged
		}
		wh := b.Capacity * b.Nominal
		if x := wh / b.Mass; b.Mass > 0 && outside(x, poor, bestPack) {
			d.add(PackEnergy, "battery", &b.Part, "mass_g", given(b.Mass, perMilli), workedOut(wh, 1), rough(x, 1), plain(poor), rough(bestPack, 1))
		}
	}
}

// sag doubts a discharge current at which even the full cell falls below its
// cut-off.
func (d *doubter) sag() {
	for _, c := range d.Cells {
		if drop := c.Discharge * c.Resistance; drop > c.Full-c.Cutoff {
			d.add(SagsAway, "cell", &c.Part, "discharge_a", plain(c.Discharge), given(c.Resistance, perMilli),
				workedOut(drop, 1), workedOut(c.Full-drop, 1), plain(c.Cutoff))
		}
	}
}

// charging doubts cells that take more than they give, and chargers that give more
// than any pack of their voltage takes.
func (d *doubter) charging() {
	for _, c := range d.Cells {
		d.takesMore("cell", &c.Part, c.Charge, c.Discharge)
	}
	for _, b := range d.Batteries {
		d.takesMore("battery", &b.Part, b.Charge, b.Discharge)
	}
	type pack struct {
		ends  outfit.Demand
		limit float64 // A; NaN where it is not known
	}
	var packs []pack
	if len(d.Chargers) > 0 {
		for _, b := range d.Batteries {
			packs = append(packs, pack{outfit.EndsDemand(b), b.ChargeLimit()})
		}
	}
	for _, x := range d.Chargers {
		most := math.Inf(-1)
		for _, p := range packs {
			if p.ends.Verdict(x.Full) == constraints.Pass {
				most = math.Max(most, p.limit)
			}
		}
		if x.Current > most && !math.IsInf(most, -1) {
			d.add(ChargesTooFast, "charger", &x.Part, "current_a", plain(x.Current), plain(x.Full), plain(most))
		}
	}
}

func (d *doubter) takesMore(kind string, p *catalog.Part, charge, discharge float64) {
	if charge > discharge {
		d.add(ChargeAboveDischarge, kind, p, "charge_a", plain(charge), plain(discharge))
	}
}

// packCells holds what a pack says of itself against what its cells give.
func (d *doubter) packCells() {
	const slack = 1.02 // rounding, on a page
	for _, b := range d.Batteries {
		if b.Cell == nil {
			continue
		}
		p := b.Strings()
		if cells := float64(b.Cells()) * b.Cell.Mass; b.Mass*slack < cells {
			d.add(PackLight, "battery", &b.Part, "mass_g", given(b.Mass, perMilli), plain(float64(b.Cells())), workedOut(cells, perMilli))
		} else if b.Mass > 2.5*cells {
			d.add(PackHeavy, "battery", &b.Part, "mass_g", given(b.Mass, perMilli), plain(float64(b.Cells())), workedOut(cells, perMilli))
		}
		for _, own := range []struct {
			key         string
			value, cell float64
		}{{"capacity_ah", b.Capacity, b.Cell.Capacity}, {"discharge_a", b.Discharge, b.Cell.Discharge}, {"charge_a", b.Charge, b.Cell.Charge}} {
			if own.value > slack*p*own.cell {
				d.add(PackAboveCells, "battery", &b.Part, own.key, named(own.key), plain(own.value), plain(p), workedOut(p*own.cell, 1))
			}
		}
		if cells := b.Series / p * b.Cell.Resistance; b.Resistance*slack < cells {
			d.add(PackResistance, "battery", &b.Part, "resistance_mohm", given(b.Resistance, perMilli), workedOut(cells, perMilli))
		}
	}
}
