package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints"
	"gearsearch/search"
)

// defaultTop is how many builds are ranked unless asked for otherwise.
const defaultTop = 20

func (p *program) rankCommand() *cli.Command {
	return &cli.Command{
		Name:  "rank",
		Usage: "rank the builds that do what the brief asks, best first",
		UsageText: `gearsearch rank
gearsearch rank --top-speed 35km/h --climb-grade 12% --range 15km
gearsearch rank --keep wheel=quay-97 --price-limit 1100 --save 1=build.toml
gearsearch rank --top 0 -o builds.csv
gearsearch rank --front top_speed_kmh,range_km,price
gearsearch rank --stability --tolerance
gearsearch rank --chart teeth --keep motor=ov-63m-180 --keep wheel=quay-97
gearsearch rank --brief demo:harbour --brief demo:sunday --share battery,motor,controller
gearsearch rank --catalog my-board/parts.toml --brief my-board/brief.toml --save 1=mine.toml`,
		Description: `Every combination of the catalog's parts is put through the checks, and counted under the first that it fails; those that fail none are ranked by their score. A check that cannot be decided for lack of data never rejects, unless --strict is given, and is always shown.

Quantities carry a unit: 40km/h 25mph 11m/s, 15% 8.5deg, 38N.m 28lbf.ft, 90kg 198lb, 25km 15mi. Counts, electrical rpm, prices and the headroom in percent are bare numbers.

--front, --stability, --tolerance and --no-count change or add to the ranking; in JSON they add front and front_size, stability (ranges of weights, wins), tolerance (in each build: share, checks, figures with p5, p50, p95), and --no-count makes feasible, unknown and rejected null. CSV gains win_share, share, and FIGURE_p5, _p50 and _p95. --chart teeth gives cells: motor and wheel teeth, profile, reduction, top_speed_kmh, verdict, fails, parts.

--share ranks sets instead of builds: one build for each --brief, each feasible for its own, all with the same part in the slots that are named, and with the same number of motors where motor or controller is. Sets are ranked by the mean score of their builds, or with --worst by the lowest; among equals by the price of the set, in which what several builds have is counted once. --save N=FILE writes a file for each build, FILE with the name of its brief. JSON has briefs (each with its counts), share, order and sets: mean, worst, price, lines, builds, and changes (from, to, on, off). CSV has a row for each build of each set.

The format jsonl gives every feasible build, one a line, as found and unranked, in memory that does not grow; the last line is the summary.

Exit code: 0 answered, 1 nothing is feasible, 2 wrong usage, 3 wrong catalog or brief, 4 a file could not be read or written, 130 interrupted (the best so far, marked incomplete).`,
		Flags:  slices.Concat(questionFlags(), []cli.Flag{topFlag(), saveFlag()}, mannerFlags(), shareFlags(), outputFlags()),
		Action: p.rank,
	}
}

// rank answers the question with a ranking.
func (p *program) rank(c *cli.Context) error {
	if err := p.noArguments(c); err != nil {
		return err
	}
	a, err := p.answer(c)
	switch {
	case err != nil:
		return err
	case c.IsSet("share"):
		return p.share(c, a)
	case c.Bool("worst"):
		return usage("add --share battery,motor,controller", "--worst is an order of sets that share parts")
	case len(c.StringSlice("brief")) > 1:
		return usage("add --share battery,motor,controller, which ranks sets: a build for each brief, with these parts in common", "%d briefs are named, but nothing that their builds share", len(c.StringSlice("brief")))
	}
	how, err := newManner(c, a.format)
	if err != nil {
		return err
	}
	streamed := a.format == formatJSONL && how.plain()
	want, err := p.newWish(c, streamed)
	if err == nil {
		err = how.holds(a, want.top, "--top "+c.String("top")+": ")
	}
	if err != nil {
		return err
	}
	q, err := p.ask(c)
	if err != nil {
		return err
	}
	problem, err := q.aimed()
	switch {
	case err != nil:
		return err
	case how.chart != "":
		return p.chart(c.Context, a, q, problem)
	case streamed:
		return p.stream(c.Context, a, problem, q.strict)
	}
	bar := p.bar()
	r := &rankAnswer{manner: how, question: q}
	r.result, err = how.search(c.Context, problem, search.Options{Top: how.ranked(want.top), Strict: q.strict, Progress: bar.progress()})
	if err == nil {
		err = how.holds(a, r.result.Len(), "")
	}
	if err == nil {
		err = r.add(c.Context, want.top, bar.progress())
	}
	bar.stop()
	if err != nil {
		return err
	}
	if err := want.save(r.result.Len(), func(i int) *constraints.Build { return r.result.At(i).Build }); err != nil {
		return err
	}
	if err := p.writeRank(c.Context, a, r, want); err != nil {
		return err
	}
	if err := p.rankOutcome(c.Context, a, r); err != nil {
		return err
	}
	return want.missed(r.result.Len(), r.feasible())
}

// feasible is how many builds are feasible, as far as that is known.
func (r *rankAnswer) feasible() uint64 {
	if r.uncounted {
		return uint64(r.result.Len())
	}
	return r.result.Feasible
}

// rankOutcome is what a ranking means for the exit code.
func (p *program) rankOutcome(ctx context.Context, a *answer, r *rankAnswer) error {
	result := *r.result
	switch {
	case !result.Complete && r.uncounted:
		p.note("interrupted: the search is incomplete")
		return errInterrupted
	case result.Complete && r.shortened:
		p.note("interrupted: the ranking is complete, what is added to it is not")
		return errInterrupted
	}
	result.Feasible = r.feasible()
	return p.outcome(ctx, a, &result)
}

// plainCombinations is how many combinations a problem has, in digits that
// scripts read.
func plainCombinations(p *constraints.Problem) string {
	n := p.Combinations()
	return fmt.Sprintf("%.0f %s", n, plural(uint64(n), "combination", "combinations"))
}

// outcome is what an answer means for the exit code. What no page says is said
// on stderr.
func (p *program) outcome(ctx context.Context, a *answer, r *search.Result) error {
	switch {
	case !r.Complete:
		p.note("interrupted: the search is incomplete after %d of %s", r.Combinations, plainCombinations(r.Problem))
		return errInterrupted
	case r.Feasible == 0 && a.people() && ctx.Err() != nil:
		p.note("interrupted: the nearest build is not looked for to the end")
		return errInterrupted
	case r.Feasible == 0:
		if !a.people() {
			p.note("nothing is feasible in %s", plainCombinations(r.Problem))
		}
		return errInfeasible
	}
	return nil
}

// writeRank writes a ranking in the answer's format.
func (p *program) writeRank(ctx context.Context, a *answer, r *rankAnswer, want *wish) error {
	switch a.format {
	case formatJSON:
		return a.write(r.document().Write)
	case formatJSONL:
		return a.write(r.document().WriteLines)
	case formatCSV:
		return p.writeCSV(a, r.complete(), r.writeCSV)
	default:
		page := &rankPage{rankAnswer: r, system: a.system, saved: want.saves}
		if !r.uncounted {
			page.wishes = quickWishes(ctx, r.result, r.question.strict)
		}
		if r.result.Complete && r.feasible() == 0 {
			if near, complete := search.Nearest(ctx, r.result.Problem, search.Options{Strict: r.question.strict}); complete {
				page.near = near
				page.relaxed = cheapConcessions(ctx, r.question, r.result)
			}
		}
		return a.page(page.page())
	}
}

// stream writes every feasible build as it is found, and the summary last.
func (p *program) stream(ctx context.Context, a *answer, problem *constraints.Problem, strict bool) error {
	var r *search.Result
	bar := p.bar()
	defer bar.stop()
	err := a.write(func(w io.Writer) error {
		buffer := bufio.NewWriterSize(w, 1<<16)
		lines := dataout.NewLines(buffer)
		var err error
		if r, err = search.Stream(ctx, problem, search.Options{Strict: strict, Progress: bar.progress()}, lines.Build); err != nil {
			return err
		}
		if err := lines.Summary(r); err != nil {
			return err
		}
		return buffer.Flush()
	})
	bar.stop()
	if err != nil {
		return err
	}
	return p.outcome(ctx, a, r)
}

// wish is how much of a ranking is wanted.
type wish struct {
	top   int // 0: all
	saves []saving
}

// saving is a build of the ranking to write as a file.
type saving struct {
	rank int
	file string
	text string // as the flag has it
	// targets are the files: of a set, one for each of its builds.
	targets []*target
}

// topFlag and saveFlag say how much of a ranking is wanted.
func topFlag() cli.Flag {
	return &cli.StringFlag{Name: "top", Category: themeAnswer, Usage: "`N` how many to list, best first; 0: all (rank lists at most " + layout.Count(search.MostRanked) + ", and " + layout.Count(search.MostListed) + " in a table)", DefaultText: strconv.Itoa(defaultTop)}
}

func saveFlag() cli.Flag {
	return &cli.StringSliceFlag{Name: "save", Category: themeAnswer, Usage: "`N=FILE` write build N as a build file, which sheet takes; may be repeated"}
}

// newWish reads the flags; streamed is an answer that is not ranked.
func (d *desk) newWish(c *cli.Context, streamed bool) (*wish, error) {
	w := &wish{top: defaultTop}
	if c.IsSet("top") {
		n, err := strconv.Atoi(c.String("top"))
		if err != nil || n < 0 {
			return nil, usage("write --top 50, or --top 0 for all", "--top %s is no number of builds", shown(c.String("top")))
		}
		if streamed && n > 0 {
			return nil, usage("leave one of them out", "--top does not go with jsonl, which gives every feasible build unranked")
		}
		if n > search.MostRanked {
			return nil, usage("rank --format jsonl gives any number of builds, unranked", "--top %s: at most %d are ranked", shown(c.String("top")), search.MostRanked)
		}
		w.top = n
	}
	for _, text := range c.StringSlice("save") {
		number, file, _ := strings.Cut(text, "=")
		n, err := strconv.Atoi(number)
		switch {
		case err != nil || n < 1 || file == "":
			return nil, usage("write --save 1=build.toml", "--save %s is not a rank and a file", shown(text))
		case file == "-":
			return nil, usage("write --save 1=build.toml", "--save %s: standard output is for the ranking", shown(text))
		case streamed:
			return nil, usage("leave one of them out", "--save does not go with jsonl, which is not ranked")
		case w.top > 0 && n > w.top:
			return nil, usage("add --top "+number, "--save %s: only %s ranked", shown(text), counted(uint64(w.top), "build is", "builds are"))
		}
		s := saving{rank: n, file: file, text: text}
		if len(c.StringSlice("share")) == 0 { // else savesFit does
			t, err := d.files.target("--save "+shown(text), file)
			if err != nil {
				return nil, err
			}
			s.targets = []*target{t}
		}
		w.saves = append(w.saves, s)
	}
	return w, nil
}

// save writes those of n builds that are there.
func (w *wish) save(n int, build func(i int) *constraints.Build) error {
	for _, s := range w.saves {
		if s.rank > n {
			continue // missed tells
		}
		if err := s.targets[0].writeData(build(s.rank - 1).File().TOML()); err != nil {
			return err
		}
	}
	return nil
}

// missed reports a build to save that there is not among n.
func (w *wish) missed(n int, feasible uint64) error {
	for _, s := range w.saves {
		if s.rank > n {
			return usage("", "--save %s: only %s feasible", shown(s.text), counted(feasible, "build is", "builds are"))
		}
	}
	return nil
}
