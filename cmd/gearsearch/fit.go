package main

import (
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	answerfit "gearsearch/cmd/gearsearch/internal/answer/fit"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/ridelog"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/search/fit"
)

func (p *program) fitCommand() *cli.Command {
	return &cli.Command{
		Name:      "fit",
		ArgsUsage: "BUILD.toml LOG.csv…",
		Usage:     "find your own rolling resistance and drag area from recorded rides",
		UsageText: `gearsearch fit build.toml out.csv back.csv --direction out.csv=out --direction back.csv=back
gearsearch fit build.toml out.csv back.csv monday.csv tuesday.csv --direction out.csv=out --direction back.csv=back --write my-brief.toml
gearsearch fit build.toml week.csv out.csv --column 'speed=GPS v:km/h' --column 'current=I batt:A'
gearsearch fit build.toml monday.csv --only rolling
gearsearch fit build.toml out.csv back.csv --direction out.csv=out --direction back.csv=back --freewheel --plot fit.svg`,
		Description: `A log is a table with headings (commas, semicolons or tabs) of one or more coast-downs, or of one ride. A coast-down has time and speed: the board rolls out without current. A ride has time, speed or distance, and what meters its energy: an energy counter, power, or volts and current of the pack; height counts where it is there. Which of the two a log is of the data tells, else --coast and --ride. Headings are recognised with their units, as in "Speed [km/h]" or "time_ms"; --column names any other.

Rider, ground, air, stops and wind are those of the brief; stops and climbs of a ride are those of its log. Each value comes with its 95 % interval. What the records do not tell is said and not written: two values that lean on each other, an interval wider than ± 50 %, a value that no board has. One ride tells one value, with --only.

--write writes a copy of the brief with both values, marked as yours, and with their intervals as its [tolerance]; all else of it, comments too, stays. Without it the keys are shown to be pasted.

JSON: rolling_resistance and drag_area_m2 (value, low, high, pct, verdict, brief), logs, coast_downs and rides. CSV has the two values, then how far each record is off.

Exit code: 0 told, 1 a value that is asked for is not told by the records, 2 wrong usage, 3 wrong catalog, brief, build or log, or records that tell nothing, 4 a file could not be read or written, 130 interrupted.`,
		Flags: append(append(ask.RiderFlags(),
			&cli.StringSliceFlag{Name: "coast", Category: ask.ThemeAnswer, Usage: "`FILE` a log of coast-downs, whatever its data look like; may be repeated"},
			&cli.StringSliceFlag{Name: "ride", Category: ask.ThemeAnswer, Usage: "`FILE` a log of a ride, likewise"},
			&cli.StringSliceFlag{Name: "direction", Category: ask.ThemeAnswer, Usage: "`FILE=WAY` which way the coast-downs of a log went: out or back; may be repeated"},
			&cli.StringSliceFlag{Name: "column", Category: ask.ThemeAnswer, Usage: "`QUANTITY=NAME[:UNIT]` the column of a quantity, in the logs that have it; may be repeated. Quantities: " + strings.Join(ridelog.QuantityNames(), ", ")},
			&cli.BoolFlag{Name: "freewheel", Category: ask.ThemeAnswer, Usage: "the motors are not turned while the board coasts"},
			&cli.StringFlag{Name: "only", Category: ask.ThemeAnswer, Usage: "`VALUE` fit one value with the brief's other: rolling or drag", DefaultText: bothValues},
			&cli.StringFlag{Name: "write", Category: ask.ThemeOutput, Usage: "`FILE` a copy of the brief with the values, written whole or not at all"},
			&cli.StringFlag{Name: "plot", Category: ask.ThemeOutput, Usage: "`FILE` a drawing of the records and their fit, .svg or .png"},
		), ask.OutputFlags()...),
		Action: p.fit,
	}
}

// fit answers with what logs tell of a rider.
func (p *program) fit(c *cli.Context) error {
	names, err := logNames(c)
	if err != nil {
		return err
	}
	options, err := logOptions(c, names)
	if err != nil {
		return err
	}
	f := &answerfit.Answer{File: c.Args().First(), Records: fit.Records{Freewheel: c.Bool("freewheel")}}
	if f.Records.Only, err = onlyOf(c); err != nil {
		return err
	}
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	if f.Build, f.Question, err = p.Build(c, c.Args().First()); err != nil {
		return err
	}
	if err := p.fitTargets(c, f); err != nil {
		return err
	}
	if f.Logs, err = p.Logs(c.Context, names, options); err != nil {
		return err
	}
	if err := f.Find(c.Context); err != nil {
		return err
	}
	return f.Give(p.Desk, a)
}

// fitTargets registers what is written beside the answer.
func (p *program) fitTargets(c *cli.Context, f *answerfit.Answer) (err error) {
	if c.IsSet("write") {
		name := c.String("write")
		if f.Copy, err = p.Files.Target("--write "+say.Shown(name), name); err != nil {
			return err
		}
		if f.Brief, err = p.BriefText(c.Context, f.Question); err != nil {
			return err
		}
	}
	if c.IsSet("plot") {
		name := c.String("plot")
		switch strings.ToLower(filepath.Ext(name)) {
		case ".svg":
		case ".png":
			f.PNG = true
		default:
			return outcome.Usage("end the name in .svg or .png", "--plot %s: the ending tells no format of drawings", say.Shown(name))
		}
		if f.Drawing, err = p.Files.Target("--plot "+say.Shown(name), name); err != nil {
			return err
		}
	}
	return nil
}

// logNames are the logs, each once: those behind the build file, then those of --coast
// and --ride.
func logNames(c *cli.Context) ([]string, error) {
	if c.Args().Len() == 0 {
		return nil, outcome.Usage("as in gearsearch fit build.toml out.csv back.csv; gearsearch rank --save 1=build.toml writes a build file", "fit takes a build file and logs")
	}
	names := append(c.Args().Tail(), c.StringSlice("coast")...)
	names = append(names, c.StringSlice("ride")...)
	var out []string
	for _, name := range names {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		return nil, outcome.Usage("as in gearsearch fit "+say.Typed(c.Args().First())+" out.csv back.csv", "fit needs logs of coast-downs or rides behind the build file")
	}
	return out, nil
}

// logOptions are how each log is read.
func logOptions(c *cli.Context, names []string) (map[string]ridelog.Options, error) {
	out := map[string]ridelog.Options{}
	columns, err := columnsOf(c)
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		o := ridelog.Options{Columns: columns}
		coast, ride := slices.Contains(c.StringSlice("coast"), name), slices.Contains(c.StringSlice("ride"), name)
		switch {
		case coast && ride:
			return nil, outcome.Usage("leave one of them out", "--coast and --ride both name %s", say.Shown(name))
		case coast:
			o.Kind = ridelog.Coast
		case ride:
			o.Kind = ridelog.Ride
		}
		out[name] = o
	}
	ways := map[string]fit.Direction{"out": fit.Out, "back": fit.Back}
	for _, text := range c.StringSlice("direction") {
		at := strings.LastIndexByte(text, '=')
		if at < 0 || ways[text[at+1:]] == fit.Untold {
			return nil, outcome.Usage("write --direction FILE=out or FILE=back", "--direction %s tells no direction", say.Shown(text))
		}
		o, ok := out[text[:at]]
		if !ok {
			return nil, outcome.Usage("the logs are "+say.Together(shown(names), "", "")+"", "--direction %s: no such log is given", say.Shown(text))
		}
		o.Direction = ways[text[at+1:]]
		out[text[:at]] = o
	}
	return out, nil
}

func shown(names []string) []string {
	out := make([]string, len(names))
	for i, name := range names {
		out[i] = say.Shown(name)
	}
	return out
}

// columnsOf reads --column.
func columnsOf(c *cli.Context) ([]ridelog.ColumnNamed, error) {
	var out []ridelog.ColumnNamed
	quantities := strings.Join(ridelog.QuantityNames(), ", ")
	for _, text := range c.StringSlice("column") {
		word, name, ok := strings.Cut(text, "=")
		q, known := ridelog.QuantityNamed(word)
		switch {
		case !ok || name == "":
			return nil, outcome.Usage("write --column QUANTITY=NAME:UNIT, as in --column speed=GPS:km/h", "--column %s names no column", say.Shown(text))
		case !known:
			hint := "the quantities are " + quantities
			if near, ok := field.Nearest(word, slices.Values(ridelog.QuantityNames())); ok {
				hint = "did you mean " + near + "?"
			}
			return nil, outcome.Usage(hint, "--column %s: %s is no quantity of a log", say.Shown(text), field.Quote(word))
		}
		column := ridelog.ColumnNamed{Of: q, Name: name}
		if at := strings.LastIndexByte(name, ':'); at > 0 && q.HasUnit(name[at+1:]) {
			column.Name, column.Unit = name[:at], name[at+1:]
		} else if at > 0 && len(q.Units()) > 0 && !strings.ContainsAny(name[at+1:], " ") {
			return nil, outcome.Usage("the units of "+q.Name()+" are "+strings.Join(q.Units(), ", "), "--column %s: %s is no unit of it", say.Shown(text), field.Quote(name[at+1:]))
		}
		out = append(out, column)
	}
	return out, nil
}

// bothValues is what is fitted unless --only says otherwise.
const bothValues = "both"

// onlyOf reads --only; nil: both values are fitted.
func onlyOf(c *cli.Context) (*fit.Unknown, error) {
	if c.String("only") == "" || c.String("only") == bothValues {
		return nil, nil
	}
	u, ok := map[string]fit.Unknown{"rolling": fit.Rolling, "drag": fit.Drag}[c.String("only")]
	if !ok {
		return nil, outcome.Usage("write --only rolling or --only drag", "--only %s is neither", say.Shown(c.String("only")))
	}
	return &u, nil
}
