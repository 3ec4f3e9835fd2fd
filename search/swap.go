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
	Cures  []constraints.Result // those that reject the base and not it, of the base
	Misfit *constraints.Check   // by which its new parts never go on the others; nil: none
	miss   miss                 // by how much it breaks what it breaks
}

// CompareSwaps orders swaps of several problems in one list: first those that pass,
// by score and price, then those that break something, in the order of BrokenSwaps; 0
// for equals.
func CompareSwaps(a, b Swap) int {
	if len(a.Breaks)+len(b.Breaks) == 0 {
		return cmp.Or(cmp.Compare(micro(b.Score), micro(a.Score)), cmp.Compare(micro(a.Build.Price().Total()), micro(b.Build.Price().Total())))
	}
	return cmp.Or(cmp.Compare(never(a.Misfit), never(b.Misfit)), cmp.Compare(len(a.Breaks), len(b.Breaks)), a.miss.compare(b.miss))
}

// Adds are the checks that reject the swap and not the base.
func (s *Swap) Adds(base *constraints.Build, strict bool) []constraints.Result {
	return beyond(s.Breaks, base.Rejections(strict))
}

// beyond are the results of list that others has no check of.
func beyond(list, others []constraints.Result) []constraints.Result {
	return slices.DeleteFunc(slices.Clone(list), func(r constraints.Result) bool {
		return slices.ContainsFunc(others, func(o constraints.Result) bool { return o.Name == r.Name })
	})
}

// swapTo is a scored build as a change of base, which misses what it misses.
func swapTo(base *constraints.Build, misses []constraints.Result, to Scored, strict bool) Swap {
	s := Swap{Scored: to, Change: base.ChangeTo(to.Build), Breaks: to.Build.Rejections(strict)}
	s.Cures = beyond(misses, s.Breaks)
	if r, ok := to.Build.Misfit(base); ok {
		s.Misfit = r.Check
	}
	return s
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
	misses := base.Rejections(o.Strict)
	for scored := range r.Builds() {
		out = append(out, swapTo(base, misses, scored, o.Strict))
	}
	return out, r, nil
}

// maxSwaps is how many swaps BrokenSwaps looks at one by one, at some
// microseconds each.
const maxSwaps = 100_000

// Broken are the ways to fill the freed slots that break something.
type Broken struct {
	Swaps   []Swap    // the first of them; changes that never fit come last
	Total   int       // how many break something
	Misfits []Misfits // how many of these never fit, in the order of checks
}

// Misfits are swaps whose new parts never go on the others.
type Misfits struct {
	Check *constraints.Check // the first that says so
	Count int
}

// Fitting is how many break something and could be put together.
func (b *Broken) Fitting() int {
	n := b.Total
	for _, m := range b.Misfits {
		n -= m.Count
	}
	return n
}

// brokenSwap is a swap that breaks something.
type brokenSwap struct {
	id     uint64
	breaks int
	miss   miss
	misfit *constraints.Check
}

// BrokenSwaps lists the ways to fill the freed slots that break something, at most
// o.Top of them, all for 0. The fewest broken checks come first, then what misses the
// least, then the order of ids; ways that never fit come last. The error says that
// there are too many to look at, or is that of ctx when it ends first.
func BrokenSwaps(ctx context.Context, p *constraints.Problem, base *constraints.Build, o Options) (*Broken, error) {
	if p.Combinations() > maxSwaps {
		return nil, fmt.Errorf("%.0f swaps are too many to look for those that break something (%d at most): free fewer slots", p.Combinations(), maxSwaps)
	}
	all, err := brokenSwaps(ctx, p, base, o.Strict)
	if err != nil {
		return nil, err
	}
	out := &Broken{Total: len(all), Misfits: misfits(all)}
	if o.Top == 0 && out.Total > MostListed {
		return out, fmt.Errorf("%d swaps break something, more than are listed, %d: free fewer slots", out.Total, MostListed)
	}
	if o.Top > 0 && out.Total > o.Top {
		all = all[:o.Top]
	}
	s, misses := newScorer(base.Problem), base.Rejections(o.Strict)
	for _, x := range all {
		swap := swapTo(base, misses, s.scored(walk.Assemble(p, x.id)), o.Strict)
		swap.miss = x.miss
		out.Swaps = append(out.Swaps, swap)
	}
	return out, nil
}

// brokenSwaps are all swaps that break something, in order.
func brokenSwaps(ctx context.Context, p *constraints.Problem, base *constraints.Build, strict bool) ([]brokenSwap, error) {
	var all []brokenSwap
	pl := walk.NewPlan(p, strict)
	for id := range uint64(p.Combinations()) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		b := walk.Assemble(p, id)
		if same(b, base) {
			continue
		}
		x := brokenSwap{id: id}
		for _, r := range b.Rejections(strict) {
			x.breaks++
			x.miss = x.miss.and(missOf(pl.Rejects[slices.Index(pl.Checks, r.Check)], r.Check, r.Outcome))
		}
		if x.breaks == 0 {
			continue
		}
		if r, ok := b.Misfit(base); ok {
			x.misfit = r.Check
		}
		all = append(all, x)
	}
	slices.SortFunc(all, func(a, b brokenSwap) int {
		return cmp.Or(cmp.Compare(never(a.misfit), never(b.misfit)), cmp.Compare(a.breaks, b.breaks), a.miss.compare(b.miss), cmp.Compare(a.id, b.id))
	})
	return all, nil
}

// never is 1 for a swap that a check says never to fit, else 0.
func never(misfit *constraints.Check) int {
	if misfit != nil {
		return 1
	}
	return 0
}

// misfits counts the swaps that never fit by the check that says so.
func misfits(all []brokenSwap) []Misfits {
	var out []Misfits
	for _, c := range constraints.Registry() {
		n := 0
		for _, x := range all {
			if x.misfit == c {
				n++
			}
		}
		if n > 0 {
			out = append(out, Misfits{c, n})
		}
	}
	return out
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
