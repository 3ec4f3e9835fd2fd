package main

import (
	"context"
	"io"
	"slices"
	"strings"

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
gearsearch sheet build.toml --tolerance
gearsearch sheet mine.toml --catalog my-board/parts.toml --brief my-board/brief.toml -o mine.md`,
		Description: `The build file names the parts by id; rank --save writes one. It is looked at under the same catalog and brief as in rank, whether keep and avoid leave its parts or not.

--tolerance adds tolerance to JSON (share, checks, figures with p5, p50 and p95) and p5, p50, p95 to the rows of CSV.

Exit code: 0 the build passes every check, 1 it fails one (with --strict also: one cannot be decided), 2 wrong usage, 3 wrong catalog, brief or build, 4 a file could not be read or written, 130 interrupted (without what --tolerance adds).`,
		Flags: append(append(questionFlags(),
			whyFlag(),
			toleranceFlag(),
			drawsFlag(),
		), outputFlags()...),
		Action: p.sheet,
	}
}

func whyFlag() cli.Flag {
	return &cli.BoolFlag{Name: "why", Category: themeAnswer, Usage: "show how each number comes about: the formula, the same with the build's numbers put in, its source"}
}

// sheet answers with all about one build.
func (p *program) sheet(c *cli.Context) error {
	name, err := buildArgument(c)
	if err != nil {
		return err
	}
	draws, err := drawsOf(c, c.Bool("tolerance"))
	if err != nil {
		return err
	}
	a, err := p.answer(c)
	if err != nil {
		return err
	}
	b, q, err := p.build(c, name)
	if err != nil {
		return err
	}
	s := &sheetPage{Scored: search.ScoreBuild(b), system: a.system, why: c.Bool("why"), strict: q.strict, file: name, again: q.again()}
	if c.Bool("tolerance") {
		varied := search.Robust(c.Context, b, draws, seed, q.strict)
		s.varied = &varied
	}
	switch a.format {
	case formatJSON:
		err = a.write(func(w io.Writer) error { return dataout.WriteSheet(w, s.Scored, s.why, s.toleranceMember()...) })
	case formatJSONL:
		err = a.write(func(w io.Writer) error {
			_, err := w.Write(append(append(dataout.Build(s.Scored), s.toleranceMember()...).Append(nil), '\n'))
			return err
		})
	case formatCSV:
		err = p.writeCSV(a, !s.interrupted(), s.writeCSV)
	default:
		err = a.page(s.page())
	}
	if err != nil {
		return err
	}
	if s.interrupted() {
		p.note("interrupted: how parts and rider vary is missing")
		return errInterrupted
	}
	for _, r := range b.Results() {
		if r.Rejects(q.strict) {
			return errInfeasible
		}
	}
	return nil
}

// buildArgument is the build file that a command is given.
func buildArgument(c *cli.Context) (string, error) {
	if n := c.Args().Len(); n != 1 {
		return "", usage("gearsearch rank --save 1=build.toml writes one", "%s takes one build file, not %d", c.Command.Name, n)
	}
	return c.Args().First(), nil
}

// buildFile reads a build file.
func (d *desk) buildFile(ctx context.Context, name string) (*constraints.BuildFile, error) {
	src, err := d.source(ctx, name)
	if err != nil {
		return nil, err
	}
	return constraints.ReadBuild(src)
}

// build reads a build file and makes its build under the question that the
// flags ask.
func (d *desk) build(c *cli.Context, name string) (*constraints.Build, *question, error) {
	q, err := d.ask(c)
	if err != nil {
		return nil, nil, err
	}
	file, err := d.buildFile(c.Context, name)
	if err != nil {
		return nil, nil, err
	}
	q.brief = file.With(q.brief)
	problem, err := q.problem()
	if err != nil {
		return nil, nil, err
	}
	b, err := problem.Find(file)
	return b, q, d.elsewhere(c, err)
}

// elsewhere passes on what is wrong with a build, after a word on where its
// parts were looked for if nobody said where.
func (d *desk) elsewhere(c *cli.Context, err error) error {
	problems, _ := err.(field.Problems)
	stranger := slices.ContainsFunc(problems, func(x field.Problem) bool { return strings.HasPrefix(x.Message, "the catalog has no ") })
	if stranger && len(c.StringSlice("catalog")) == 0 {
		d.note("the parts are looked for in the demo catalog, as no --catalog is given")
	}
	return err
}
