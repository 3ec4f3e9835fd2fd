package say

import (
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/search"
)

// Choices names what tells designs apart: "motor, number of motors and battery".
func Choices(a search.Apart) string {
	var words []string
	for _, name := range a.Names() {
		if name == search.ApartMotors {
			name = "number of motors"
		}
		words = append(words, strings.ReplaceAll(name, "_", " "))
	}
	return InWords(words)
}

// Alike says how many more builds one stands for: "and 14 like it"; "" for none, or
// where that was not counted.
func Alike(standsFor uint64) string {
	if standsFor < 2 {
		return ""
	}
	return "and " + layout.Count(standsFor-1) + " like it"
}

// More is Alike in a column: "+14".
func More(standsFor uint64) string {
	if standsFor < 2 {
		return ""
	}
	return "+" + layout.Count(standsFor-1)
}
