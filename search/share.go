package search

import (
	"context"
	"errors"

	"gearsearch/constraints"
)

// A set is several builds, one for each of several briefs, that have the same
// part in some slots: one board for more than one kind of ride.
//
// # Why the best sets are found
//
// A set is made within one choice: one way to fill the shared slots. What a
// choice opens at best is known from the best score that each brief reaches
// with it, so a first walk of each brief keeps that one number for each choice,
// and the scores of the n best choices are a floor: n sets reach it. A second
// walk keeps, choice by choice, the builds that reach the floor when all others
// of their set are the best there are, and of those no more than n and what
// ties with the last: whatever stands behind n builds of a higher score is in
// no set before which n others do not stand. The sets are then listed in order
// (share_sets.go).

// ShareOptions steer a search for sets. Top must be above 0.
type ShareOptions struct {
	Options
	// Worst ranks by the lowest score of a set, and by the mean among equals;
	// else by the mean alone.
	Worst bool
}

// Sharing is the answer of Share.
type Sharing struct {
	Problems []*constraints.Problem // one for each brief
	Tallies  []Tally                // of each problem by itself
	// Choices is how many ways to fill the shared slots every problem has a
	// feasible build with.
	Choices  int
	Sets     []Set // the best
	Complete bool  // false: interrupted, and the best so far
}

// Set is one build for each brief.
type Set struct {
	Rank        int      // from 1
	Mean, Worst float64  // of the builds' scores
	Builds      []Scored // by problem; their ranks are not known
	// Lines are what it takes to have them all: what several have is counted
	// once.
	Lines []constraints.Line
	Price float64 // of Lines; NaN: not known
}

// Share finds the best sets of feasible builds, one for each problem, that have
// the same part in all of the slots, which may be an empty one in all (no gear
// drive). With the motor or the controller shared, their number is, too. The
// order of equal scores, rounded to 1e-6, is that of the sets' prices, then
// that of the builds' ids, those for the first problem first. The problems must
// be of one catalog. The error is for a product of combinations too large to
// number.
func Share(ctx context.Context, problems []*constraints.Problem, slots []constraints.Slot, o ShareOptions) (*Sharing, error) {
	if len(problems) < 2 || o.Top < 1 {
		return nil, errors.New("sets take two problems or more, and a number of sets")
	}
	for _, p := range problems {
		if err := Numberable(p); err != nil {
			return nil, err
		}
	}
	s := newShareSearch(problems, slots, o)
	out := &Sharing{Problems: problems}
	for i := range problems {
		out.Tallies = append(out.Tallies, s.first(ctx, i))
	}
	s.common()
	out.Choices = len(s.bests)
	s.setFloor()
	for i := range problems {
		s.second(ctx, i)
	}
	out.Sets = s.sets(ctx)
	out.Complete = ctx.Err() == nil
	return out, nil
}
