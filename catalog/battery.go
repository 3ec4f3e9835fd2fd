package catalog

import "math"

// Strings is the number of cells side by side: 1 unless given.
func (b *Battery) Strings() float64 {
	if math.IsNaN(b.Parallel) {
		return 1
	}
	return b.Parallel
}

// HowMade is how the pack is made, "" for one that is bought. One of cells without a
// price of its own costs its cells, and is built of them.
func (b *Battery) HowMade() string {
	if b.Made == "" && b.Cell != nil && math.IsNaN(b.Price) {
		return MadeBuilt
	}
	return b.Made
}

// Cells is the number of cells in the pack.
func (b *Battery) Cells() int { return int(b.Series) * int(b.Strings()) }

// volts is the pack's own voltage, or Series times that of its cells.
func (b *Battery) volts(own float64, cell func(*Cell) float64) float64 {
	if b.Cell == nil {
		return own
	}
	return b.Series * cell(b.Cell)
}

// NominalVolts is the nominal voltage of the pack, V.
func (b *Battery) NominalVolts() float64 {
	return b.volts(b.Nominal, func(c *Cell) float64 { return c.Nominal })
}

// FullVolts is the voltage of the full pack, V.
func (b *Battery) FullVolts() float64 {
	return b.volts(b.Full, func(c *Cell) float64 { return c.Full })
}

// CutoffVolts is the voltage at which the pack is empty, V; NaN when not
// known, which is possible only for a pack without a cell.
func (b *Battery) CutoffVolts() float64 {
	return b.volts(b.Cutoff, func(c *Cell) float64 { return c.Cutoff })
}

// PackResistance is the resistance of the pack with its wiring, Ω: its own,
// else Series/Parallel times that of a cell, and the wiring, 0 unless given.
// known is false when neither the pack's nor the cell's is given; then ohm is
// the wiring alone.
func (b *Battery) PackResistance() (ohm float64, known bool) {
	ohm, known = b.CellsResistance()
	if !math.IsNaN(b.Wiring) {
		ohm = float64(ohm) + b.Wiring
	}
	return ohm, known
}

// CellsResistance is PackResistance without the wiring.
func (b *Battery) CellsResistance() (ohm float64, known bool) {
	switch {
	case !math.IsNaN(b.Resistance):
		return b.Resistance, true
	case b.Cell != nil && !math.IsNaN(b.Cell.Resistance):
		return float64(b.Series / b.Strings() * b.Cell.Resistance), true
	}
	return 0, false
}

// fromCells is the pack's own value, or Parallel times that of its cells; NaN
// when neither is given.
func (b *Battery) fromCells(own float64, cell func(*Cell) float64) float64 {
	if !math.IsNaN(own) || b.Cell == nil {
		return own
	}
	return b.Strings() * cell(b.Cell)
}

// DischargeLimit is the highest current the pack may give, A; NaN when not
// known.
func (b *Battery) DischargeLimit() float64 {
	return b.fromCells(b.Discharge, func(c *Cell) float64 { return c.Discharge })
}

// ChargeLimit is the highest current the pack may be charged with, A; NaN when
// not known.
func (b *Battery) ChargeLimit() float64 {
	return b.fromCells(b.Charge, func(c *Cell) float64 { return c.Charge })
}

// CapacityAh is the charge of the full pack, A·h; NaN when not known.
func (b *Battery) CapacityAh() float64 {
	return b.fromCells(b.Capacity, func(c *Cell) float64 { return c.Capacity })
}

// PackMass is the mass of the pack, kg: its own, else that of its cells and
// the overhead for all that is not a cell. NaN
// when not known.
func (b *Battery) PackMass() float64 {
	if !math.IsNaN(b.Mass) || b.Cell == nil {
		return b.Mass
	}
	overhead := b.Overhead
	if math.IsNaN(overhead) {
		overhead = AssumedOverhead
	}
	return float64(b.Cells()) * b.Cell.Mass * (1 + overhead)
}
