package plot

import (
	"strings"

	"gearsearch/constraints"
)

// plainName is the name of a figure as people read it, its unit aside.
func plainName(f constraints.Figure) string {
	name := f.Name
	for _, ending := range []string{"_wh_per_km", "_kmh", "_mm", "_kg", "_nm", "_pct", "_wh", "_km", "_n", "_a", "_s"} {
		if cut, ok := strings.CutSuffix(name, ending); ok && f.Unit != "" {
			name = cut
			break
		}
	}
	return strings.ReplaceAll(name, "_", " ")
}
