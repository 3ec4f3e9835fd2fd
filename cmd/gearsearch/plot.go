package main

import (
	"context"
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// plotKind is one kind of drawing.
type plotKind struct {
	name, meaning string
	draw          func(s plot.Subject, q *ask.Question) (*plot.Figure, error) // nil: plotFront draws it
}

func plotKinds() []plotKind {
	alone := func(draw func(plot.Subject) (*plot.Figure, error)) func(plot.Subject, *ask.Question) (*plot.Figure, error) {
		return func(s plot.Subject, _ *ask.Question) (*plot.Figure, error) { return draw(s) }
	}
	return []plotKind{
		{"thrust", "thrust against speed at full, nominal and low charge, the load of the flat and of the target grade, and what holds the thrust where", alone(plot.Thrust)},
		{"climb", "the steepest grade against speed", alone(plot.Climb)},
		{"launch", "speed against time from standstill", alone(plot.Launch)},
		{"cruise", "energy per distance and range against cruise speed", alone(plot.Cruise)},
		{"sensitivity", "what 5 % less or more of each input does to the top speed and to the margin on the climb", alone(plot.Sensitivity)},
		{"teeth", "the reduction by the teeth of both pulleys, and which of them are feasible", func(s plot.Subject, q *ask.Question) (*plot.Figure, error) { return plot.Teeth(s, q.Strict) }},
		{"front", "all feasible builds in the plane of two figures, those that no other beats in both, and this build among them", nil},
	}
}

func plotKindNames() []string {
	var names []string
	for _, k := range plotKinds() {
		names = append(names, k.name)
	}
	return names
}

// defaultAxes are the figures of the front unless others are asked for.
const defaultAxes = "price,range_km"

func (p *program) plotCommand() *cli.Command {
	description := "The kinds:\n\n"
	for _, k := range plotKinds() {
		description += k.name + ": " + k.meaning + "\n\n"
	}
	return &cli.Command{
		Name:      "plot",
		ArgsUsage: "BUILD.toml KIND",
		Usage:     "draw a build: " + strings.Join(plotKindNames(), ", "),
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
	x, y, err := plotAxes(c, kind)
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
	s := plot.Subject{Build: b, System: a.System}
	var f *plot.Figure
	if kind.draw != nil {
		f, err = kind.draw(s, q)
	} else {
		f, err = p.plotFront(c.Context, s, q, x, y)
	}
	var tooMany *search.TooManyError
	switch {
	case errors.Is(err, outcome.ErrInfeasible), errors.Is(err, outcome.ErrInterrupted), errors.As(err, &tooMany):
		return err
	case err != nil:
		return field.Problems{{Message: kind.name + " cannot be drawn: " + err.Error(), Hint: "gearsearch sheet " + say.Shown(c.Args().First()) + " shows what is known of the build"}}
	}
	return a.Write(func(w io.Writer) error {
		if a.Format == ask.FormatPNG {
			return f.WritePNG(w)
		}
		return f.WriteSVG(w)
	})
}

// plotArguments reads the arguments: a build file and a kind of drawing.
func plotArguments(c *cli.Context) (plotKind, error) {
	names := strings.Join(plotKindNames(), ", ")
	if c.Args().Len() != 2 {
		return plotKind{}, outcome.Usage("as in gearsearch plot build.toml thrust -o thrust.svg; the kinds are "+names,
			"plot takes a build file and a kind of drawing, not %s", say.Counted(uint64(c.Args().Len()), "argument", "arguments"))
	}
	word := c.Args().Get(1)
	for _, k := range plotKinds() {
		if k.name == word {
			return k, nil
		}
	}
	hint := "the kinds are " + names
	if near, ok := field.Nearest(word, slices.Values(plotKindNames())); ok {
		hint = "did you mean " + near + "?"
	}
	return plotKind{}, outcome.Usage(hint, "%s is no kind of drawing", say.Shown(word))
}

// plotAxes reads the figures of the front.
func plotAxes(c *cli.Context, kind plotKind) (x, y constraints.Figure, err error) {
	if kind.name != "front" {
		if c.IsSet("axes") {
			return x, y, outcome.Usage("leave it out, or draw the front", "--axes goes with the front, not with %s", kind.name)
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

// plotFront draws every feasible build as a point, and the build among them.
func (p *program) plotFront(ctx context.Context, s plot.Subject, q *ask.Question, x, y constraints.Figure) (*plot.Figure, error) {
	problem, err := q.Space()
	if err != nil {
		return nil, err
	}
	bar := p.Bar()
	defer bar.Stop()
	cloud := plot.NewCloud(x, y)
	r, err := search.Each(ctx, problem, search.Options{Strict: q.Strict, Progress: bar.Progress()}, plot.MostPoints, cloud.Add)
	bar.Stop()
	switch {
	case err != nil:
		return nil, err
	case !r.Complete:
		p.Note("interrupted: a drawing cannot say that it is incomplete, and is not written")
		return nil, outcome.ErrInterrupted
	case r.Feasible == 0:
		p.Note("nothing is feasible: there is no build to draw")
		return nil, outcome.ErrInfeasible
	}
	return cloud.Plane(s.Name(), problem.Catalog.Currency, s.System, plot.Named{Label: "this build", Build: s.Build})
}
