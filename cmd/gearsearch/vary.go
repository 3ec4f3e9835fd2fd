package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/answer/vary"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

func (p *program) varyCommand() *cli.Command {
	flags := ask.QuestionFlags()
	for _, f := range vary.Flags() {
		flags = append(flags, &cli.StringSliceFlag{Name: f.Name, Category: ask.ThemeAnswer, Usage: "`" + f.Value + "` " + f.Usage})
	}
	return &cli.Command{
		Name:      "vary",
		ArgsUsage: "[BUILD.toml]",
		Usage:     "change numbers or parts of a build, or of bare numbers: what each change does",
		UsageText: `gearsearch vary --kv 150 --series 11 --teeth 14:48 --wheel-size 120mm
gearsearch vary --kv 150,180 --series 11 --ratio 3.2,3.6 --wheel-size 120mm --erpm-ceiling 60000
gearsearch vary build.toml --kv 150,180 --series 11,13
gearsearch vary build.toml --teeth 14:48,16:54 --wheel-size 100mm,120mm --all
gearsearch vary build.toml --count 1,2 --charge full,3.3 -o rows.csv`,
		Description: `A row for each value, one change at a time, and the build itself first: all figures, whatever fails, with the checks that a change cures and those that it adds. With --all a row for each combination of the values.

Another kv rewinds the motor: its resistance goes with 1/kv², its currents with kv. Another number in series keeps the cells and how many are parallel, price and mass by cells. Pulleys of other teeth have their belt chosen anew. A ratio in place of two pulleys, or teeth in place of a gear drive that does not give its own, is a bare one: it keeps efficiency, price and mass, and nothing else is known of it. --teeth and --ratio do not go together. --use takes parts of the catalog; with --all the numbers of a row are those of its parts. Where a pulley or a mount is another, the belt is chosen anew.

Without a build file --kv, --series, --wheel-size and --teeth or --ratio do, and no catalog is read: cells of 3.6 V, 4.2 V full, and 7 pole pairs are assumed. The first value of each flag makes the build, and --part says what else is known of it.

JSON: base (a build), rows: change (what is other), build, cured and added (checks); tells_more (flags, for bare numbers). A build has erpm_nominal and thrust_n_per_a besides. CSV has the build itself as the first row.

Exit code: 0 answered, 1 no row passes every check, 2 wrong usage, 3 wrong catalog, brief or build, 4 a file could not be read or written, 130 interrupted.`,
		Flags: append(append(flags,
			&cli.StringSliceFlag{Name: "charge", Category: ask.ThemeAnswer, Usage: "`CHARGE[,CHARGE]` full, nominal, or volts per cell"},
			&cli.StringSliceFlag{Name: "use", Category: ask.ThemeAnswer, Usage: "`SLOT=ID[,ID]` parts of the catalog; may be repeated. Slots: " + slotsInWords()},
			&cli.StringSliceFlag{Name: "part", Category: ask.ThemeAnswer, Usage: "`KIND.KEY=VALUE` what is known of a part of bare numbers, as in motor.resistance_mohm=60; may be repeated"},
			&cli.BoolFlag{Name: "all", Category: ask.ThemeAnswer, Usage: "every combination of the values, at most 1000"},
		), ask.OutputFlags()...),
		Action: p.vary,
	}
}

func slotsInWords() string {
	var names []string
	for _, s := range constraints.Slots() {
		names = append(names, s.String())
	}
	return strings.Join(names, ", ")
}

// vary answers with what other numbers or parts do to a build.
func (p *program) vary(c *cli.Context) error {
	axes, words, err := numberAxes(c)
	if err != nil {
		return err
	}
	if c.Args().Len() == 0 {
		return p.varyNumbers(c, axes, words)
	}
	name, err := ask.BuildArgument(c)
	if err != nil {
		return err
	}
	if len(c.StringSlice("part")) > 0 {
		return outcome.Usage("leave it out, or the build file", "--part: the parts of a build file are those of the catalog")
	}
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	file, q, err := p.BuildQuestion(c, name)
	if err != nil {
		return err
	}
	axes, err = chargeAxis(c, axes, q.Brief)
	if err != nil {
		return err
	}
	used, err := vary.ReadUse(q.Catalog, c.StringSlice("use"), ask.SlotHint)
	if err != nil {
		return err
	}
	if axes = append(axes, used...); len(axes) == 0 {
		return outcome.Usage("as in gearsearch vary "+say.Typed(name)+" --kv 150,180", "vary needs something to vary: --kv, --series, --teeth, --ratio, --wheel-size, --count, --charge or --use")
	}
	v := &vary.Answer{Question: q, File: name, Axes: axes, All: c.Bool("all"), Words: words}
	if err := v.Find(file); err != nil {
		return p.Elsewhere(q, err)
	}
	return v.Give(p.Desk, a)
}

// varyNumbers answers for bare numbers.
func (p *program) varyNumbers(c *cli.Context, axes []vary.Axis, words string) error {
	if len(c.StringSlice("use")) > 0 {
		return outcome.Usage("name a build file, or leave --use out", "--use: bare numbers are of no catalog")
	}
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	q, err := p.AskBare(c)
	if err != nil {
		return err
	}
	if axes, err = chargeAxis(c, axes, q.Brief); err != nil {
		return err
	}
	bare, err := vary.NewBare(axes, c.StringSlice("part"))
	if err != nil {
		return err
	}
	if q.Catalog, err = bare.Catalog(); err != nil {
		return err
	}
	q.Brief = bare.Brief(q.Brief)
	v := &vary.Answer{Question: q, Bare: bare, Axes: axes, All: c.Bool("all"), Words: words}
	if err := v.Find(bare.File(q.Brief)); err != nil {
		return err
	}
	return v.Give(p.Desk, a)
}

// numberAxes reads the flags that vary numbers, and how all flags that vary are
// typed again.
func numberAxes(c *cli.Context) (axes []vary.Axis, words string, err error) {
	if c.IsSet("teeth") && c.IsSet("ratio") {
		return nil, "", outcome.Usage("leave one of them out: teeth are a ratio too", "--teeth and --ratio do not go together")
	}
	for _, f := range vary.Flags() {
		if !c.IsSet(f.Name) {
			continue
		}
		text := strings.Join(c.StringSlice(f.Name), ",")
		a, err := f.ReadAxis(text)
		if err != nil {
			return nil, "", err
		}
		axes = append(axes, a)
		words += " --" + f.Name + " " + say.Typed(text)
	}
	if c.IsSet("charge") {
		words += " --charge " + say.Typed(strings.Join(c.StringSlice("charge"), ","))
	}
	for _, flag := range []string{"use", "part"} {
		for _, text := range c.StringSlice(flag) {
			words += " --" + flag + " " + say.Typed(text)
		}
	}
	return axes, words, nil
}

// chargeAxis adds what --charge varies.
func chargeAxis(c *cli.Context, axes []vary.Axis, b *constraints.Brief) ([]vary.Axis, error) {
	if !c.IsSet("charge") {
		return axes, nil
	}
	a, err := vary.ReadCharge(b, strings.Join(c.StringSlice("charge"), ","))
	return append(axes, a), err
}
