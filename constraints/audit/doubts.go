package audit

import (
	"math"

	"gearsearch/catalog"
)

// Doubts are data that is allowed but unlikely: mostly a slip of the pen, or a maker
// who promises much. Each names its reason.
func Doubts(c *catalog.Catalog) []Remark {
	d := doubter{Catalog: c, bench: newBench()}
	for _, rule := range doubtRules() {
		d.basis = rule.basis
		rule.find(&d)
	}
	return remarks(c, d.found)
}

// doubtRule finds the parts that break a rule, and names the source of the rule.
type doubtRule struct {
	find  func(*doubter)
	basis string
}

const (
	noSource   = "common practice, no published source"
	assumption = "assumption"
	densities  = "aluminium 2.7, steel 7.85, copper 8.96 g/cm³: handbook values, from memory; the limits are an assumption"
)

// doubtRules are the rules, in the order of the kinds that they are about.
func doubtRules() []doubtRule {
	return []doubtRule{
		{(*doubter).free, noSource},
		{(*doubter).notBought, "a profile is the shape of teeth: pulleys and belts are bought"},
		{(*doubter).winding, windingBasis},
		{(*doubter).motorConstant, "k²/(R·M) of small outrunners is 0.02 to 0.12 (N·m)²/(W·kg), k = 60/(2π kv), widened by 2 either way: " + noSource},
		{(*doubter).polePairs, noSource + "; such cans have 5 to 11 pairs"},
		{(*doubter).motorMass, densities},
		{(*doubter).noLoad, "the torque goes with what is above the no-load current"},
		{(*doubter).shaft, assumption},
		{(*doubter).peaks, "what is borne for long is borne for seconds"},
		{(*doubter).packSide, "pack current = duty × motor current, and duty is at most 1"},
		{(*doubter).efficiency, "one spur or helical mesh 0.95 to 0.99: Hamrock, Fundamentals of Machine Elements; the lower limits and those of controllers are an assumption"},
		{(*doubter).chemistry, noSource},
		{(*doubter).cellMass, "2 to 3 g/cm³: " + noSource + "; the limits are an assumption"},
		{(*doubter).energy, "up to 300 W·h/kg and 800 W·h/l: " + noSource + "; the limits are an assumption"},
		{(*doubter).sag, "Ohm's law"},
		{(*doubter).charging, noSource},
		{(*doubter).packCells, "cells side by side add up; up to 2.5 times their mass is an assumption"},
		{(*doubter).room, "pitch diameter less twice the pitch-line differential (ISO 13050, ISO 5296); 2 mm for belt and flange: " + noSource + "; a chain's plates stand on the pitch circle: ISO 606"},
		{(*doubter).wall, "teeth are about 0.4 of the pitch deep (ISO 13050, HTD: 2.06 of 5 mm, from memory); a sprocket's root is a roller less than its pitch diameter (ISO 606)"},
		{(*doubter).wheelMass, "urethane and rubber 1.1 to 1.2 g/cm³: handbook values, from memory; the limits are an assumption"},
		{(*doubter).rolling, "bicycle tyres from 0.004, urethane on grass 0.12: assumption"},
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

// free doubts a price of 0 for a part that is not owned.
func (d *doubter) free() {
	for kind, p := range d.Parts() {
		if p.Price == 0 && !p.Owned {
			d.add(PriceZero, kind, p, "price")
		}
	}
}

// notBought doubts what only a part that is bought has.
func (d *doubter) notBought() {
	for _, p := range d.Profiles {
		for _, of := range []struct {
			key   string
			given bool
		}{{"price", !math.IsNaN(p.Price)}, {"sold_in", p.SoldIn > 1}, {"mass_g", !math.IsNaN(p.Mass)}, {"owned", p.Owned}} {
			if of.given {
				d.add(NotBought, "profile", &p.Part, of.key, named(of.key))
			}
		}
	}
}

// peak pairs a current that is borne for seconds with one that is borne for long.
type peak struct {
	kind             string
	part             *catalog.Part
	longKey, peakKey string
	long, short      float64 // A
}

// peaks doubts a current that is borne for long and not for seconds.
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
