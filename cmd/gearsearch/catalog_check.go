package main

import (
	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/check"
	"gearsearch/cmd/gearsearch/internal/ask"
)

func (p *program) catalogCheckCommand() *cli.Command {
	return &cli.Command{
		Name:      "check",
		ArgsUsage: "[PATH…]",
		Usage:     "check a catalog: mistakes, unlikely values, parts of no use, missing keys",
		UsageText: `gearsearch catalog check my-board/parts.toml
gearsearch catalog check my-board/parts.toml wheel.csv
gearsearch catalog check parts-csv`,
		Description: `Several files are read as one catalog, and every problem is reported in one go. Where nothing is wrong the answer has unlikely values, parts that can be in no build and why, and missing keys, those first that leave most checks undecided. Without a path the embedded demo catalog is read.

CSV and JSON have all of these, the table has the first of each.

Exit code: 0 nothing is wrong, 2 wrong usage, 3 something is wrong, 4 a file could not be read or written.`,
		Flags:  append([]cli.Flag{ask.CatalogFlag()}, ask.OutputFlags()...),
		Action: p.catalogCheck,
	}
}

// catalogCheck answers with the mistakes, doubts and gaps of a catalog.
func (p *program) catalogCheck(c *cli.Context) error {
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	paths := append(c.StringSlice("catalog"), c.Args().Slice()...)
	if len(paths) == 0 {
		p.Note("demo parts, all invented: name your own, as in gearsearch catalog check parts.toml")
	}
	read, err := p.Catalog(c.Context, paths)
	if err != nil {
		return err
	}
	return check.Give(p.Desk, a, read, paths)
}
