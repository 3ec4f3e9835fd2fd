package say

import (
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// assumptionWords are the words of every assumption: a text with a place for
// its key, where it has one, for each of its words and for each of its
// quantities, in the order that the numbers in brackets give.
var assumptionWords = map[constraints.AssumptionCode]string{
	constraints.NumberAssumed:  "%s assumed %s",
	constraints.WordAssumed:    "%s assumed %s",
	constraints.CountsAsNone:   "unknown %s counted as 0",
	constraints.CountsAsHalf:   "unknown %s counted as half the volts",
	constraints.MassCountsNone: "unknown mass counted as 0",
	constraints.RollingAssumed: "rolling_resistance assumed %[3]s (%[1]s, surface %[2]s)",

	constraints.BeltEfficiencyAssumed: "belt efficiency assumed %s",
	constraints.GripAssumed:           "grip assumed %[2]s (surface %[1]s, dry)",
	constraints.DrivenShareAssumed:    "driven_share assumed %s with %s",
}

// Assumptions are assumptions in words, each with how many parts it is made for,
// and with which where they are few.
func Assumptions(list []constraints.Assumption) []string {
	var out []string
	for _, a := range list {
		text := assumptionText(a)
		if a.IDs != nil {
			text += " for " + forParts(a.Slot, a.IDs)
		}
		out = append(out, text)
	}
	return out
}

func assumptionText(a constraints.Assumption) string {
	var args []any
	if a.Key != "" {
		args = append(args, a.Key)
	}
	for _, w := range a.Words {
		args = append(args, w)
	}
	for _, q := range a.Quantities {
		args = append(args, Quantity(q, quantity.Metric)) // none has a unit
	}
	if a.Code == constraints.DrivenShareAssumed {
		motors := a.Quantities[1]
		args[1] = args[1].(string) + " " + Plural(uint64(motors.SI), "motor", "motors")
	}
	return fmt.Sprintf(assumptionWords[a.Code], args...)
}

// forParts says how many parts of a slot there are, and which where they are
// few.
func forParts(slot constraints.Slot, ids []string) string {
	const few = 3
	one := strings.ReplaceAll(slot.String(), "_", " ")
	more := one + "s"
	if slot == constraints.SlotBattery {
		more = "batteries"
	}
	text := fmt.Sprint(len(ids), " ", Plural(uint64(len(ids)), one, more))
	if len(ids) <= few {
		text += " (" + strings.Join(ids, ", ") + ")"
	}
	return text
}
