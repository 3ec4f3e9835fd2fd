package main

import (
	"math"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/show"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

func (p *program) catalogShowCommand() *cli.Command {
	return &cli.Command{
		Name:      "show",
		ArgsUsage: "[KIND…|--standard [LIST…]]",
		Usage:     "list kinds of parts, the parts of a kind that fulfil a condition, or lists of standards",
		UsageText: `gearsearch catalog show
gearsearch catalog show motor
gearsearch catalog show motor --where 'kv > 150 and shaft_mm = 8'
gearsearch catalog show --where 'not owned' --catalog my-board/parts.toml
gearsearch catalog show wheel -o wheel.csv
gearsearch catalog show --standard
gearsearch catalog show --standard belts/xl --where 'teeth < 60'`,
		Description: `A condition has keys as catalog files have them, a comparison (= != < <= > >=, and ~ for "contains") and a value in the key's unit; and, or, not and parentheses join conditions. unknown(resistance_mohm) picks what does not give a key; kind is a key too. What a part does not say is neither more nor less than anything.

Only columns that one of the parts has are shown. CSV of one kind reads back as a catalog file.

--standard lists what standards have: lengths of belts, chains, wire, ratings of fuses, sizes of cells, without makers and prices; behind it stand the names of lists to see what is in them. A catalog has the parts of a list by its name, use = ["belts/xl"].

Exit code: 0 answered, 1 no part fulfils the condition, 2 wrong usage, 3 wrong catalog, 4 a file could not be read or written.`,
		Flags: append([]cli.Flag{
			ask.CatalogFlag(),
			&cli.StringFlag{Name: "where", Category: ask.ThemeAnswer, Usage: "`CONDITION` list only parts that fulfil it", DefaultText: "all"},
			&cli.BoolFlag{Name: "standard", Category: ask.ThemeAnswer, Usage: "lists of standards, or what is in those named"},
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
	s := &show.Answer{Where: c.String("where"), System: a.System, Width: math.MaxInt}
	if a.Format == ask.FormatTable {
		s.Width = a.Style().Width
	}
	if c.Bool("standard") {
		if c.IsSet("catalog") {
			return outcome.Usage("leave one out", "--standard shows lists of standards, and --catalog names parts of yours")
		}
		if err := s.Standard(c.Args().Slice(), c.IsSet("where")); err != nil {
			return err
		}
		return s.Give(p.Desk, a)
	}
	s.Kinds = c.Args().Slice()
	if err := s.Narrow(c.IsSet("where")); err != nil {
		return err
	}
	if _, s.Catalog, err = p.CatalogNamed(c.Context, c.StringSlice("catalog")); err != nil {
		return err
	}
	return s.Give(p.Desk, a)
}
