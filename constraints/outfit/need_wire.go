package outfit

import (
	"fmt"
	"math"

	"gearsearch/catalog"
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
	warm := bears("awg", "steady current that it bears", use.steady, sourceWire)
	warm.How += fmt.Sprintf("; the copper at most %s K over %s °C", num(w.WireRise), num(w.Ambient))
	guard := bears("insulation_c", "current that it bears as long as the fuse holds", use.peak, sourceWire)
	guard.How += fmt.Sprintf(", as long as the fuse holds; the copper at most at what its insulation bears, and at %s °C for plugs and joints",
		num(w.WireHottest))
	choose(n, m.catalog.Wires, []ask[*catalog.Wire]{
		{warm, func(p *catalog.Wire) float64 { return m.ampacity(p) }},
		{guard, func(p *catalog.Wire) float64 { return w.hot(p) }},
		{m.volts("max_volts", "volts that the insulation bears"), func(p *catalog.Wire) float64 { return p.MaxVolts }},
	})
	n.Words = m.wireWords(use, metres)
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

// wireWords says what wire to buy.
func (m *maker) wireWords(use wiring, metres float64) string {
	gauge, ok := m.gauge(use)
	long := m.wishes.Units.in("m", metres, up)
	switch {
	case !use.steady.known() || !use.peak.known():
		return fmt.Sprintf("%s of wire for %s, for an unknown current", long, use.words())
	case !ok:
		return fmt.Sprintf("%s of wire for %s, thicker than 4/0 AWG", long, use.words())
	}
	return fmt.Sprintf("%s of wire for %s, %s AWG (%s mm²) or thicker, insulated for at least %s °C and %s V",
		long, use.words(), gaugeName(gauge), num(drive.GaugeArea(gauge)*mm2), num(m.wishes.WireHottest), up(m.full()))
}

// words says where the wires run.
func (u wiring) words() string {
	if u.use == "phase" {
		return "the phases"
	}
	return "the pack's leads"
}

// gauge is the thinnest that the steady current allows, and the peak as long as
// the fuse holds.
func (m *maker) gauge(use wiring) (gauge int, ok bool) {
	w := m.wishes
	warm, ok := drive.ThinnestGauge(use.steady.Amps, w.WireRise, w.Ambient)
	hot, too := drive.ThinnestGauge(use.peak.Amps, w.WireHottest-w.Ambient, w.Ambient)
	return min(warm, hot), ok && too
}

// gaugeName writes a gauge, such as 12 or 2/0.
func gaugeName(gauge int) string {
	if gauge <= 0 {
		return fmt.Sprintf("%d/0", 1-gauge)
	}
	return fmt.Sprint(gauge)
}

// copper is the wire that is chosen, else that of the words; ok is false where
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
func (m *maker) wireNotes(n *Need, use wiring) []string {
	w, ok := m.copper(n, use)
	if !ok {
		return nil
	}
	var out []string
	for _, c := range []struct {
		peak bool
		Current
	}{{false, use.steady}, {true, use.peak}} {
		rise := w.Rise(c.Amps, m.wishes.Ambient)
		if !c.known() || math.IsInf(rise, 1) || c.peak && c.Amps == use.steady.Amps {
			continue
		}
		ohms := use.distance * w.Resistance(m.wishes.Ambient+rise)
		note := fmt.Sprintf("%s A for long warm it by %s K", num(c.Amps), num(rise))
		if c.peak {
			note = fmt.Sprintf("%s A, the peak, would warm it by %s K if they lasted", num(c.Amps), num(rise))
		}
		watts := c.Amps * c.Amps * ohms * float64(use.lossy)
		if use.use == "phase" {
			note += fmt.Sprintf("; they then cost %s W in the three wires of a motor", num(watts))
		} else {
			note += fmt.Sprintf("; they then cost %s V and %s W out and back", num(c.Amps*ohms*float64(use.lossy)), num(watts))
		}
		out = append(out, note)
	}
	return out
}
