package main

import (
	"bytes"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/answer/convert"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

func (p *program) catalogSchemaCommand() *cli.Command {
	return &cli.Command{
		Name:  "schema",
		Usage: "print the JSON Schema of catalog files, or the reference page of all kinds and keys",
		UsageText: `gearsearch catalog schema -o catalog.schema.json
gearsearch catalog schema --reference
gearsearch catalog schema --reference -o reference.md`,
		Description: `The schema (draft 2020-12) is for editors that complete and check TOML or JSON by one. The reference is Markdown.

Exit code: 0 answered, 2 wrong usage, 4 a file could not be written.`,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "reference", Category: ask.ThemeAnswer, Usage: "the reference page in place of the schema"},
			ask.FileFlag(),
		},
		Action: p.catalogSchema,
	}
}

// catalogSchema answers with the schema or the reference page.
func (p *program) catalogSchema(c *cli.Context) error {
	if err := p.NoArguments(c); err != nil {
		return err
	}
	text := catalog.Schema()
	if c.Bool("reference") {
		text = []byte(catalog.Reference())
	}
	return p.WriteText(c, text)
}

func (p *program) catalogConvertCommand() *cli.Command {
	return &cli.Command{
		Name:      "convert",
		ArgsUsage: "IN… OUT",
		Usage:     "turn a catalog into CSV for a spreadsheet, one file or a folder, and back into TOML",
		UsageText: `gearsearch catalog convert my-board/parts.toml parts-csv
gearsearch catalog convert my-board/parts.toml wheel.csv more-csv
gearsearch catalog convert my-board/parts.toml garage.csv
gearsearch catalog convert parts-csv again.toml`,
		Description: `A name that ends in .toml is written as one TOML file, one that ends in .csv or .tsv as one sheet of all kinds, any other as a folder of CSV files, one for each kind. What is there is never overwritten. The parts read back the same, each number to its last digit; comments are not kept, and lists become single parts; ranges stay ranges.

Exit code: 0 written, 2 wrong usage, 3 wrong catalog, 4 a file could not be read or written.`,
		Flags:  []cli.Flag{ask.QuietFlag()},
		Action: p.catalogConvert,
	}
}

// catalogConvert writes a catalog in the other form.
func (p *program) catalogConvert(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) < 2 {
		return outcome.Usage("as in gearsearch catalog convert parts.toml parts-csv", "convert takes what to read and, last, what to write")
	}
	in, out := args[:len(args)-1], args[len(args)-1]
	to, err := p.Files.Vacant(out)
	if err != nil {
		return err
	}
	read, err := p.Catalog(c.Context, in)
	if err != nil {
		return err
	}
	var files []string
	var b bytes.Buffer
	switch strings.ToLower(filepath.Ext(out)) {
	case ".toml":
		err = read.WriteTOML(&b)
	case ".csv":
		err = read.WriteSheet(&b, ',')
	case ".tsv":
		err = read.WriteSheet(&b, '\t')
	default:
		files, err = to.WriteFolder(read.CSVFiles())
	}
	if err == nil && files == nil {
		err = to.WriteData(b.Bytes())
	}
	if err != nil || c.Bool("quiet") {
		return err
	}
	answer := &ask.Answer{Format: ask.FormatTable, Stdout: p.Stdout}
	return answer.Text(convert.Text(read, out, files))
}
