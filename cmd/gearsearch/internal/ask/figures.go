package ask

import (
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// FigureHint names the figure that is meant, or all that a front can have.
func FigureHint(word string) string {
	names := Directed()
	if near, ok := field.Nearest(word, slices.Values(names)); ok {
		return "did you mean " + near + "?"
	}
	for _, n := range names {
		if word != "" && strings.HasPrefix(n, word+"_") { // without its unit
			return "did you mean " + n + "?"
		}
	}
	return "these are: " + strings.Join(names, ", ")
}

// Directed lists the figures that have a better end.
func Directed() []string {
	var names []string
	for _, f := range constraints.Figures() {
		if f.Better != constraints.Neither {
			names = append(names, f.Name)
		}
	}
	return names
}
