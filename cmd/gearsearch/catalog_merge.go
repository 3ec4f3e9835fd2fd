package main

import (
	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/answer/merge"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

func (p *program) catalogMergeCommand() *cli.Command {
	return &cli.Command{
		Name:      "merge",
		ArgsUsage: "A B…",
		Usage:     "make one catalog of several, and say where they differ",
		UsageText: `gearsearch catalog merge my-board/parts.toml parts-csv -o all.toml
gearsearch catalog merge my-board/parts.toml parts-csv -o all.toml --overwrite --format csv`,
		Description: `Equal parts become one. Of a part that several catalogs have, the later gives the keys that it has, and the others stay; a price comes with its pieces, day and source, and the volts of a pack or its cell come together. Every key for which they differ is said with all its values and places: the last counts. A [[change]] is carried out, and prices are turned into the first catalog's currency. What two catalogs use one id for, and are parts of two kinds, is an error, and so are values of several catalogs that do not go together.

The file is a TOML catalog like any other, written whole or not at all. Comments are not kept, and families and ranges are written out part by part. It does not matter which two of three are merged first.

Exit code: 0 written, 2 wrong usage, 3 wrong catalogs, 4 a file could not be read or written.`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Category: ask.ThemeOutput, Usage: "`FILE` the catalog to write, whose name ends in .toml; needed"},
			&cli.BoolFlag{Name: "overwrite", Category: ask.ThemeOutput, Usage: "write it over a file that is there"},
			ask.FormatFlag("table"),
			ask.QuietFlag(),
		},
		Action: p.catalogMerge,
	}
}

// catalogMerge writes the catalog that several make.
func (p *program) catalogMerge(c *cli.Context) error {
	a, err := p.Spoken(c)
	if err != nil {
		return err
	}
	paths, out := c.Args().Slice(), c.String("o")
	if len(paths) < 2 {
		return outcome.Usage("as in gearsearch catalog merge parts.toml friend.toml -o all.toml", "merge takes two catalogs or more, not %d", len(paths))
	}
	if !ask.IsTOML(out) {
		return outcome.Usage("as in -o all.toml; gearsearch catalog convert makes CSV files of that", "-o %s: merge writes a file whose name ends in .toml", say.Shown(out))
	}
	to, err := p.mergeTarget(out, c.Bool("overwrite"))
	if err != nil {
		return err
	}
	var list [][]catalog.Source
	for _, path := range paths {
		sources, err := p.Files.Sources(c.Context, []string{path})
		if err != nil {
			return err
		}
		list = append(list, sources)
	}
	m, err := catalog.Merge(list...)
	if err != nil {
		return err
	}
	if err := to.WriteData(m.Text); err != nil {
		return err
	}
	s := &merge.Answer{Merged: m, File: out, Catalogs: len(paths)}
	return s.Give(p.Desk, a)
}

// mergeTarget is the file to write.
func (p *program) mergeTarget(name string, over bool) (*files.Target, error) {
	if over {
		return p.Files.Target("-o "+say.Shown(name), name)
	}
	return p.Files.Vacant(name)
}
