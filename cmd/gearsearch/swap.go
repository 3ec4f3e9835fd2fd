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
gearsearch swap build.toml --all
gearsearch swap build.toml --change motors,battery --all
gearsearch swap build.toml --change wheel --erpm-ceiling 60000 --erpm-rule at-speed`,
		Description: `Every slot but those that --change names stays as the build file has it, and so does the number of motors unless --change names motors. In those, all parts are tried that keep and avoid leave, and what passes every check is listed with its differences to the build in hand. Parts that the build has already cost nothing. Where a pulley or a mount changes, the belt is chosen anew. Numbers of motors are those of the brief; where it has only the build's, 1, 2 and 4.

--all gives the figures of every change, whatever it fails: under fails, + marks a check that the change newly fails, - one that it cures. Changes whose new parts never go on the others (shaft and bore, hubs, tooth profiles) are only counted. Without --change, --all changes each slot in turn, and the number of motors. --save takes any number of the list.

Where nothing passes, it is said which of the failing checks no change of these slots can mend, and what is advised leads to a feasible build: the search has found it.

JSON: base (the build in hand), swaps, broken and never_fit, which counts what is never put together (both with --all, else null). A swap is a build with changes (differences by figure), price_to_pay, buys, leaves, breaks (the checks that it fails), adds and cures (those that it fails and the build in hand does not, and the other way about), never_fits (a check or null) and changed. in_turn: each of change by itself. With --all data is complete unless --top limits it. CSV has them as rows, the build in hand first.

Exit code: 0 answered, 1 no swap passes every check, 2 wrong usage, 3 wrong catalog, brief or build, 4 a file could not be read or written, 130 interrupted.`,
		Flags: append(append(ask.QuestionFlags(),
			&cli.StringSliceFlag{Name: "change", Category: ask.ThemeAnswer, Usage: "`SLOT[,SLOT]` what to change: " + strings.Join(ask.ChangeWords(), ", ")},
			ask.TopFlag(),
			&cli.BoolFlag{Name: "all", Category: ask.ThemeAnswer, Usage: "the figures of every change, with the checks that it fails and cures; without --change, of each slot in turn"},
			ask.SaveFlag(), ask.WithPartsFlag(),
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
	_, words, err := ask.SlotList(c, "change", ask.MotorsWord)
	if err != nil {
		return err
	}
	if len(words) == 0 && !c.Bool("all") {
		return outcome.Usage("write --change wheel, or --all for each in turn; the slots are "+strings.Join(ask.ChangeWords(), ", "), "swap needs --change: what to change in the build")
	}
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	want, err := p.NewWish(c, false)
	if err != nil {
		return err
	}
	file, q, err := p.BuildQuestion(c, name)
	if err != nil {
		return err
	}
	s := &swap.Answer{Question: q, File: name, All: c.Bool("all"), Top: want.Top}
	if s.All && !a.People() && !c.IsSet("top") {
		s.Top = 0
	}
	for _, change := range rounds(words, file) {
		freed := ask.Freed(change)
		problem, base, err := constraints.Free(q.Catalog, q.Brief, file, freed)
		if err != nil {
			return p.Elsewhere(q, err)
		}
		s.Rounds = append(s.Rounds, &swap.Round{Change: change, Freed: freed, Problem: problem, Base: base})
	}
	base := s.Rounds[0].Base
	s.Full, s.Base = base.Problem, search.ScoreBuild(base)
	return s.Give(c.Context, p.Desk, a, want)
}

// rounds are the words for what changes together: all that are named, or without
// any each that the build has, by itself.
func rounds(words []string, file *constraints.BuildFile) [][]string {
	if len(words) > 0 {
		return [][]string{words}
	}
	geared := file.IDs[constraints.SlotGearDrive] != ""
	var out [][]string
	for _, slot := range constraints.Slots() {
		if !slot.Always() && geared != (slot == constraints.SlotGearDrive) {
			continue
		}
		out = append(out, []string{slot.String()})
		if slot == constraints.SlotMotor {
			out = append(out, []string{ask.MotorsWord})
		}
	}
	return out
}
