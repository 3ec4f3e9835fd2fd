// Package rank answers with a ranking, and with what is added to one.
package rank

import (
	"bufio"
	"context"
	"io"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Give ranks, writes the ranking, and says what it means for the exit code.
func (r *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer, problem *constraints.Problem, want *ask.Wish) error {
	var err error
	bar := d.Bar()
	r.result, err = r.search(ctx, problem, search.Options{Top: r.ranked(want.Top), Strict: r.Question.Strict, Progress: bar.Progress()})
	if err == nil {
		r.shortened = r.result.Complete && !r.result.Counted()
		err = r.Holds(a, r.result.Len(), "")
	}
	if err == nil {
		err = r.add(ctx, want.Top, bar.Progress())
	}
	if err == nil {
		r.measure(ctx, a.Format)
	}
	bar.Stop()
	if err != nil {
		return err
	}
	if err := want.Save(d, r.Question, r.result.Len(), func(i int) *constraints.Build { return r.result.At(i).Build }); err != nil {
		return err
	}
	if err := r.write(ctx, d, a, want); err != nil {
		return err
	}
	if err := r.outcome(ctx, d, a); err != nil {
		return err
	}
	return want.MissedOf(r.result.Len(), r.there())
}

// feasible is how many builds are feasible, as far as that is known.
func (r *Answer) feasible() uint64 {
	if r.Uncounted {
		return uint64(r.result.Len())
	}
	return r.result.Feasible
}

// there says what there is to save: how many builds are feasible, or of how many
// designs they are.
func (r *Answer) there() string {
	if !r.Apart.None() {
		return say.Counted(uint64(r.result.Len()), "design is", "designs are") + " listed; --apart none lists every build"
	}
	return say.Counted(r.feasible(), "build is", "builds are") + " feasible"
}

// outcome is what a ranking means for the exit code.
func (r *Answer) outcome(ctx context.Context, d *ask.Desk, a *ask.Answer) error {
	result := *r.result
	switch {
	case !result.Complete && r.Uncounted:
		d.Note("interrupted: the search is incomplete")
		return outcome.ErrInterrupted
	case result.Complete && r.shortened:
		d.Note("interrupted: the ranking is complete, some of what follows it is missing")
		return outcome.ErrInterrupted
	}
	result.Feasible = r.feasible()
	return outcomeOf(ctx, d, a, &result)
}

// outcomeOf is what an answer means for the exit code. What no text says is said
// on stderr.
func outcomeOf(ctx context.Context, d *ask.Desk, a *ask.Answer, r *search.Result) error {
	switch {
	case !r.Complete:
		d.Note("interrupted: the search is incomplete after %d of %s", r.Combinations, say.PlainCombinations(r.Problem))
		return outcome.ErrInterrupted
	case r.Feasible == 0 && a.People() && ctx.Err() != nil:
		d.Note("interrupted: the nearest build is not looked for to the end")
		return outcome.ErrInterrupted
	case r.Feasible == 0:
		if !a.People() {
			d.Note("nothing is feasible in %s", say.PlainCombinations(r.Problem))
		}
		return outcome.ErrInfeasible
	}
	return nil
}

// write writes a ranking in the answer's format.
func (r *Answer) write(ctx context.Context, d *ask.Desk, a *ask.Answer, want *ask.Wish) error {
	switch a.Format {
	case ask.FormatJSON:
		return a.Write(r.document().Write)
	case ask.FormatJSONL:
		return a.Write(r.document().WriteLines)
	case ask.FormatCSV:
		return d.WriteCSV(a, r.complete(), r.writeCSV)
	default:
		r.whole, r.topGiven = a.Whole(), want.TopGiven
		t := &text{Answer: r, system: a.System, saved: want.Saves}
		if !r.Uncounted {
			t.wishes = quickWishes(ctx, d, r.result, r.Question.Strict)
		}
		if r.result.Complete && r.feasible() == 0 {
			if near, complete := search.Nearest(ctx, r.result.Problem, search.Options{Strict: r.Question.Strict}); complete {
				t.near = near
				t.slips = quickSlips(ctx, d, r.Question, r.result)
				t.relaxed = cheapConcessions(ctx, d, r.Question, r.result)
			}
		}
		return a.Text(t.text())
	}
}

// GiveStream writes every feasible build as it is found, and the summary last.
func GiveStream(ctx context.Context, d *ask.Desk, a *ask.Answer, problem *constraints.Problem, strict bool) error {
	var r *search.Result
	bar := d.Bar()
	defer bar.Stop()
	err := a.Write(func(w io.Writer) error {
		buffer := bufio.NewWriterSize(w, 1<<16)
		lines := dataout.NewLines(buffer)
		var err error
		if r, err = search.Stream(ctx, problem, search.Options{Strict: strict, Progress: bar.Progress()}, lines.Build); err != nil {
			return err
		}
		var measures *search.Measures
		if r.Complete {
			measures, _ = search.ToMeasure(ctx, r, 0, search.Options{Strict: strict})
		}
		if err := lines.Summary(r, measures); err != nil {
			return err
		}
		return buffer.Flush()
	})
	bar.Stop()
	if err != nil {
		return err
	}
	return outcomeOf(ctx, d, a, r)
}
