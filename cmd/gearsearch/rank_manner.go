package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// manner is how a ranking is made, and what is added to it.
type manner struct {
	front     []constraints.Figure // only builds that no other beats on these; nil: all
	stability bool
	tolerance bool
	robust    bool // in the order of the tolerance's shares
	draws     int
	chart     string // "teeth", or "" for a ranking
	uncounted bool
}

// plain reports whether a ranking is made as ever, with nothing added.
func (m *manner) plain() bool {
	return m.front == nil && !m.stability && !m.tolerance && !m.uncounted && m.chart == ""
}

// Again is the flags, each after a space, with which builds have the ranks that
// they have.
func (m *manner) again() string {
	if m.front == nil {
		return ""
	}
	var names []string
	for _, f := range m.front {
		names = append(names, f.Name)
	}
	return " --front " + strings.Join(names, ",")
}

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
		&cli.BoolFlag{Name: "no-count", Category: ask.ThemeAnswer, Usage: "rank without counting, which is quicker with very many combinations"},
	}
}

// newManner reads the flags.
func newManner(c *cli.Context, f ask.Format) (*manner, error) {
	m := &manner{stability: c.Bool("stability"), tolerance: c.Bool("tolerance"), uncounted: c.Bool("no-count")}
	var err error
	if m.front, err = frontFigures(c.StringSlice("front")); err != nil {
		return nil, err
	}
	if m.draws, err = ask.DrawsOf(c, m.stability || m.tolerance); err != nil {
		return nil, err
	}
	if text := c.String("by"); c.IsSet("by") {
		m.robust = text == "robust"
		if !m.robust && text != "score" {
			return nil, outcome.Usage("write --by score or --by robust", "--by %s is no order", say.Shown(text))
		}
		if m.robust && !m.tolerance {
			return nil, outcome.Usage("add --tolerance", "--by robust needs --tolerance")
		}
	}
	if text := c.String("chart"); c.IsSet("chart") {
		if m.chart = text; text != "teeth" {
			return nil, outcome.Usage("write --chart teeth", "--chart %s: there is no such chart", say.Shown(text))
		}
	}
	return m, m.fits(c, f)
}

// fits reports flags that do not go together.
func (m *manner) fits(c *cli.Context, f ask.Format) error {
	if m.chart != "" {
		for _, name := range []string{"front", "stability", "tolerance", "no-count", "top", "save", "by"} {
			if c.IsSet(name) {
				return outcome.Usage("leave one of them out", "--chart and --%s do not go together: a chart is no ranking", name)
			}
		}
	}
	if m.uncounted {
		switch {
		case m.front != nil:
			return outcome.Usage("leave one of them out", "--no-count and --front do not go together: a front needs every feasible build")
		case c.String("top") == "0":
			return outcome.Usage("name how many builds to rank", "--no-count and --top 0 do not go together: to rank every build is to count them")
		case f == ask.FormatJSONL:
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

// holds reports more builds than are held whole: in a table, or to be varied.
func (m *manner) holds(a *ask.Answer, builds int, what string) error {
	switch {
	case builds <= search.MostListed:
		return nil
	case m.tolerance:
		return outcome.Usage(fmt.Sprintf("add --top %d", search.MostListed), "%s%d builds are more than are varied, %d", what, builds, search.MostListed)
	case a.People():
		return outcome.Usage(fmt.Sprintf("add --top %d, or write a file that ends in .csv or .json", search.MostListed), "%s%d builds are more than a table lists, %d", what, builds, search.MostListed)
	}
	return nil
}

// ranked is how many builds are ranked so that the first top can be listed.
func (m *manner) ranked(top int) int {
	if m.stability && top > 0 {
		return max(top, firstBuilds)
	}
	return top
}

// search ranks in this manner.
func (m *manner) search(ctx context.Context, p *constraints.Problem, o search.Options) (*search.Result, error) {
	switch {
	case m.front != nil:
		return search.Front(ctx, p, m.front, o)
	case m.uncounted:
		return search.RankOnly(ctx, p, o)
	}
	return search.Rank(ctx, p, o)
}
