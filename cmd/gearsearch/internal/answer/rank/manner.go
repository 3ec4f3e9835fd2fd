package rank

import (
	"context"
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Manner is how a ranking is made, and what is added to it.
type Manner struct {
	Apart     search.Apart         // of each design the best build; none: every build
	Front     []constraints.Figure // only builds that no other beats on these; nil: all
	Stability bool
	Tolerance bool
	Robust    bool // in the order of the tolerance's shares
	Draws     int
	Chart     string // "teeth", or "" for a ranking
	Uncounted bool
}

// Plain reports whether every feasible build is wanted, with nothing added.
func (m *Manner) Plain() bool {
	return m.Apart.None() && m.Front == nil && !m.Stability && !m.Tolerance && !m.Uncounted && m.Chart == ""
}

// again is the flags, each after a space, with which builds have the ranks that
// they have.
func (m *Manner) again() string {
	again := ask.ApartAgain(m.Apart)
	if m.Front == nil {
		return again
	}
	var names []string
	for _, f := range m.Front {
		names = append(names, f.Name)
	}
	return again + " --front " + strings.Join(names, ",")
}

// Holds reports more builds than are held whole: in a table, or to be varied.
func (m *Manner) Holds(a *ask.Answer, builds int, what string) error {
	switch {
	case builds <= search.MostListed:
		return nil
	case m.Tolerance:
		return outcome.Usage(fmt.Sprintf("add --top %d", search.MostListed), "%s%d builds are more than are varied, %d", what, builds, search.MostListed)
	case a.People():
		return outcome.Usage(fmt.Sprintf("add --top %d, or write a file that ends in .csv or .json", search.MostListed), "%s%d builds are more than a table lists, %d", what, builds, search.MostListed)
	}
	return nil
}

// ranked is how many builds are ranked so that the first top can be listed.
func (m *Manner) ranked(top int) int {
	if m.Stability && top > 0 {
		return max(top, firstBuilds)
	}
	return top
}

// search ranks in this manner.
func (m *Manner) search(ctx context.Context, p *constraints.Problem, o search.Options) (*search.Result, error) {
	o.Apart = m.Apart
	switch {
	case m.Front != nil:
		return search.Front(ctx, p, m.Front, o)
	case m.Uncounted:
		return search.RankOnly(ctx, p, o)
	}
	return search.Rank(ctx, p, o)
}
