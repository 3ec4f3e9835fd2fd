package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/answer/intake"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

func (p *program) catalogImportCommand() *cli.Command {
	return &cli.Command{
		Name:      "import",
		ArgsUsage: "FILE…",
		Usage:     "take a spreadsheet with headings of its own for a catalog, once and for good",
		UsageText: `gearsearch catalog import garage.csv
gearsearch catalog import garage.csv --map 'Colour=-' --remember
gearsearch catalog import garage.xlsx --map 'Weight=mass_g in kg' -o parts.csv
gearsearch catalog import motors.csv --kind motor --remember`,
		Description: `FILE is CSV, with commas, semicolons or tabs, or a workbook (.xlsx), which is read only. A column kind says of each row what it is (` + strings.Join(catalog.KindNames(), ", ") + `); without one every row is of the kind that the file is named after, or --kind names. Other columns are keys, or have what people call them: "KV (rpm/V)", "R [mΩ]", "Weight, kg". Numbers may have decimal commas, separators of thousands, and units.

The answer says what each heading is taken for. One that may be meant for two keys or for none is an error, and nothing is guessed: --map says it. With --remember a row above the headings remembers all of it, and from then on the file is a catalog like any other: --catalog garage.csv. All else in the file stays as it is, but a file in UTF-16 or Latin-1 becomes UTF-8. With -o the parts go to another file, .csv, .tsv or .toml.

Mistakes in rows are all reported, by file, row and column, and then nothing is written.

Exit code: 0 answered, 2 wrong usage, 3 a heading or a row is wrong, 4 a file could not be read or written.`,
		Flags: []cli.Flag{
			&cli.StringSliceFlag{Name: "map", Category: ask.ThemeInput, Usage: "`HEADING=KEY` what a heading is taken for; KEY in UNIT for bare numbers in another unit, - to leave the column out; may be repeated", DefaultText: "by its words"},
			&cli.StringFlag{Name: "kind", Category: ask.ThemeInput, Usage: "`KIND` the kind of every row", DefaultText: "the column kind, else the file's name, else by the headings"},
			&cli.BoolFlag{Name: "remember", Category: ask.ThemeOutput, Usage: "keep it in the file, in a row above the headings"},
			&cli.StringFlag{Name: "o", Category: ask.ThemeOutput, Usage: "`FILE` write the parts there, .csv, .tsv or .toml, whole or not at all", DefaultText: "they are not written"},
			ask.QuietFlag(),
		},
		Action: p.catalogImport,
	}
}

// catalogImport matches the headings of sheets to keys.
func (p *program) catalogImport(c *cli.Context) error {
	p.Quiet = c.Bool("quiet")
	a := &intake.Answer{Paths: c.Args().Slice(), Told: c.StringSlice("map"), Kind: c.String("kind"), Write: c.Bool("remember")}
	if len(a.Paths) == 0 {
		return outcome.Usage("as in gearsearch catalog import garage.csv", "import takes a file with rows of a spreadsheet")
	}
	if a.Kind != "" {
		if _, ok := catalog.KindNamed(a.Kind); !ok {
			return outcome.Usage("the kinds are "+strings.Join(catalog.KindNames(), ", "), "--kind %s is no kind of parts", a.Kind)
		}
	}
	if c.IsSet("o") {
		if a.Write {
			return outcome.Usage("leave one out", "--remember writes into the file itself, and -o writes another")
		}
		name := c.String("o")
		ending := strings.ToLower(name[strings.LastIndexByte(name, '.')+1:])
		if ending != "csv" && ending != "tsv" && ending != "toml" {
			return outcome.Usage("end the name in .csv, .tsv or .toml", "-o %s: the ending tells no form", name)
		}
		to, err := p.Files.Target("-o "+name, name)
		if err != nil {
			return err
		}
		a.Out = to
	}
	return a.Give(c.Context, p.Desk, &ask.Answer{Format: ask.FormatTable, Stdout: p.Stdout}, p.Quiet)
}
