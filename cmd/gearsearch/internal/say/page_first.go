package say

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// What the first pages of several answers say alike: a page that fits a terminal
// of 80 columns and 24 lines, of an answer whose whole is there with --full.

// FirstLines is how many lines a first page has at most at 80 columns: a line is
// left for the prompt.
const FirstLines = 23

// The labels of the lines of a first page.
const (
	LabelAsked   = "asked"
	LabelAll     = "all"
	LabelParts   = "parts"
	LabelFor     = "for"
	LabelWatch   = "watch"
	LabelCounts  = "counts"
	LabelMeasure = "measure"
	LabelAssumed = "assumed"
	LabelCaution = "caution"
	LabelVaried  = "varied"
	LabelSteady  = "steady"
	LabelNearest = "nearest"
	LabelWhy     = "why"
	LabelNext    = "next"
)

// FirstCautions say how many cautions there are, and name the gravest: of the
// builds themselves, and before it one of every board that is graver.
func FirstCautions(own *Cautions, general []constraints.Caution, system quantity.System) string {
	var named []string
	everyBoard := gravest(general)
	of := own.gravest()
	if of == nil || everyBoard != nil && everyBoard.Code.Harm() < of.least.Code.Harm() {
		named = append(named, shortCaution(*everyBoard, *everyBoard, system))
	}
	if of != nil {
		text := shortCaution(of.least, of.most, system)
		if len(of.ranks) < own.builds {
			text += " (" + Spans(of.ranks) + ")"
		}
		named = append(named, text)
	}
	return fmt.Sprintf("%d, all with --full; gravest: %s", len(own.said)+len(general), strings.Join(named, "; "))
}

// FirstCautionsOf are those of one build.
func FirstCautionsOf(b *constraints.Build, system quantity.System) string {
	var own Cautions
	own.Add(1, b.Cautions())
	return FirstCautions(&own, b.GeneralCautions(), system)
}

// gravest is the first of the gravest cautions; nil of none.
func gravest(list []constraints.Caution) *constraints.Caution {
	var worst *constraints.Caution
	for i := range list {
		if worst == nil || list[i].Code.Harm() < worst.Code.Harm() {
			worst = &list[i]
		}
	}
	return worst
}

// gravest is the first of the gravest cautions; nil of none.
func (c *Cautions) gravest() *gathered {
	var worst *gathered
	for i := range c.said {
		if g := &c.said[i]; worst == nil || g.least.Code.Harm() < worst.least.Code.Harm() {
			worst = g
		}
	}
	return worst
}

func shortCaution(least, most constraints.Caution, system quantity.System) string {
	return Bound(string(appendCautions(nil, cautionWords[least.Code].short, least, most, system)))
}

// assumptionShort are the words for an assumption where there is room for a few.
var assumptionShort = map[constraints.AssumptionCode]string{
	constraints.MotorSpanned:           "the {key} of {parts}",
	constraints.CellSpanned:            "the {key} of {parts}",
	constraints.PackSpanned:            "the {key} of {parts}",
	constraints.OpenResistance:         "the {key} of {parts}",
	constraints.NumberAssumed:          "{key} {number}",
	constraints.WordAssumed:            "{key} {word}",
	constraints.CountsAsNone:           "{key} 0 of {parts}",
	constraints.CountsAsHalf:           "{key} half the volts of {parts}",
	constraints.MassCountsNone:         "mass 0 of {parts}",
	constraints.RollingAssumed:         "rolling resistance {number}",
	constraints.OpenMotorCurrent:       "no known limit of the motor current",
	constraints.OpenBatteryCurrent:     "no known limit of the battery current",
	constraints.BeltEfficiencyAssumed:  "belt efficiency {number}",
	constraints.ChainEfficiencyAssumed: "chain efficiency {number}",
	constraints.GripAssumed:            "grip {number}",
	constraints.BriefAssumed:           "{key} {word}{number}",
	constraints.RiderFitted:            "{key} your own",
}

// namedAssumptions is how many assumptions a first page names.
const namedAssumptions = 2

// FirstAssumptions say how many assumptions there are, and name those that sway
// the answer most.
func FirstAssumptions(list []constraints.Assumption) string {
	if len(list) == 0 {
		return ""
	}
	count := Counted(uint64(len(list)), "value", "values")
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b constraints.Assumption) int { return int(a.Code.Sway()) - int(b.Code.Sway()) })
	var named []string
	said := map[constraints.AssumptionCode]bool{}
	for _, a := range list {
		if len(named) < namedAssumptions && !said[a.Code] {
			named = append(named, shortAssumption(a))
			said[a.Code] = true
		}
	}
	return count + ", most of all " + InWords(named)
}

func shortAssumption(a constraints.Assumption) string {
	key := a.Key[strings.Index(a.Key, ".")+1:]
	if a.Code.Sway() == constraints.SwaysVerdicts {
		key = measured(a.Key)
	}
	word, number := "", ""
	if len(a.Words) > 0 {
		word = a.Words[0]
	}
	if len(a.Quantities) > 0 {
		number = Quantity(a.Quantities[0], quantity.Metric)
	}
	return strings.NewReplacer("{key}", key, "{parts}", forParts(a.Of, a.IDs), "{word}", word, "{number}", number).Replace(assumptionShort[a.Code])
}
