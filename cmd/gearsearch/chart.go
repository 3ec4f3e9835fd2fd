package main

import (
	"cmp"
	"context"
	"maps"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search"
)

// teethChart is the top speed by motor and wheel teeth, with one motor,
// battery, controller and wheel.
type teethChart struct {
	question *question
	problem  *constraints.Problem
	base     *constraints.Build // has the parts that are held
	feasible bool               // the base passes every check
	chosen   []string           // slots of which more than one part was in play
	cells    []cell
	gears    []cell
}

// cell is the best drive for a pair of teeth, or a gear drive.
type cell struct {
	small, large int    // teeth, 0 for a gear drive
	profile      string // "" for a gear drive
	build        search.Scored
	fails        []constraints.Result // that reject it, in order
	open         bool                 // a check is not decided
}

// chart answers with the teeth chart.
func (p *program) chart(ctx context.Context, a *answer, q *question, problem *constraints.Problem) error {
	bar := p.bar()
	t, complete, err := newTeethChart(ctx, q, problem, bar.progress())
	bar.stop()
	switch {
	case err != nil:
		return err
	case !complete:
		p.note("interrupted: the build to take the motor, battery, controller and wheel from is not found")
		return errInterrupted
	}
	if err := p.give(a, t.forms(a)); err != nil {
		return err
	}
	passes := func(c cell) bool { return len(c.fails) == 0 }
	if !slices.ContainsFunc(t.cells, passes) && !slices.ContainsFunc(t.gears, passes) {
		if !a.people() {
			p.note("no pair of teeth passes every check")
		}
		return errInfeasible
	}
	return nil
}

// newTeethChart makes the chart. Where more than one motor, battery,
// controller, wheel or number of motors is in play, it takes those of the best
// build, or of the nearest where none is feasible.
func newTeethChart(ctx context.Context, q *question, p *constraints.Problem, progress func(done, total float64)) (t *teethChart, complete bool, err error) {
	o := search.Options{Top: 1, Strict: q.strict, Progress: progress}
	r, err := search.RankOnly(ctx, p, o)
	if err != nil || !r.Complete {
		return nil, false, err
	}
	t = &teethChart{question: q, problem: p, feasible: r.Len() > 0}
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
	t.fill()
	return t, true, nil
}

// fill finds the best drive for each pair of teeth of one profile.
func (t *teethChart) fill() {
	type pair struct {
		profile      string
		small, large int
	}
	best := map[pair]cell{}
	for _, d := range t.problem.Drives {
		c := t.cell(d)
		switch {
		case d.Gear != nil:
			t.gears = append(t.gears, c)
		case d.MotorPulley.Profile.ID != d.WheelPulley.Profile.ID:
		default:
			key := pair{c.profile, c.small, c.large}
			if old, ok := best[key]; !ok || c.before(&old) {
				best[key] = c
			}
		}
	}
	t.cells = slices.SortedFunc(maps.Values(best), func(a, b cell) int {
		return cmp.Or(cmp.Compare(a.profile, b.profile), cmp.Compare(a.small, b.small), cmp.Compare(a.large, b.large))
	})
	slices.SortStableFunc(t.gears, func(a, b cell) int {
		return cmp.Compare(a.build.Build.Drive.Reduction, b.build.Build.Drive.Reduction)
	})
}

// cell looks at one drive on the parts that are held.
func (t *teethChart) cell(d *constraints.Drive) cell {
	b := &constraints.Build{Problem: t.problem}
	b.Electrify(t.base.Battery, t.base.Controller, t.base.Motor, t.base.Count)
	b.Roll(d, t.base.Wheel)
	c := cell{build: search.ScoreBuild(b)}
	if d.Gear == nil {
		c.small, c.large, c.profile = int(d.MotorPulley.Teeth), int(d.WheelPulley.Teeth), d.WheelPulley.Profile.ID
	}
	for _, r := range b.Results() {
		if r.Rejects(t.question.strict) {
			c.fails = append(c.fails, r)
		}
		c.open = c.open || r.Verdict == constraints.Undecided
	}
	return c
}

// before reports whether a drive stands for its pair of teeth rather than
// another: it fails later, has less undecided, or scores more.
func (c *cell) before(o *cell) bool {
	order := func(c *cell) int {
		if len(c.fails) == 0 {
			return len(constraints.Registry())
		}
		return slices.Index(constraints.Registry(), c.fails[0].Check)
	}
	if a, b := order(c), order(o); a != b {
		return a > b
	}
	if c.open != o.open {
		return o.open
	}
	return c.build.Score > o.build.Score
}

// verdict says what the checks say of a cell.
func (c *cell) verdict() constraints.Verdict {
	switch {
	case len(c.fails) > 0:
		return constraints.Fail
	case c.open:
		return constraints.Undecided
	}
	return constraints.Pass
}
