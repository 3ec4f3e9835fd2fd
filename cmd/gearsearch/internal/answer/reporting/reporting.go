// Package reporting answers with a ranking as a page to look at.
package reporting

import (
	"context"
	"io"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/report"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// interruptedTop is how many an interrupted search puts on the page: more
// take longer to write than an interrupted program may.
const interruptedTop = 10

// Answer is a ranking as a page to look at.
type Answer struct {
	Question *ask.Question
	Problem  *constraints.Problem
	Top      int // how many builds the page holds
	Apart    search.Apart
	Made     string   // the date on it
	Words    []string // the flags of the page itself, as they can be typed again
}

// Give ranks, writes the page, and says what it means for the exit code.
func (r *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer) error {
	bar := d.Bar()
	defer bar.Stop()
	result, err := search.Rank(ctx, r.Problem, search.Options{Top: r.Top, Apart: r.Apart, Strict: r.Question.Strict, Progress: bar.Progress()})
	bar.Stop()
	if err != nil {
		return err
	}
	if !result.Complete {
		result.Cut(interruptedTop)
	}
	in := r.input(result, a.System)
	drawn := false
	if result.Complete {
		if drawn, err = r.add(ctx, d, &in); err != nil {
			return err
		}
	}
	if err := a.Write(func(w io.Writer) error { return report.Write(w, report.New(in)) }); err != nil {
		return err
	}
	switch {
	case !result.Complete:
		d.Note("interrupted: the page is incomplete after %d of %s", result.Combinations, say.PlainCombinations(r.Problem))
		return outcome.ErrInterrupted
	case drawn && in.Field == nil, !in.Wishes.Complete, !result.Counted(), result.Feasible == 0 && ctx.Err() != nil:
		d.Note("interrupted: the ranking on the page is complete, some of what follows it is missing")
		return outcome.ErrInterrupted
	case result.Feasible == 0:
		return outcome.ErrInfeasible // the page says what comes nearest
	}
	return nil
}

// input is what the page says of the ranking alone.
func (r *Answer) input(result *search.Result, system quantity.System) report.Input {
	in := report.Input{Input: leaf.Input{
		Result: result, Strict: r.Question.Strict, System: system, Made: r.Made,
		Command: "gearsearch report" + r.Question.Again() + say.Repeated(r.Words),
		Alike:   "gearsearch rank" + r.Question.Again(),
		Next: []string{
			"gearsearch rank" + r.Question.Again() + ask.ApartAgain(r.Apart) + " --save 1=build.toml",
			"gearsearch sheet build.toml --why" + r.Question.AgainSaved(),
		},
	}}
	if result.Complete && result.Feasible == 0 {
		in.Next = nil
	}
	return in
}

// add adds what comes nearest where nothing is feasible, what each wish costs
// and, where they are not too many, every feasible build as a point; drawn
// reports that these were looked for.
func (r *Answer) add(ctx context.Context, d *ask.Desk, in *report.Input) (drawn bool, err error) {
	if in.Result.Feasible == 0 {
		if near, complete := search.Nearest(ctx, r.Problem, search.Options{Strict: r.Question.Strict}); complete {
			in.Near = near
		}
		in.Relaxed = r.relax(ctx, d)
	}
	in.Wishes = d.Without(ctx, r.Problem, r.Question.Strict)
	if in.Result.Feasible > 0 && in.Result.Feasible <= plot.MostPoints {
		drawn = true
		in.Field, err = r.field(ctx, d, in)
	}
	return drawn, err
}

// relax looks for what to give way on.
func (r *Answer) relax(ctx context.Context, d *ask.Desk) *search.Relaxed {
	bar := d.Bar()
	defer bar.Stop()
	o := search.Options{Strict: r.Question.Strict, Progress: bar.Progress()}
	return search.Relax(ctx, r.Problem, search.RelaxOptions{Options: o, Digits: say.ConcededDigits, Motors: true})
}

// field lists every feasible build as a point, in a second walk; nil where that is
// interrupted.
func (r *Answer) field(ctx context.Context, d *ask.Desk, in *report.Input) (*leaf.Field, error) {
	bar := d.Bar()
	defer bar.Stop()
	x, y := leaf.FieldFigures(r.Problem)
	field := leaf.NewField(in.Result, x, y, in.System)
	all, err := search.Each(ctx, r.Problem, search.Options{Strict: r.Question.Strict, Progress: bar.Progress()}, plot.MostPoints, field.Cloud.Add)
	if err != nil || !all.Complete {
		return nil, err
	}
	return field, nil
}
