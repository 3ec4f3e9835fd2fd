package main

import (
	"slices"
	"strconv"
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
		ArgsUsage: "BUILD.toml KIND[,KIND]",
		Usage:     "draw a build: " + strings.Join(drawing.KindNames(), ", "),
		UsageText: `gearsearch plot build.toml thrust -o thrust.svg
gearsearch plot build.toml teeth -o teeth.png
gearsearch plot mine.toml sensitivity --catalog my-board/parts.toml --brief my-board/brief.toml -o sensitivity.png
gearsearch plot build.toml front --axes price,climb_margin_pct -o front.svg
gearsearch plot build.toml route --route demo:forest -o ride.svg
gearsearch plot build.toml thrust,climb --width 390 -o drawings.html`,
		Description: description + `An SVG takes the colour of the text around it and follows a light or dark page; a PNG is dark on transparent. HTML is a fragment of a page with what each drawing shows in words, and takes several kinds; what cannot be drawn is said in its place. Of the route CSV and JSON have what is drawn, leg by leg.

Exit code: 0 drawn, whether the build passes its checks or not, 1 no feasible build for the front, 2 wrong usage, 3 wrong catalog, brief or build, or one that says too little for the drawing, 4 a file could not be read or written, 130 interrupted.`,
		Flags: append(ask.QuestionFlags(),
			&cli.StringFlag{Name: "axes", Category: ask.ThemeAnswer, Usage: "`FIGURE,FIGURE` of the front, across and up: names as in data out", DefaultText: defaultAxes},
			&cli.StringFlag{Name: "format", Category: ask.ThemeOutput, Usage: "`FORMAT` svg, png or html (a fragment of a page); of the route csv or json", DefaultText: "by the ending of -o, else svg"},
			&cli.StringFlag{Name: "width", Category: ask.ThemeOutput, Usage: "`N` most CSS pixels that a drawing is wide, 280 at least; tables keep their width", DefaultText: "as wide as it is drawn"},
			&cli.StringFlag{Name: "o", Category: ask.ThemeOutput, Usage: "`FILE` file to write, whole or not at all; - is standard output", DefaultText: "-"},
			&cli.StringFlag{Name: "units", Category: ask.ThemeOutput, Usage: "`SYSTEM` units on the axes: metric or imperial", DefaultText: "metric"},
			ask.QuietFlag(),
		),
		Action: p.plot,
	}
}

// plot answers with a drawing, or with several.
func (p *program) plot(c *cli.Context) error {
	kinds, err := plotArguments(c)
	if err != nil {
		return err
	}
	across, up, err := plotAxes(c, kinds)
	if err != nil {
		return err
	}
	width, err := plotWidth(c)
	if err != nil {
		return err
	}
	a, err := p.Drawing(c, plotEndings, ask.FormatSVG)
	if err != nil {
		return err
	}
	if err := plotForm(a.Format, kinds); err != nil {
		return err
	}
	b, q, err := p.Build(c, c.Args().First())
	if err != nil {
		return err
	}
	if c.IsSet("weight") {
		p.Note("--weight changes nothing here: a drawing has no scores")
	}
	x := &drawing.Answer{Question: q, Build: b, File: c.Args().First(), Kinds: kinds, Across: across, Up: up, Width: width}
	return x.Give(c.Context, p.Desk, a)
}

// plotEndings are the formats of drawings by the endings of files.
var plotEndings = map[string]ask.Format{
	".svg": ask.FormatSVG, ".png": ask.FormatPNG, ".html": ask.FormatHTML, ".csv": ask.FormatCSV, ".json": ask.FormatJSON,
}

// plotForm is what is wrong with kinds of drawings in a format.
func plotForm(format ask.Format, kinds []plot.Kind) error {
	data := format == ask.FormatCSV || format == ask.FormatJSON
	if i := slices.IndexFunc(kinds, func(k plot.Kind) bool { return k.Name != drawing.RouteKind }); data && i >= 0 {
		return outcome.Usage("write --format svg, --format png or --format html", "%s holds the legs of a route, not %s", format, kinds[i].Name)
	}
	if len(kinds) > 1 && format != ask.FormatHTML {
		return outcome.Usage("write --format html, or draw one by one", "%s holds one drawing, not %s", format, say.Counted(uint64(len(kinds)), "drawing", "drawings"))
	}
	return nil
}

// plotArguments reads the arguments: a build file and kinds of drawings.
func plotArguments(c *cli.Context) ([]plot.Kind, error) {
	names := strings.Join(drawing.KindNames(), ", ")
	if c.Args().Len() != 2 {
		return nil, outcome.Usage("as in gearsearch plot build.toml thrust -o thrust.svg; the kinds are "+names,
			"plot takes a build file and a kind of drawing, not %s", say.Counted(uint64(c.Args().Len()), "argument", "arguments"))
	}
	var out []plot.Kind
	for word := range strings.SplitSeq(c.Args().Get(1), ",") {
		k, err := plotKind(word)
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(out, func(other plot.Kind) bool { return other.Name == k.Name }) {
			out = append(out, k)
		}
	}
	return out, nil
}

// plotKind is a kind of drawing by its name.
func plotKind(word string) (plot.Kind, error) {
	for _, k := range drawing.Kinds() {
		if k.Name == word {
			return k, nil
		}
	}
	hint := "the kinds are " + strings.Join(drawing.KindNames(), ", ")
	if near, ok := field.Nearest(word, slices.Values(drawing.KindNames())); ok {
		hint = "did you mean " + near + "?"
	}
	return plot.Kind{}, outcome.Usage(hint, "%s is no kind of drawing", say.Shown(word))
}

// plotWidth reads how wide a drawing may be in CSS pixels; 0: as wide as it is.
func plotWidth(c *cli.Context) (float64, error) {
	if !c.IsSet("width") {
		return 0, nil
	}
	const most = 10_000 // more than any screen
	n, err := strconv.Atoi(c.String("width"))
	if err != nil || n < 1 || n > most {
		return 0, outcome.Usage("write --width 390", "--width %s is no number of pixels from 1 to %d", say.Shown(c.String("width")), most)
	}
	return float64(n), nil
}

// plotAxes reads the figures of the front.
func plotAxes(c *cli.Context, kinds []plot.Kind) (x, y constraints.Figure, err error) {
	if !slices.ContainsFunc(kinds, func(k plot.Kind) bool { return k.Name == "front" }) {
		if c.IsSet("axes") {
			return x, y, outcome.Usage("leave it out, or draw the front", "--axes goes with the front, not with %s", kinds[0].Name)
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
