package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/constraints"
	"gearsearch/search"
)

func (p *program) swapCommand() *cli.Command {
	return &cli.Command{
		Name:      "swap",
		ArgsUsage: "BUILD.toml",
		Usage:     "keep a build and change one slot or a few: what each change does",
		UsageText: `gearsearch swap build.toml --change wheel
gearsearch swap build.toml --change motor_pulley,wheel_pulley
gearsearch swap build.toml --change drive --all
gearsearch swap build.toml --change wheel --erpm-ceiling 60000 --set limit.erpm_rule=at-speed`,
		Description: `Every slot but those that --change names stays as the build file has it, and so does the number of motors. In those, all parts are tried that keep and avoid leave, and what passes every check is listed with its differences to the build in hand. Parts that the build has already cost nothing. Where a pulley or a mount changes, the belt is chosen anew.

JSON: base (the build in hand), swaps and broken (with --all, else null). A swap is a build with changes (differences by figure), price_to_pay, buys, leaves and breaks. CSV has them as rows, the build in hand first.

Exit code: 0 answered, 1 no swap passes every check, 2 wrong usage, 3 wrong catalog, brief or build, 4 a file could not be read or written, 130 interrupted.`,
		Flags: append(append(ask.QuestionFlags(),
			&cli.StringSliceFlag{Name: "change", Category: ask.ThemeAnswer, Usage: "`SLOT[,SLOT]` what to change: " + strings.Join(ask.SlotWords(), ", ")},
			ask.TopFlag(),
			&cli.BoolFlag{Name: "all", Category: ask.ThemeAnswer, Usage: "list the swaps that break something too, with what they break"},
			ask.SaveFlag(),
		), ask.OutputFlags()...),
		Action: p.swap,
	}
}

// swapAnswer is what changing some slots of a build does.
type swapAnswer struct {
	question *ask.Question
	file     string // of the build
	change   []string
	full     *constraints.Problem // of the whole brief
	base     search.Scored
	misses   []constraints.Result // of the base
	swaps    []search.Swap        // that break nothing, the best
	result   *search.Result       // of all of them, the base among them if it is in play
	inPlay   bool                 // the base is one of the combinations
	all      bool                 // the broken ones are asked for
	broken   []search.Swap        // all that are asked for, else a few where nothing passes
}

// swap answers with what changing some slots of a build does.
func (p *program) swap(c *cli.Context) error {
	name, err := ask.BuildArgument(c)
	if err != nil {
		return err
	}
	freed, words, err := ask.SlotList(c, "change")
	if err != nil {
		return err
	}
	if len(freed) == 0 {
		return outcome.Usage("write --change wheel; the slots are "+strings.Join(ask.SlotWords(), ", "), "swap needs --change: what to change in the build")
	}
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	want, err := p.NewWish(c, false)
	if err != nil {
		return err
	}
	q, err := p.Ask(c)
	if err != nil {
		return err
	}
	file, err := p.BuildFile(c.Context, name)
	if err != nil {
		return err
	}
	s := &swapAnswer{question: q, file: name, change: words, all: c.Bool("all")}
	problem, base, err := constraints.Free(q.Catalog, q.Brief, file, freed)
	if err != nil {
		return p.Elsewhere(c, err)
	}
	s.full, s.base = base.Problem, search.ScoreBuild(base)
	if err := s.find(c, p, problem, want.Top); err != nil {
		return err
	}
	save := func(i int) *constraints.Build { return s.swaps[i].Build }
	if err := want.Save(len(s.swaps), save); err != nil {
		return err
	}
	if err := p.Give(a, s.forms(a)); err != nil {
		return err
	}
	if err := p.swapOutcome(a, s); err != nil {
		return err
	}
	return want.Missed(len(s.swaps), s.feasible())
}

// find looks for the swaps.
func (s *swapAnswer) find(c *cli.Context, p *program, problem *constraints.Problem, top int) error {
	base := s.base.Build
	for _, r := range base.Results() {
		if r.Rejects(s.question.Strict) {
			s.misses = append(s.misses, r)
		}
	}
	bar := p.Bar()
	var err error
	s.swaps, s.result, err = search.Swaps(c.Context, problem, base, search.Options{Top: top, Strict: s.question.Strict, Progress: bar.Progress()})
	bar.Stop()
	if err != nil {
		return err
	}
	s.inPlay = holds(problem, base)
	if s.result.Complete && (s.all || s.feasible() == 0) {
		o := search.Options{Strict: s.question.Strict}
		if !s.all {
			o.Top = fewBroken
		}
		s.broken, _, err = search.BrokenSwaps(c.Context, problem, base, o)
		if c.Context.Err() != nil {
			s.result.Complete = false
			return nil
		}
		if err != nil && s.all {
			return outcome.Usage("", "--all: %v", err)
		}
	}
	return nil
}

// holds reports whether a build is one of the combinations of a problem.
func holds(p *constraints.Problem, b *constraints.Build) bool {
	drive := slices.ContainsFunc(p.Drives, func(d *constraints.Drive) bool {
		return !slices.ContainsFunc(constraints.DriveSlots(), func(s constraints.Slot) bool { return d.ID(s) != b.ID(s) })
	})
	return drive &&
		slices.ContainsFunc(p.Batteries, func(x *constraints.Battery) bool { return x.ID == b.Battery.ID }) &&
		slices.ContainsFunc(p.Controllers, func(x *constraints.Controller) bool { return x.ID == b.Controller.ID }) &&
		slices.ContainsFunc(p.Motors, func(x *constraints.Motor) bool { return x.ID == b.Motor.ID }) &&
		slices.ContainsFunc(p.Wheels, func(x *constraints.Wheel) bool { return x.ID == b.Wheel.ID })
}

// fewBroken is how many swaps that break something are shown unasked.
const fewBroken = 3

// feasible is how many swaps pass every check.
func (s *swapAnswer) feasible() uint64 {
	if s.inPlay && len(s.misses) == 0 && s.result.Feasible > 0 {
		return s.result.Feasible - 1
	}
	return s.result.Feasible
}

// total is how many swaps there are.
func (s *swapAnswer) total() uint64 {
	if s.inPlay && s.result.Combinations > 0 {
		return s.result.Combinations - 1
	}
	return s.result.Combinations
}

// swapOutcome is what the answer means for the exit code.
func (p *program) swapOutcome(a *ask.Answer, s *swapAnswer) error {
	switch {
	case !s.result.Complete:
		p.Note("interrupted: the search is incomplete")
		return outcome.ErrInterrupted
	case s.feasible() == 0:
		if !a.People() {
			p.Note("no change of %s passes every check", strings.Join(s.change, ", "))
		}
		return outcome.ErrInfeasible
	}
	return nil
}
