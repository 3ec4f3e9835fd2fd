package say

import (
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// ToleranceText says what is varied how far.
func ToleranceText(p *constraints.Problem, draws int, system quantity.System) string {
	v := p.Brief.Vary
	mass, perKilogram := system.Show("kg")
	speed, perKmh := system.Show("km/h")
	within := func(what string, x float64, unit string) string {
		return fmt.Sprintf("%s ±%s%s%s%s", what, NBSP, Short(x), NBSP, unit)
	}
	return strings.Join([]string{
		"Drawn " + Counted(uint64(draws), "time", "times") + ", the same for each build, each value evenly spread: " + within("kv", v.KV*100, "%"),
		within("rider", v.Mass*perKilogram, mass),
		within("rolling resistance", v.Rolling*100, "%"),
		within("drag area", v.Drag*100, "%"),
		within("pack resistance", v.PackResistance*100, "%"),
		within("drive efficiency", v.Efficiency*100, "points"),
		within("wheel", v.Wheel*100, "%"),
		within("weight on the rear axle", v.Stance*100, "points"),
		within("grip", v.Grip*100, "%"),
		within("wind", v.Wind*3.6*perKmh, speed),
	}, ", ") + " (the brief's [tolerance])."
}
