package main

import (
	"fmt"
	"strconv"
	"time"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/reporting"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

const (
	// defaultReportTop is how many builds a page holds unless asked for
	// otherwise: enough that other weights find others among them.
	defaultReportTop = 50
	// mostReportTop is how many a page holds at most: at about 4 kB each more
	// would be no page to look at.
	mostReportTop = 2000
)

func (p *program) reportCommand() *cli.Command {
	return &cli.Command{
		Name:  "report",
		Usage: "write the ranking as a page to look at, on a screen or on paper",
		UsageText: `gearsearch report -o shortlist.html
gearsearch report --catalog my-board/parts.toml --brief my-board/brief.toml -o shortlist.html
gearsearch report --top 200 --weight price=5 --units imperial -o shortlist.html`,
		Description: `The page is one HTML file that asks for nothing outside itself, works offline, on a phone and on paper (one build a sheet), and says everything without JavaScript. With it the table sorts and filters, other weights rank the builds of the page anew, and builds can be put side by side.

The date on the page is that of --date, else of SOURCE_DATE_EPOCH where it is set, else today's (UTC). With one date, the same question gives the same bytes.

Exit code: 0 answered, 1 nothing is feasible (the page says what comes nearest), 2 wrong usage, 3 wrong catalog or brief, 4 a file could not be read or written, 130 interrupted (the best so far, marked incomplete).`,
		Flags: append(ask.QuestionFlags(),
			&cli.StringFlag{Name: "top", Category: ask.ThemeAnswer, Usage: "`N` how many builds to put on the page, the first ten with all about them; at most " + strconv.Itoa(mostReportTop), DefaultText: strconv.Itoa(defaultReportTop)},
			ask.ApartFlag(""),
			&cli.StringFlag{Name: "date", Category: ask.ThemeAnswer, Usage: "`YYYY-MM-DD` the date on the page", DefaultText: "today"},
			&cli.StringFlag{Name: "format", Category: ask.ThemeOutput, Usage: "`FORMAT` html, which is the only one", DefaultText: "html"},
			&cli.StringFlag{Name: "o", Category: ask.ThemeOutput, Usage: "`FILE` file to write, whole or not at all; - is standard output", DefaultText: "-"},
			&cli.StringFlag{Name: "units", Category: ask.ThemeOutput, Usage: "`SYSTEM` units on the page: metric or imperial", DefaultText: "metric"},
			ask.QuietFlag(),
		),
		Action: p.report,
	}
}

// report answers the question with a page.
func (p *program) report(c *cli.Context) error {
	if err := p.NoArguments(c); err != nil {
		return err
	}
	a, err := p.Drawing(c, map[string]ask.Format{".html": ask.FormatHTML, ".htm": ask.FormatHTML}, ask.FormatHTML)
	if err != nil {
		return err
	}
	top, err := reportTop(c)
	if err != nil {
		return err
	}
	made, err := reportDate(c)
	if err != nil {
		return err
	}
	apart, err := ask.ApartOf(c)
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
	r := &reporting.Answer{Question: q, Problem: problem, Top: top, Apart: apart, Made: made, Words: reportWords(c)}
	return r.Give(c.Context, p.Desk, a)
}

// reportTop is how many builds the page holds.
func reportTop(c *cli.Context) (int, error) {
	if !c.IsSet("top") {
		return defaultReportTop, nil
	}
	n, err := strconv.Atoi(c.String("top"))
	if err != nil || n < 1 || n > mostReportTop {
		return 0, outcome.Usage(fmt.Sprintf("write --top 100; rank --top 0 -o builds.csv gives all, and a page holds at most %d", mostReportTop),
			"--top %s is no number of builds for a page", say.Shown(c.String("top")))
	}
	return n, nil
}

// reportDate is the date that the page bears.
func reportDate(c *cli.Context) (string, error) {
	if !c.IsSet("date") {
		return ask.Today()
	}
	day, err := time.Parse(time.DateOnly, c.String("date"))
	if err != nil {
		return "", outcome.Usage("write --date 2025-11-25", "--date %s is no date", say.Shown(c.String("date")))
	}
	return day.Format(time.DateOnly), nil
}

// reportWords are the flags of the page itself, as they can be typed again.
func reportWords(c *cli.Context) []string {
	var out []string
	for _, name := range []string{"top", "apart", "date", "units", "format", "o"} {
		if c.IsSet(name) {
			out = append(out, say.Dashed(name), say.Typed(c.String(name)))
		}
	}
	return out
}
