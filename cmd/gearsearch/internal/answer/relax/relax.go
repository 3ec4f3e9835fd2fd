// Package relax answers with the smallest concessions that make a build
// feasible, and with the cost of each wish.
package relax

import (
	"context"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Answer is the concessions and the builds that they make feasible.
type Answer struct {
	*search.Relaxed
	Question *ask.Question
	Problem  *constraints.Problem
	Builds   int                // that are wanted
	wants    *search.Wanted     // the parts that are missing; nil: not looked for
	wishes   *search.Wishes     // what each target and limit costs; nil: not counted
	slips    *constraints.Build // that only grip keeps from the climb; nil: grip is not the reason
	near     *search.NearMiss   // where nothing is feasible
}

// Give finds the answer, writes it, and says what it means for the exit code.
func (r *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer) error {
	problem, strict := r.Problem, r.Question.Strict
	bar := d.Bar()
	r.Relaxed = search.Relax(ctx, problem, search.RelaxOptions{
		Options: search.Options{Strict: strict, Progress: bar.Progress()}, Builds: r.Builds, Digits: say.ConcededDigits, Motors: true,
	})
	bar.Stop()
	r.wishes = d.Without(ctx, problem, strict)
	if r.whole() && r.Feasible == 0 {
		r.reasons(ctx, d)
	}
	if err := d.Give(a, r.forms(a)); err != nil {
		return err
	}
	switch {
	case !r.whole():
		d.Note("interrupted: the search is incomplete")
		return outcome.ErrInterrupted
	case !r.enough() && len(r.Openings) == 0:
		if !a.People() {
			d.Note("no concession, and no pair of them, makes enough builds feasible")
		}
		return outcome.ErrInfeasible
	}
	return nil
}

// reasons finds why nothing is feasible.
func (r *Answer) reasons(ctx context.Context, d *ask.Desk) {
	bar := d.Bar()
	defer bar.Stop()
	o := search.Options{Strict: r.Question.Strict, Progress: bar.Progress()}
	r.slips, _ = search.Slips(ctx, r.Problem, o)
	r.near, _ = search.Nearest(ctx, r.Problem, o)
	r.wants = search.Wants(ctx, r.Problem, o)
}

// whole reports whether nothing was interrupted.
func (r *Answer) whole() bool {
	return r.Complete && r.wishes.Complete && (r.wants == nil || r.wants.Complete)
}

// enough reports whether there is nothing to relax.
func (r *Answer) enough() bool { return r.Complete && r.Feasible >= uint64(r.Builds) }
