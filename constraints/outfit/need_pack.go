package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// Where the demands on what guards the pack come from.
const (
	sourceBMS     = "common practice, no published source: a protection board is made for one number of cells in series, and stops the charge a little above the full cell"
	sourceCharge  = "the charger's current, else the pack's charge limit, as given"
	sourceSwitch  = "common practice, no published source: controllers' capacitors draw a surge that welds plain contacts"
	sourceCharger = "by definition; that a charger may stop 2 % early is an assumption"
)

// bmsRoom is how far in V above the full cell a protection board may stop the
// charge: an assumption. Boards for other chemistries are half a volt off.
const bmsRoom = 0.1

// ready reports whether the pack is bought or there as a whole, and so may have
// its protection board and fuse inside.
func ready(b *constraints.Build) bool {
	pack := b.Battery.Battery
	return pack.Owned || pack.Cell == nil || !math.IsNaN(pack.Price)
}

// builtIn is the note that a pack may have the part inside already.
func (m *maker) builtIn() []Statement {
	if !ready(m.build) {
		return nil
	}
	return alone(LookInsidePack)
}

// bms is the need of a protection board. charge is the current that it must
// bear.
func (m *maker) bms(charge Current) *Need {
	n := &Need{Kind: "bms", Pieces: 1}
	series := m.build.Battery.Series
	cell := m.full() / series
	stops := least(DemandStops, "cell_full_v", "V", 1, cell, sourceBMS, said(CellHasVolts, given(cell, "V"), given(bmsRoom, "V")))
	stops.Most = cell + bmsRoom
	// One that does not carry the discharge bears any.
	carried := func(b *catalog.BMS, amps float64) float64 {
		if math.IsNaN(b.Discharge) {
			return math.Inf(1)
		}
		return amps
	}
	choose(n, m.catalog.BMSs, []ask[*catalog.BMS]{
		{SeriesDemand(m.build.Battery.Battery), func(b *catalog.BMS) float64 { return b.Series }},
		{bears(DemandCharge, "charge_a", charge, sourceCharge), func(b *catalog.BMS) float64 { return b.Charge }},
		{stops, func(b *catalog.BMS) float64 { return b.CellFull }},
		{
			bears(DemandDischarge, "discharge_a", m.currents.PackSteady, sourceSteady),
			func(b *catalog.BMS) float64 { return carried(b, b.Discharge) },
		},
		{
			bears(DemandDischargePeak, "peak_discharge_a", m.currents.PackPeak, sourcePeak),
			func(b *catalog.BMS) float64 { return carried(b, orElse(b.PeakDischarge, b.Discharge)) },
		},
	})
	n.Buy = said(BuyBMS, number(series), given(cell, "V"), charge.borne(), m.currents.PackPeak.borne(), m.currents.PackSteady.borne())
	n.Notes = m.builtIn()
	if n.Part != nil {
		board, _ := catalog.ByID(m.catalog.BMSs, n.Part.ID)
		if math.IsNaN(board.Discharge) {
			n.Notes = append(n.Notes, said(DischargeOutside))
		} else {
			n.Notes = append(n.Notes, said(DischargeThrough))
			n.Notes = append(n.Notes, m.empties(board)...)
		}
		n.Notes = append(n.Notes, m.evens(board)...)
	}
	return n
}

// empties is the note on the volts at which a protection board that carries the
// discharge stops it, beside those at which the cells are empty.
func (m *maker) empties(b *catalog.BMS) []Statement {
	cell := m.build.Battery.CutoffVolts() / m.build.Battery.Series
	switch {
	case math.IsNaN(b.CellCutoff) || math.IsNaN(cell):
		return nil
	case !drive.AtMost(b.CellCutoff, cell):
		return alone(CutsEarly, given(b.CellCutoff, "V"), given(cell, "V"))
	case !drive.AtLeast(b.CellCutoff, cell):
		return alone(CutsLate, given(b.CellCutoff, "V"), given(cell, "V"))
	}
	return nil
}

// evens is the note on how a board evens the cells out, and how long it takes
// for one part in a hundred of the pack's charge.
func (m *maker) evens(b *catalog.BMS) []Statement {
	const part = 0.01
	if b.Balance == "none" {
		return alone(EvensNothing)
	}
	if b.Balance == "" && math.IsNaN(b.BalanceCurrent) {
		return nil
	}
	return []Statement{said(EvensOut,
		shown(b.BalanceCurrent, perMilli, "mA", constraints.ThreeDigits),
		given(part*m.build.Battery.CapacityAh()/b.BalanceCurrent, "h"),
	).about(b.Balance)}
}

// mainSwitch is the need of a main switch.
func (m *maker) mainSwitch() *Need {
	n := &Need{Kind: "switch", Pieces: 1}
	choose(n, m.catalog.Switches, []ask[*catalog.Switch]{
		{m.volts(DemandVolts, "max_volts"), func(s *catalog.Switch) float64 { return s.MaxVolts }},
		{bears(DemandLong, "continuous_a", m.currents.PackSteady, sourceSteady), func(s *catalog.Switch) float64 { return s.Continuous }},
		{bears(DemandSeconds, "peak_a", m.currents.PackPeak, sourcePeak), func(s *catalog.Switch) float64 { return orElse(s.Peak, s.Continuous) }},
		{
			yes(DemandPrecharge, "precharge", sourceSwitch),
			func(s *catalog.Switch) float64 { return isSo(s.Precharge) },
		},
	})
	n.Buy = said(BuySwitch, boundLeast(m.full(), "V"), m.currents.PackPeak.borne(), m.currents.PackSteady.borne())
	return n
}

// charger is the need of a charger.
func (m *maker) charger() *Need {
	n := &Need{Kind: "charger", Pieces: 1}
	full, pack := m.full(), m.build.Battery
	limit := pack.ChargeLimit()
	current := most(DemandCharge, "current_a", "A", 1, limit, sourceCharge, said(PackChargeLimit, given(limit, "A")))
	if math.IsNaN(limit) {
		current.Open = alone(NoCharge)
	}
	if capacity := pack.CapacityAh(); !math.IsNaN(m.wishes.ChargeHours) {
		current.Least = capacity / m.wishes.ChargeHours
		current.How = append(current.How, said(ChargedWithin, given(capacity, "A·h"), given(m.wishes.ChargeHours, "h")))
		if math.IsNaN(capacity) {
			current.Open = alone(NoCapacity)
		}
	}
	choose(n, m.catalog.Chargers, []ask[*catalog.Charger]{
		{EndsDemand(pack.Battery), func(c *catalog.Charger) float64 { return c.Full }},
		{current, func(c *catalog.Charger) float64 { return c.Current }},
	})
	n.Buy = said(BuyCharger, given(full, "V"), boundMost(limit, "A"), boundLeast(current.Least, "A"))
	if n.Part != nil {
		chosen, _ := catalog.ByID(m.catalog.Chargers, n.Part.ID)
		if time := pack.CapacityAh() / chosen.Current; !math.IsNaN(time) {
			n.Notes = append(n.Notes, said(FillsPack, given(time, "h")))
		}
	}
	return n
}

// charging is the current that a protection board must let in: that of the
// charger, which it need not exceed, else the pack's limit.
func (m *maker) charging(charger *Need) Current {
	if charger.Part != nil {
		c, _ := catalog.ByID(m.catalog.Chargers, charger.Part.ID)
		return Current{c.Current, alone(ChargerGives, given(c.Current, "A"))}
	}
	limit := m.build.Battery.ChargeLimit()
	if math.IsNaN(limit) {
		return Current{limit, alone(NoChargerNorCharge)}
	}
	return Current{limit, alone(PackTakes, given(limit, "A"))}
}
