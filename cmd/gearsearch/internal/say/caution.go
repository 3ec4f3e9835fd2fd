package say

import (
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Cautions gathers what ranked builds carry, so that it is said once for all of
// them. The zero value is empty.
type Cautions struct {
	said   []gathered
	builds int
}

// gathered are cautions that differ in their numbers only: the least and the
// most of each, and the builds' ranks.
type gathered struct {
	least, most constraints.Caution
	ranks       []int
}

// Caution is a sentence with the ranks of the builds that it is for, "" for
// all.
type Caution struct{ Ranks, Text string }

// Add adds the cautions of the build of a rank; ranks ascend.
func (c *Cautions) Add(rank int, cautions []constraints.Caution) {
	c.builds++
	for _, x := range cautions {
		g := c.gathered(x)
		g.ranks = append(g.ranks, rank)
		for i, q := range x.Quantities {
			if q.SI < g.least.Quantities[i].SI {
				g.least.Quantities[i] = q
			}
			if q.SI > g.most.Quantities[i].SI {
				g.most.Quantities[i] = q
			}
		}
	}
}

// gathered are the cautions so far that one may differ from in numbers only:
// those of its code, about its check.
func (c *Cautions) gathered(x constraints.Caution) *gathered {
	for i := range c.said {
		if g := &c.said[i]; g.least.Code == x.Code && g.least.Check == x.Check {
			return g
		}
	}
	c.said = append(c.said, gathered{least: x, most: x})
	return &c.said[len(c.said)-1]
}

// List lists the cautions in the order added; those that differ only in numbers are
// merged.
func (c *Cautions) List(system quantity.System) []Caution {
	var out []Caution
	for _, g := range c.said {
		x := Caution{Text: string(appendCautions(nil, cautionWords[g.least.Code].text, g.least, g.most, system))}
		if len(g.ranks) < c.builds {
			x.Ranks = Spans(g.ranks)
		}
		out = append(out, x)
	}
	return out
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
