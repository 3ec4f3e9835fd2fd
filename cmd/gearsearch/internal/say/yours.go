package say

import (
	"strings"

	"gearsearch/constraints"
)

// Yours says which values of a brief are the rider's own, from a fit, and how sure they
// are; "" where none is.
func Yours(p *constraints.Problem) string {
	rolling, drag := p.Brief.Fitted()
	within := func(share float64) string { return "±" + NBSP + Short(share*100) + NBSP + "%" }
	r, d := within(p.Brief.Vary.Rolling), within(p.Brief.Vary.Drag)
	switch {
	case rolling && drag && r == d:
		return "rolling resistance and drag are yours, " + r
	case rolling && drag:
		return "rolling resistance and drag are yours, " + r + " and " + d
	case rolling:
		return "rolling resistance is yours, " + r
	case drag:
		return "drag is yours, " + d
	}
	return ""
}

// isYours reports whether Yours speaks of a key.
func isYours(p *constraints.Problem, section, key string) bool {
	rolling, drag := p.Brief.Fitted()
	switch section {
	case "ground":
		return key == "rolling_fitted" || rolling && key == "rolling_resistance"
	case "tolerance":
		return rolling && key == "rolling_pct" || drag && key == "drag_pct"
	case "rider":
		return key == "drag_fitted" || drag && strings.HasPrefix(key, "drag_area")
	}
	return false
}
