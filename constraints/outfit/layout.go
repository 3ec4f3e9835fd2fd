package outfit

import (
	"fmt"

	"gearsearch/drive/pack"
)

// LayoutWords says in a few words how the cells of a pack lie.
func LayoutWords(l pack.Layout) string {
	how := [...]string{"upright", "lying along the length", "lying along the width"}[l.Axis]
	rows := "square"
	if l.Staggered {
		rows = "staggered"
	}
	layers := "one layer"
	if l.Layers > 1 {
		layers = fmt.Sprintf("%d layers", l.Layers)
	}
	return how + ", " + rows + " rows, " + layers
}
