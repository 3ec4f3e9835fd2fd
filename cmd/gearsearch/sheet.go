package main

import (
	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/sheet"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/search"
)

func (p *program) sheetCommand() *cli.Command {
	return &cli.Command{
		Name:      "sheet",
		ArgsUsage: "BUILD.toml",
		Usage:     "show all about one build: figures, checks, margins, cautions",
		UsageText: `gearsearch sheet build.toml
gearsearch sheet build.toml --full
gearsearch sheet build.toml --why
gearsearch sheet build.toml --tolerance
gearsearch sheet mine.toml --catalog my-board/parts.toml --brief my-board/brief.toml -o mine.md`,
		Description: `The build file names the parts by id; rank --save writes one. It is looked at under the same catalog and brief as in rank, whether keep and avoid leave its parts or not.

The answer is a page that fits a terminal of 80 columns and 24 lines: what decides first. --full shows every figure, check, assumption and caution; --why has them with their reasons.

With --full the sheet says what to set the controllers to, each with the part, the key of the brief or the assumption that sets it; settings in JSON.

--tolerance adds tolerance to JSON (share, checks, figures with p5, p50 and p95) and p5, p50, p95 to the rows of CSV.

Exit code: 0 the build passes every check, 1 it fails one (with --strict also: one cannot be decided), 2 wrong usage, 3 wrong catalog, brief or build, 4 a file could not be read or written, 130 interrupted (without what --tolerance adds).`,
		Flags: append(append(ask.QuestionFlags(),
			ask.FullFlag(),
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
	s := &sheet.Answer{Scored: search.ScoreBuild(b), System: a.System, Why: c.Bool("why"), Whole: a.Whole() || c.Bool("why"), Strict: q.Strict, File: name, Again: q.AgainOf(), Anew: q.Again()}
	if c.Bool("tolerance") {
		varied := search.Robust(c.Context, b, draws, ask.Seed, q.Strict)
		s.Varied = &varied
	}
	return s.Give(p.Desk, a)
}
