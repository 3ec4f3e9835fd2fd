package say

import (
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints"
)

// SpeedDoubt says that a brief asks for something at a speed that it does not
// allow.
func SpeedDoubt(d constraints.SpeedDoubt) string {
	const most = "target.top_speed_max_kmh"
	return inKeyUnit(d.Key, d.Speed) + ", above " + inKeyUnit(most, d.Most) + ": no build does both"
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
