package say

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// assumptionWords are the words of every assumption: a text with a place for
// its key, where it has one, for each of its words and for each of its
// quantities, in the order that the numbers in brackets give.
var assumptionWords = map[constraints.AssumptionCode]string{
	constraints.MotorSpanned:   "%s assumed %s",
	constraints.CellSpanned:    "%s assumed %s",
	constraints.PackSpanned:    "%s assumed %s",
	constraints.OpenResistance: "unknown %s counted as 0 at best, and as not known at worst,",
	constraints.NumberAssumed:  "%s assumed %s",
	constraints.WordAssumed:    "%s assumed %s",
	constraints.CountsAsNone:   "unknown %s counted as 0",
	constraints.CountsAsHalf:   "unknown %s counted as half the volts",
	constraints.MassCountsNone: "unknown mass counted as 0",
	constraints.RollingAssumed: "rolling_resistance assumed %[3]s (%[1]s, surface %[2]s)",

	constraints.OpenMotorCurrent:       "where neither motor nor controller limits the motor current, no limit at best, and one that is not known at worst",
	constraints.OpenBatteryCurrent:     "where neither controller nor battery limits the battery current, no limit at best, and one that is not known at worst",
	constraints.BeltEfficiencyAssumed:  "belt efficiency assumed %s",
	constraints.ChainEfficiencyAssumed: "chain efficiency assumed %s",
	constraints.GripAssumed:            "grip assumed %[3]s (surface %[1]s, %[2]s)",
	constraints.BriefAssumed:           "%s %s",
	constraints.RiderFitted:            "%s %s is yours, fitted to your own rides, ± %s %%",
}

// Assumptions are assumptions in words, each with how many parts it is made for,
// and with which where they are few. The defaults of the brief are one text.
func Assumptions(list []constraints.Assumption) []string {
	var out, defaults []string
	section := ""
	for _, a := range list {
		switch {
		case a.Code == constraints.BriefAssumed:
			in, key, _ := strings.Cut(a.Key, ".")
			if a.Key = key; in != section {
				section, a.Key = in, "["+in+"] "+key
			}
			defaults = append(defaults, assumptionText(a))
			continue
		case spanSources[a.Code] != "":
			out = append(out, spanText(a))
			continue
		}
		text := assumptionText(a)
		if a.IDs != nil {
			text += " for " + forParts(a.Of, a.IDs)
		}
		out = append(out, text)
	}
	if len(defaults) > 0 {
		out = append(out, "by default "+strings.Join(defaults, ", "))
	}
	return out
}

func assumptionText(a constraints.Assumption) string {
	var args []any
	if a.Key != "" {
		args = append(args, a.Key)
	}
	quantities := func(list []constraints.Quantity) (texts []string) {
		for _, q := range list {
			texts = append(texts, Quantity(q, quantity.Metric)) // none has a unit
		}
		return texts
	}
	switch a.Code {
	case constraints.BriefAssumed:
		args = append(args, strings.Join(append(slices.Clone(a.Words), quantities(a.Quantities)...), " and "))
	default:
		for _, text := range append(slices.Clone(a.Words), quantities(a.Quantities)...) {
			args = append(args, text)
		}
	}
	return fmt.Sprintf(assumptionWords[a.Code], args...)
}

// few is how many parts are named.
const few = 3

// spanText gives the range in which a key of each part is assumed to lie: one by one
// where they are few, else the range over all.
func spanText(a constraints.Assumption) string {
	between := func(low, high constraints.Quantity) string {
		return Quantity(low, quantity.Metric) + " to " + Quantity(high, quantity.Metric)
	}
	least, most := a.Quantities[0], a.Quantities[1]
	var each []string
	for i, id := range a.IDs {
		low, high := a.Quantities[2*i], a.Quantities[2*i+1]
		each = append(each, between(low, high)+" for "+noun(a.Of, 1)+" "+id)
		least.SI, most.SI = min(least.SI, low.SI), max(most.SI, high.SI)
	}
	ranges := strings.Join(each, ", ")
	if len(each) > few {
		ranges = between(least, most) + " for " + forParts(a.Of, a.IDs) + ", each by its " + spanMeasures[a.Code]
	}
	return fmt.Sprintf(assumptionWords[a.Code], a.Key, ranges) + " (common practice, " + spanSources[a.Code] + ")"
}

// What the ranges are spreads of, and what they go by.
var (
	spanSources = map[constraints.AssumptionCode]string{
		constraints.MotorSpanned: "spread of small outrunners",
		constraints.CellSpanned:  "spread of cells",
		constraints.PackSpanned:  "spread of cells",
	}
	spanMeasures = map[constraints.AssumptionCode]string{
		constraints.MotorSpanned: "kv and mass or can",
		constraints.CellSpanned:  "ampere-hours",
		constraints.PackSpanned:  "cells in series and ampere-hours",
	}
)

// noun is what parts are called, of a slot or of a kind.
func noun(of string, n int) string {
	one := strings.ReplaceAll(of, "_", " ")
	if of == constraints.SlotBattery.String() {
		return Plural(uint64(n), "battery", "batteries")
	}
	return Plural(uint64(n), one, one+"s")
}

// forParts says how many parts there are, and which where they are few.
func forParts(of string, ids []string) string {
	text := fmt.Sprint(len(ids), " ", noun(of, len(ids)))
	if len(ids) <= few {
		text += " (" + strings.Join(ids, ", ") + ")"
	}
	return text
}
