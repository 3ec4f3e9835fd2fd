package say

import (
	"fmt"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// doubtWords are the words of every doubt about a brief: a text with a place for
// each of its keys and, after them, of its quantities.
var doubtWords = map[constraints.DoubtCode]string{
	constraints.SpeedAboveMost: "%s, above %s: no build does both",
	constraints.NarrowBand:     "%s counts at the brief's charge and %s with a full pack, of at least %s times the volts: few builds do both",
	constraints.ColdStop:       "%s: lithium cells are not to be charged at 0 °C or below, so that the motors do not brake for %s",
	constraints.HardLaunch:     "%s in %s is %s on the mean: above %s standing people begin to step (Krašna et al. 2021)",
	constraints.CountsTwice:    "%s beside stops or ascent: what it stands for may count twice",
}

// Doubts say what is to be doubted of a brief, each a sentence without a full
// stop.
func Doubts(list []constraints.Doubt) []string {
	var out []string
	for _, d := range list {
		var words []any
		for _, k := range d.Keys {
			if k.Path != "" {
				words = append(words, inKeyUnit(k.Path, k.SI))
			}
		}
		for _, q := range d.Quantities {
			if q.PerSI != 0 {
				words = append(words, Quantity(q, quantity.Metric))
			}
		}
		out = append(out, fmt.Sprintf(doubtWords[d.Code], words...))
	}
	return out
}

// FlatPacks names the packs that the brief's charge leaves at or below their
// cut-off, the first few of many; "" where there are none.
func FlatPacks(p *constraints.Problem) string {
	const few = 4
	var ids []string
	for _, b := range p.Flat {
		ids = append(ids, b.ID)
	}
	if len(ids) == 0 {
		return ""
	}
	if more := len(ids) - few; more > 0 {
		ids = append(ids[:few], layout.Count(uint64(more))+" more")
	}
	charge := p.Brief.Target.Charge
	text := charge.Word
	if text == "" {
		text = field.FormatNumber(charge.Volts) + " V per cell"
	}
	return "left out, at or below the cut-off with a charge of " + text + ": " + strings.Join(ids, ", ")
}

// inKeyUnit is a key of a brief with a value in SI units.
func inKeyUnit(path string, si float64) string {
	k, _ := constraints.BriefKeyAt(path)
	_, name, _ := strings.Cut(path, ".")
	return name + " " + field.FormatNumber(si*k.Per)
}
