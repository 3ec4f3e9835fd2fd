package main

import (
	"os"
	"strings"

	"github.com/urfave/cli/v2"
	"golang.org/x/term"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/answer/add"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

func (p *program) catalogAddCommand() *cli.Command {
	c := &cli.Command{
		Name:      "add",
		ArgsUsage: "KIND",
		Usage:     "add a part to a catalog file, asked for key by key or given by flags",
		UsageText: `gearsearch catalog add motor --catalog my-board/parts.toml --kv 130 --shaft 8mm --price 120
gearsearch catalog add wheel --catalog my-board/parts.toml --id big --diameter 4in --hub spoked`,
		Description: `KIND is ` + strings.Join(catalog.KindNames(), ", ") + `.

At a terminal and without flags it asks for each key: Enter alone leaves out what is not known, ? explains a key, ctrl-C or ctrl-D ends and leaves the file as it is. An answer is checked at once, with the whole catalog; a number may stand with another unit than the one shown.

In a script each key is a flag, named as the key is without its unit, and a number of such a key carries its unit: shaft_mm is --shaft 8mm or --shaft 0.315in, resistance_mohm --resistance 60mohm. gearsearch catalog add KIND --help lists the flags of a kind. Nothing is asked then; without --id the part is called by its kind and a number.

The part is written at the end of the file, or behind the others of its kind where these stand in one list, once the whole catalog is read with it, and else nothing is. All else in the file stays as it is. The file is parts.toml of this folder, or the one that --catalog names, the last of several; to a folder of CSV files a row is added by hand.

Exit code: 0 written, 2 wrong usage, 3 wrong catalog, or a part that does not go with it, 4 a file could not be read or written, 130 ended before it was written.`,
		Flags: addFlags(),
		Action: func(c *cli.Context) error {
			return outcome.Usage("as in gearsearch catalog add motor; the kinds are "+strings.Join(catalog.KindNames(), ", "), "add takes a kind of parts")
		},
	}
	for _, k := range catalog.Kinds() {
		c.Subcommands = append(c.Subcommands, p.addKindCommand(k))
	}
	return c
}

// addFlags are the flags of catalog add for every kind.
func addFlags() []cli.Flag { return []cli.Flag{ask.CatalogFlag(), ask.QuietFlag()} }

// addKindCommand is catalog add for one kind. It is hidden, since catalog add
// tells of it.
func (p *program) addKindCommand(k catalog.KindInfo) *cli.Command {
	return &cli.Command{
		Name:        k.Name,
		Hidden:      true,
		Usage:       "add " + k.Meaning + " to a catalog file",
		UsageText:   "gearsearch catalog add " + k.Name + "\n" + addExample(k),
		Description: "Without the flags of keys a terminal is asked for them. gearsearch catalog add --help tells the rest.",
		Flags:       append(ask.KeyFlags(k), addFlags()...),
		Action:      func(c *cli.Context) error { return p.catalogAdd(c, k) },
	}
}

// addExample is a command line that adds a part of a kind, with the keys that it
// needs and the first of the others.
func addExample(k catalog.KindInfo) string {
	values := map[string]string{}
	for _, e := range catalog.Example(k.Name) {
		values[e.Key] = e.TOML
	}
	line, more := "gearsearch catalog add "+k.Name, 1
	for _, in := range catalog.EntryKeys(k) {
		value, known := values[in.Key]
		optional := !in.Required && in.Type == field.TypeNumber && in.Unit != "" && more > 0
		if !known || in.Key == "id" || !in.Required && !optional {
			continue
		}
		if optional {
			more--
		}
		line += " " + ask.KeyWords(k, &in, value)
	}
	return line
}

// catalogAdd writes a part into a catalog file.
func (p *program) catalogAdd(c *cli.Context, k catalog.KindInfo) error {
	if err := p.NoArguments(c); err != nil {
		return err
	}
	p.Quiet = c.Bool("quiet")
	given := ask.KeysGiven(c, k)
	file, asked := p.Stdin.(*os.File)
	if asked = asked && len(given) == 0 && term.IsTerminal(int(file.Fd())); !asked && len(given) == 0 {
		return outcome.Usage("as in "+addExample(k), "there is no terminal to ask at, and no flag gives a key")
	}
	paths, err := p.FilesToGrow(c.StringSlice("catalog"), k.Name)
	if err != nil {
		return err
	}
	x := &add.Answer{Kind: k, Paths: paths}
	if err := x.Open(c.Context, p.Desk); err != nil {
		return err
	}
	a := &ask.Answer{Format: ask.FormatTable, Stdout: p.Stdout}
	if asked {
		return x.Ask(c.Context, p.Stdin, p.Stderr, a, p.Quiet)
	}
	if err := x.Set(given); err != nil {
		return err
	}
	return x.Give(c.Context, a, p.Quiet)
}
