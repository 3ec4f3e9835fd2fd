package main

import (
	"io"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/outcome"
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
		Flags: append(append(ask.QuestionFlags(),
			ask.WhyFlag(),
			ask.ToleranceFlag(),
			ask.DrawsFlag(),
		), ask.OutputFlags()...),
		Action: p.sheet,
	}
}

// sheet answers with all about one build.
func (p *program) sheet(c *cli.Context) error {
	name, err := ask.BuildArgument(c)
	if err != nil {
		return err
	}
	draws, err := ask.DrawsOf(c, c.Bool("tolerance"))
	if err != nil {
		return err
	}
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	b, q, err := p.Build(c, name)
	if err != nil {
		return err
	}
	s := &sheetPage{Scored: search.ScoreBuild(b), system: a.System, why: c.Bool("why"), strict: q.Strict, file: name, again: q.Again()}
	if c.Bool("tolerance") {
		varied := search.Robust(c.Context, b, draws, ask.Seed, q.Strict)
		s.varied = &varied
	}
	switch a.Format {
	case ask.FormatJSON:
		err = a.Write(func(w io.Writer) error { return dataout.WriteSheet(w, s.Scored, s.why, s.toleranceMember()...) })
	case ask.FormatJSONL:
		err = a.Write(func(w io.Writer) error {
			_, err := w.Write(append(append(dataout.Build(s.Scored), s.toleranceMember()...).Append(nil), '\n'))
			return err
		})
	case ask.FormatCSV:
		err = p.WriteCSV(a, !s.interrupted(), s.writeCSV)
	default:
		err = a.Page(s.page())
	}
	if err != nil {
		return err
	}
	if s.interrupted() {
		p.Note("interrupted: how parts and rider vary is missing")
		return outcome.ErrInterrupted
	}
	for _, r := range b.Results() {
		if r.Rejects(q.Strict) {
			return outcome.ErrInfeasible
		}
	}
	return nil
}
