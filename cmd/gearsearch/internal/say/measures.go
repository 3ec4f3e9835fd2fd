package say

import (
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/search"
)

// Measure says what to measure first, "" where nothing decides a build.
func Measure(m *search.Measures) string {
	if m == nil || len(m.List) == 0 {
		return ""
	}
	first := m.List[0]
	builds := layout.Count(first.Decides) + " " + Plural(first.Decides, "build", "builds")
	if m.Listed {
		builds = layout.Count(first.Decides) + " of the builds listed"
	}
	return fmt.Sprintf("Measure the %s of %s: it decides %s.", measured(first.Key), first.ID, builds)
}

// measured is what a key holds, in words.
func measured(key string) string {
	if key == "no_load_current_a" {
		return "no-load current"
	}
	what, _, _ := strings.Cut(key, "_")
	return what
}
