package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive/pack"
)

// Outfit is a build with what it needs around it.
type Outfit struct {
	Build    *constraints.Build
	Wishes   Wishes
	Currents Currents

	Lines  []Line          // the parts of the build itself, in the order of its slots
	Needs  []*Need         // what it needs around them, in the order of the catalog's kinds
	Total  constraints.Sum // of both; Missing where a price is not known or nothing is chosen
	Layout *pack.Layout    // of the cells in the box chosen; nil without one

	Downhill Downhill
}

// Complete completes a build. The build must stay as it is as long as the
// outfit is used.
func Complete(b *constraints.Build, w Wishes) *Outfit {
	m := &maker{build: b, wishes: w, catalog: b.Problem.Catalog, currents: currents(b)}
	o := &Outfit{Build: b, Wishes: w, Currents: m.currents, Lines: lines(b)}
	leads, phases := m.circuit(m.battery()), m.circuit(m.phases())
	charger := m.charger()
	o.Needs = []*Need{
		m.bms(m.charging(charger)), m.mainSwitch(), leads.fuse,
		leads.plugs, phases.plugs, leads.wire, phases.wire, charger, m.remote(),
	}
	box, layout := m.box()
	o.Layout = layout
	o.Needs = append(o.Needs, box)
	if belts := m.belts(); belts != nil {
		o.Needs = append(o.Needs, belts)
	}
	if links := m.masterLinks(); links != nil {
		o.Needs = append(o.Needs, links)
	}
	o.Needs = append(o.Needs, m.fasteners()...)
	o.Total = total(o)
	o.Downhill = downhill(b)
	return o
}

// Need finds a need by its kind and its use; nil where the build has no such need.
func (o *Outfit) Need(kind, use string) *Need {
	for _, n := range o.Needs {
		if n.Kind == kind && n.For == use {
			return n
		}
	}
	return nil
}

// total sums up all lines.
func total(o *Outfit) constraints.Sum {
	var sum constraints.Sum
	add := func(l Line) {
		if math.IsNaN(l.Total) {
			sum.Missing = true
			return
		}
		sum.Known += l.Total
	}
	for _, l := range o.Lines {
		add(l)
	}
	for _, n := range o.Needs {
		add(n.Line())
	}
	return sum
}

// maker makes the needs of one build.
type maker struct {
	build    *constraints.Build
	wishes   Wishes
	catalog  *catalog.Catalog
	currents Currents
}

// full is the volts of the full pack.
func (m *maker) full() float64 { return m.build.Battery.Pack.Full }

// volts is the demand that a part bears the full pack.
func (m *maker) volts(code Code, key string) Demand {
	return voltsDemand(code, m.build.Battery.Battery, key)
}
