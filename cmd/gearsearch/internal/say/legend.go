package say

import (
	"fmt"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
)

// MarginGloss explains the columns that show margins, and more says what else
// there is to say of them.
func MarginGloss(more string) layout.Gloss {
	return layout.Gloss{Titles: []string{"climb", "erpm", "heat"}, Text: ": room to the limit, in % of it" + more}
}

// FigureGlosses explain the columns that are in every table of builds.
func FigureGlosses(system quantity.System) []layout.Gloss {
	speed, _ := system.Show("km/h")
	distance, _ := system.Show("km")
	return []layout.Gloss{
		{Titles: []string{speed}, Text: ": top speed"},
		{Titles: []string{"range"}, Text: " in " + distance},
	}
}

// SignGlosses explain the signs; failed is what is beyond a limit.
func SignGlosses(failed string) []layout.Gloss {
	return []layout.Gloss{
		{Sign: ThinSign, Text: fmt.Sprintf(": less than %d"+NBSP+"%%", ThinMargin)},
		{Sign: FailSign, Text: failed},
		{Sign: OpenSign, Text: ": not decided, for lack of data"},
	}
}
