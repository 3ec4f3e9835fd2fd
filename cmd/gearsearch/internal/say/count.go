package say

import (
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints"
)

// Capital is a sentence of ASCII with a capital.
func Capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// PlainCombinations is how many combinations a problem has, in digits that
// scripts read.
func PlainCombinations(p *constraints.Problem) string {
	if n, ok := p.Number(); ok {
		return fmt.Sprintf("%d %s", n, Plural(n, "combination", "combinations"))
	}
	return fmt.Sprintf("%.0f combinations", p.Combinations())
}

// Percent writes a share, with a decimal only near its ends.
func Percent(share float64) string {
	x := 100 * share
	if x > 0 && x < 1 || x > 99 && x < 100 {
		return layout.Fixed(x, 1) + "%"
	}
	return layout.Fixed(x, 0) + "%"
}

// Combinations is how many a problem has, which may be more than any integer.
func Combinations(p *constraints.Problem) string {
	if n, ok := p.Number(); ok {
		return layout.Count(n) + " " + Plural(n, "combination", "combinations")
	}
	return layout.Counted(p.Combinations(), "combination", "combinations")
}

// Changes names each of several changes.
func Changes(list []string) []string {
	var out []string
	for _, w := range list {
		out = append(out, Change([]string{w}))
	}
	return out
}

// InWords joins words: a, b and c.
func InWords(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// BestFirst says that a list has the best n only.
func BestFirst(n int) string {
	if n == 1 {
		return "the best"
	}
	return fmt.Sprintf("the best %d first", n)
}

// Change names what is changed.
func Change(change []string) string {
	words := make([]string, len(change))
	for i, w := range change {
		words[i] = strings.ReplaceAll(w, "_", " ")
	}
	return strings.Join(words, " and ")
}

// Counted is a number of things.
func Counted(n uint64, one, more string) string { return layout.Count(n) + " " + Plural(n, one, more) }

// Plural is the word for one thing or for another number of things.
func Plural(n uint64, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}
