package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/ideal"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/search"
)

func (p *program) idealCommand() *cli.Command {
	return &cli.Command{
		Name:  "ideal",
		Usage: "find the kv, reduction and wheel that would be best if any could be bought",
		UsageText: `gearsearch ideal
gearsearch ideal --kv 60..250 --reduction 1..6 --wheel 80mm..200mm
gearsearch ideal --brief demo:sunday --keep battery=tour-12s4p -o ideal.json`,
		Description: `For each motor frame (can) in play, kv, reduction and wheel diameter are tuned together for the highest score under the same checks. Battery, controller, efficiency, prices and masses are those of the frame's best build of catalog parts. Where no ideal of that build passes every check, up to two hundred other choices of battery, controller, winding, number of motors, wheel and gear drive are started from. A frame is rewound with its copper fill held: its resistance goes with 1/kv², its no-load current and its current limits with kv. Without bounds, or with an end left out as in 90.., each is bounded by the least and the greatest of the catalog's parts in play.

JSON: frames, each with motors, feasible, kv, reduction, wheel_mm, score, gap, bases (how many builds of parts were looked from), bases_left (how many more there are), catalog_feasible, catalog (the build of parts looked from), moves (each quantity alone to where the score is highest), nearest (motor, drives, wheel of the catalog), build (as tuned). CSV has a row for each frame.

Exit code: 0 answered, 1 no frame passes every check in the bounds, 2 wrong usage, 3 wrong catalog or brief, 4 a file could not be read or written, 130 interrupted.`,
		Flags: append(append(ask.QuestionFlags(),
			&cli.StringFlag{Name: "kv", Category: ask.ThemeAnswer, Usage: "`LOW..HIGH` bounds of kv in rpm/V, as in 60..250", DefaultText: "the catalog's"},
			&cli.StringFlag{Name: "reduction", Category: ask.ThemeAnswer, Usage: "`LOW..HIGH` bounds of the reduction, as in 1.5..6", DefaultText: "the catalog's"},
			&cli.StringFlag{Name: "wheel", Category: ask.ThemeAnswer, Usage: "`LOW..HIGH` bounds of the wheel's diameter, as in 80mm..200mm", DefaultText: "the catalog's"},
			ask.TopFlag(),
		), ask.OutputFlags()...),
		Action: p.ideal,
	}
}

// ideal answers with the best kv, reduction and wheel of each frame.
func (p *program) ideal(c *cli.Context) error {
	if err := p.NoArguments(c); err != nil {
		return err
	}
	var bounds search.Bounds
	for _, b := range []struct {
		name string
		to   *search.Span
		read func(string) (float64, error)
	}{
		{"kv", &bounds.KV, quantity.Number},
		{"reduction", &bounds.Reduction, quantity.Number},
		{"wheel", &bounds.Wheel, quantity.Length.Parse},
	} {
		if err := spanFlag(c, b.name, b.to, b.read); err != nil {
			return err
		}
	}
	want, err := p.NewWish(c, false)
	if err != nil {
		return err
	}
	a, q, problem, err := p.Inquire(c)
	if err != nil {
		return err
	}
	i := &ideal.Answer{Question: q, Problem: problem, Top: want.Top, Bounds: bounds}
	return i.Give(c.Context, p.Desk, a)
}

// spanFlag reads a flag of the form LOW..HIGH, of which either end may be left
// out.
func spanFlag(c *cli.Context, name string, to *search.Span, read func(string) (float64, error)) error {
	if !c.IsSet(name) {
		return nil
	}
	text := c.String(name)
	low, high, ok := strings.Cut(text, "..")
	if !ok || low+high == "" {
		return outcome.Usage(spanHint(name), "--%s %s is no range", name, say.Shown(text))
	}
	for _, end := range []struct {
		text string
		to   *float64
	}{{low, &to.Low}, {high, &to.High}} {
		if end.text == "" {
			continue
		}
		var err error
		if *end.to, err = read(end.text); err != nil {
			return outcome.Usage(spanHint(name), "--%s %s: %v", name, say.Shown(text), err)
		}
		if *end.to <= 0 {
			return outcome.Usage(spanHint(name), "--%s %s: both ends must be above 0", name, say.Shown(text))
		}
	}
	if high != "" && to.Low > to.High {
		return outcome.Usage(spanHint(name), "--%s %s: the lower end is above the upper", name, say.Shown(text))
	}
	return nil
}

func spanHint(name string) string {
	return "write --" + name + " " + map[string]string{"kv": "60..250", "reduction": "1.5..6", "wheel": "80mm..200mm"}[name]
}
