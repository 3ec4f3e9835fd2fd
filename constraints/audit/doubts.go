package audit

import "gearsearch/catalog"

// Doubts are data that is allowed and unlikely: a slip of the pen, mostly, or
// a maker who promises much. Each says what it goes by.
func Doubts(c *catalog.Catalog) []Remark {
	d := doubter{Catalog: c, bench: newBench()}
	for _, rule := range doubtRules() {
		d.basis = rule.Basis
		rule.find(&d)
	}
	return remarks(c, d.found)
}

// DoubtRule says by what rule data is doubted, and by what source.
type DoubtRule struct {
	Name    string
	Meaning string // doubted is …
	Basis   string
}

// DoubtRules lists the rules of Doubts.
func DoubtRules() []DoubtRule {
	var out []DoubtRule
	for _, r := range doubtRules() {
		out = append(out, r.DoubtRule)
	}
	return out
}

// doubtRule is a rule with what finds the parts that break it.
type doubtRule struct {
	DoubtRule
	find func(*doubter)
}

const (
	noSource   = "common practice, no published source"
	assumption = "assumption"
	densities  = "aluminium 2.7, steel 7.85, copper 8.96 g/cm³: handbook values, from memory; the limits are an assumption"
)

// doubtRules are the rules, in the order of the kinds that they are about.
func doubtRules() []doubtRule {
	return []doubtRule{
		{DoubtRule{"free", "a price of 0 for a part that is not owned", noSource}, (*doubter).free},
		{DoubtRule{"winding", "a resistance that does not go with the kv of a motor, by motors of a similar can", windingBasis}, (*doubter).winding},
		{DoubtRule{"motor-constant", "a resistance that does not go with the kv and the mass of a motor", "k²/(R·M) of small outrunners is 0.02 to 0.12 (N·m)²/(W·kg), k = 60/(2π kv), widened by 2 either way: " + noSource}, (*doubter).motorConstant},
		{DoubtRule{"pole-pairs", "magnets for pole pairs: an even number of 12 or more in a can below 90 mm", noSource + "; such cans have 5 to 11 pairs"}, (*doubter).polePairs},
		{DoubtRule{"motor-mass", "a motor lighter than half a can of aluminium, or as heavy as a can of steel", densities}, (*doubter).motorMass},
		{DoubtRule{"no-load", "a motor current that is no more than the motor takes without load", "the torque goes with what is above the no-load current"}, (*doubter).noLoad},
		{DoubtRule{"shaft", "a shaft of half the can's diameter or more", assumption}, (*doubter).shaft},
		{DoubtRule{"peak", "a current that is borne for long and not for seconds", "what is borne for long is borne for seconds"}, (*doubter).peaks},
		{DoubtRule{"pack-side", "a controller that takes more from the pack than it gives a motor", "pack current = duty × motor current, and duty is at most 1"}, (*doubter).packSide},
		{DoubtRule{"efficiency", "gears or a controller with next to no loss, or with much", "one spur or helical mesh 0.95 to 0.99: Hamrock, Fundamentals of Machine Elements; the lower limits and those of controllers are an assumption"}, (*doubter).efficiency},
		{DoubtRule{"chemistry", "cell voltages that the chemistry does not have", noSource}, (*doubter).chemistry},
		{DoubtRule{"cell-mass", "a cell far lighter or heavier than cells of its size", "2 to 3 g/cm³: " + noSource + "; the limits are an assumption"}, (*doubter).cellMass},
		{DoubtRule{"energy", "a cell or pack that holds more energy than any that is sold, or very little", "up to 300 W·h/kg and 800 W·h/l: " + noSource + "; the limits are an assumption"}, (*doubter).energy},
		{DoubtRule{"sag", "a discharge current at which even the full cell falls below its cut-off", "Ohm's law"}, (*doubter).sag},
		{DoubtRule{"charging", "cells that take more than they give, and chargers that give more than any pack of their voltage takes", noSource}, (*doubter).charging},
		{DoubtRule{"cells", "a pack that is lighter than its cells, or bears or holds more than they do", "cells side by side add up; up to 2.5 times their mass is an assumption"}, (*doubter).packCells},
		{DoubtRule{"room", "a wheel pulley or gear drive that touches the ground on the largest wheel that it bolts to", "pitch diameter less twice the pitch-line differential (ISO 13050, ISO 5296); 2 mm for belt and flange: " + noSource}, (*doubter).room},
		{DoubtRule{"wall", "a pulley that its bore leaves nothing of", "teeth are about 0.4 of the pitch deep (ISO 13050, HTD: 2.06 of 5 mm, from memory)"}, (*doubter).wall},
		{DoubtRule{"wheel-mass", "a wheel far lighter or heavier than wheels of its size", "urethane and rubber 1.1 to 1.2 g/cm³: handbook values, from memory; the limits are an assumption"}, (*doubter).wheelMass},
		{DoubtRule{"rolling", "a rolling resistance that no board has, or a tyre that grows under load", "bicycle tyres from 0.004, urethane on grass 0.12: assumption"}, (*doubter).rolling},
	}
}

// doubter gathers doubts.
type doubter struct {
	*catalog.Catalog
	bench *bench
	basis string // of the rule at work
	found []finding
}

// add notes a doubt about a key of a part.
func (d *doubter) add(code Code, kind string, p *catalog.Part, key string, quantities ...Quantity) {
	d.found = append(d.found, finding{code: code, kind: kind, id: p.ID, key: key, quantities: quantities, basis: d.basis})
}

// outside reports whether a value is known and not between two limits.
func outside(x, low, high float64) bool { return x < low || x > high }

func (d *doubter) free() {
	for kind, p := range d.Parts() {
		if p.Price == 0 && !p.Owned {
			d.add(PriceZero, kind, p, "price")
		}
	}
}

// peak is a current that is borne for seconds beside one that is borne for
// long.
type peak struct {
	kind             string
	part             *catalog.Part
	longKey, peakKey string
	long, short      float64 // A
}

func (d *doubter) peaks() {
	var all []peak
	for _, m := range d.Motors {
		all = append(all, peak{"motor", &m.Part, "continuous_current_a", "peak_current_a", m.ContinuousCurrent, m.PeakCurrent})
	}
	for _, c := range d.Controllers {
		all = append(all, peak{"controller", &c.Part, "continuous_current_a", "motor_current_a", c.ContinuousCurrent, c.MotorCurrent})
	}
	for _, b := range d.BMSs {
		all = append(all, peak{"bms", &b.Part, "discharge_a", "peak_discharge_a", b.Discharge, b.PeakDischarge})
	}
	for _, s := range d.Switches {
		all = append(all, peak{"switch", &s.Part, "continuous_a", "peak_a", s.Continuous, s.Peak})
	}
	for _, c := range d.Connectors {
		all = append(all, peak{"connector", &c.Part, "continuous_a", "peak_a", c.Continuous, c.Peak})
	}
	for _, p := range all {
		if p.long > p.short {
			d.add(LongAbovePeak, p.kind, p.part, p.longKey, named(p.longKey), plain(p.long), named(p.peakKey), plain(p.short))
		}
	}
}
