package main

import (
	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/parts"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints/outfit"
	"gearsearch/search"
)

func (p *program) partsCommand() *cli.Command {
	return &cli.Command{
		Name:      "parts",
		ArgsUsage: "BUILD.toml",
		Usage:     "list what to buy for a build, and what it needs around its drivetrain",
		UsageText: `gearsearch parts build.toml
gearsearch parts build.toml --why
gearsearch parts build.toml --battery-wire 60cm --charge-time 4h
gearsearch parts mine.toml --catalog my-board/parts.toml --brief my-board/brief.toml -o list.csv`,
		Description: `The list has every part of the build with its pieces, the packs to buy and the price; and what the build needs beside: protection board, main switch, fuse, plugs, wires, charger, remote, box. For each of these the answer says what a part must bear, and takes the cheapest part of the catalog that is known to bear it, wire with plugs and fuse together; where there is none, it describes the part to look for. The total counts the known prices, and the answer names the parts that it leaves out.

CSV is the list; JSON has the demands, checks, settings of the controllers, figures and tools too. Both are in metric units whatever --units says. Cells, keys and belts stay in mm, by which they are sold.

Exit code: 0 answered, 1 the build fails a check of its brief (with --strict also: one cannot be decided), 2 wrong usage, 3 wrong catalog, brief or build, 4 a file could not be read or written.`,
		Flags: append(append(ask.QuestionFlags(),
			ask.WhyFlag(),
			&cli.StringFlag{Name: "battery-wire", Category: ask.ThemeAnswer, Usage: "`LENGTH` from the pack to the controllers, one way", DefaultText: "300mm"},
			&cli.StringFlag{Name: "phase-wire", Category: ask.ThemeAnswer, Usage: "`LENGTH` from a controller to its motor", DefaultText: "400mm"},
			&cli.StringFlag{Name: "ambient", Category: ask.ThemeAnswer, Usage: "`TEMPERATURE` of the air round the wires", DefaultText: "30C"},
			&cli.StringFlag{Name: "peak-time", Category: ask.ThemeAnswer, Usage: "`TIME` that a peak of current lasts", DefaultText: "20s"},
			&cli.StringFlag{Name: "charge-time", Category: ask.ThemeAnswer, Usage: "`TIME` from empty to full, at most", DefaultText: "any charger that suits the pack"},
		), ask.OutputFlags()...),
		Action: p.parts,
	}
}

// wishFlags are the flags for what the builder decides, with what they may say:
// wide enough for any board,
// narrow enough to catch a wrong unit.
var wishFlags = []struct {
	name      string
	kind      quantity.Kind
	low, high float64 // in the units of the wish
	limits    string
	set       func(w *outfit.Wishes, x float64)
}{
	{"battery-wire", quantity.Length, 0.01, 10, "from 10mm to 10m", func(w *outfit.Wishes, x float64) { w.BatteryWire = x }},
	{"phase-wire", quantity.Length, 0.01, 10, "from 10mm to 10m", func(w *outfit.Wishes, x float64) { w.PhaseWire = x }},
	{"ambient", quantity.Temperature, -40, 60, "from -40C to 60C", func(w *outfit.Wishes, x float64) { w.Ambient = x }},
	{"peak-time", quantity.Time, 1, 120, "from 1s to 2min", func(w *outfit.Wishes, x float64) { w.PeakSeconds = x }},
	{"charge-time", quantity.Time, 600, 48 * 3600, "from 10min to 48h", func(w *outfit.Wishes, x float64) { w.ChargeHours = x / 3600 }},
}

// wishes reads the choices of the builder.
func wishes(c *cli.Context) (outfit.Wishes, error) {
	w := outfit.DefaultWishes()
	for _, f := range wishFlags {
		if !c.IsSet(f.name) {
			continue
		}
		text := c.String(f.name)
		x, err := f.kind.Parse(text)
		if err != nil {
			return w, outcome.Usage("", "--%s %s: %v", f.name, say.Shown(text), err)
		}
		if !(x >= f.low && x <= f.high) {
			return w, outcome.Usage("", "--%s %s: must be %s", f.name, say.Shown(text), f.limits)
		}
		f.set(&w, x)
	}
	return w, nil
}

// parts answers with all that a build takes.
func (p *program) parts(c *cli.Context) error {
	name, err := ask.BuildArgument(c)
	if err != nil {
		return err
	}
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	w, err := wishes(c)
	if err != nil {
		return err
	}
	today, err := ask.Today()
	if err != nil {
		return err
	}
	b, q, err := p.Build(c, name)
	if err != nil {
		return err
	}
	s := &parts.Answer{
		Outfit: outfit.Complete(b, w), File: name, Scored: search.ScoreBuild(b), System: a.System,
		Why: c.Bool("why"), Sources: q.Sources(), Today: today, Words: append(q.WordsOf(), repeatWishes(c)...),
	}
	return s.Give(p.Desk, a, q.Strict)
}

// repeatWishes lists the flags of parts as they can be typed again.
func repeatWishes(c *cli.Context) []string {
	var out []string
	for _, f := range wishFlags {
		if c.IsSet(f.name) {
			out = append(out, say.Dashed(f.name), say.Typed(c.String(f.name)))
		}
	}
	return out
}
