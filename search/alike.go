package search

import (
	"context"

	"gearsearch/constraints"
)

// Alike ranks the feasible builds of the design of one, itself among them: those that
// are alike in what a tells apart. The build must be of the problem whose designs they
// are, and their scores are those that they have there. The error is as from Rank.
func Alike(ctx context.Context, b *constraints.Build, a Apart, o Options) (*Result, error) {
	var edits []constraints.Edit
	for _, slot := range constraints.Slots() {
		if a.By(slot) {
			own := b.ID(slot)
			edits = append(edits, constraints.Keeping(slot, func(id string) bool { return id == own }))
		}
	}
	if a.motors {
		edits = append(edits, constraints.OneCount(b.Motors()))
	}
	o.Apart = Apart{}
	return rankBy(ctx, b.Problem.With(edits...), newScorer(b.Problem), o, MostRanked)
}
