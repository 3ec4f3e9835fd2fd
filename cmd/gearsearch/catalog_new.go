package main

import (
	"path/filepath"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/answer/begin"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

func (p *program) catalogNewCommand() *cli.Command {
	return &cli.Command{
		Name:      "new",
		ArgsUsage: "[FOLDER|FILE.toml]",
		Usage:     "write a catalog and a brief to begin with, to be filled in",
		UsageText: `gearsearch catalog new
gearsearch catalog new my-board
gearsearch catalog new --least small
gearsearch catalog new workshop/parts.toml`,
		Description: `Writes parts.toml, with a table of every kind of part and its keys explained, and brief.toml, which asks what the board must do: both into the folder named, else into this one. A name that ends in .toml is that of the catalog, and the brief goes beside it. What is there is never overwritten. All parts in it are invented.

--least writes the smallest catalog that answers in place of both: one part in each slot, with a motor's kv, a pack's cells in series and volts, a ratio and a wheel's diameter. The answer says what each further key brings.

Exit code: 0 written, 2 wrong usage, 4 a file could not be written.`,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "least", Category: ask.ThemeAnswer, Usage: "the smallest catalog that answers, and no brief"},
			ask.QuietFlag(),
		},
		Action: p.catalogNew,
	}
}

// catalogNew writes the files to begin with and says what to do with them.
func (p *program) catalogNew(c *cli.Context) error {
	if n := c.Args().Len(); n > 1 {
		return outcome.Usage("as in gearsearch catalog new my-board", "new takes one folder or file, not %d", n)
	}
	parts, brief := catalog.Starter()
	dir := c.Args().First()
	if ask.IsTOML(dir) {
		dir, parts.Name = filepath.Split(dir)
	}
	dir = filepath.Clean(dir)
	files := []catalog.Source{parts, brief}
	if c.Bool("least") {
		least := catalog.Least()
		least.Name = parts.Name
		files = []catalog.Source{least}
	}
	for i := range files {
		files[i].Name = filepath.Join(dir, files[i].Name)
	}
	if len(files) > 1 && files[0].Name == files[1].Name {
		return outcome.Usage("", "%s is the name of the brief: give the catalog another", say.Shown(files[0].Name))
	}
	if err := begin.Write(p.Desk, dir, files); err != nil {
		return err
	}
	if c.Bool("quiet") {
		return nil
	}
	a := &ask.Answer{Format: ask.FormatTable, Stdout: p.Stdout}
	if c.Bool("least") {
		text, err := begin.Least(files[0])
		if err != nil {
			return err
		}
		return a.Text(text)
	}
	return a.Text(begin.Text(files[0].Name, files[1].Name))
}
