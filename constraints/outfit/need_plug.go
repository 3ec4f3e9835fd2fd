package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

const sourcePlug = "ratings as given: the parts of a circuit bear its current, and a plug takes no wire that is thicker than its cup"

// plugs are the need of the plugs of a stretch of wires: a pair of two poles between
// pack and controllers, three of one between a controller and each motor. area is
// the copper that they must take in m², NaN where it is not known.
func (m *maker) plugs(use wiring, area float64) *Need {
	if use.use == "phase" {
		return m.phasePlugs(area)
	}
	n := &Need{Kind: "connector", For: use.use, Pieces: 1}
	n.Buy = said(BuyPlugs, boundLeast(m.full(), "V"), use.peak.borne(), use.steady.borne(), takes(area))
	choose(n, m.catalog.Connectors, append([]ask[*catalog.Connector]{
		poles(2),
		{m.volts(DemandVolts, "max_volts"), func(c *catalog.Connector) float64 { return c.MaxVolts }},
		{bears(DemandLong, "continuous_a", use.steady, sourceSteady), func(c *catalog.Connector) float64 { return c.Continuous }},
		{bears(DemandSeconds, "peak_a", use.peak, sourcePeak), func(c *catalog.Connector) float64 { return orElse(c.Peak, c.Continuous) }},
	}, cup(area)...))
	return n
}

// phasePlugs are those between controllers and motors.
func (m *maker) phasePlugs(area float64) *Need {
	pairs := 3 * m.build.Motors()
	peak, steady := m.currents.PhasePeak, m.currents.PhaseSteady
	n := &Need{
		Kind: "connector", For: "phase", Pieces: pairs,
		Buy:   said(BuyPhasePlugs, count(pairs), peak.borne(), steady.borne(), takes(area)),
		Notes: alone(PlugsComeAlong),
	}
	choose(n, m.catalog.Connectors, append([]ask[*catalog.Connector]{
		poles(1),
		{bears(DemandLongRMS, "continuous_a", steady, sourcePhase), func(c *catalog.Connector) float64 { return c.Continuous }},
		{bears(DemandSecondsRMS, "peak_a", peak, sourcePhase), func(c *catalog.Connector) float64 { return orElse(c.Peak, c.Continuous) }},
	}, cup(area)...))
	return n
}

// poles is the demand for a plug of so many contacts.
func poles(n float64) ask[*catalog.Connector] {
	d := least(DemandPoles, "poles", "", 1, n, sourcePlug)
	d.Most = n
	return ask[*catalog.Connector]{d, func(c *catalog.Connector) float64 { return c.Poles }}
}

// cup is the demand for a plug that takes so much copper; none where the copper is
// not known.
func cup(area float64) []ask[*catalog.Connector] {
	if math.IsNaN(area) {
		return nil
	}
	d := least(DemandWire, "wire_max_mm2", "mm²", mm2, area, sourcePlug, said(CopperOfWire))
	return []ask[*catalog.Connector]{{d, func(c *catalog.Connector) float64 { return c.WireMax }}}
}

// takes is the copper that a plug must take.
func takes(area float64) constraints.Quantity { return shown(area, mm2, "mm²", constraints.ThreeUp) }
