package main

import (
	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/answer/differ"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

func (p *program) catalogDiffCommand() *cli.Command {
	return &cli.Command{
		Name:      "diff",
		ArgsUsage: "A B",
		Usage:     "tell what is other in a second catalog: parts added, removed and changed, key by key",
		UsageText: `gearsearch catalog diff my-board/parts.toml parts-csv
gearsearch catalog diff my-board/parts.toml parts-csv --format json
gearsearch catalog diff my-board/parts.toml parts-csv -o diff.csv`,
		Description: `A and B are catalog files, or folders of CSV files; demo is the embedded catalog. Parts are told apart by kind and id, and what a file says in another unit, as a family or as a range is the same where it comes to the same numbers. Where the currencies differ prices are compared as they stand, and a line on standard error says so.

CSV has a row for each key, with what it was and what it is; of a part that one catalog lacks all keys are listed. JSON has the same, and where each part stands.

Exit code: 0 the parts are the same, 1 they differ, 2 wrong usage, 3 wrong catalog, 4 a file could not be read or written.`,
		Flags:  []cli.Flag{ask.FormatFlag("by the ending of -o, else table"), ask.FileFlag(), ask.QuietFlag()},
		Action: p.catalogDiff,
	}
}

// catalogDiff answers with the differences of two catalogs.
func (p *program) catalogDiff(c *cli.Context) error {
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	if n := c.Args().Len(); n != 2 {
		return outcome.Usage("as in gearsearch catalog diff friend.toml parts.toml", "diff takes two catalogs, not %d", n)
	}
	s := &differ.Answer{Names: [2]string(c.Args().Slice())}
	for i, of := range []**catalog.Catalog{&s.Was, &s.Is} {
		if *of, err = p.Catalog(c.Context, []string{s.Names[i]}); err != nil {
			return err
		}
	}
	return s.Give(p.Desk, a)
}
