package main

import (
	"math"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

func (p *program) shortlistCommand() *cli.Command {
	return &cli.Command{
		Name:      "shortlist",
		ArgsUsage: "SLOT",
		Usage:     "judge each part of a slot by the builds that it opens",
		UsageText: `gearsearch shortlist motor
gearsearch shortlist wheel --catalog my-board/parts.toml --brief my-board/brief.toml
gearsearch shortlist drive --top 10 -o drives.csv`,
		Description: `One row for each part that keep and avoid leave in the slot: how many feasible builds have it, its best build and score, the best that any of its builds reaches on each target alone, and the range of what it works with. Parts that open no build follow, by the check that stops them: the last, in the order of checks, under which any of their combinations is counted; and last the belts that no drive chooses, with the reason.

SLOT is ` + strings.Join(ask.SlotWords(), ", ") + `; a drive is a pair of pulleys with its mount, or a gear drive.

JSON: parts, each with id, name, counts, stopped_by (null where it opens builds), unchosen (why no drive chooses a belt, else null), score, reaches (the best by figure), spans, and its best build. CSV has a row for each.

Exit code: 0 answered, 1 no part opens a build, 2 wrong usage, 3 wrong catalog or brief, 4 a file could not be read or written, 130 interrupted.`,
		Flags:  append(append(ask.QuestionFlags(), ask.TopFlag()), ask.OutputFlags()...),
		Action: p.shortlist,
	}
}

// shortlistAnswer is what the parts of a slot open.
type shortlistAnswer struct {
	question *ask.Question
	problem  *constraints.Problem
	slot     string // as the user has it
	parts    []search.Candidate
	complete bool
	top      int
}

// shortlist answers with what each part of a slot opens.
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
	s := &shortlistAnswer{question: q, problem: problem, slot: slot, top: want.Top}
	bar := p.Bar()
	o := search.Options{Strict: q.Strict, Progress: bar.Progress()}
	if slot == ask.WholeDrive {
		s.parts, s.complete, err = search.ShortlistDrives(c.Context, problem, o)
	} else {
		of, _ := constraints.SlotNamed(slot)
		s.parts, s.complete, err = search.Shortlist(c.Context, problem, of, o)
	}
	bar.Stop()
	if err != nil {
		return err
	}
	if err := p.Give(a, s.forms(a)); err != nil {
		return err
	}
	switch {
	case !s.complete:
		p.Note("interrupted: %s of the slot looked at, the others are missing", say.Counted(uint64(len(s.parts)), "part is", "parts are"))
		return outcome.ErrInterrupted
	case len(s.opening()) == 0:
		if !a.People() {
			p.Note("no part of the slot %s opens a build", slot)
		}
		return outcome.ErrInfeasible
	}
	return nil
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

// opening are the parts that open builds: they come first.
func (s *shortlistAnswer) opening() []search.Candidate {
	for i, x := range s.parts {
		if x.Best == nil {
			return s.parts[:i]
		}
	}
	return s.parts
}

// feasible is how many builds the parts open together.
func (s *shortlistAnswer) feasible() uint64 {
	n := uint64(0)
	for _, x := range s.parts {
		n += x.Feasible
	}
	return n
}

// span is a range of what a part works with.
type span struct {
	key    string // in data, with the unit
	title  string
	of     func(c *search.Candidate) search.Span
	perSI  float64
	unit   string
	except []string // slots that have it by themselves
}

// spans are the ranges of what the parts of a slot work with.
func (s *shortlistAnswer) spans() []span {
	var out []span
	for _, x := range []span{
		{"reduction", "ratios", func(c *search.Candidate) search.Span { return c.Reduction }, 1, "", []string{ask.WholeDrive, "gear_drive"}},
		{"wheel_mm", "wheels", func(c *search.Candidate) search.Span { return c.Wheel }, 1000, "mm", []string{"wheel"}},
		{"pack_v", "packs", func(c *search.Candidate) search.Span { return c.Volts }, 1, "V", []string{"battery"}},
	} {
		own := false
		for _, slot := range x.except {
			own = own || slot == s.slot
		}
		if !own {
			out = append(out, x)
		}
	}
	return out
}

// bounds are the ends of a span in its unit, NaN where there is none.
func (x *span) bounds(c *search.Candidate) (low, high float64) {
	at := x.of(c)
	if at.Low > at.High {
		return math.NaN(), math.NaN()
	}
	return at.Low * x.perSI, at.High * x.perSI
}
