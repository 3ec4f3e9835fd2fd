package catalog

import (
	"math"
	"strconv"
	"strings"
	"unicode"
)

// chemistry is the cell voltages of a chemistry: the least and the most of
// each that is usual.
type chemistry struct {
	name                  string
	words                 string // what it is called, letters and digits only
	nominal, full, cutoff [2]float64
}

// chemistries are common practice, no published source.
func chemistries() []chemistry {
	return []chemistry{
		{"li-ion", "liion lithiumion nmc nca lco lmo inr imr icr lipo lipoly lithiumpolymer", [2]float64{3.5, 3.85}, [2]float64{4.1, 4.25}, [2]float64{2.5, 3.5}},
		{"high-voltage li-ion", "lihv liionhv lipohv hvlipo", [2]float64{3.7, 3.9}, [2]float64{4.3, 4.5}, [2]float64{2.7, 3.5}},
		{"lifepo4", "lifepo4 lfp lifepo ifr", [2]float64{3.15, 3.35}, [2]float64{3.5, 3.7}, [2]float64{2, 2.9}},
		{"lto", "lto lithiumtitanate titanate", [2]float64{2.2, 2.5}, [2]float64{2.6, 2.9}, [2]float64{1.4, 2.1}},
		{"sodium-ion", "sodiumion naion sib", [2]float64{2.9, 3.2}, [2]float64{3.8, 4.1}, [2]float64{1.5, 2.5}},
		{"nimh", "nimh nicd", [2]float64{1.15, 1.3}, [2]float64{1.35, 1.6}, [2]float64{0.8, 1.1}},
		{"lead", "lead leadacid pb agm gel vrla", [2]float64{1.95, 2.15}, [2]float64{2.2, 2.5}, [2]float64{1.6, 2}},
	}
}

// chemistryNamed finds the chemistry that a text names.
func chemistryNamed(text string) (c chemistry, ok bool) {
	word := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, text)
	for _, c := range chemistries() {
		for w := range strings.FieldsSeq(c.words) {
			if w == word {
				return c, true
			}
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

func (d *doubter) chemistry() {
	for _, c := range d.Cells {
		d.voltages("cell", &c.Part, c.Chemistry, 1, c.Nominal, c.Full, c.Cutoff)
	}
	for _, b := range d.Batteries {
		if b.Cell == nil {
			d.voltages("battery", &b.Part, "", b.Series, b.Nominal, b.Full, b.Cutoff)
		}
	}
}

// voltages holds the voltages of a cell, or of a pack of so many in series,
// against those of its chemistry, or of any where it does not say.
func (d *doubter) voltages(kind string, p *Part, named string, series, nominal, full, cutoff float64) {
	c, known := chemistryNamed(named)
	if known {
		for _, v := range odd(c.of(nominal, full, cutoff)) {
			d.add(kind, p, v.key, "", "%s is %s V; %s cells have %s to %s V", v.key, num(v.value), c.name, num(v.usual[0]), num(v.usual[1]))
		}
		return
	}
	for _, c := range chemistries() {
		if len(odd(c.of(nominal/series, full/series, cutoff/series))) == 0 {
			return
		}
	}
	each, empty := "", ""
	if series > 1 {
		each = " for each of " + num(series) + " cells"
	}
	if atAll(cutoff) {
		empty = ", " + decimals(cutoff/series) + " V empty"
	}
	d.add(kind, p, "full_v", "", "%s V full, %s V nominal%s%s: no chemistry has these voltages", decimals(full/series), decimals(nominal/series), empty, each)
}

// decimals is a number in a message that was worked out: two decimals of it.
func decimals(x float64) string { return num(math.Round(x*100) / 100) }

func (d *doubter) cellMass() {
	const light, heavy = 1300, 4000 // kg/m³
	for _, c := range d.Cells {
		if x := density(&c.Part, c.Diameter, c.Length); outside(x, light, heavy) {
			d.add("cell", &c.Part, "mass_g", "the mass of one cell", "mass_g is %s for a cell of %s × %s mm, %s g/cm³; cells have %s to %s",
				num(c.Mass*perMilli), num(c.Diameter*perMilli), num(c.Length*perMilli), about(x*perDense), num(light*perDense), num(heavy*perDense))
		}
	}
}

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
			d.add("cell", &c.Part, "capacity_ah", "", "capacity_ah is %s, %s W·h in %s g, %s W·h/kg; cells have %d to %d", num(c.Capacity), decimals(wh), num(c.Mass*perMilli), about(byMass), poor, best)
		case byVolume > bestByVolume:
			d.add("cell", &c.Part, "capacity_ah", "labels promise much: what does the maker's data sheet say?", "capacity_ah is %s, %s W·h in a cell of %s × %s mm, %s W·h/l; the best have %d",
				num(c.Capacity), decimals(wh), num(c.Diameter*perMilli), num(c.Length*perMilli), about(byVolume), bestByVolume)
		}
	}
	for _, b := range d.Batteries {
		if b.Cell != nil {
			continue // its cells are judged
		}
		wh := b.Capacity * b.Nominal
		if x := wh / b.Mass; b.Mass > 0 && outside(x, poor, bestPack) {
			d.add("battery", &b.Part, "mass_g", "", "mass_g is %s for %s W·h, %s W·h/kg; packs have %d to %s", num(b.Mass*perMilli), decimals(wh), about(x), poor, about(bestPack))
		}
	}
}

func (d *doubter) sag() {
	for _, c := range d.Cells {
		if drop := c.Discharge * c.Resistance; drop > c.Full-c.Cutoff {
			d.add("cell", &c.Part, "discharge_a", "is the unit of resistance_mohm right?", "at discharge_a, %s, and %s mΩ the full cell falls by %s V to %s V, below its cut-off, %s V",
				num(c.Discharge), num(c.Resistance*perMilli), decimals(drop), decimals(c.Full-drop), num(c.Cutoff))
		}
	}
}

func (d *doubter) charging() {
	for _, c := range d.Cells {
		d.takesMore("cell", &c.Part, c.Charge, c.Discharge)
	}
	for _, b := range d.Batteries {
		d.takesMore("battery", &b.Part, b.Charge, b.Discharge)
	}
	for _, x := range d.Chargers {
		most := math.Inf(-1)
		for _, b := range d.Batteries {
			if chargerEnds(x, b) {
				most = math.Max(most, b.ChargeLimit()) // NaN where one is not known
			}
		}
		if x.Current > most && !math.IsInf(most, -1) {
			d.add("charger", &x.Part, "current_a", "cells that are charged too fast can burn", "current_a is %s; no battery of %s V may be charged with more than %s", num(x.Current), num(x.Full), num(most))
		}
	}
}

func (d *doubter) takesMore(kind string, p *Part, charge, discharge float64) {
	if charge > discharge {
		d.add(kind, p, "charge_a", "are the two mixed up?", "charge_a is %s, above discharge_a, %s", num(charge), num(discharge))
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
		count, have := strconv.Itoa(b.Cells())+" cells", "have"
		if b.Cells() == 1 {
			count, have = "cell", "has"
		}
		if cells := float64(b.Cells()) * b.Cell.Mass; b.Mass*slack < cells {
			d.add("battery", &b.Part, "mass_g", "", "mass_g is %s; its %s alone %s %s", num(b.Mass*perMilli), count, have, decimals(cells*perMilli))
		} else if b.Mass > 2.5*cells {
			d.add("battery", &b.Part, "mass_g", "", "mass_g is %s, more than twice what its %s %s, %s", num(b.Mass*perMilli), count, have, decimals(cells*perMilli))
		}
		for _, own := range []struct {
			key         string
			value, cell float64
		}{{"capacity_ah", b.Capacity, b.Cell.Capacity}, {"discharge_a", b.Discharge, b.Cell.Discharge}, {"charge_a", b.Charge, b.Cell.Charge}} {
			if own.value > slack*p*own.cell {
				d.add("battery", &b.Part, own.key, "", "%s is %s; its cells, %s side by side, give %s", own.key, num(own.value), num(p), decimals(p*own.cell))
			}
		}
		if cells := b.Series / p * b.Cell.Resistance; b.Resistance*slack < cells {
			d.add("battery", &b.Part, "resistance_mohm", "", "resistance_mohm is %s; its cells alone have %s", num(b.Resistance*perMilli), decimals(cells*perMilli))
		}
	}
}
