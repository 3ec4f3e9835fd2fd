package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/shortlist"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

func (p *program) shortlistCommand() *cli.Command {
	return &cli.Command{
		Name:      "shortlist",
		ArgsUsage: "SLOT",
		Usage:     "judge each part of a slot by the feasible builds that have it",
		UsageText: `gearsearch shortlist motor
gearsearch shortlist wheel --catalog my-board/parts.toml --brief my-board/brief.toml
gearsearch shortlist drive --top 10 -o drives.csv`,
		Description: `One row for each part that keep and avoid leave in the slot: how many feasible builds have it, its best build and score, the best that any of its builds reaches on each target alone, and the range of what it works with. Parts in no feasible build follow, by the check that stops them: the last, in the order of checks, under which any of their combinations is counted; and last the belts that no drive chooses, with the reason.

SLOT is ` + strings.Join(ask.SlotWords(), ", ") + `; a drive is a pair of pulleys with its mount, or a gear drive.

JSON: parts, each with id, name, counts, stopped_by (null where it is in feasible builds), unchosen (why no drive chooses a belt, else null), score, reaches (the best by figure), spans, and its best build. CSV has a row for each.

Exit code: 0 answered, 1 no part is in a feasible build, 2 wrong usage, 3 wrong catalog or brief, 4 a file could not be read or written, 130 interrupted.`,
		Flags:  append(append(ask.QuestionFlags(), ask.TopFlag()), ask.OutputFlags()...),
		Action: p.shortlist,
	}
}

// shortlist answers with the feasible builds that have each part of a slot.
func (p *program) shortlist(c *cli.Context) error {
	slot, err := p.slotArgument(c)
	if err != nil {
		return err
	}
	want, err := p.NewWish(c, false)
	if err != nil {
		return err
	}
	a, q, problem, err := p.Inquire(c)
	if err != nil {
		return err
	}
	s := &shortlist.Answer{Question: q, Problem: problem, Slot: slot, Top: want.Top}
	return s.Give(c.Context, p.Desk, a)
}

// slotArgument is the slot that the command is given.
func (p *program) slotArgument(c *cli.Context) (string, error) {
	const hint = "write gearsearch shortlist motor; the slots are "
	if n := c.Args().Len(); n != 1 {
		return "", outcome.Usage(hint+strings.Join(ask.SlotWords(), ", "), "%s takes one slot, not %d", c.Command.Name, n)
	}
	word := c.Args().First()
	if _, ok := ask.SlotsOf(word); ok {
		return word, nil
	}
	if err := p.BuildGiven(c, word); err != nil {
		return "", err
	}
	return "", outcome.Usage(ask.SlotWordHint(word), "there is no slot %s", say.Shown(word))
}
