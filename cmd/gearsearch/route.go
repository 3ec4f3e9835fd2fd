package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/way"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

func (p *program) routeCommand() *cli.Command {
	return &cli.Command{
		Name:      "route",
		ArgsUsage: "FILE",
		Usage:     "say what a route is like, or turn a recorded one into a table",
		UsageText: `gearsearch route demo:forest
gearsearch route demo:harbour -o home.csv
gearsearch route demo:harbour --format json`,
		Description: `FILE is a recorded route (GPX), or a CSV file with the columns distance_m and height_m, and where wanted speed_kmh, surface and stop; - is standard input, and demo:harbour and demo:forest are embedded ones. A name without the ending .gpx or .csv is read as what it looks like.

In a CSV file the distance counts from the start and rises from row to row. Speed and surface hold from their row until another says otherwise, at first they are the brief's; a row with stop (1, true, yes or x) is where the board stands.

Of a GPX file all tracks are joined, and the times are left out; heights are taken at the ends of equal legs of at most 25 m and smoothed over four of them. A point without a height is an error. What a file tells of places stays on this computer.

--format csv writes the route leg by leg, and reads as the same; JSON has the figures.

Exit code: 0 answered, 2 wrong usage, 3 something is wrong in the file, 4 a file could not be read or written, 130 interrupted.`,
		Flags:  ask.OutputFlags(),
		Action: p.route,
	}
}

// route answers with what a route is like.
func (p *program) route(c *cli.Context) error {
	if n := c.Args().Len(); n != 1 {
		return outcome.Usage("as in gearsearch route home.gpx, or gearsearch route demo:forest", "route takes one file, not %d", n)
	}
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	name := c.Args().First()
	r, err := p.Way(c.Context, name)
	if err != nil {
		return err
	}
	s := &way.Answer{Route: r, File: name, Invented: strings.HasPrefix(name, ask.DemoPrefix)}
	return s.Give(p.Desk, a)
}
