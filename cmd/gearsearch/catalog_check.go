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
		UsageText: `gearsearch catalog check
gearsearch catalog check my-board/parts.toml
gearsearch catalog check my-board/parts.toml wheel.csv
gearsearch catalog check my-board/parts.toml --brief my-board/brief.toml
gearsearch catalog check parts-csv`,
		Description: `Several files are read as one catalog, and every problem is reported in one go. Where nothing is wrong the answer has unlikely values, parts that can be in no build and why, and missing keys, those first that leave most checks undecided. Without a path parts.toml of this folder is read, or the CSV files of a folder parts in it, else the embedded demo catalog.

With a brief the missing keys are ranked by how many of its feasible builds each decides, whichever end of the range that stands in for it proves right; the first is what to measure first. Where no path is given, brief.toml of this folder is that brief. The demo is checked under its own brief.

CSV and JSON have all of these, the table has the first of each. With a brief JSON has it too, each missing key has decides (null for a key that no range stands in for), and measure lists the parts with their keys (kind, key, id, decides).

Exit code: 0 nothing is wrong, 2 wrong usage, 3 something is wrong, 4 a file could not be read or written, 130 interrupted.`,
		Flags:  append([]cli.Flag{ask.CatalogFlag(), ask.BriefFileFlag()}, ask.OutputFlags()...),
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
	from, read, problem, err := p.CheckedUnder(c, paths)
	if err != nil {
		return err
	}
	if paths = from.Catalog; from.DemoParts() {
		paths = nil
	}
	x := &check.Answer{Catalog: read, Paths: paths, Problem: problem}
	return x.Give(c.Context, p.Desk, a)
}
