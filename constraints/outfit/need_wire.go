package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// Where the demands on wires come from.
const (
	sourceWire = "heat balance of a wire in free air: free convection after Churchill & Chu 1975, radiation, copper of 1/58 Ω·mm²/m (IEC 60028); the insulation's wall is an assumption"
	sourceVolt = "by definition"
)

// wiring is a stretch of wires that carry one current.
type wiring struct {
	use          string // "battery" or "phase"
	peak, steady Current
	distance     float64 // m, one way
	wires        int     // side by side over that distance, of all motors
	lossy        int     // of them in one circuit, whose volts and watts the note tells
}

// battery is the pair of wires from the pack to the controllers.
func (m *maker) battery() wiring {
	return wiring{"battery", m.currents.PackPeak, m.currents.PackSteady, m.wishes.BatteryWire, 2, 2}
}

// phases are the three wires to each motor.
func (m *maker) phases() wiring {
	return wiring{"phase", m.currents.PhasePeak, m.currents.PhaseSteady, m.wishes.PhaseWire, 3 * m.build.Motors(), 3}
}

// wire is the need of wires for a stretch.
func (m *maker) wire(use wiring) *Need {
	w := m.wishes
	metres := use.distance * float64(use.wires)
	n := &Need{Kind: "wire", For: use.use, Pieces: int(math.Ceil(metres - drive.Tolerance))}
	warm := bears(DemandWarm, "awg", use.steady, sourceWire)
	warm.How = then(warm.How, said(CopperWarms, given(w.WireRise, "K"), given(w.Ambient, "°C")))
	guard := bears(DemandHot, "insulation_c", use.peak, sourceWire)
	guard.How = then(guard.How, said(WhileFuseHolds, given(w.WireHottest, "°C")))
	choose(n, m.catalog.Wires, []ask[*catalog.Wire]{
		{warm, func(p *catalog.Wire) float64 { return m.ampacity(p) }},
		{guard, func(p *catalog.Wire) float64 { return w.hot(p) }},
		{m.volts(DemandInsulation, "max_volts"), func(p *catalog.Wire) float64 { return p.MaxVolts }},
	})
	n.Buy = m.buyWire(use, metres)
	n.Notes = m.wireNotes(n, use)
	return n
}

// ampacity is the current in A that warms a wire of the catalog by no more than
// is wished.
func (m *maker) ampacity(p *catalog.Wire) float64 {
	return drive.Wire{Area: p.Area}.Ampacity(m.wishes.WireRise, m.wishes.Ambient)
}

// hot is the current in A that warms a wire to the most that it may bear.
func (w Wishes) hot(p *catalog.Wire) float64 {
	if math.IsNaN(p.Insulation) {
		return math.NaN()
	}
	return drive.Wire{Area: p.Area}.Ampacity(math.Min(p.Insulation, w.WireHottest)-w.Ambient, w.Ambient)
}

// buyWire is what wire to buy.
func (m *maker) buyWire(use wiring, metres float64) Statement {
	gauge, ok := m.gauge(use)
	long := boundLeast(metres, "m")
	switch {
	case !use.steady.known() || !use.peak.known():
		return said(BuyWireUnknown, long).about(use.use)
	case !ok:
		return said(BuyWireThicker, long).about(use.use)
	}
	return said(BuyWire, long, count(gauge), shown(drive.GaugeArea(gauge), mm2, "mm²", constraints.ThreeDigits),
		given(m.wishes.WireHottest, "°C"), boundLeast(m.full(), "V")).about(use.use)
}

// gauge is the thinnest that the steady current allows, and the peak as long as
// the fuse holds.
func (m *maker) gauge(use wiring) (gauge int, ok bool) {
	w := m.wishes
	warm, ok := drive.ThinnestGauge(use.steady.Amps, w.WireRise, w.Ambient)
	hot, too := drive.ThinnestGauge(use.peak.Amps, w.WireHottest-w.Ambient, w.Ambient)
	return min(warm, hot), ok && too
}

// copper is the wire that is chosen, else the one to buy; ok is false where
// there is neither.
func (m *maker) copper(n *Need, use wiring) (w drive.Wire, ok bool) {
	if n.Part != nil {
		part, _ := catalog.ByID(m.catalog.Wires, n.Part.ID)
		return drive.Wire{Area: part.Area}, true
	}
	if !use.steady.known() || !use.peak.known() {
		return drive.Wire{}, false
	}
	gauge, ok := m.gauge(use)
	return drive.GaugeWire(gauge), ok
}

// wireNotes tells what the wires lose.
func (m *maker) wireNotes(n *Need, use wiring) []Statement {
	w, ok := m.copper(n, use)
	if !ok {
		return nil
	}
	var out []Statement
	for _, c := range []struct {
		leads, phases Code
		Current
	}{{LongWarmsLeads, LongWarmsPhases, use.steady}, {PeakWarmsLeads, PeakWarmsPhases, use.peak}} {
		rise := w.Rise(c.Amps, m.wishes.Ambient)
		if !c.known() || math.IsInf(rise, 1) || len(out) > 0 && c.Amps == use.steady.Amps {
			continue
		}
		ohms := use.distance * w.Resistance(m.wishes.Ambient+rise)
		amps, kelvins, watts := given(c.Amps, "A"), given(rise, "K"), given(c.Amps*c.Amps*ohms*float64(use.lossy), "W")
		if use.use == "phase" {
			out = append(out, said(c.phases, amps, kelvins, watts))
		} else {
			out = append(out, said(c.leads, amps, kelvins, given(c.Amps*ohms*float64(use.lossy), "V"), watts))
		}
	}
	return out
}
