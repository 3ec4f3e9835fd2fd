package say

import (
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// cautionRow is the words of a caution: a text with a place for the check that
// it is about, or for each of its quantities. The short one needs not have them all.
type cautionRow struct {
	short     string // the same for a line that has room for a few words
	text      string
	one, more string // what the first quantity counts; "": nothing
}

// cautionWords are the words of every caution.
var cautionWords = map[constraints.CautionCode]cautionRow{
	constraints.DemotedFails:       {short: "%s fails, which the brief lets pass", text: "%s fails, but the brief demotes it: it rejects nothing"},
	constraints.DemotedUndecided:   {short: "%s is undecided, which the brief lets pass", text: "%s is unknown, but the brief demotes it: it rejects nothing"},
	constraints.NoBeltChosen:       {short: "no belt is chosen, nor in price and mass", text: "no belt is chosen: price and mass leave it out"},
	constraints.BeltNotAround:      {short: "the belt is too short for these pulleys", text: "the belt is too short for these pulleys, whatever the centre distance: name a longer one"},
	constraints.BeltOffProfile:     {short: "the belt does not run on these pulleys", text: "the belt's profile is not that of both pulleys: it does not run on them"},
	constraints.FewInMesh:          {short: "only %s in mesh on the small pulley", text: "%s in mesh on the small pulley" + carriesLess, one: "whole tooth", more: "whole teeth"},
	constraints.FewInMeshIdler:     {short: "only %s in mesh on the small pulley", text: "%s in mesh on the small pulley, without the idler's wrap" + carriesLess, one: "whole tooth", more: "whole teeth"},
	constraints.NoChainChosen:      {short: "no chain is chosen, nor in price and mass", text: "no chain is chosen: price and mass leave it out"},
	constraints.ChainNotAround:     {short: "the chain is too short for these sprockets", text: "the chain is too short for these sprockets, whatever the centre distance: name a longer one"},
	constraints.ChainOffProfile:    {short: "the chain does not run on these sprockets", text: "the chain is not that of both sprockets: it does not run on them"},
	constraints.ChainNotClosed:     {short: "a chain of %s links does not close", text: "a chain of %s links does not close: take one link out or add one, as a cranked link is weaker"},
	constraints.FewOnSprocket:      {short: "only %s in mesh on the small sprocket", text: "%s in mesh on the small sprocket" + skips, one: "whole tooth", more: "whole teeth"},
	constraints.FewOnSprocketIdler: {short: "only %s in mesh on the small sprocket", text: "%s in mesh on the small sprocket, without the idler's wrap" + skips, one: "whole tooth", more: "whole teeth"},
	constraints.ChainUneven:        {short: "on %s the chain runs unevenly", text: "on %s the chain runs unevenly: between two teeth it slows down by %s, which shakes, wears and can be heard", one: "tooth", more: "teeth"},
	constraints.ChainAsks:          {short: "a chain asks for a guard, oil and a look at its length", text: "a chain draws in fingers, laces and trousers: put a guard on it; oil it, and replace it when it is 2 to 3 % longer than new, or it climbs the teeth; it is louder than a belt"},
	constraints.ChargedAboveFull:   {short: "the brief charges the pack to %s, above full", text: "the brief's charge makes %s, more than the full pack's %s"},
	constraints.SlipsOnFlat:        {short: "the wheels slip on the flat before the motors give all they can", text: "grip limits the thrust at the climb speed on the flat" + slips},
	constraints.SlipsOnGrade:       {short: "the wheels slip on the hill before the motors give all they can", text: "grip limits the thrust at the climb speed on the target grade" + slips},
	constraints.LiftsOnFlat:        {short: "full thrust on the flat lifts the front wheels", text: "full thrust at the climb speed on the flat" + lifts},
	constraints.LiftsOnGrade:       {short: "full thrust on the hill lifts the front wheels", text: "full thrust at the climb speed on the target grade" + lifts},
	constraints.PackBrakesLittle:   {short: "the pack takes too little current to brake hard", text: "the pack takes too little current to brake hard: %s on average at 90 % charge, where the tyres could hold %s"},
	constraints.SmallHardWheels:    {short: "small hard wheels may stop dead on this ground", text: "wheels of %s without air: on gravel and grass small hard wheels may not roll at all; rolling resistance alone does not show that"},
	constraints.WetGround:          {short: "wet ground doubles the stopping distance", text: "on wet ground a stop takes twice the distance where grip limits it"},
	constraints.NoRoomForBraking:   {short: "a full pack leaves no room for braking below the controller's volts", text: "the full pack's %s leave no room below the controller's %s: braking raises them further"},
	constraints.NotSafeToTouch:     {short: "the full pack has %s, not safe to touch", text: "the full pack has %s: direct current of 60 V and more is not safe to touch"},
	constraints.Brisk:              {short: "wear pads too", text: "top speed %s: wear pads too, and check that local law allows it"},

	constraints.RearBrakes: {short: "only the rear wheels brake", text: "one or two motors brake only the rear wheels, at most %s; the German eKFV, section 4, asks %s of all brakes together"},

	constraints.OnlyComputed: {short: "these are computed figures, not a promise of safety", text: "these are computed figures, not a promise of safety: have a qualified person check the build"},
	constraints.PacksBurn:    {short: "lithium packs burn", text: "lithium packs burn: leave pack building, fuse and charger to trained people"},
	constraints.FullPack:     {short: "a full pack cannot take the current of braking", text: "braking charges the pack: a full pack cannot take it, most of all downhill"},
	constraints.ColdPack:     {short: "never charge at %s or below, nor by braking", text: "at %s or below cells are not to be charged, nor by braking"},
	constraints.WearHelmet:   {short: "wear a helmet, expect speed wobble", text: "wear a helmet, expect speed wobble, obey the local law"},
}

// Words that several cautions share.
const (
	carriesLess = ": below %s a belt carries less than its handbook pull and skips sooner"
	skips       = ": a worn or slack chain skips there first"
	slips       = ": the driven wheels slip before the motors give all they can"
	lifts       = " lifts the front wheels: lean forward, and give it slowly"
)

// CautionsOf are the cautions of a build in words: all, or those of some codes.
func CautionsOf(b *constraints.Build, system quantity.System, only ...constraints.CautionCode) []string {
	other := func(c constraints.Caution) bool { return only != nil && !slices.Contains(only, c.Code) }
	return cautionTexts(slices.DeleteFunc(b.Cautions(), other), system)
}

// GeneralCautions are the general cautions of an answer in words, without those said
// better elsewhere beside them.
func GeneralCautions(list []constraints.Caution, system quantity.System, but ...constraints.CautionCode) []string {
	told := func(c constraints.Caution) bool { return slices.Contains(but, c.Code) }
	return cautionTexts(slices.DeleteFunc(slices.Clone(list), told), system)
}

func cautionTexts(list []constraints.Caution, system quantity.System) []string {
	var out []string
	for _, c := range list {
		out = append(out, string(AppendCaution(nil, c, system)))
	}
	return out
}

// AppendCaution appends a caution in words, a sentence without a full stop.
func AppendCaution(to []byte, c constraints.Caution, system quantity.System) []byte {
	return appendCautions(to, cautionWords[c.Code].text, c, c, system)
}

// appendCautions appends one sentence, made of a text of their row, for cautions that differ in their numbers
// only, between the least and the most of each.
func appendCautions(to []byte, text string, least, most constraints.Caution, system quantity.System) []byte {
	row := cautionWords[least.Code]
	for i := 0; ; i++ {
		before, after, found := strings.Cut(text, "%s")
		if to = append(to, before...); !found {
			return to
		}
		text = after
		if least.Check != "" {
			to = append(to, least.Check...)
			continue
		}
		to = appendBetween(to, least.Quantities[i], most.Quantities[i], system)
		if i == 0 && row.one != "" {
			to = append(append(to, ' '), Plural(uint64(most.Quantities[i].SI), row.one, row.more)...)
		}
	}
}

// appendBetween appends the range between two quantities, as in "30–36 km/h", or the
// one where they are equal.
func appendBetween(to []byte, least, most constraints.Quantity, system quantity.System) []byte {
	low, unit := system.Value(least.SI*least.PerSI, least.Unit)
	from := len(to)
	to = appendDigits(to, low, least.Digits)
	if least != most {
		top, _ := system.Value(most.SI*most.PerSI, most.Unit)
		if high := digits(top, most.Digits); high != string(to[from:]) {
			to = append(append(to, "–"...), high...)
		}
	}
	if unit == "" {
		return to
	}
	return append(append(to, ' '), unit...)
}
