package search

import (
	"context"
	"errors"
	"fmt"

	"gearsearch/constraints"
)

// ShareOptions steer a search for sets. Top must be above 0.
type ShareOptions struct {
	Options
	// Worst ranks by the lowest score of a set, and by the mean among equals;
	// else by the mean alone.
	Worst bool
	// Uncounted: leave the tallies empty.
	Uncounted bool
}

// Sharing is the answer of Share.
type Sharing struct {
	Problems []*constraints.Problem // one for each brief
	Sets     []Set                  // the best
	Tallies  []Tally                // of each problem by itself; nil: not counted
	Complete bool                   // false: interrupted, and the best so far
}

// Set is one build for each of several briefs, with the same part in some slots: one
// board for several kinds of ride.
type Set struct {
	Rank        int      // from 1
	Mean, Worst float64  // of the builds' scores
	Builds      []Scored // by problem; their ranks are not known
	// Lines are the parts of the whole set. A part that several builds share is
	// counted once.
	Lines []constraints.Line
	Price float64 // of Lines; NaN: not known
}

// The most that a search for sets holds: electrical groups of all problems,
// about two hundred bytes each; pairs of drive and wheel in lanes, and motors
// there, about sixty bytes each; and builds of one choice, which may be more
// than are ranked, as all that tie with the last are kept.
const (
	mostShareGroups = 1 << 19
	mostSharePairs  = 1 << 19
	mostShareFits   = 1 << 24 // a motor, a number of motors and a drive; four bytes each
	mostTied        = 1 << 19
)

// shareable reports a search for sets that would hold too much.
func shareable(problems []*constraints.Problem, top int) error {
	if top > MostListed {
		return &TooManyError{fmt.Sprintf("%d sets are more than are listed, %d", top, MostListed)}
	}
	groups := 0.0
	for _, p := range problems {
		if fits := float64(len(p.Motors)) * float64(len(p.Counts)) * float64(len(p.Drives)); fits > mostShareFits {
			return &TooManyError{fmt.Sprintf("%.0f pairs of a motor and a drive are more than are looked at for sets, %d", fits, mostShareFits)}
		}
		groups += float64(len(p.Batteries)) * float64(len(p.Controllers)) * float64(len(p.Motors)) * float64(len(p.Counts))
	}
	if groups > mostShareGroups {
		return &TooManyError{fmt.Sprintf("%.0f choices of battery, controller, motor and number of motors are more than are looked at for sets, %d", groups, mostShareGroups)}
	}
	return nil
}

// Share finds the best sets of feasible builds, one build for each problem,
// with the same part in all of the slots; a slot may be empty in all (no gear
// drive). With the motor or the controller shared, their number is shared too.
// Sets of equal score, rounded to 1e-6, are ordered by price, then by the ids
// of their builds, the build for the first problem first. The problems must be
// of one catalog. The error is for a product of combinations too large to
// number, and a TooManyError for more choices, or more left by shared drives
// and wheels, than are remembered.
//
// A set is made within one choice: one way to fill the shared slots. A bound on
// the scores that each problem reaches with a choice bounds the choice's sets,
// so choices are taken in that order until none can reach the sets found
// already. Within a choice, a build behind n builds of higher score for its
// problem is in no set with fewer than n better ones; so n builds of each
// problem are enough, and those that tie with the last.
func Share(ctx context.Context, problems []*constraints.Problem, slots []constraints.Slot, o ShareOptions) (*Sharing, error) {
	if len(problems) < 2 || o.Top < 1 {
		return nil, errors.New("sets take two problems or more, and a number of sets")
	}
	for _, p := range problems {
		if err := Numberable(p); err != nil {
			return nil, err
		}
	}
	if err := shareable(problems, o.Top); err != nil {
		return nil, err
	}
	walking := newUntil(ctx)
	ctx = walking
	s, err := newShareSearch(ctx, problems, slots, o)
	if err != nil {
		return nil, err
	}
	s.room = newRation(0, walking.cancel)
	s.search(ctx)
	if s.room.spent() {
		return nil, &TooManyError{fmt.Sprintf("more builds than are held, %d, have the same score with the same shared parts", mostTied)}
	}
	out := &Sharing{Problems: problems}
	for i, r := range s.found {
		out.Sets = append(out.Sets, s.set(i+1, r))
	}
	if !o.Uncounted {
		for i := range problems {
			out.Tallies = append(out.Tallies, s.count(ctx, i))
		}
	}
	out.Complete = ctx.Err() == nil
	return out, nil
}
