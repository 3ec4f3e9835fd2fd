package say

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// Cautions gathers what ranked builds carry, so that it is said once for all of
// them. The zero value is empty.
type Cautions struct {
	ranks     map[string][]int // by pattern
	sentences map[string][]string
	order     []string // of patterns
	builds    int
}

// Caution is a sentence with the ranks of the builds that it is for, "" for
// all.
type Caution struct{ Ranks, Text string }

// Add adds the cautions of the build of a rank; ranks ascend.
func (c *Cautions) Add(rank int, sentences []string) {
	if c.ranks == nil {
		c.ranks, c.sentences = map[string][]int{}, map[string][]string{}
	}
	c.builds++
	for _, s := range sentences {
		key := numeral.ReplaceAllString(s, "#")
		if c.ranks[key] == nil {
			c.order = append(c.order, key)
		}
		c.ranks[key] = append(c.ranks[key], rank)
		c.sentences[key] = append(c.sentences[key], s)
	}
}

// List lists the cautions as they came; those that differ in numbers only are
// one.
func (c *Cautions) List() []Caution {
	var out []Caution
	for _, key := range c.order {
		x := Caution{Text: Merged(c.sentences[key])}
		if len(c.ranks[key]) < c.builds {
			x.Ranks = Spans(c.ranks[key])
		}
		out = append(out, x)
	}
	return out
}

// numeral is a number in a sentence.
var numeral = regexp.MustCompile(`\d+(?:\.\d+)?`)

// Merged is one sentence for sentences that differ in their numbers only: a
// number that is not the same in all becomes the first and the last, "30–36".
func Merged(sentences []string) string {
	first := numeral.FindAllString(sentences[0], -1)
	low, high := slices.Clone(first), slices.Clone(first)
	for _, s := range sentences[1:] {
		for i, n := range numeral.FindAllString(s, -1) {
			if less(n, low[i]) {
				low[i] = n
			}
			if less(high[i], n) {
				high[i] = n
			}
		}
	}
	i := -1
	return numeral.ReplaceAllStringFunc(sentences[0], func(string) string {
		if i++; low[i] != high[i] {
			return low[i] + "–" + high[i]
		}
		return low[i]
	})
}

// less compares decimal numbers by value.
func less(a, b string) bool {
	var x, y float64
	fmt.Sscan(a, &x)
	fmt.Sscan(b, &y)
	return x < y
}

// Spans writes ascending numbers, runs of three and more as 4–9.
func Spans(numbers []int) string {
	var out []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		if j-i >= 2 {
			out = append(out, fmt.Sprintf("%d–%d", numbers[i], numbers[j]))
		} else {
			for k := i; k <= j; k++ {
				out = append(out, fmt.Sprint(numbers[k]))
			}
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
}
