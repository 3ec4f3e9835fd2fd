package audit

import (
	"fmt"
	"math"

	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// What remarks say, each by its code.
const (
	// Doubts.
	priceZero            Code = "price-zero"
	longAbovePeak        Code = "long-above-peak"
	windingOdd           Code = "winding"
	windingHalf          Code = "winding-half"
	motorMass            Code = "motor-mass"
	limitBelowNoLoad     Code = "limit-below-no-load"
	shaftInCan           Code = "shaft-in-can"
	packAboveMotorSide   Code = "pack-above-motor-side"
	controllerEfficiency Code = "controller-efficiency"
	gearEfficiency       Code = "gear-efficiency"
	voltageOdd           Code = "voltage"
	noChemistry          Code = "no-chemistry"
	cellMass             Code = "cell-mass"
	energyByMass         Code = "energy-by-mass"
	energyByVolume       Code = "energy-by-volume"
	packEnergy           Code = "pack-energy"
	sagsAway             Code = "sags-away"
	chargesTooFast       Code = "charges-too-fast"
	chargeAboveDischarge Code = "charge-above-discharge"
	packLight            Code = "pack-light"
	packHeavy            Code = "pack-heavy"
	packAboveCells       Code = "pack-above-cells"
	packResistance       Code = "pack-resistance"
	pulleyAboveWheel     Code = "pulley-above-wheel"
	gearAboveWheel       Code = "gear-above-wheel"
	boreAboveRoot        Code = "bore-above-root"
	wheelMass            Code = "wheel-mass"
	wheelsMass           Code = "wheels-mass"
	rollingResistance    Code = "rolling-resistance"
	rollingRatio         Code = "rolling-ratio"

	// Parts that can be in no build.
	partnersIdle     Code = "partners-idle"
	aboveControllers Code = "above-controllers"
	aboveMotors      Code = "above-motors"
	belowBatteries   Code = "below-batteries"
	nothingOnShaft   Code = "nothing-on-shaft"
	nothingOnHub     Code = "nothing-on-hub"
	noSuchShaft      Code = "no-such-shaft"
	noSuchKey        Code = "no-such-key"
	noSuchHub        Code = "no-such-hub"
	noSuchPulley     Code = "no-such-pulley"
	noBeltForIt      Code = "no-belt-for-it"
	noBeltSoFar      Code = "no-belt-so-far"
	noSuchPair       Code = "no-such-pair"
	noSuchFace       Code = "no-such-face"
	noPairForIt      Code = "no-pair-for-it"
	cellUnused       Code = "cell-unused"
	cellInIdle       Code = "cell-in-idle"
	profileUnused    Code = "profile-unused"
	noSuchSeries     Code = "no-such-series"
	noSuchFull       Code = "no-such-full"
	boxTooSmall      Code = "box-too-small"
)

// saying is the words of a code: a text with a place for each quantity, and a
// hint.
type saying struct {
	text, hint string
	// make makes the text where it depends on the quantities; nil: it does not.
	make func(q []Quantity) string
}

// sayings are the words of every code.
var sayings = map[Code]saying{
	priceZero:            {text: "price is 0", hint: "leave price out where it is not known; owned = true where the part is there already"},
	longAbovePeak:        {text: "%s is %s, above %s, %s"},
	windingOdd:           {text: windingText, hint: "R·kv² is alike for all windings of a can: do kv and resistance belong to one winding, and is the unit mΩ?"},
	windingHalf:          {text: windingText, hint: "about half: it is measured from phase to phase, not from a phase to the star point"},
	motorMass:            {text: "mass_g is %s for a can of %s × %s mm, %s g/cm³; motors have %s to %s", hint: "the mass of one motor, and the can's outside diameter and length"},
	limitBelowNoLoad:     {text: "%s is %s, no more than no_load_current_a, %s"},
	shaftInCan:           {text: "shaft_mm is %s in a can of %s mm"},
	packAboveMotorSide:   {text: "battery_current_a is %s, above motor_current_a, %s", hint: mixedUp},
	controllerEfficiency: {text: "efficiency is %s; controllers have %s to %s"},
	gearEfficiency:       {text: "efficiency is %s; gears have %s to %s"},
	voltageOdd:           {text: "%s is %s V; %s cells have %s to %s V"},
	noChemistry:          {make: noChemistryText},
	cellMass:             {text: "mass_g is %s for a cell of %s × %s mm, %s g/cm³; cells have %s to %s", hint: "the mass of one cell"},
	energyByMass:         {text: "capacity_ah is %s, %s W·h in %s g, %s W·h/kg; cells have %s to %s"},
	energyByVolume:       {text: "capacity_ah is %s, %s W·h in a cell of %s × %s mm, %s W·h/l; the best have %s", hint: "labels promise much: what does the maker's data sheet say?"},
	packEnergy:           {text: "mass_g is %s for %s W·h, %s W·h/kg; packs have %s to %s"},
	sagsAway:             {text: "at discharge_a, %s, and %s mΩ the full cell falls by %s V to %s V, below its cut-off, %s V", hint: "is the unit of resistance_mohm right?"},
	chargesTooFast:       {text: "current_a is %s; no battery of %s V may be charged with more than %s", hint: "cells that are charged too fast can burn"},
	chargeAboveDischarge: {text: "charge_a is %s, above discharge_a, %s", hint: mixedUp},
	packLight:            {make: packLightText},
	packHeavy:            {make: packHeavyText},
	packAboveCells:       {text: "%s is %s; its cells, %s side by side, give %s"},
	packResistance:       {text: "resistance_mohm is %s; its cells alone have %s"},
	pulleyAboveWheel:     {text: "teeth is %s, %s mm across with its belt; %s, the largest wheel of its hub, rolls on %s mm", hint: "are teeth, profile and hub right, and is the wheel's diameter in mm?"},
	gearAboveWheel:       {text: "outside_mm is %s; %s, the largest wheel that it bolts to, rolls on %s mm", hint: "a diameter, in mm"},
	boreAboveRoot:        {text: "bore_mm is %s; between the teeth it is %s mm across"},
	wheelMass:            {text: wheelMassText, hint: "of one wheel, without axle and truck"},
	wheelsMass:           {text: wheelMassText, hint: "the mass of one wheel, not of four"},
	rollingResistance:    {text: "rolling_resistance is %s; boards have %s to %s", hint: "a share of the weight: 0.02 for 2 %"},
	rollingRatio:         {text: "rolling_radius_ratio is %s, above 1", hint: "under load a tyre rolls on less than half its diameter"},

	partnersIdle:     {text: inNoBuild + "what would go with it is in no build itself: %s"},
	aboveControllers: {text: inNoBuild + "full it has %s V, more than any controller bears"},
	aboveMotors:      {text: inNoBuild + "full it has %s V, more than any motor bears"},
	belowBatteries:   {text: inNoBuild + "it bears %s V, less than any battery has when full"},
	nothingOnShaft:   {make: nothingOnShaftText},
	nothingOnHub:     {make: nothingOnHubText},
	noSuchShaft:      {text: inNoBuild + "no motor has a shaft of %s mm"},
	noSuchKey:        {text: inNoBuild + "no motor with a shaft of its bore has a %s"},
	noSuchHub:        {text: inNoBuild + "no wheel has its hub, %s"},
	noSuchPulley:     {text: inNoBuild + "no %s that is left has its profile, %s"},
	noBeltForIt:      {text: inNoBuild + "no belt holds it and a %s as far apart as a mount does"},
	noBeltSoFar:      {text: inNoBuild + "no belt holds a pair of pulleys as far apart as it does, %s mm to %s mm"},
	noSuchPair:       {text: inNoBuild + "no pair of pulleys that is left has its profile, %s"},
	noSuchFace:       {text: inNoBuild + "no pair of pulleys takes a belt wider than %s mm"},
	noPairForIt:      {text: inNoBuild + "it holds no pair of pulleys as far apart as a mount does"},
	cellUnused:       {text: inNoBuild + "no battery is made of it"},
	cellInIdle:       {text: inNoBuild + "the batteries that are made of it are in none"},
	profileUnused:    {text: inNoBuild + "no pulley has it"},
	noSuchSeries:     {text: inNoBuild + "no battery has %s cells in series"},
	noSuchFull:       {text: inNoBuild + "no battery has %s V when full", hint: "a charger for another number of cells is dangerous"},
	boxTooSmall:      {text: inNoBuild + "the cells of every battery take more than its %s l"},
}

// Words that several codes share.
const (
	inNoBuild     = "in no build: "
	mixedUp       = "are the two mixed up?"
	windingText   = "resistance_mohm is %s at %s rpm/V; a can of %s × %s mm would have about %s there, by %s motors of a similar can"
	wheelMassText = "mass_g is %s for a wheel of %s × %s mm, %s g/cm³; wheels have %s to %s"
)

// text is what a code says with its quantities.
func text(code Code, quantities []Quantity) string {
	s := sayings[code]
	if s.make != nil {
		return s.make(quantities)
	}
	var args []any
	for _, q := range quantities {
		args = append(args, q)
	}
	return fmt.Sprintf(s.text, args...)
}

// noChemistryText says which voltages a cell has, or a cell of a pack: full,
// nominal, cut-off where it is known, and how many are in series.
func noChemistryText(q []Quantity) string {
	text := fmt.Sprintf("%s V full, %s V nominal", q[0], q[1])
	if !math.IsNaN(q[2].SI) {
		text += fmt.Sprintf(", %s V empty", q[2])
	}
	if q[3].SI > 1 {
		text += fmt.Sprintf(" for each of %s cells", q[3])
	}
	return text + ": no chemistry has these voltages"
}

func packLightText(q []Quantity) string {
	count, have := cellsHave(q[1])
	return fmt.Sprintf("mass_g is %s; its %s alone %s %s", q[0], count, have, q[2])
}

func packHeavyText(q []Quantity) string {
	count, have := cellsHave(q[1])
	return fmt.Sprintf("mass_g is %s, more than twice what its %s %s, %s", q[0], count, have, q[2])
}

// cellsHave puts a number of cells with its noun and verb.
func cellsHave(n Quantity) (count, have string) {
	if n.SI == 1 {
		return "cell", "has"
	}
	return n.String() + " cells", "have"
}

func nothingOnShaftText(q []Quantity) string {
	text := inNoBuild + "no motor pulley or gear drive goes on its shaft"
	if math.IsNaN(q[0].SI) {
		return text
	}
	return text + fmt.Sprintf(" of %s mm", q[0])
}

func nothingOnHubText(q []Quantity) string {
	if len(q[0].Names) == 0 {
		return inNoBuild + "no wheel pulley or gear drive goes on it"
	}
	return inNoBuild + fmt.Sprintf("no wheel pulley or gear drive has its hub, %s", q[0])
}

// InsteadWords says what stands in the place of a key that is not given, ""
// where nothing does.
func InsteadWords(i constraints.Instead) string {
	switch i.Stand {
	case constraints.NumberStands:
		return field.FormatNumber(i.Number)
	case constraints.WordStands:
		return i.Word
	case constraints.NoSagStands:
		return "0: no sag"
	case constraints.HalfVoltsStand:
		return "half the volts"
	case constraints.ControllerStands:
		return "the controller's limit"
	case constraints.MotorStands:
		return "the motor's limit"
	case constraints.MotorPeakStands:
		return "the motor's peak"
	case constraints.PackStands:
		return "the pack's limit"
	case constraints.BriefStands:
		return "the brief's, where it has one, else none"
	case constraints.NoLimitStands:
		return "none: it is taken to bear all"
	case constraints.AnyBeltStands:
		return "any belt is taken to fit"
	case constraints.PartIsPassedOver:
		return "nothing: it is not chosen where that must be known"
	}
	return ""
}
