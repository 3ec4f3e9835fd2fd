package search

import (
	"context"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// endlessGrip is a friction coefficient with which no tyre slips, in whatever
// share of the weight: rubber on dry asphalt has about 1.
const endlessGrip = 1e6

// Slips tells whether grip is why no build holds its speed on the hill of the
// brief: none passes the check of the climb, and with tyres that never slip one
// does. b is the best of these on the ground as it is, with the number of motors
// that puts the greatest share of the weight on driven wheels; nil where grip is
// not the reason. complete is false when ctx ended it early.
func Slips(ctx context.Context, p *constraints.Problem, o Options) (b *constraints.Build, complete bool) {
	const climb = "climb"
	checks := constraints.CheckNames()
	hill := p.With(constraints.Without(slices.DeleteFunc(checks, func(name string) bool { return name == climb })...))
	if len(hill.Checks()) == 0 || p.Demoted(hill.Checks()[0]) {
		return nil, true
	}
	// More of the weight on driven wheels is more grip and, of more motors, more
	// thrust: where such builds do not pass, no others do.
	most := 0
	for i, share := range p.Shares {
		if share >= p.Shares[most] {
			most = i
		}
	}
	o.Top, o.Progress = 1, nil
	first := func(q *constraints.Problem) (r *Result, ended bool) {
		r, err := RankOnly(ctx, q, o)
		return r, err == nil && r.Complete
	}
	if r, ended := first(hill); !ended || r.Len() > 0 {
		return nil, ended
	}
	hill = hill.With(constraints.OneCount(p.Counts[most]))
	r, ended := first(hill.With(constraints.Gripping(endlessGrip)))
	if !ended || r.Len() == 0 {
		return nil, ended
	}
	return walk.Assemble(hill, r.ranked[0].id), true
}
