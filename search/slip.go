package search

import (
	"context"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Slips reports whether the grip of the driven wheels is why no build holds its speed
// on the brief's hill: none passes the check of the climb, but one would with tyres
// that never slip and axles that never lift. b is the best of these on the ground as
// it is, with the most motors; nil where that is not the reason. complete is false
// when ctx ended it early.
func Slips(ctx context.Context, p *constraints.Problem, o Options) (b *constraints.Build, complete bool) {
	const climb = "climb"
	checks := constraints.CheckNames()
	hill := p.With(constraints.Without(slices.DeleteFunc(checks, func(name string) bool { return name == climb })...))
	if len(hill.Checks()) == 0 || p.Demoted(hill.Checks()[0]) {
		return nil, true
	}
	// More motors drive more wheels and give more thrust: where these builds do not
	// pass, no others do.
	most := p.Counts[len(p.Counts)-1]
	o.Top, o.Progress = 1, nil
	first := func(q *constraints.Problem) (r *Result, ended bool) {
		r, err := RankOnly(ctx, q, o)
		return r, err == nil && r.Complete
	}
	if r, ended := first(hill); !ended || r.Len() > 0 {
		return nil, ended
	}
	hill = hill.With(constraints.OneCount(most))
	r, ended := first(hill.With(constraints.Unslipping()))
	if !ended || r.Len() == 0 {
		return nil, ended
	}
	return walk.Assemble(hill, r.ranked[0].id), true
}
