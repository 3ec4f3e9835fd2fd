package main

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
	"golang.org/x/term"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// The formats of drawings.
const (
	formatSVG format = "svg"
	formatPNG format = "png"
)

// plotKind is one kind of drawing.
type plotKind struct {
	name, meaning string
	draw          func(s plot.Subject, q *question) (*plot.Figure, error) // nil: plotFront draws it
}

func plotKinds() []plotKind {
	alone := func(draw func(plot.Subject) (*plot.Figure, error)) func(plot.Subject, *question) (*plot.Figure, error) {
		return func(s plot.Subject, _ *question) (*plot.Figure, error) { return draw(s) }
	}
	return []plotKind{
		{"thrust", "thrust against speed at full, nominal and low charge, the load of the flat and of the target grade, and what holds the thrust where", alone(plot.Thrust)},
		{"climb", "the steepest grade against speed", alone(plot.Climb)},
		{"launch", "speed against time from standstill", alone(plot.Launch)},
		{"cruise", "energy per distance and range against cruise speed", alone(plot.Cruise)},
		{"sensitivity", "what 5 % less or more of each input does to the top speed and to the margin on the climb", alone(plot.Sensitivity)},
		{"teeth", "the reduction by the teeth of both pulleys, and which of them are feasible", func(s plot.Subject, q *question) (*plot.Figure, error) { return plot.Teeth(s, q.strict) }},
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
		Flags: append(questionFlags(),
			&cli.StringFlag{Name: "axes", Category: themeAnswer, Usage: "`FIGURE,FIGURE` of the front, across and up: names as in data out", DefaultText: defaultAxes},
			&cli.StringFlag{Name: "format", Category: themeOutput, Usage: "`FORMAT` svg or png", DefaultText: "by the ending of -o, else svg"},
			&cli.StringFlag{Name: "o", Category: themeOutput, Usage: "`FILE` file to write, whole or not at all; - is standard output", DefaultText: "-"},
			&cli.StringFlag{Name: "units", Category: themeOutput, Usage: "`SYSTEM` units on the axes: metric or imperial", DefaultText: "metric"},
			quietFlag(),
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
	a, err := p.drawing(c, map[string]format{".svg": formatSVG, ".png": formatPNG}, formatSVG)
	if err != nil {
		return err
	}
	b, q, err := p.build(c, c.Args().First())
	if err != nil {
		return err
	}
	s := plot.Subject{Build: b, System: a.system}
	var f *plot.Figure
	if kind.draw != nil {
		f, err = kind.draw(s, q)
	} else {
		f, err = p.plotFront(c.Context, s, q, x, y)
	}
	var tooMany *search.TooManyError
	switch {
	case errors.Is(err, errInfeasible), errors.Is(err, errInterrupted), errors.As(err, &tooMany):
		return err
	case err != nil:
		return field.Problems{{Message: kind.name + " cannot be drawn: " + err.Error(), Hint: "gearsearch sheet " + shown(c.Args().First()) + " shows what is known of the build"}}
	}
	return a.write(func(w io.Writer) error {
		if a.format == formatPNG {
			return f.WritePNG(w)
		}
		return f.WriteSVG(w)
	})
}

// plotArguments reads the arguments: a build file and a kind of drawing.
func plotArguments(c *cli.Context) (plotKind, error) {
	names := strings.Join(plotKindNames(), ", ")
	if c.Args().Len() != 2 {
		return plotKind{}, usage("as in gearsearch plot build.toml thrust -o thrust.svg; the kinds are "+names,
			"plot takes a build file and a kind of drawing, not %s", counted(uint64(c.Args().Len()), "argument", "arguments"))
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
	return plotKind{}, usage(hint, "%s is no kind of drawing", shown(word))
}

// plotAxes reads the figures of the front.
func plotAxes(c *cli.Context, kind plotKind) (x, y constraints.Figure, err error) {
	if kind.name != "front" {
		if c.IsSet("axes") {
			return x, y, usage("leave it out, or draw the front", "--axes goes with the front, not with %s", kind.name)
		}
		return x, y, nil
	}
	text := defaultAxes
	if c.IsSet("axes") {
		text = c.String("axes")
	}
	names := strings.Split(text, ",")
	if len(names) != 2 || names[0] == names[1] {
		return x, y, usage("write --axes "+defaultAxes, "--axes %s does not name two figures", shown(text))
	}
	for i, to := range []*constraints.Figure{&x, &y} {
		f, ok := constraints.FigureNamed(names[i])
		if !ok || f.Better == constraints.Neither {
			return x, y, usage(figureHint(names[i]), "--axes %s: %s is no figure of which more or less is better", shown(text), field.Quote(names[i]))
		}
		*to = f
	}
	return x, y, nil
}

// figureHint names the figure that is meant, or all that a front can have.
func figureHint(word string) string {
	names := directed()
	if near, ok := field.Nearest(word, slices.Values(names)); ok {
		return "did you mean " + near + "?"
	}
	for _, n := range names {
		if word != "" && strings.HasPrefix(n, word+"_") { // without its unit
			return "did you mean " + n + "?"
		}
	}
	return "these are: " + strings.Join(names, ", ")
}

// plotFront draws every feasible build as a point, and the build among them.
func (p *program) plotFront(ctx context.Context, s plot.Subject, q *question, x, y constraints.Figure) (*plot.Figure, error) {
	problem, err := q.space()
	if err != nil {
		return nil, err
	}
	bar := p.bar()
	defer bar.stop()
	cloud := plot.NewCloud(x, y)
	r, err := search.Each(ctx, problem, search.Options{Strict: q.strict, Progress: bar.progress()}, mostPoints, cloud.Add)
	bar.stop()
	switch {
	case err != nil:
		return nil, err
	case !r.Complete:
		p.note("interrupted: a drawing cannot say that it is incomplete, and is not written")
		return nil, errInterrupted
	case r.Feasible == 0:
		p.note("nothing is feasible: there is no build to draw")
		return nil, errInfeasible
	}
	return cloud.Plane(s.Name(), problem.Catalog.Currency, s.System, plot.Named{Label: "this build", Build: s.Build})
}

// drawing reads the flags of an answer that is a file to look at, in the
// formats that endings of its name stand for.
func (d *desk) drawing(c *cli.Context, endings map[string]format, fallback format) (*answer, error) {
	d.quiet = c.Bool("quiet")
	a, err := d.answerTo(c, fallback)
	if err != nil {
		return nil, err
	}
	var names, ends []string
	for end, f := range endings {
		if !slices.Contains(names, string(f)) {
			names = append(names, string(f))
		}
		ends = append(ends, end)
	}
	slices.Sort(names)
	slices.Sort(ends)
	ending, known := endings[strings.ToLower(filepath.Ext(a.file))]
	switch {
	case c.IsSet("format"):
		a.format = format(c.String("format"))
		if !slices.Contains(names, c.String("format")) {
			return nil, usage("write --format "+strings.Join(names, " or --format "), "%s does not answer in the format %s", c.Command.Name, shown(c.String("format")))
		}
	case known:
		a.format = ending
	case a.file != "":
		return nil, usage("end the name in "+strings.Join(ends, " or ")+", or name the format, as in --format "+names[0],
			"-o %s: the ending tells no format of %s", shown(a.file), c.Command.Name)
	}
	if c.IsSet("units") {
		if a.system, err = quantity.SystemNamed(c.String("units")); err != nil {
			return nil, usage("", "--units: %v", err)
		}
	}
	if file, ok := d.stdout.(*os.File); ok && a.file == "" && a.format != formatSVG && term.IsTerminal(int(file.Fd())) {
		return nil, usage("as in -o "+c.Command.Name+ends[0], "%s writes no %s to a terminal: name a file with -o", c.Command.Name, a.format)
	}
	return a, nil
}
