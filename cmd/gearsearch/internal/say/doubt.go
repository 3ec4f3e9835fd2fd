package say

import (
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// SpeedDoubt says that a brief asks for something at a speed that it does not
// allow.
func SpeedDoubt(d constraints.SpeedDoubt) string {
	const most = "target.top_speed_max_kmh"
	return inKeyUnit(d.Key, d.Speed) + ", above " + inKeyUnit(most, d.Most) + ": no build does both"
}

// inKeyUnit is a key of a brief with a value in SI units.
func inKeyUnit(path string, si float64) string {
	k, _ := constraints.BriefKeyAt(path)
	_, name, _ := strings.Cut(path, ".")
	return name + " " + field.FormatNumber(si*k.Per)
}
