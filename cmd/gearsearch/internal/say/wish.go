package say

import (
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

// Wish is a target or limit of a brief as people read it: its name, and what is
// asked with its unit, unless the name says it.
func Wish(w ease.Wish, p *constraints.Problem, system quantity.System) (name, asked string) {
	_, key, _ := strings.Cut(w.Key, ".")
	value, unit := system.Value(w.Value*w.PerSI, w.Unit)
	if w.Unit == "price" {
		unit = p.Catalog.Currency
	}
	name = KeyLabel(key, w.Unit)
	if p.Frosty() && w.Key == "target.stop_m" {
		name = "roll-out"
	}
	if strings.HasSuffix(name, " "+unit) { // mesh teeth
		unit = ""
	}
	return name, strings.TrimSpace(Short(value) + "\u00a0" + unit)
}
