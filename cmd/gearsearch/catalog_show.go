package main

import (
	"math"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/show"
	"gearsearch/cmd/gearsearch/internal/ask"
)

func (p *program) catalogShowCommand() *cli.Command {
	return &cli.Command{
		Name:      "show",
		ArgsUsage: "[KIND…]",
		Usage:     "list kinds of parts, or the parts of a kind that fulfil a condition",
		UsageText: `gearsearch catalog show
gearsearch catalog show motor
gearsearch catalog show motor --where 'kv > 150 and shaft_mm = 8'
gearsearch catalog show --where 'not owned' --catalog my-board/parts.toml
gearsearch catalog show wheel -o wheel.csv`,
		Description: `A condition has keys as catalog files have them, a comparison (= != < <= > >=, and ~ for "contains") and a value in the key's unit; and, or, not and parentheses join conditions. unknown(resistance_mohm) picks what does not give a key; kind is a key too. What a part does not say is neither more nor less than anything.

Only columns that one of the parts has are shown. CSV of one kind reads back as a catalog file.

Exit code: 0 answered, 1 no part fulfils the condition, 2 wrong usage, 3 wrong catalog, 4 a file could not be read or written.`,
		Flags: append([]cli.Flag{
			ask.CatalogFlag(),
			&cli.StringFlag{Name: "where", Category: ask.ThemeAnswer, Usage: "`CONDITION` list only parts that fulfil it", DefaultText: "all"},
		}, ask.OutputFlags()...),
		Action: p.catalogShow,
	}
}

// catalogShow answers with kinds or with parts.
func (p *program) catalogShow(c *cli.Context) error {
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	s := &show.Answer{Kinds: c.Args().Slice(), Where: c.String("where"), System: a.System, Width: math.MaxInt}
	if a.Format == ask.FormatTable {
		s.Width = a.Style().Width
	}
	if err := s.Narrow(c.IsSet("where")); err != nil {
		return err
	}
	if _, s.Catalog, err = p.CatalogNamed(c.Context, c.StringSlice("catalog")); err != nil {
		return err
	}
	return s.Give(p.Desk, a)
}
