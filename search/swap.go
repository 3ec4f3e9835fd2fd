package search

import (
	"context"
	"fmt"
	"slices"

	"gearsearch/constraints"
)

// Swap is one way to fill the freed slots of a build.
type Swap struct {
	Scored
	Change constraints.Change
	Breaks []constraints.Result // the checks that reject it, in order
}

// maxSwaps is how many swaps that break something are looked at one by one.
const maxSwaps = 50_000

// Swaps ranks the feasible ways to fill the freed slots of base, in a problem
// that constraints.Free made: the best o.Top, all for 0. The build as it is is
// left out.
func Swaps(ctx context.Context, p *constraints.Problem, base *constraints.Build, o Options) ([]Swap, *Result, error) {
	if o.Top > 0 {
		o.Top++ // the build itself may be among them
	}
	r, err := Rank(ctx, p, o)
	if err != nil {
		return nil, nil, err
	}
	var out []Swap
	for s := range r.Builds() {
		if same(s.Build, base) {
			continue
		}
		out = append(out, Swap{Scored: s, Change: base.ChangeTo(s.Build)})
	}
	if o.Top > 0 && len(out) > o.Top-1 {
		out = out[:o.Top-1]
	}
	for i := range out {
		out[i].Rank = i + 1
	}
	return out, r, nil
}

// BrokenSwaps lists the ways to fill the freed slots that break something,
// those that break least first, then in the order of ids.
func BrokenSwaps(p *constraints.Problem, base *constraints.Build, strict bool) ([]Swap, error) {
	if p.Combinations() > maxSwaps {
		return nil, fmt.Errorf("%.0f swaps are too many to list those that break something (%d at most): free fewer slots", p.Combinations(), maxSwaps)
	}
	var out []Swap
	s := newScorer(p)
	for id := range uint64(p.Combinations()) {
		b := assemble(p, id)
		if same(b, base) {
			continue
		}
		swap := Swap{Scored: s.scored(b), Change: base.ChangeTo(b)}
		for _, r := range b.Results() {
			if r.Rejects(strict) {
				swap.Breaks = append(swap.Breaks, r)
			}
		}
		if len(swap.Breaks) > 0 {
			out = append(out, swap)
		}
	}
	slices.SortStableFunc(out, func(a, b Swap) int { return len(a.Breaks) - len(b.Breaks) })
	return out, nil
}

// same reports whether two builds are made of the same parts.
func same(a, b *constraints.Build) bool {
	for _, slot := range constraints.Slots() {
		if a.ID(slot) != b.ID(slot) {
			return false
		}
	}
	return a.Motors() == b.Motors()
}
