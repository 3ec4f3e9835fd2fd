package outfit

import (
	"fmt"
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// Where the demands on what guards the pack come from.
const (
	sourceBMS     = "common practice, no published source: a protection board is made for one number of cells in series, and stops the charge a little above the full cell"
	sourceCharge  = "the charger's current, else the pack's charge limit, as given"
	sourceSwitch  = "common practice, no published source: controllers' capacitors draw a surge that welds plain contacts"
	sourceFuse    = "common practice, no published source: a fuse must carry the peak, and open before cells or wire are harmed"
	sourceShort   = "Ohm's law: the full pack over its own resistance; the leads' is left out"
	sourcePlug    = "ratings as given: the parts of a circuit bear its current"
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

// builtIn is the note on packs that may have one of what is needed inside.
func (m *maker) builtIn() []string {
	if !ready(m.build) {
		return nil
	}
	return []string{"a ready-made pack may have one inside: look before you buy one"}
}

// bms is the need of a protection board. charge is the current that it must
// bear.
func (m *maker) bms(charge Current) *Need {
	n := &Need{Kind: "bms", Pieces: 1}
	series := m.build.Battery.Series
	cell := m.full() / series
	stops := least("cell_full_v", "volts of a cell at which it stops the charge", "V", 1, cell,
		fmt.Sprintf("a full cell has %s V; at most %s V more", num(cell), num(bmsRoom)), sourceBMS)
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
		{bears("charge_a", "charge current", charge, sourceCharge), func(b *catalog.BMS) float64 { return b.Charge }},
		{stops, func(b *catalog.BMS) float64 { return b.CellFull }},
		{
			bears("discharge_a", "discharge current for long", m.currents.PackSteady, sourceSteady),
			func(b *catalog.BMS) float64 { return carried(b, b.Discharge) },
		},
		{
			bears("peak_discharge_a", "discharge current for seconds", m.currents.PackPeak, sourcePeak),
			func(b *catalog.BMS) float64 { return carried(b, orElse(b.PeakDischarge, b.Discharge)) },
		},
	})
	n.Words = fmt.Sprintf("a protection board (bms) for %s cells in series of %s V when full, charged with %s; if the discharge goes through it too, for %s",
		num(series), num(cell), charge.amps(), m.packCurrents())
	n.Notes = m.builtIn()
	if n.Part != nil {
		board, _ := catalog.ByID(m.catalog.BMSs, n.Part.ID)
		if math.IsNaN(board.Discharge) {
			n.Notes = append(n.Notes, "the discharge does not go through it: the controllers must stop before the cells are empty")
		} else {
			n.Notes = append(n.Notes, "the discharge goes through it: when it cuts off, as it does when braking fills the pack, the brakes are gone at that moment")
		}
	}
	return n
}

// packCurrents writes the pack's currents, and what stands before them, for a
// need's words.
func (m *maker) packCurrents(before ...string) string {
	peak, steady := m.currents.PackPeak, m.currents.PackSteady
	if peak.amps() == steady.amps() {
		return list(append(before, peak.amps()))
	}
	return list(append(before, peak.amps()+" for seconds", steady.amps()+" for long"))
}

// mainSwitch is the need of a main switch.
func (m *maker) mainSwitch() *Need {
	n := &Need{Kind: "switch", Pieces: 1}
	choose(n, m.catalog.Switches, []ask[*catalog.Switch]{
		{m.volts("max_volts", "volts"), func(s *catalog.Switch) float64 { return s.MaxVolts }},
		{bears("continuous_a", "current for long", m.currents.PackSteady, sourceSteady), func(s *catalog.Switch) float64 { return s.Continuous }},
		{bears("peak_a", "current for seconds", m.currents.PackPeak, sourcePeak), func(s *catalog.Switch) float64 { return orElse(s.Peak, s.Continuous) }},
		{
			yes("precharge", "it fills the controllers' capacitors before it closes", "", sourceSwitch),
			func(s *catalog.Switch) float64 { return isSo(s.Precharge) },
		},
	})
	n.Words = "a main switch that pre-charges, for at least " + m.packCurrents(up(m.full())+" V")
	return n
}

// fuse is the need of a main fuse, above the peak current and below what the
// cells and the leads bear.
func (m *maker) fuse(leads *Need) *Need {
	n := &Need{Kind: "fuse", Pieces: 1}
	rating := bears("rated_a", "rating", m.currents.PackPeak, sourceFuse)
	bearing := m.bearing(leads)
	rating.Most = bearing.Amps
	rating.How = "at least the peak, " + m.currents.PackPeak.How + "; at most " + bearing.How
	switch {
	case bearing.known():
	case rating.Open == "":
		rating.Open = bearing.How
	default:
		rating.Open += "; " + bearing.How
	}
	asks := []ask[*catalog.Fuse]{
		{rating, func(f *catalog.Fuse) float64 { return f.Rated }},
		{m.volts("max_volts_dc", "direct volts at which it breaks"), func(f *catalog.Fuse) float64 { return f.MaxVoltsDC }},
	}
	short := math.NaN()
	if ohms := m.build.Battery.Pack.Resistance; m.build.Battery.ResistanceKnown && ohms > 0 {
		short = m.full() / ohms
		asks = append(asks, ask[*catalog.Fuse]{
			least("breaking_a", "current that it breaks", "A", 1, short, fmt.Sprintf("%s V / %s mΩ", num(m.full()), num(ohms*mm)), sourceShort),
			func(f *catalog.Fuse) float64 { return f.Breaking },
		})
	} else {
		n.Notes = append(n.Notes, "the pack's resistance is not known: nor is the current of a short that the fuse must break")
	}
	choose(n, m.catalog.Fuses, asks)
	n.Words = fmt.Sprintf("a fuse of %s, for at least %s V of direct current", fuseRange(m.currents.PackPeak, bearing), up(m.full()))
	if !math.IsNaN(short) {
		n.Words += fmt.Sprintf(", that breaks %s A", up(short))
	}
	n.Notes = append(append(n.Notes, m.smaller(n, asks[1:])...), m.builtIn()...)
	return n
}

// smaller is the note on the largest fuse that would do if the controllers were
// set lower, where none does as they are set.
func (m *maker) smaller(n *Need, others []ask[*catalog.Fuse]) []string {
	var best *catalog.Fuse
	for _, f := range m.catalog.Fuses {
		if _, ok := judge(f, others); ok && f.Rated < n.Demands[0].Least && (best == nil || f.Rated > best.Rated) {
			best = f
		}
	}
	if n.State != Misfit || best == nil {
		return nil
	}
	return []string{fmt.Sprintf("%s would do with the battery current of each motor set to at most %s A", best.ID, down(best.Rated/float64(m.build.Motors())))}
}

// fuseRange writes the ratings that a fuse may have.
func fuseRange(peak, bearing Current) string {
	switch {
	case !peak.known():
		return "an unknown rating"
	case !bearing.known():
		return "at least " + up(peak.Amps) + " A and no more than cells and wire bear"
	case up(peak.Amps) == down(bearing.Amps):
		return up(peak.Amps) + " A"
	}
	return up(peak.Amps) + " to " + down(bearing.Amps) + " A"
}

// bearing is the current that neither cells nor leads bear more of for long.
func (m *maker) bearing(leads *Need) Current {
	cells := m.build.Battery.DischargeLimit()
	if math.IsNaN(cells) {
		return Current{math.NaN(), "the pack's discharge_a is not known"}
	}
	c := Current{cells, "the pack's discharge limit of " + num(cells) + " A"}
	if leads.Part == nil {
		return c
	}
	wire, _ := catalog.ByID(m.catalog.Wires, leads.Part.ID)
	if amps := m.wishes.hot(wire); amps < c.Amps {
		return Current{amps, fmt.Sprintf("the %s A that warm the leads to %s °C", num(amps), num(math.Min(wire.Insulation, m.wishes.WireHottest)))}
	}
	return c
}

// connector is the need of a pair of plugs between pack and controllers.
func (m *maker) connector(leads *Need) *Need {
	n := &Need{Kind: "connector", For: "battery", Pieces: 1}
	asks := []ask[*catalog.Connector]{
		poles(2),
		{m.volts("max_volts", "volts"), func(c *catalog.Connector) float64 { return c.MaxVolts }},
		{bears("continuous_a", "current for long", m.currents.PackSteady, sourceSteady), func(c *catalog.Connector) float64 { return c.Continuous }},
		{bears("peak_a", "current for seconds", m.currents.PackPeak, sourcePeak), func(c *catalog.Connector) float64 { return orElse(c.Peak, c.Continuous) }},
	}
	n.Words = "a pair of plugs for at least " + m.packCurrents(up(m.full())+" V")
	if w, ok := m.copper(leads, m.battery()); ok {
		asks = append(asks, ask[*catalog.Connector]{
			least("wire_max_mm2", "largest wire", "mm²", mm2, w.Area, "the leads' copper", sourcePlug),
			func(c *catalog.Connector) float64 { return c.WireMax },
		})
		n.Words += fmt.Sprintf(", that takes wire of %s mm²", up(w.Area*mm2))
	}
	choose(n, m.catalog.Connectors, asks)
	return n
}

// phaseConnectors is the need of plugs between controllers and motors: single
// ones, three for each motor.
func (m *maker) phaseConnectors() *Need {
	pairs := 3 * m.build.Motors()
	n := &Need{
		Kind: "connector", For: "phase", Pieces: pairs,
		Words: fmt.Sprintf("%s of single-pole plugs for the phases, each for %s for seconds and %s for long",
			counted(pairs, "pair", "pairs"), m.currents.PhasePeak.amps(), m.currents.PhaseSteady.amps()),
		Notes: []string{"many motors and controllers come with plugs that fit each other: look before you buy any"},
	}
	choose(n, m.catalog.Connectors, []ask[*catalog.Connector]{
		poles(1),
		{bears("continuous_a", "current for long, root mean square", m.currents.PhaseSteady, sourcePhase), func(c *catalog.Connector) float64 { return c.Continuous }},
		{bears("peak_a", "current for seconds, root mean square", m.currents.PhasePeak, sourcePhase), func(c *catalog.Connector) float64 { return orElse(c.Peak, c.Continuous) }},
	})
	return n
}

// poles is the demand for a plug of so many contacts.
func poles(n float64) ask[*catalog.Connector] {
	d := least("poles", "contacts of one plug", "", 1, n, "", sourcePlug)
	d.Most = n
	return ask[*catalog.Connector]{d, func(c *catalog.Connector) float64 { return c.Poles }}
}

// charger is the need of a charger.
func (m *maker) charger() *Need {
	n := &Need{Kind: "charger", Pieces: 1}
	full, pack := m.full(), m.build.Battery
	limit := pack.ChargeLimit()
	current := most("current_a", "charge current", "A", 1, limit, fmt.Sprintf("the pack's charge limit is %s A", num(limit)), sourceCharge)
	if math.IsNaN(limit) {
		current.Open = "the pack's charge_a is not known"
	}
	slowest := ""
	if capacity := pack.CapacityAh(); !math.IsNaN(m.wishes.ChargeHours) {
		current.Least = capacity / m.wishes.ChargeHours
		current.How += fmt.Sprintf("; %s A·h in %s h", num(capacity), num(m.wishes.ChargeHours))
		slowest = " and at least " + up(current.Least) + " A"
		if math.IsNaN(capacity) {
			current.Open = "the pack's capacity is not known"
		}
	}
	choose(n, m.catalog.Chargers, []ask[*catalog.Charger]{
		{EndsDemand(pack.Battery), func(c *catalog.Charger) float64 { return c.Full }},
		{current, func(c *catalog.Charger) float64 { return c.Current }},
	})
	atMost := "at most " + down(limit) + " A" + slowest
	if math.IsNaN(limit) {
		atMost = "no more current than the cells' maker allows"
	}
	n.Words = fmt.Sprintf("a charger that ends at %s V, of %s", num(full), atMost)
	if n.Part != nil {
		chosen, _ := catalog.ByID(m.catalog.Chargers, n.Part.ID)
		if time := pack.CapacityAh() / chosen.Current; !math.IsNaN(time) {
			n.Notes = append(n.Notes, fmt.Sprintf("it fills the empty pack in %s h or more: the last part of a charge is slower", num(time)))
		}
	}
	return n
}

// charging is the current that a protection board must let in: that of the
// charger, which it need not exceed, else the pack's limit.
func (m *maker) charging(charger *Need) Current {
	if charger.Part != nil {
		c, _ := catalog.ByID(m.catalog.Chargers, charger.Part.ID)
		return Current{c.Current, "the charger gives " + num(c.Current) + " A"}
	}
	limit := m.build.Battery.ChargeLimit()
	if math.IsNaN(limit) {
		return Current{limit, "neither a charger nor the pack's charge_a is known"}
	}
	return Current{limit, "the pack may be charged with " + num(limit) + " A"}
}
