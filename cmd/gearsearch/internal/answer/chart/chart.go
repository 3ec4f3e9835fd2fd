// Package chart answers rank --chart: the top speed by the teeth of both
// pulleys.
package chart

import (
	"context"
	"slices"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Teeth is the top speed by motor and wheel teeth, with one motor,
// battery, controller and wheel.
type Teeth struct {
	question *ask.Question
	problem  *constraints.Problem
	base     *constraints.Build // has the parts that are held
	feasible bool               // the base passes every check
	chosen   []string           // slots of which more than one part was in play
	cells    []plot.Tooth
	gears    []plot.Tooth
}

// Give answers with the teeth chart.
func Give(ctx context.Context, d *ask.Desk, a *ask.Answer, q *ask.Question, problem *constraints.Problem) error {
	bar := d.Bar()
	t, complete, err := newTeethChart(ctx, q, problem, bar.Progress())
	bar.Stop()
	switch {
	case err != nil:
		return err
	case !complete:
		d.Note("interrupted: the build to take the motor, battery, controller and wheel from is not found")
		return outcome.ErrInterrupted
	}
	if err := d.Give(a, t.forms(a)); err != nil {
		return err
	}
	passes := func(c plot.Tooth) bool { return c.Feasible() }
	if !slices.ContainsFunc(t.cells, passes) && !slices.ContainsFunc(t.gears, passes) {
		if !a.People() {
			d.Note("no pair of teeth passes every check")
		}
		return outcome.ErrInfeasible
	}
	return nil
}

// newTeethChart makes the chart. Where more than one motor, battery,
// controller, wheel or number of motors is in play, it takes those of the best
// build, or of the nearest where none is feasible.
func newTeethChart(ctx context.Context, q *ask.Question, p *constraints.Problem, progress func(done, total float64)) (t *Teeth, complete bool, err error) {
	o := search.Options{Top: 1, Strict: q.Strict, Progress: progress}
	r, err := search.RankOnly(ctx, p, o)
	if err != nil || !r.Complete {
		return nil, false, err
	}
	t = &Teeth{question: q, problem: p, feasible: r.Len() > 0}
	if t.feasible {
		t.base = r.At(0).Build
	} else {
		near, complete := search.Nearest(ctx, p, o)
		if !complete {
			return nil, false, nil
		}
		t.base = near.Build
	}
	for _, s := range []struct {
		name string
		n    int
	}{
		{"motor", len(p.Motors)}, {"number of motors", len(p.Counts)}, {"battery", len(p.Batteries)}, {"controller", len(p.Controllers)}, {"wheel", len(p.Wheels)},
	} {
		if s.n > 1 {
			t.chosen = append(t.chosen, s.name)
		}
	}
	t.cells, t.gears = plot.TeethOf(p, t.base, q.Strict)
	return t, true, nil
}

// verdictOf is the verdict of the checks on a cell.
func verdictOf(t *plot.Tooth) constraints.Verdict {
	switch {
	case !t.Feasible():
		return constraints.Fail
	case t.Open:
		return constraints.Undecided
	}
	return constraints.Pass
}
