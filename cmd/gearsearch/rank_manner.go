package main

import (
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/rank"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// maxFront is how many figures a front may be in; in more, almost every build
// is on it.
const maxFront = 6

func mannerFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringSliceFlag{Name: "front", Category: ask.ThemeAnswer, Usage: "`FIGURE[,FIGURE]` keep only the builds that no other feasible build beats on all of these figures, six at most"},
		&cli.BoolFlag{Name: "stability", Category: ask.ThemeAnswer, Usage: "say how far each weight may move before another build is first, and how often each of the first wins with random weights"},
		ask.ToleranceFlag(),
		ask.DrawsFlag(),
		&cli.StringFlag{Name: "by", Category: ask.ThemeAnswer, Usage: "`ORDER` of the ranked builds: score, or with --tolerance robust, those first that pass most often", DefaultText: "score"},
		&cli.StringFlag{Name: "chart", Category: ask.ThemeAnswer, Usage: "`teeth` instead of a ranking: top speed by motor and wheel teeth, with one motor, battery, controller and wheel"},
		ask.ApartFlag(", and none with --top 0, jsonl and --share"),
		&cli.BoolFlag{Name: "no-count", Category: ask.ThemeAnswer, Usage: "rank without counting, which is quicker with very many combinations"},
	}
}

// apartOf reads the flag --apart. Where all builds are wanted, and for a chart, none
// are told apart unless asked for.
func apartOf(c *cli.Context, f ask.Format) (search.Apart, error) {
	n, err := strconv.Atoi(c.String("top"))
	all := c.IsSet("top") && err == nil && n == 0
	if !c.IsSet("apart") && (all || f == ask.FormatJSONL || c.IsSet("chart")) {
		return search.Apart{}, nil
	}
	return ask.ApartOf(c)
}

// newManner reads the flags.
func newManner(c *cli.Context, f ask.Format) (*rank.Manner, error) {
	m := &rank.Manner{Stability: c.Bool("stability"), Tolerance: c.Bool("tolerance"), Uncounted: c.Bool("no-count")}
	var err error
	if m.Apart, err = apartOf(c, f); err != nil {
		return nil, err
	}
	if m.Front, err = frontFigures(c.StringSlice("front")); err != nil {
		return nil, err
	}
	if m.Draws, err = ask.DrawsOf(c, m.Stability || m.Tolerance); err != nil {
		return nil, err
	}
	if text := c.String("by"); c.IsSet("by") {
		m.Robust = text == "robust"
		if !m.Robust && text != "score" {
			return nil, outcome.Usage("write --by score or --by robust", "--by %s is no order", say.Shown(text))
		}
		if m.Robust && !m.Tolerance {
			return nil, outcome.Usage("add --tolerance", "--by robust needs --tolerance")
		}
	}
	if text := c.String("chart"); c.IsSet("chart") {
		if m.Chart = text; text != "teeth" {
			return nil, outcome.Usage("write --chart teeth", "--chart %s: there is no such chart", say.Shown(text))
		}
	}
	return m, mannerFits(m, c, f)
}

// mannerFits reports flags that do not go together.
func mannerFits(m *rank.Manner, c *cli.Context, f ask.Format) error {
	if m.Chart != "" {
		for _, name := range []string{"front", "stability", "tolerance", "no-count", "top", "save", "by", "apart"} {
			if c.IsSet(name) {
				return outcome.Usage("leave one of them out", "--chart and --%s do not go together: a chart is no ranking", name)
			}
		}
	}
	if m.Uncounted {
		switch {
		case m.Front != nil:
			return outcome.Usage("leave one of them out", "--no-count and --front do not go together: a front needs every feasible build")
		case c.String("top") == "0":
			return outcome.Usage("name how many builds to rank", "--no-count and --top 0 do not go together: to rank every build is to count them")
		case f == ask.FormatJSONL && m.Apart.None():
			return outcome.Usage("leave one of them out", "--no-count does not go with jsonl, which gives every feasible build")
		}
	}
	return nil
}

// frontFigures are the figures that --front names.
func frontFigures(texts []string) ([]constraints.Figure, error) {
	var out []constraints.Figure
	seen := map[string]bool{}
	for _, text := range texts {
		for name := range strings.SplitSeq(text, ",") {
			name = strings.TrimSpace(name)
			f, ok := constraints.FigureNamed(name)
			switch {
			case !ok:
				return nil, outcome.Usage(ask.FigureHint(name), "--front %s: there is no figure %s", say.Shown(text), say.Shown(name))
			case f.Better == constraints.Neither:
				return nil, outcome.Usage("these are: "+strings.Join(ask.Directed(), ", "), "--front %s: %s has no better end", say.Shown(text), name)
			case seen[name]:
				continue
			}
			seen[name] = true
			out = append(out, f)
		}
	}
	if len(out) > maxFront {
		return nil, outcome.Usage("", "--front names %d figures, of %d at most", len(out), maxFront)
	}
	return out, nil
}
