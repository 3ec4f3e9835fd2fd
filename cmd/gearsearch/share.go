package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/share"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// shareFlags are the flags of rank for sets of builds that share parts.
func shareFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringSliceFlag{Name: "share", Category: ask.ThemeAnswer, Usage: "`SLOT[,SLOT]` rank sets: a build for each --brief, with the same part in these slots: " + strings.Join(ask.SlotWords(), ", ")},
		&cli.BoolFlag{Name: "worst", Category: ask.ThemeAnswer, Usage: "rank sets by the lowest score of their builds instead of the mean"},
	}
}

// share answers with sets of builds that share parts.
func (p *program) share(c *cli.Context, a *ask.Answer) error {
	slots, words, err := ask.SlotList(c, "share")
	if err != nil {
		return err
	}
	if err := shareFits(c); err != nil {
		return err
	}
	want, err := p.NewWish(c, false)
	if err != nil {
		return err
	}
	if want.Top == 0 {
		return outcome.Usage("name how many sets to list", "--share and --top 0 do not go together: there are as many sets as pairs of builds")
	}
	files := c.StringSlice("brief")
	s := &share.Answer{Words: words, Worst: c.Bool("worst"), Files: files, Names: share.BriefLabels(files)}
	if err := s.SavesFit(p.Desk, want); err != nil {
		return err
	}
	if s.Questions, err = p.AskEach(c); err != nil {
		return err
	}
	return s.Give(c.Context, p.Desk, a, slots, want)
}

// shareFits reports flags that do not go with --share.
func shareFits(c *cli.Context) error {
	if n := len(c.StringSlice("brief")); n < 2 {
		return outcome.Usage("name them, as in --brief demo:harbour --brief demo:sunday", "--share takes two briefs or more, not %d", n)
	}
	input := 0
	for _, name := range c.StringSlice("brief") {
		if name == "-" {
			input++
		}
	}
	if input > 1 {
		return outcome.Usage("write one of them to a file", "standard input can be one brief only")
	}
	for _, f := range mannerFlags() {
		if name := f.Names()[0]; c.IsSet(name) {
			return outcome.Usage("leave one of them out", "--share and --%s do not go together: sets are ranked by their scores alone", name)
		}
	}
	return nil
}
