// Package vary answers with what other numbers or parts do to a build, of a file
// or of bare numbers.
package vary

import (
	"slices"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Answer is what other numbers or parts do to a build.
type Answer struct {
	Question *ask.Question
	Axes     []Axis
	All      bool   // the product of the axes is asked for
	Words    string // the flags that vary, each after a space, as they can be typed again
	File     string // of the build; "" for bare numbers
	Bare     *Bare  // the numbers; nil for a build

	changes [][]Change // by row
	crosses bool       // the product of the axes has more rows, and may be asked for
	base    search.Scored
	rows    []search.Varied
}

// Find makes the rows of a build file.
func (v *Answer) Find(f *constraints.BuildFile) error {
	var err error
	if v.changes, err = v.rowsOf(v.All); err != nil {
		return err
	}
	var variants []constraints.Variant
	for _, row := range v.changes {
		x := variant(row)
		if err := goTogether(f, x); err != nil {
			return err
		}
		variants = append(variants, x)
	}
	v.crosses = !v.All && v.mayCross(f)
	v.Question.Brief = f.With(v.Question.Brief)
	problem, err := constraints.NewBuildProblem(v.Question.Catalog, v.Question.Brief)
	if err != nil {
		return err
	}
	v.base, v.rows, err = search.Vary(problem, f, variants, v.Question.Strict)
	return err
}

// rowsOf are the changes of each row. Bare numbers have their first values in the
// build itself, which are no changes.
func (v *Answer) rowsOf(all bool) ([][]Change, error) {
	switch {
	case v.Bare == nil:
		return Rows(v.Axes, all)
	case !all:
		return Rows(rest(v.Axes), false)
	}
	rows, err := Rows(v.Axes, true)
	if err != nil {
		return nil, err
	}
	for i, row := range rows {
		rows[i] = slices.DeleteFunc(row, func(c Change) bool {
			return slices.ContainsFunc(v.Axes, func(a Axis) bool { return a.Key == c.Key && a.Changes[0].Value == c.Value })
		})
	}
	return rows[1:], nil
}

// mayCross reports whether the product of the axes has more rows than one change at
// a time, and none that excludes itself.
func (v *Answer) mayCross(f *constraints.BuildFile) bool {
	rows, err := v.rowsOf(true)
	return err == nil && len(v.Axes) > 1 && len(rows) > len(v.changes) &&
		!slices.ContainsFunc(rows, func(row []Change) bool { return goTogether(f, variant(row)) != nil })
}

// goTogether is wrong usage where a row's changes exclude each other.
func goTogether(f *constraints.BuildFile, x constraints.Variant) error {
	var pulleys []string
	for slot := range x.IDs {
		if !slot.Always() && slot != constraints.SlotGearDrive {
			pulleys = append(pulleys, slot.String())
		}
	}
	slices.Sort(pulleys)
	switch {
	case len(pulleys) > 0 && x.IDs[constraints.SlotGearDrive] != "":
		return outcome.Usage("leave one of them out, or --all", "--use gear_drive and --use %s do not go together in one row", pulleys[0])
	case !f.WholeDrive(x.IDs):
		return outcome.Usage("with --all, name both --use motor_pulley and --use wheel_pulley",
			"--use %s: the build has a gear drive, and two pulleys stand in its place together", say.InWords(pulleys))
	}
	return nil
}

// Give writes the rows, and says what they mean for the exit code.
func (v *Answer) Give(d *ask.Desk, a *ask.Answer) error {
	if err := d.Give(a, v.forms(a)); err != nil {
		return err
	}
	if v.feasible() {
		return nil
	}
	if !a.People() {
		d.Note("no row passes every check")
	}
	return outcome.ErrInfeasible
}

// feasible reports whether the build or a row passes every check.
func (v *Answer) feasible() bool {
	strict := v.Question.Strict
	return !v.base.Build.Rejected(strict) ||
		slices.ContainsFunc(v.rows, func(r search.Varied) bool { return !r.Build.Rejected(strict) })
}
