package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// Where the demands on wires come from.
const (
	sourceWire  = "heat balance of a wire in free air: free convection after Churchill & Chu 1975, radiation, copper of 1/58 Ω·mm²/m (IEC 60028); the insulation's wall is an assumption"
	sourcePulse = "copper that no heat leaves, from the warmth of the steady current: I² t = (k S)², IEC 60364-5-54 and IEC 60949; or the heat balance of a wire in free air, where that allows more"
	sourceVolt  = "by definition"
)

// wiring is a stretch of wires that carry one current.
type wiring struct {
	use          string // "battery" or "phase"
	peak, steady Current
	distance     float64 // m, one way
	wires        int     // side by side over that distance, of all motors
	lossy        int     // of them in one circuit, whose volts and watts the note tells
	fused        bool    // behind the main fuse
}

// battery is the pair of wires from the pack to the controllers.
func (m *maker) battery() wiring {
	return wiring{"battery", m.currents.PackPeak, m.currents.PackSteady, m.wishes.BatteryWire, 2, 2, true}
}

// phases are the three wires to each motor.
func (m *maker) phases() wiring {
	return wiring{"phase", m.currents.PhasePeak, m.currents.PhaseSteady, m.wishes.PhaseWire, 3 * m.build.Motors(), 3, false}
}

// metres are what is to be bought.
func (use wiring) metres() int {
	return int(math.Ceil(use.distance*float64(use.wires) - drive.Tolerance))
}

// wire is the need of wires for a stretch, with a fuse that lets so many A through
// for long, and plugs that take so much copper in m²; NaN: not known.
func (m *maker) wire(use wiring, holds, cup float64) *Need {
	n := &Need{Kind: "wire", For: use.use, Pieces: use.metres()}
	choose(n, m.catalog.Wires, m.wireAsks(use, holds, cup))
	n.Buy = m.buyWire(use, holds, cup)
	n.Notes = m.wireNotes(n, use, holds)
	return n
}

// wireAsks are the demands on it.
func (m *maker) wireAsks(use wiring, holds, cup float64) []ask[*catalog.Wire] {
	w := m.wishes
	warm := bears(DemandWarm, "awg", use.steady, sourceWire)
	warm.How = then(warm.How, said(CopperWarms, given(w.WireRise, "K"), given(w.Ambient, "°C")))
	peak := bears(DemandPeak, "insulation_c", use.peak, sourcePulse)
	peak.How = then(peak.How, said(ForSeconds, given(w.PeakSeconds, "s"), given(w.WireHottest, "°C")))
	out := []ask[*catalog.Wire]{
		{warm, func(p *catalog.Wire) float64 { return drive.Wire{Area: p.Area}.Ampacity(w.WireRise, w.Ambient) }},
		{peak, func(p *catalog.Wire) float64 { return m.peakBorne(drive.Wire{Area: p.Area}, p.Insulation, use) }},
	}
	if use.fused {
		guard := least(DemandHot, "insulation_c", "A", 1, holds, sourceWire, said(FuseHolds, given(holds, "A")), said(WhileFuseHolds, given(w.WireHottest, "°C")))
		if math.IsNaN(holds) {
			guard.Open = use.peak.How
		}
		out = append(out, ask[*catalog.Wire]{guard, func(p *catalog.Wire) float64 { return m.hot(p).Amps }})
	}
	out = append(out, ask[*catalog.Wire]{m.volts(DemandInsulation, "max_volts"), func(p *catalog.Wire) float64 { return p.MaxVolts }})
	if !math.IsNaN(cup) {
		out = append(out, ask[*catalog.Wire]{
			most(DemandCup, "area_mm2", "mm²", mm2, cup, sourcePlug, said(PlugTakesNoMore)),
			func(p *catalog.Wire) float64 { return p.Area },
		})
	}
	return out
}

// hot is what a wire of the catalog bears for long.
func (m *maker) hot(p *catalog.Wire) Current {
	return m.borne(drive.Wire{Area: p.Area}, p.Insulation)
}

// borne is the current that warms a wire to the most that it may bear, with an
// insulation that bears so many °C.
func (m *maker) borne(w drive.Wire, insulation float64) Current {
	if math.IsNaN(insulation) {
		return Current{Amps: math.NaN()}
	}
	hottest := math.Min(insulation, m.wishes.WireHottest)
	amps := w.Ampacity(hottest-m.wishes.Ambient, m.wishes.Ambient)
	return Current{amps, alone(LeadsBear, given(amps, "A"), given(hottest, "°C"))}
}

// peakBorne is the current in A that a wire, warm already from the steady current,
// bears for the seconds of a peak: what it would bear for long, or what its copper
// alone takes in, which is more for a short peak. The second is slow to compute, and
// left out where the first is enough.
func (m *maker) peakBorne(w drive.Wire, insulation float64, use wiring) float64 {
	long := m.borne(w, insulation).Amps
	if math.IsNaN(long) || drive.AtLeast(long, use.peak.Amps) {
		return long
	}
	hottest := math.Min(insulation, m.wishes.WireHottest)
	from := m.wishes.Ambient + w.Rise(use.steady.Amps, m.wishes.Ambient)
	return math.Max(long, w.PeakAmpacity(from, hottest, m.wishes.PeakSeconds))
}

// buyWire is what wire to buy.
func (m *maker) buyWire(use wiring, holds, cup float64) Statement {
	gauge, ok := m.gauge(use, holds)
	long := boundLeast(use.distance*float64(use.wires), "m")
	switch {
	case !use.steady.known() || !use.peak.known():
		return said(BuyWireUnknown, long).about(use.use)
	case !ok:
		return said(BuyWireThicker, long).about(use.use)
	}
	return said(BuyWire, long, count(gauge), shown(drive.GaugeArea(gauge), mm2, "mm²", constraints.ThreeDigits),
		given(m.wishes.WireHottest, "°C"), boundLeast(m.full(), "V"), shown(cup, mm2, "mm²", constraints.ThreeDown)).about(use.use)
}

// gauge is the thinnest that bears the steady current, the peak for its seconds
// and, where there is a fuse, what that lets through for long.
func (m *maker) gauge(use wiring, holds float64) (gauge int, ok bool) {
	w := m.wishes
	if !use.steady.known() || !use.peak.known() {
		return 0, false
	}
	return drive.ThinnestGauge(func(x drive.Wire) bool {
		return drive.AtLeast(x.Ampacity(w.WireRise, w.Ambient), use.steady.Amps) &&
			(!use.fused || drive.AtLeast(m.borne(x, w.WireHottest).Amps, holds)) &&
			drive.AtLeast(m.peakBorne(x, w.WireHottest, use), use.peak.Amps)
	})
}

// copper is the wire that is chosen, else the one to buy; ok is false where
// there is neither.
func (m *maker) copper(n *Need, use wiring, holds float64) (w drive.Wire, ok bool) {
	if n.Part != nil {
		part, _ := catalog.ByID(m.catalog.Wires, n.Part.ID)
		return drive.Wire{Area: part.Area}, true
	}
	gauge, ok := m.gauge(use, holds)
	return drive.GaugeWire(gauge), ok
}

// wireNotes tells how warm the wires become and what they lose: for long, and at
// the end of a peak.
func (m *maker) wireNotes(n *Need, use wiring, holds float64) []Statement {
	w, ok := m.copper(n, use, holds)
	if !ok || !use.steady.known() || !use.peak.known() {
		return nil
	}
	ambient := m.wishes.Ambient
	rise := w.Rise(use.steady.Amps, ambient)
	if math.IsInf(rise, 1) {
		return nil
	}
	out := []Statement{said(use.says(LongWarmsLeads, LongWarmsPhases), use.loses(w, use.steady.Amps, ambient+rise, given(rise, "K"))...)}
	if use.peak.Amps == use.steady.Amps {
		return out
	}
	seconds := m.wishes.PeakSeconds
	end := math.Min(ambient+w.Rise(use.peak.Amps, ambient), w.After(use.peak.Amps, seconds, ambient+rise))
	return append(out, said(use.says(PeakWarmsLeads, PeakWarmsPhases), use.loses(w, use.peak.Amps, end, given(end, "°C"), given(seconds, "s"))...))
}

// says is the one code for the pack's leads, the other for the phases.
func (use wiring) says(leads, phases Code) Code {
	if use.use == "phase" {
		return phases
	}
	return leads
}

// loses is a current, how warm it makes the wire, and what it loses with the copper
// at so many °C: of the pack's leads volts and watts, of the phases watts.
func (use wiring) loses(w drive.Wire, amps, celsius float64, warm ...constraints.Quantity) []constraints.Quantity {
	volts := amps * use.distance * float64(use.lossy) * w.Resistance(celsius)
	out := append([]constraints.Quantity{given(amps, "A")}, warm...)
	if use.use != "phase" {
		out = append(out, given(volts, "V"))
	}
	return append(out, given(amps*volts, "W"))
}
