package search

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Swap is one way to fill the freed slots of a build.
type Swap struct {
	Scored
	Change constraints.Change
	Breaks []constraints.Result // the checks that reject it, in order
}

// Swaps ranks the feasible ways to fill the freed slots of base, in a problem
// that constraints.Free made: the best o.Top, all for 0. The list leaves the
// base itself out; the result counts it. Scores are comparable with ScoreBuild
// of the base. The error is as from Rank.
func Swaps(ctx context.Context, p *constraints.Problem, base *constraints.Build, o Options) ([]Swap, *Result, error) {
	if o.Top > MostListed {
		return nil, nil, &TooManyError{fmt.Sprintf("%d swaps are more than are listed, %d", o.Top, MostListed)}
	}
	ranking := o
	if o.Top > 0 {
		ranking.Top++ // the build itself may be among them
	}
	r, err := rankBy(ctx, p, newScorer(base.Problem), ranking, MostListed+1)
	if err != nil {
		return nil, nil, err
	}
	r.ranked = slices.DeleteFunc(r.ranked, func(e entry) bool { return same(walk.Assemble(p, e.id), base) })
	if o.Top > 0 && len(r.ranked) > o.Top {
		r.ranked = r.ranked[:o.Top]
	}
	var out []Swap
	for scored := range r.Builds() {
		out = append(out, Swap{Scored: scored, Change: base.ChangeTo(scored.Build)})
	}
	return out, r, nil
}

// maxSwaps is how many swaps BrokenSwaps looks at one by one, at some
// microseconds each.
const maxSwaps = 100_000

// BrokenSwaps lists the ways to fill the freed slots that break something, at
// most o.Top of them, all for 0: those that break the fewest checks first, then
// those that miss the least, then in the order of ids. total is how many there
// are. The error says that there are too many to look at, or is that of ctx
// when it ends first.
func BrokenSwaps(ctx context.Context, p *constraints.Problem, base *constraints.Build, o Options) (list []Swap, total int, err error) {
	if p.Combinations() > maxSwaps {
		return nil, 0, fmt.Errorf("%.0f swaps are too many to look for those that break something (%d at most): free fewer slots", p.Combinations(), maxSwaps)
	}
	type broken struct {
		breaks int
		miss   miss
		id     uint64
	}
	var all []broken
	pl := walk.NewPlan(p, o.Strict)
	for id := range uint64(p.Combinations()) {
		if ctx.Err() != nil {
			return nil, 0, ctx.Err()
		}
		b := walk.Assemble(p, id)
		if same(b, base) {
			continue
		}
		x := broken{id: id}
		for _, r := range b.Results() {
			if r.Rejects(o.Strict) {
				x.breaks++
				x.miss = x.miss.and(missOf(pl.Rejects[slices.Index(pl.Checks, r.Check)], r.Check, r.Outcome))
			}
		}
		if x.breaks > 0 {
			all = append(all, x)
		}
	}
	slices.SortFunc(all, func(a, b broken) int {
		return cmp.Or(cmp.Compare(a.breaks, b.breaks), a.miss.compare(b.miss), cmp.Compare(a.id, b.id))
	})
	total = len(all)
	if o.Top == 0 && total > MostListed {
		return nil, total, fmt.Errorf("%d swaps break something, more than are listed, %d: free fewer slots", total, MostListed)
	}
	if o.Top > 0 && total > o.Top {
		all = all[:o.Top]
	}
	s := newScorer(base.Problem)
	for _, x := range all {
		b := walk.Assemble(p, x.id)
		swap := Swap{Scored: s.scored(b), Change: base.ChangeTo(b)}
		for _, r := range b.Results() {
			if r.Rejects(o.Strict) {
				swap.Breaks = append(swap.Breaks, r)
			}
		}
		list = append(list, swap)
	}
	return list, total, nil
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
