package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/answer/drawing"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// defaultAxes are the figures of the front unless others are asked for.
const defaultAxes = "price,range_km"

func (p *program) plotCommand() *cli.Command {
	description := "The kinds:\n\n"
	for _, k := range drawing.Kinds() {
		description += k.Name + ": " + k.Meaning + "\n\n"
	}
	return &cli.Command{
		Name:      "plot",
		ArgsUsage: "BUILD.toml KIND",
		Usage:     "draw a build: " + strings.Join(drawing.KindNames(), ", "),
		UsageText: `gearsearch plot build.toml thrust -o thrust.svg
gearsearch plot build.toml teeth -o teeth.png
gearsearch plot mine.toml sensitivity --catalog my-board/parts.toml --brief my-board/brief.toml -o sensitivity.png
gearsearch plot build.toml front --axes price,climb_margin_pct -o front.svg`,
		Description: description + `An SVG takes the colour of the text around it and follows a light or dark page; a PNG is dark on transparent.

Exit code: 0 drawn, whether the build passes its checks or not, 1 no feasible build for the front, 2 wrong usage, 3 wrong catalog, brief or build, or one that says too little for the drawing, 4 a file could not be read or written, 130 interrupted.`,
		Flags: append(ask.QuestionFlags(),
			&cli.StringFlag{Name: "axes", Category: ask.ThemeAnswer, Usage: "`FIGURE,FIGURE` of the front, across and up: names as in data out", DefaultText: defaultAxes},
			&cli.StringFlag{Name: "format", Category: ask.ThemeOutput, Usage: "`FORMAT` svg or png", DefaultText: "by the ending of -o, else svg"},
			&cli.StringFlag{Name: "o", Category: ask.ThemeOutput, Usage: "`FILE` file to write, whole or not at all; - is standard output", DefaultText: "-"},
			&cli.StringFlag{Name: "units", Category: ask.ThemeOutput, Usage: "`SYSTEM` units on the axes: metric or imperial", DefaultText: "metric"},
			ask.QuietFlag(),
		),
		Action: p.plot,
	}
}

// plot answers with a drawing.
func (p *program) plot(c *cli.Context) error {
	kind, err := plotArguments(c)
	if err != nil {
		return err
	}
	across, up, err := plotAxes(c, kind)
	if err != nil {
		return err
	}
	a, err := p.Drawing(c, map[string]ask.Format{".svg": ask.FormatSVG, ".png": ask.FormatPNG}, ask.FormatSVG)
	if err != nil {
		return err
	}
	b, q, err := p.Build(c, c.Args().First())
	if err != nil {
		return err
	}
	if c.IsSet("weight") {
		p.Note("--weight changes nothing here: a drawing has no scores")
	}
	x := &drawing.Answer{Question: q, Build: b, File: c.Args().First(), Kind: kind, Across: across, Up: up}
	return x.Give(c.Context, p.Desk, a)
}

// plotArguments reads the arguments: a build file and a kind of drawing.
func plotArguments(c *cli.Context) (plot.Kind, error) {
	names := strings.Join(drawing.KindNames(), ", ")
	if c.Args().Len() != 2 {
		return plot.Kind{}, outcome.Usage("as in gearsearch plot build.toml thrust -o thrust.svg; the kinds are "+names,
			"plot takes a build file and a kind of drawing, not %s", say.Counted(uint64(c.Args().Len()), "argument", "arguments"))
	}
	word := c.Args().Get(1)
	for _, k := range drawing.Kinds() {
		if k.Name == word {
			return k, nil
		}
	}
	hint := "the kinds are " + names
	if near, ok := field.Nearest(word, slices.Values(drawing.KindNames())); ok {
		hint = "did you mean " + near + "?"
	}
	return plot.Kind{}, outcome.Usage(hint, "%s is no kind of drawing", say.Shown(word))
}

// plotAxes reads the figures of the front.
func plotAxes(c *cli.Context, kind plot.Kind) (x, y constraints.Figure, err error) {
	if kind.Name != "front" {
		if c.IsSet("axes") {
			return x, y, outcome.Usage("leave it out, or draw the front", "--axes goes with the front, not with %s", kind.Name)
		}
		return x, y, nil
	}
	text := defaultAxes
	if c.IsSet("axes") {
		text = c.String("axes")
	}
	names := strings.Split(text, ",")
	if len(names) != 2 || names[0] == names[1] {
		return x, y, outcome.Usage("write --axes "+defaultAxes, "--axes %s does not name two figures", say.Shown(text))
	}
	for i, to := range []*constraints.Figure{&x, &y} {
		f, ok := constraints.FigureNamed(names[i])
		if !ok || f.Better == constraints.Neither {
			return x, y, outcome.Usage(ask.FigureHint(names[i]), "--axes %s: %s is no figure of which more or less is better", say.Shown(text), field.Quote(names[i]))
		}
		*to = f
	}
	return x, y, nil
}
