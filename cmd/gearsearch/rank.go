package main

import (
	"slices"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/chart"
	"gearsearch/cmd/gearsearch/internal/answer/rank"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

func (p *program) rankCommand() *cli.Command {
	return &cli.Command{
		Name:  "rank",
		Usage: "rank the builds that do what the brief asks, best first",
		UsageText: `gearsearch rank
gearsearch rank --top-speed 35km/h --climb-grade 12% --range 15km
gearsearch rank --keep wheel=quay-97 --price-limit 1100 --save 1=build.toml
gearsearch rank --full
gearsearch rank --top 0 -o builds.csv
gearsearch rank --apart motor,wheel --top 10
gearsearch rank --front top_speed_kmh,range_km,price
gearsearch rank --stability --tolerance
gearsearch rank --chart teeth --keep motor=ov-63m-180 --keep wheel=quay-97
gearsearch rank --brief demo:harbour --brief demo:sunday --share battery,motor,controller
gearsearch rank --catalog my-board/parts.toml --brief my-board/brief.toml --save 1=mine.toml`,
		Description: `Every combination of the catalog's parts is put through the checks, and counted under the first that it fails; those that fail none are ranked by their score. A check that cannot be decided for lack of data never rejects, unless --strict is given, and is always shown.

What is listed are designs: of all feasible builds with the same motor, number of motors and battery the best, with how many it stands for (in the table +14 for "and 14 like it"; in JSON and CSV stands_for, itself included). --apart names other choices, as in --apart motor,wheel; --apart none lists every build, and so do --top 0 and the format jsonl unless --apart is given. Counts are of builds in any case, and a --front is taken over builds before the best of each design on it is listed.

The answer is a page that fits a terminal of 80 columns and 24 lines, in a pipe and in a file that ends in .txt too. It lists ten builds unless --top says how many. --full shows everything: further columns, counts by check, assumptions and cautions in full.

Quantities carry a unit: 40km/h 25mph 11m/s, 15% 8.5deg, 38N.m 28lbf.ft, 90kg 198lb, 25km 15mi. Counts, electrical rpm, prices and the headroom in percent are bare numbers.

--front, --stability, --tolerance and --no-count change or add to the ranking; in JSON they add front and front_size, stability (ranges of weights, wins), tolerance (in each build: share, checks, figures with p5, p50, p95), and --no-count makes feasible, unknown and rejected null. CSV gains win_share, share, and FIGURE_p5, _p50 and _p95. --chart teeth gives cells: motor and wheel teeth, profile, reduction, top_speed_kmh, verdict, fails, parts.

--share ranks sets instead of builds: one build for each --brief, each feasible for its own, all with the same part in the slots that are named, and with the same number of motors where motor or controller is. Sets are ranked by the mean score of their builds, or with --worst by the lowest; among equals by the price of the set, in which what several builds have is counted once. --save N=FILE writes a file for each build, FILE with the name of its brief. JSON has briefs (each with its counts), share, order and sets: mean, worst, price, lines, builds, and changes (from, to, on, off). CSV has a row for each build of each set.

The format jsonl gives every feasible build, one a line, as found and unranked, in memory that does not grow; the last line is the summary. With --apart it gives the ranked designs.

Exit code: 0 answered, 1 nothing is feasible, 2 wrong usage, 3 wrong catalog or brief, 4 a file could not be read or written, 130 interrupted (the best so far, marked incomplete).`,
		Flags:  slices.Concat(ask.QuestionFlags(), []cli.Flag{ask.FullFlag(), ask.TopFlag(), ask.SaveFlag(), ask.WithPartsFlag()}, mannerFlags(), shareFlags(), ask.OutputFlags()),
		Action: p.rank,
	}
}

// rank answers the question with a ranking.
func (p *program) rank(c *cli.Context) error {
	if err := p.NoArguments(c); err != nil {
		return err
	}
	a, err := p.Answer(c)
	switch {
	case err != nil:
		return err
	case c.IsSet("share") && c.IsSet("apart"):
		return outcome.Usage("leave one of them out", "--share and --apart do not go together")
	case c.IsSet("share"):
		return p.share(c, a)
	case c.Bool("worst"):
		return outcome.Usage("add --share battery,motor,controller", "--worst is an order of sets that share parts")
	case len(c.StringSlice("brief")) > 1:
		return outcome.Usage("add --share battery,motor,controller, which ranks sets: a build for each brief, with these parts in common", "%d briefs are named, but nothing that their builds share", len(c.StringSlice("brief")))
	}
	how, err := newManner(c, a.Format)
	if err != nil {
		return err
	}
	streamed := a.Format == ask.FormatJSONL && how.Plain()
	want, err := p.NewWish(c, streamed)
	if err == nil {
		err = how.Holds(a, want.Top, "--top "+c.String("top")+": ")
	}
	if err != nil {
		return err
	}
	q, err := p.Ask(c)
	if err != nil {
		return err
	}
	problem, err := q.Aimed()
	if err != nil {
		return err
	}
	p.NoteDoubts(problem)
	switch {
	case how.Chart != "":
		return chart.Give(c.Context, p.Desk, a, q, problem)
	case streamed:
		return rank.GiveStream(c.Context, p.Desk, a, problem, q.Strict)
	}
	r := &rank.Answer{Manner: how, Question: q}
	return r.Give(c.Context, p.Desk, a, problem, want)
}
