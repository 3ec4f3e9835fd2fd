package catalog

import (
	"cmp"
	"math"
	"slices"
)

// Gap is a key that some parts do not give, and what that leaves open.
type Gap struct {
	Kind, Key string
	IDs       []string // of the parts without it, in order
	// Checks are the names of the checks that are undecided for builds with
	// such a part, where the brief makes them apply: none where something is
	// assumed instead.
	Checks []string
	// Instead is what stands in the key's place, "" for nothing.
	Instead string
}

// Gaps are the keys that parts do not give and that leave something open:
// those that leave most checks undecided first, then those that most parts
// lack, then in the order of the catalog format. A key that another one
// answers for is none: a motor's max_volts where every controller has one, the
// hub of a gear drive that names its wheels, the mass of a cell in packs that
// have their own.
//
// Which check needs which key stands in a table here, since the checks are
// further up the house than the catalog; a test takes each key out of a whole
// build and holds the table against the checks that are then undecided.
func Gaps(c *Catalog) []Gap {
	f := newGapFinder(c)
	var out []Gap
	for _, n := range needs() {
		g := Gap{Kind: n.kind, Key: n.key, Instead: n.instead}
		for e := range c.Entries(n.kind) {
			if f.lacks(n, e) {
				g.IDs = append(g.IDs, e.Part.ID)
			}
		}
		for _, o := range n.open {
			if o.unless == nil || !o.unless(f) {
				g.Checks = append(g.Checks, o.checks...)
			}
		}
		if len(g.IDs) > 0 && len(g.Checks)+len(g.Instead) > 0 {
			out = append(out, g)
		}
	}
	slices.SortStableFunc(out, func(a, b Gap) int {
		return cmp.Or(cmp.Compare(len(b.Checks), len(a.Checks)), cmp.Compare(len(b.IDs), len(a.IDs)))
	})
	return out
}

// need is a key that something is worked out from.
type need struct {
	kind, key string
	open      []open // what its absence leaves undecided
	instead   string // what is assumed in its place
	// of says for which parts of the kind it counts; nil: for all.
	of func(f *gapFinder, e Entry) bool
}

// open is checks that are undecided without a key, unless something else
// answers for it.
type open struct {
	checks []string
	unless func(f *gapFinder) bool
}

// leaves is a need without conditions.
func leaves(checks ...string) []open { return []open{{checks: checks}} }

// needs is the table. The checks of the ranking come first, those of what a
// board needs around its drivetrain after them.
func needs() []need {
	thrust := func(unless func(f *gapFinder) bool) open {
		return open{[]string{"climb", "hill-torque", "launch"}, unless}
	}
	const (
		noLimit   = "none: it is taken to bear all"
		notChosen = "nothing: it is not chosen where that must be known"
	)
	return slices.Concat([]need{
		{kind: "motor", key: "pole_pairs", instead: "7"},
		{kind: "motor", key: "resistance_mohm", open: leaves("climb", "hill-torque", "launch", "range")},
		{kind: "motor", key: "no_load_current_a", instead: "0"},
		{kind: "motor", key: "peak_current_a", open: []open{thrust((*gapFinder).controllersLimitMotors)}, instead: "the controller's limit"},
		{kind: "motor", key: "continuous_current_a", open: leaves("heat")},
		{kind: "motor", key: "max_volts", open: []open{{[]string{"voltage"}, (*gapFinder).controllersHaveVolts}}, instead: "the controller's limit"},
		{kind: "motor", key: "shaft_mm", open: leaves("bore"), of: (*gapFinder).boreCounts},
		{kind: "motor", key: "shaft_key", open: leaves("bore"), of: (*gapFinder).keyCounts},
		{kind: "motor", key: "can_length_mm", open: leaves("hanger")},
		{kind: "motor", key: "sensored", open: leaves("sensor")},

		{kind: "controller", key: "erpm_ceiling", open: []open{{[]string{"erpm"}, (*gapFinder).noCeilings}}, instead: "the brief's, where it has one, else none"},
		{kind: "controller", key: "max_volts", open: []open{{[]string{"voltage"}, (*gapFinder).motorsHaveVolts}}, instead: "the motor's limit"},
		{kind: "controller", key: "motor_current_a", open: []open{thrust((*gapFinder).motorsHavePeak)}, instead: "the motor's peak"},
		{kind: "controller", key: "battery_current_a", open: []open{thrust((*gapFinder).packsHaveDischarge), {checks: []string{"pack-current"}}}, instead: "the pack's limit"},
		{kind: "controller", key: "continuous_current_a", instead: noLimit},

		{kind: "cell", key: "resistance_mohm", instead: "0: no sag", of: lacksOfPack(func(b *Battery) float64 { return b.Resistance })},
		{kind: "cell", key: "discharge_a", open: []open{thrust((*gapFinder).controllersLimitPacks), {checks: []string{"pack-current"}}}, of: lacksOfPack(func(b *Battery) float64 { return b.Discharge })},
		{kind: "cell", key: "charge_a", open: leaves("charger"), of: lacksOfPack(func(b *Battery) float64 { return b.Charge })},
		{kind: "cell", key: "diameter_mm", open: leaves("box"), of: usedCell},
		{kind: "cell", key: "length_mm", open: leaves("box"), of: usedCell},

		{kind: "battery", key: "cutoff_v", instead: "0: no limit by sag", of: withoutCell},
		{kind: "battery", key: "capacity_ah", open: leaves("range"), of: withoutCell},
		{kind: "battery", key: "resistance_mohm", instead: "0: no sag", of: withoutCell},
		{kind: "battery", key: "discharge_a", open: []open{thrust((*gapFinder).controllersLimitPacks), {checks: []string{"pack-current"}}}, of: withoutCell},
		{kind: "battery", key: "charge_a", open: leaves("charger"), of: withoutCell},

		{kind: "pulley", key: "bore_mm", open: leaves("bore"), of: onSide(MotorSide)},
		{kind: "pulley", key: "hub", open: leaves("hub"), of: onSide(WheelSide)},
		{kind: "pulley", key: "width_mm", instead: "any belt is taken to fit"},
		{kind: "belt", key: "width_mm", open: leaves("belt-load")},
		{kind: "gear_drive", key: "bore_mm", open: leaves("bore"), of: func(_ *gapFinder, e Entry) bool { return e.catalog.GearDrives[e.index].FitsMotors == nil }},
		{kind: "gear_drive", key: "hub", open: leaves("hub"), of: func(_ *gapFinder, e Entry) bool { return e.catalog.GearDrives[e.index].FitsWheels == nil }},
		{kind: "gear_drive", key: "max_torque_nm", open: leaves("gear-torque")},
		{kind: "gear_drive", key: "outside_mm", open: leaves("clearance")},
		{kind: "wheel", key: "hub", open: leaves("hub"), of: (*gapFinder).hubCounts},
		{kind: "wheel", key: "tyre", instead: "urethane"},
		{kind: "profile", key: "pitch_line_mm", open: leaves("clearance")},
		{kind: "profile", key: "pull_n_per_mm", open: leaves("belt-load")},
	}, moneyAndMass(), []need{
		{kind: "bms", key: "charge_a", open: leaves("bms"), instead: notChosen},
		{kind: "bms", key: "cell_full_v", open: leaves("bms"), instead: notChosen},
		{kind: "switch", key: "max_volts", open: leaves("switch"), instead: notChosen},
		{kind: "switch", key: "continuous_a", open: leaves("switch"), instead: notChosen},
		{kind: "switch", key: "precharge", open: leaves("switch"), instead: notChosen},
		{kind: "fuse", key: "max_volts_dc", open: leaves("fuse"), instead: notChosen},
		{kind: "fuse", key: "breaking_a", open: leaves("fuse"), instead: notChosen},
		{kind: "connector", key: "max_volts", instead: notChosen},
		{kind: "connector", key: "continuous_a", instead: notChosen},
		{kind: "connector", key: "wire_max_mm2", instead: notChosen, of: func(_ *gapFinder, e Entry) bool { return math.IsNaN(e.catalog.Connectors[e.index].WireMax) }},
		{kind: "wire", key: "insulation_c", instead: notChosen},
		{kind: "wire", key: "max_volts", instead: notChosen},
		{kind: "remote", key: "failsafe", instead: notChosen},
	})
}

// moneyAndMass are the needs of price and mass of all that goes into a build.
// Packs have their cells'; profiles are not bought.
func moneyAndMass() []need {
	var out []need
	notOwned := func(_ *gapFinder, e Entry) bool { return !e.Part.Owned }
	for _, kind := range []string{"motor", "controller", "pulley", "belt", "mount", "gear_drive", "wheel"} {
		out = append(out, need{kind: kind, key: "price", open: leaves("price"), of: notOwned},
			need{kind: kind, key: "mass_g", open: leaves("mass"), instead: "0"})
	}
	return append(out,
		need{kind: "cell", key: "price", open: leaves("price"), of: func(f *gapFinder, e Entry) bool {
			return !e.Part.Owned && lacksOfPack(func(b *Battery) float64 { return b.Cost(1) })(f, e)
		}},
		need{kind: "cell", key: "mass_g", open: leaves("mass"), instead: "0", of: lacksOfPack(func(b *Battery) float64 { return b.Mass })},
		need{kind: "battery", key: "price", open: leaves("price"), of: func(f *gapFinder, e Entry) bool { return notOwned(f, e) && withoutCell(f, e) }},
		need{kind: "battery", key: "mass_g", open: leaves("mass"), instead: "0", of: withoutCell},
	)
}
