package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/layout"
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
			&cli.BoolFlag{Name: "reference", Category: themeAnswer, Usage: "the reference page in place of the schema"},
			fileFlag(),
		},
		Action: p.catalogSchema,
	}
}

// catalogSchema answers with the schema or the reference page.
func (p *program) catalogSchema(c *cli.Context) error {
	if err := p.noArguments(c); err != nil {
		return err
	}
	text := catalog.Schema()
	if c.Bool("reference") {
		text = []byte(catalog.Reference())
	}
	return p.writeText(c, text)
}

// writeText writes a text that has one form only, where -o says.
func (d *desk) writeText(c *cli.Context, text []byte) error {
	a, err := d.answerTo(c, formatTable)
	if err != nil {
		return err
	}
	return a.write(func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
}

func (p *program) catalogConvertCommand() *cli.Command {
	return &cli.Command{
		Name:      "convert",
		ArgsUsage: "IN… OUT",
		Usage:     "turn a catalog into a folder of CSV files for a spreadsheet, and back into TOML",
		UsageText: `gearsearch catalog convert my-board/parts.toml parts-csv
gearsearch catalog convert my-board/parts.toml wheel.csv more-csv
gearsearch catalog convert parts-csv parts.toml`,
		Description: `A name that ends in .toml is written as one TOML file, any other as a folder of CSV files, one for each kind. What is there is never overwritten. The parts read back the same, each number to its last digit; comments are not kept, and families are written out part by part.

Exit code: 0 written, 2 wrong usage, 3 wrong catalog, 4 a file could not be read or written.`,
		Flags:  []cli.Flag{quietFlag()},
		Action: p.catalogConvert,
	}
}

// catalogConvert writes a catalog in the other form.
func (p *program) catalogConvert(c *cli.Context) error {
	args := c.Args().Slice()
	if len(args) < 2 {
		return usage("as in gearsearch catalog convert parts.toml parts-csv", "convert takes what to read and, last, what to write")
	}
	in, out := args[:len(args)-1], args[len(args)-1]
	to, err := p.files.vacant(out)
	if err != nil {
		return err
	}
	read, err := p.catalog(c.Context, in)
	if err != nil {
		return err
	}
	var files []string
	if isTOML(out) {
		var b bytes.Buffer
		if err := read.WriteTOML(&b); err != nil {
			return err
		}
		err = to.writeData(b.Bytes())
	} else {
		files, err = to.writeFolder(read.CSVFiles())
	}
	if err != nil || c.Bool("quiet") {
		return err
	}
	answer := &answer{format: formatTable, stdout: p.stdout}
	return answer.page(convertPage(read, out, files))
}

// isTOML reports whether a name stands for a TOML file.
func isTOML(name string) bool { return strings.EqualFold(filepath.Ext(name), ".toml") }

// errThere is why nothing is written over what is there.
var errThere = errors.New("it exists, and nothing is overwritten: name another, or take it away first")

// convertPage says what was written and what to do with it.
func convertPage(c *catalog.Catalog, out string, files []string) *layout.Page {
	p := &layout.Page{}
	n := 0
	for _, k := range c.Count() {
		n += k.N
	}
	text := fmt.Sprintf("Wrote %s with %s", shown(out), counted(uint64(n), "part", "parts"))
	if len(files) > 0 {
		text += " in " + counted(uint64(len(files)), "file", "files")
	}
	p.Heading(text)
	p.Text("Comments are not kept, and families are written out part by part.")
	if len(files) > 0 {
		p.Text("A spreadsheet may save with decimal commas, semicolons or tabs: all are read.")
	}
	p.Heading("Next")
	p.Verbatim("gearsearch catalog check "+typed(out), rankWords([]string{out}, c.Files))
	return p
}

// rankWords is how to rank the builds of a catalog: for the brief beside one of
// its files or of those that it was made from, else for an example.
func rankWords(paths, from []string) string {
	_, starter := catalog.Starter() // catalog new writes a brief of its name
	words := "gearsearch rank"
	for _, path := range paths {
		words += " --catalog " + typed(path)
	}
	for _, path := range slices.Concat(paths, from) {
		brief := filepath.Join(filepath.Dir(path), starter.Name)
		if info, err := os.Stat(brief); err == nil && info.Mode().IsRegular() {
			return words + " --brief " + typed(brief) + " --save 1=build.toml"
		}
	}
	return words + " --top-speed 35km/h --climb-grade 12% --save 1=build.toml"
}
