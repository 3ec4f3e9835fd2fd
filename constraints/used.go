package constraints

import (
	"cmp"
	"math"
	"slices"

	"gearsearch/catalog"
)

// Used gathers the parts of the builds that an answer shows, to tell what is assumed
// of them. The builds are of one problem, or of problems that With makes of it.
type Used struct {
	problem     *Problem
	seen        map[*catalog.Part]bool
	motors      []*Motor
	controllers []*Controller
	batteries   []*Battery
	gears       []*catalog.GearDrive
	belts       [2][slotCount][]*catalog.Part // what belt drives are made of, and chain drives, by slot
	chains      []*catalog.Belt
	wheels      []*Wheel

	belted, chained                   bool
	estimated                         bool // the thrust of a build is not known
	openMotorCurrent, openPackCurrent bool // a build has no such limit
}

// NewUsed is for builds of a problem.
func NewUsed(p *Problem) *Used { return &Used{problem: p, seen: map[*catalog.Part]bool{}} }

// Add notes what a build is made of.
func (u *Used) Add(b *Build) {
	m, c, d := b.Motor, b.Controller, b.Drive
	u.motors = unseen(u, u.motors, m)
	u.controllers = unseen(u, u.controllers, c)
	u.batteries = unseen(u, u.batteries, b.Battery)
	u.wheels = unseen(u, u.wheels, b.Wheel)
	switch {
	case d.Bare:
	case d.Gear != nil:
		u.gears = unseen(u, u.gears, d.Gear)
	default:
		u.belted = u.belted || !d.Chained()
		u.chained = u.chained || d.Chained()
		if d.Belt != nil && d.Belt.Profile.Chained() && !u.seen[&d.Belt.Part] {
			u.chains = append(u.chains, d.Belt)
		}
		of := &u.belts[0]
		if d.Chained() {
			of = &u.belts[1]
		}
		for _, slot := range [...]Slot{SlotMotorPulley, SlotWheelPulley, SlotMount, SlotBelt} {
			if part := d.Part(slot); part != nil {
				of[slot] = unseen(u, of[slot], part)
			}
		}
	}
	u.estimated = u.estimated || !b.ThrustKnown()
	u.openMotorCurrent = u.openMotorCurrent || m.Drive.PeakCurrent == 0 && c.Drive.MotorCurrent == 0
	u.openPackCurrent = u.openPackCurrent || c.Drive.BatteryCurrent == 0 && b.Battery.Pack.Discharge == 0
}

// unseen is a list with a part that was not seen before.
func unseen[T interface{ Common() *catalog.Part }](u *Used, list []T, part T) []T {
	if common := part.Common(); !u.seen[common] {
		u.seen[common] = true
		return append(list, part)
	}
	return list
}

// Assumptions are the values assumed for the builds that were added, where catalog
// and brief give none: kind by kind, then those about the ride.
func (u *Used) Assumptions() []Assumption {
	var l ledger
	for _, m := range byID(u.motors) {
		l.motor(m)
	}
	for _, c := range byID(u.controllers) {
		l.controller(c)
	}
	for _, b := range byID(u.batteries) {
		l.battery(b)
	}
	for i, of := range u.belts {
		for _, slot := range beltSlots() {
			for _, part := range byID(of[slot]) {
				l.weighs(!math.IsNaN(part.Mass), slot.Called(i > 0), part.ID)
			}
		}
	}
	for _, c := range byID(u.chains) {
		if math.IsNaN(c.Breaking) {
			l.noteOf(SlotBelt.Called(true), c.ID, Assumption{Code: NumberAssumed, Key: "breaking_n", Quantities: []Quantity{bare(c.BreakingLoad())}})
		}
	}
	for _, g := range byID(u.gears) {
		l.gear(g)
	}
	for _, w := range byID(u.wheels) {
		l.wheel(u.problem, w)
	}
	if u.openMotorCurrent {
		l.list = append(l.list, Assumption{Code: OpenMotorCurrent})
	}
	if u.openPackCurrent {
		l.list = append(l.list, Assumption{Code: OpenBatteryCurrent})
	}
	l.list = append(l.list, u.problem.conditionsAssumed(u.belted, u.chained)...)
	return append(l.list, u.briefAssumed()...)
}

// byID sorts parts by their ids.
func byID[T interface{ Common() *catalog.Part }](list []T) []T {
	return slices.SortedFunc(slices.Values(list), func(a, b T) int { return cmp.Compare(a.Common().ID, b.Common().ID) })
}

// Assumptions are the same for the parts of one build.
func (b *Build) Assumptions() []Assumption {
	u := NewUsed(b.Problem)
	u.Add(b)
	return u.Assumptions()
}

// bearing is a key of a brief whose default bears on the builds shown; when is nil
// where it bears on all.
type bearing struct {
	key  string
	when func(u *Used) bool
}

// bearings are these keys, without the grip and the rolling resistance, which other
// assumptions name.
func bearings() []bearing {
	belted := func(u *Used) bool { return u.belted || u.chained }
	climbs := func(u *Used) bool { return u.problem.Climbs() }
	ceiling := func(u *Used) bool { return u.problem.HasCeiling() }
	return []bearing{
		{key: "rider.mass_kg"},
		{key: "rider.posture", when: func(u *Used) bool { return !u.problem.Brief.Written("rider.drag_area_m2") }},
		{key: "board.mass_kg"},
		{key: "board.motors"},
		{key: "board.rear_share"},
		{key: "board.lean"},
		{key: "board.axle_min"},
		{key: "board.wheelbase_mm"},
		{key: "board.centre_height_mm"},
		{key: "ground.surface"},
		{key: "ground.air_density_kg_m3", when: func(u *Used) bool {
			return !u.problem.Brief.Written("ground.altitude_m") && !u.problem.Brief.Written("ground.temperature_c")
		}},
		{key: "target.climb_speed_kmh"},
		{key: "target.cruise_kmh"},
		{key: "target.charge"},
		{key: "limit.erpm_headroom_pct", when: ceiling},
		{key: "limit.erpm_rule", when: ceiling},
		{key: "limit.mesh_teeth", when: belted},
		{key: "limit.ground_clearance_mm"},
		{key: "limit.heat_factor", when: climbs},
		{key: "limit.winding_c"},
		{key: "limit.usable_pct"},
		{key: "limit.winding_max_c", when: func(u *Used) bool { return u.problem.HasLength() }},
		{key: "limit.ride_factor"},
		{key: "ride.stops_per_km"},
		{key: "ride.wind_kmh"},
		{key: "ride.ascent_m_per_km"},
		{key: "ride.regen_pct", when: func(u *Used) bool { return u.problem.Brief.Ride.Stops > 0 || u.problem.Brief.Ride.Ascent > 0 }},
		{key: "target.stop_from_kmh"},
		{key: "limit.derate", when: func(u *Used) bool { return u.estimated }},
	}
}

// briefAssumed are the defaults of keys that nobody wrote.
func (u *Used) briefAssumed() []Assumption {
	values := map[string]any{}
	for _, s := range u.problem.Resolved() {
		for _, k := range s.Keys {
			values[s.Name+"."+k.Key] = k.Value
		}
	}
	var out []Assumption
	for _, x := range bearings() {
		if u.problem.Brief.Written(x.key) || x.when != nil && !x.when(u) {
			continue
		}
		a := Assumption{Code: BriefAssumed, Key: x.key}
		switch v := values[x.key].(type) {
		case string:
			a.Words = []string{v}
		case float64:
			a.Quantities = []Quantity{bare(v)}
		case []float64:
			for _, each := range v {
				a.Quantities = append(a.Quantities, bare(each))
			}
		}
		out = append(out, a)
	}
	return out
}
