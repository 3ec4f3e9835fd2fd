package search

import (
	"context"
	"slices"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
	"gearsearch/search/internal/walk"
)

// Without is a target or limit of a brief with its cost.
type Without struct {
	ease.Wish
	// More is how many more builds are feasible when this wish alone is
	// dropped. It is below 0 only where builds behave otherwise without it: a
	// board that no rpm ceiling holds may pass a greatest speed.
	More int64
}

// Wishes is the answer of WithoutEach.
type Wishes struct {
	Feasible uint64    // as the brief stands
	Each     []Without // in the order of the brief's keys
	Complete bool      // false when ctx ended the count early: nothing is known
}

// Dearest are the wishes that cost builds, the dearest first, at most n.
func (w *Wishes) Dearest(n int) []Without {
	list := slices.DeleteFunc(slices.Clone(w.Each), func(x Without) bool { return x.More <= 0 })
	slices.SortStableFunc(list, func(a, b Without) int { return int(min(max(b.More-a.More, -1), 1)) })
	return list[:min(n, len(list))]
}

// WithoutEach counts for each target and limit of the brief how many more builds
// are feasible when it alone is dropped, exactly. The counts do not depend on
// the number of workers; Top is of no effect.
func WithoutEach(ctx context.Context, p *constraints.Problem, o Options) *Wishes {
	out := &Wishes{}
	if Numberable(p) != nil {
		return out // no time would be enough
	}
	var still []ease.Wish // that leave builds as they are
	for _, w := range ease.Wishes(p) {
		out.Each = append(out.Each, Without{Wish: w})
		if !w.Moves {
			still = append(still, w)
		}
	}
	counts, complete := walk.NewWaived(p, still, o.Strict).Count(ctx, o.Workers, o.Progress)
	out.Feasible = counts[0]
	for i := range out.Each {
		w := &out.Each[i]
		count := uint64(0)
		if w.Moves && complete {
			var alone []uint64
			alone, complete = walk.NewWaived(p.With(ease.Dropping(w.Wish)), nil, o.Strict).Count(ctx, o.Workers, nil)
			count = alone[0]
		} else if !w.Moves {
			counts = counts[1:]
			count = counts[0]
		}
		w.More = int64(count) - int64(out.Feasible)
	}
	if out.Complete = complete; !complete {
		out.Feasible, out.Each = 0, nil
	}
	return out
}
