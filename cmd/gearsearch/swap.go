package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/swap"
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
gearsearch swap build.toml --change wheel --erpm-ceiling 60000 --erpm-rule at-speed`,
		Description: `Every slot but those that --change names stays as the build file has it, and so does the number of motors. In those, all parts are tried that keep and avoid leave, and what passes every check is listed with its differences to the build in hand. Parts that the build has already cost nothing. Where a pulley or a mount changes, the belt is chosen anew.

Where nothing passes, it is said which of the failing checks no change of these slots can mend, and what is advised leads to a feasible build: the search has found it.

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

// swap answers with the effects of changing some slots of a build.
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
	s := &swap.Answer{Question: q, File: name, Change: words, Freed: freed, All: c.Bool("all")}
	problem, base, err := constraints.Free(q.Catalog, q.Brief, file, freed)
	if err != nil {
		return p.Elsewhere(c, err)
	}
	s.Full, s.Base = base.Problem, search.ScoreBuild(base)
	return s.Give(c.Context, p.Desk, a, problem, want)
}
