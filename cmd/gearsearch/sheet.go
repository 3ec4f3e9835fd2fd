package main

import (
	"io"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/constraints"
	"gearsearch/search"
)

func (p *program) sheetCommand() *cli.Command {
	return &cli.Command{
		Name:      "sheet",
		ArgsUsage: "BUILD.toml",
		Usage:     "show all about one build: figures, checks, margins, cautions",
		UsageText: `gearsearch sheet build.toml
gearsearch sheet build.toml --why
gearsearch sheet build.toml --catalog parts.toml --brief commute.toml -o build.md`,
		Description: `The build file names the parts by id; rank --save writes one. It is looked at under the same catalog and brief as in rank, whether keep and avoid leave its parts or not.

Exit code: 0 the build passes every check, 1 it fails one (with --strict also: one cannot be decided), 2 wrong usage, 3 wrong catalog, brief or build, 4 a file could not be read or written.`,
		Flags: append(append(questionFlags(),
			&cli.BoolFlag{Name: "why", Category: themeAnswer, Usage: "show the formula of each figure, the same with the build's numbers put in, and its source"},
		), outputFlags()...),
		Action: p.sheet,
	}
}

// sheet answers with all about one build.
func (p *program) sheet(c *cli.Context) error {
	if c.Args().Len() != 1 {
		return usage("gearsearch rank --save 1=build.toml writes one", "sheet takes one build file, not %d", c.Args().Len())
	}
	a, err := p.answer(c)
	if err != nil {
		return err
	}
	b, q, err := p.build(c, c.Args().First())
	if err != nil {
		return err
	}
	s := search.ScoreBuild(b)
	switch a.format {
	case formatJSON:
		err = a.write(func(w io.Writer) error { return dataout.WriteSheet(w, s, c.Bool("why")) })
	case formatJSONL:
		err = a.write(dataoutLine(s))
	case formatCSV:
		err = a.write(func(w io.Writer) error { return writeSheetCSV(w, s, c.Bool("why")) })
	default:
		page := &sheetPage{Scored: s, system: a.system, why: c.Bool("why"), strict: q.strict}
		err = a.page(page.page())
	}
	if err != nil {
		return err
	}
	for _, r := range b.Results() {
		if r.Rejects(q.strict) {
			return errInfeasible
		}
	}
	return nil
}

func dataoutLine(s search.Scored) func(w io.Writer) error {
	return func(w io.Writer) error { return dataout.NewLines(w).Build(s) }
}

// build reads a build file and makes its build under the question that the
// flags ask.
func (p *program) build(c *cli.Context, name string) (*constraints.Build, *question, error) {
	q, err := p.ask(c)
	if err != nil {
		return nil, nil, err
	}
	src, err := p.source(name)
	if err != nil {
		return nil, nil, err
	}
	file, err := constraints.ReadBuild(src)
	if err != nil {
		return nil, nil, err
	}
	q.brief = file.With(q.brief)
	problem, err := q.problem()
	if err != nil {
		return nil, nil, err
	}
	b, err := problem.Find(file)
	if problems, ok := err.(field.Problems); ok && len(c.StringSlice("catalog")) == 0 {
		p.note("the parts are looked for in the demo catalog, as no --catalog is given")
		return nil, nil, problems
	}
	return b, q, err
}
