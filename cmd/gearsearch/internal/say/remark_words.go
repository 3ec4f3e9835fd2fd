package say

import "gearsearch/constraints/audit"

// remarkRow is the words of a code: a text with a place for each quantity, and
// a hint.
type remarkRow struct {
	text, hint string
	// make makes the text where it depends on the quantities; nil: it does not.
	make func(q []audit.Quantity) string
}

// remarkWords are the words of every code.
var remarkWords = map[audit.Code]remarkRow{
	audit.PriceZero:            {text: "price is 0", hint: "leave price out where it is not known; owned = true where the part is there already"},
	audit.NotBought:            {text: "%s counts nowhere: a profile is the shape of teeth, and is not bought", hint: "give it to the pulleys and belts of that profile"},
	audit.LongAbovePeak:        {text: "%s is %s, above %s, %s"},
	audit.WindingOdd:           {text: windingText, hint: "R·kv² is alike for all windings of a can: do kv and resistance belong to one winding, and is the unit mΩ?"},
	audit.WindingHalf:          {text: windingText, hint: "about half: it is measured from phase to phase, not from a phase to the star point"},
	audit.MotorConstant:        {text: "resistance_mohm is %s at %s rpm/V and %s g; motors of that kv and mass have about %s to %s", hint: "from phase to phase and in mΩ, of this winding, and the mass of one motor?"},
	audit.MagnetsAsPairs:       {text: "pole_pairs is %s in a can of %s mm; %s magnets are %s pairs", hint: "pairs, not magnets: counted twice they double every electrical rpm"},
	audit.MotorMass:            {text: "mass_g is %s for a can of %s × %s mm, %s g/cm³; motors have %s to %s", hint: "the mass of one motor, and the can's outside diameter and length"},
	audit.LimitBelowNoLoad:     {text: "%s is %s, no more than no_load_current_a, %s"},
	audit.ShaftInCan:           {text: "shaft_mm is %s in a can of %s mm"},
	audit.PackAboveMotorSide:   {text: "battery_current_a is %s, above motor_current_a, %s", hint: mixedUp},
	audit.ControllerEfficiency: {text: "efficiency is %s; controllers have %s to %s"},
	audit.GearEfficiency:       {text: "efficiency is %s; gears have %s to %s"},
	audit.VoltageOdd:           {text: "%s is %s V; %s cells have %s to %s V"},
	audit.NoChemistry:          {make: noChemistryText},
	audit.CellMass:             {text: "mass_g is %s for a cell of %s × %s mm, %s g/cm³; cells have %s to %s", hint: "the mass of one cell"},
	audit.EnergyByMass:         {text: "capacity_ah is %s, %s W·h in %s g, %s W·h/kg; cells have %s to %s"},
	audit.EnergyByVolume:       {text: "capacity_ah is %s, %s W·h in a cell of %s × %s mm, %s W·h/l; the best have %s", hint: "labels promise much: what does the maker's data sheet say?"},
	audit.PackEnergy:           {text: "mass_g is %s for %s W·h, %s W·h/kg; packs have %s to %s"},
	audit.SagsAway:             {text: "at discharge_a, %s, and %s mΩ the full cell falls by %s V to %s V, below its cut-off, %s V", hint: "is the unit of resistance_mohm right?"},
	audit.ChargesTooFast:       {text: "current_a is %s; no battery of %s V may be charged with more than %s", hint: "cells that are charged too fast can burn"},
	audit.ChargeAboveDischarge: {text: "charge_a is %s, above discharge_a, %s", hint: mixedUp},
	audit.PackLight:            {make: packLightText},
	audit.PackHeavy:            {make: packHeavyText},
	audit.PackAboveCells:       {text: "%s is %s; its cells, %s side by side, give %s"},
	audit.PackResistance:       {text: "resistance_mohm is %s; its cells alone have %s"},
	audit.PulleyAboveWheel:     {text: "teeth is %s, %s mm across with its belt; %s, the largest wheel of its hub, rolls on %s mm", hint: "are teeth, profile and hub right, and is the wheel's diameter in mm?"},
	audit.GearAboveWheel:       {text: "outside_mm is %s; %s, the largest wheel that it bolts to, rolls on %s mm", hint: "a diameter, in mm"},
	audit.BoreAboveRoot:        {text: "bore_mm is %s; between the teeth it is %s mm across"},
	audit.WheelMass:            {text: wheelMassText, hint: "of one wheel, without axle and truck"},
	audit.WheelsMass:           {text: wheelMassText, hint: "the mass of one wheel, not of four"},
	audit.RollingResistance:    {text: "rolling_resistance is %s; boards have %s to %s", hint: "a share of the weight: 0.02 for 2 %"},
	audit.RollingRatio:         {text: "rolling_radius_ratio is %s, above 1", hint: "under load a tyre rolls on less than half its diameter"},

	audit.PartnersIdle:     {text: inNoBuild + "its only partners are in no build either: %s"},
	audit.AboveControllers: {text: inNoBuild + "full it has %s V, more than any controller bears"},
	audit.AboveMotors:      {text: inNoBuild + "full it has %s V, more than any motor bears"},
	audit.BelowBatteries:   {text: inNoBuild + "it bears %s V, less than any battery has when full"},
	audit.NothingOnShaft:   {make: nothingOnShaftText},
	audit.NothingOnHub:     {make: nothingOnHubText},
	audit.NoSuchShaft:      {text: inNoBuild + "no motor has a shaft of %s mm"},
	audit.NoSuchKey:        {text: inNoBuild + "no motor with a shaft of its bore has a %s"},
	audit.NoSuchHub:        {text: inNoBuild + "no wheel has its hub, %s"},
	audit.NoSuchPulley:     {make: noSuchPulleyText},
	audit.NoBeltForIt:      {make: noBeltForItText},
	audit.NoBeltSoFar:      {text: inNoBuild + "no belt or chain holds a pair as far apart as it does, %s mm to %s mm"},
	audit.NoSuchPair:       {text: inNoBuild + "no pair of pulleys that is left has its profile, %s"},
	audit.NoSuchFace:       {text: inNoBuild + "no pair of pulleys takes a belt wider than %s mm"},
	audit.NoPairForIt:      {text: inNoBuild + "it holds no pair of pulleys as far apart as a mount does"},
	audit.OddLinks:         {text: inNoBuild + "%s is odd: inner and outer links take turns, and only an even number makes a ring"},
	audit.CellUnused:       {text: inNoBuild + "no battery is made of it"},
	audit.CellInIdle:       {text: inNoBuild + "the batteries that are made of it are in none"},
	audit.ProfileUnused:    {text: inNoBuild + "no pulley has it"},
	audit.NoSuchSeries:     {text: inNoBuild + "no battery has %s cells in series"},
	audit.NoSuchFull:       {text: inNoBuild + "no battery has %s V when full", hint: "a charger for another number of cells is dangerous"},
	audit.BoxTooSmall:      {text: inNoBuild + "the cells of every battery take more than its %s l"},
}

// Words that several codes share.
const (
	inNoBuild     = "in no build: "
	mixedUp       = "are the two mixed up?"
	windingText   = "resistance_mohm is %s at %s rpm/V; a can of %s × %s mm would have about %s there, by %s motors of a similar can"
	wheelMassText = "mass_g is %s for a wheel of %s × %s mm, %s g/cm³; wheels have %s to %s"
)
