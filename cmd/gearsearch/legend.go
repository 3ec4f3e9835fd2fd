package main

import (
	"fmt"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
)

// marginGloss explains the columns that show margins, and more says what else
// there is to say of them.
func marginGloss(more string) layout.Gloss {
	return layout.Gloss{Titles: []string{"climb", "erpm", "heat"}, Text: ": how far the limit is away, in % of it" + more}
}

// figureGlosses explain the columns that are in every table of builds.
func figureGlosses(system quantity.System) []layout.Gloss {
	speed, _ := system.Show("km/h")
	distance, _ := system.Show("km")
	return []layout.Gloss{
		{Titles: []string{speed}, Text: ": top speed"},
		{Titles: []string{"range"}, Text: " in " + distance},
	}
}

// signGlosses explain the signs; failed is what is beyond a limit.
func signGlosses(failed string) []layout.Gloss {
	return []layout.Gloss{
		{Sign: thinSign, Text: fmt.Sprintf(": less than %d"+nbsp+"%%", thinMargin)},
		{Sign: failSign, Text: failed},
		{Sign: openSign, Text: ": not decided, for lack of data"},
	}
}
