package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/reference"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

func (p *program) referenceCommand() *cli.Command {
	var pages []string
	for _, page := range reference.Pages() {
		pages = append(pages, page.Name+": "+page.Meaning)
	}
	return &cli.Command{
		Name:      "reference",
		ArgsUsage: strings.Join(reference.Names(), "|"),
		Usage:     "print a reference page in Markdown",
		UsageText: `gearsearch reference brief
gearsearch reference figures -o figures.md`,
		Description: "The pages:\n\n" + strings.Join(pages, "\n\n") + `

Exit code: 0 answered, 2 wrong usage, 4 a file could not be written.`,
		Flags:  []cli.Flag{ask.FileFlag()},
		Action: p.reference,
	}
}

// reference answers with a reference page.
func (p *program) reference(c *cli.Context) error {
	hint := "name one of " + strings.Join(reference.Names(), ", ")
	if c.Args().Len() != 1 {
		return outcome.Usage(hint, "reference takes the name of one page, not %d", c.Args().Len())
	}
	page, ok := reference.Named(c.Args().First())
	if !ok {
		return outcome.Usage(hint, "there is no reference page %s", say.Shown(c.Args().First()))
	}
	return p.WriteText(c, []byte(page.Text()))
}
