package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// forms are the forms of the chart.
func (t *Teeth) forms(a *ask.Answer) ask.Forms {
	return ask.Forms{
		Text: func() *layout.Text {
			width := math.MaxInt
			if a.Format == ask.FormatTable {
				width = a.Style().Width
			}
			return t.text(a.System, width)
		},
		Document: t.document,
		Table:    t.table,
		Complete: true,
	}
}

// document is the chart as data.
func (t *Teeth) document() dataout.Document {
	held := dataout.Parts(t.base).(dataout.Object)
	var parts dataout.Object
	for _, key := range []string{"battery", "controller", "controllers", "motor", "motors", "wheel"} {
		parts = append(parts, dataout.Member{Key: key, Value: held.Get(key)})
	}
	chosen := t.chosen
	if chosen == nil {
		chosen = []string{}
	}
	return dataout.Document{
		Head: append(dataout.Head(t.problem, true),
			dataout.Member{Key: "chart", Value: "teeth"},
			dataout.Member{Key: "held", Value: parts},
			dataout.Member{Key: "chosen", Value: chosen},
		),
		Lists: []dataout.List{{Key: "cells", Items: func(yield func(dataout.Object) bool) {
			for _, c := range slices.Concat(t.cells, t.gears) {
				if !yield(t.object(&c)) {
					return
				}
			}
		}}},
	}
}

// object is a cell as data.
func (t *Teeth) object(c *plot.Tooth) dataout.Object {
	some := func(n int) any {
		if n == 0 {
			return nil
		}
		return n
	}
	var profile any
	if c.Profile != "" {
		profile = c.Profile
	}
	fails := []string{}
	for _, r := range c.Fails {
		fails = append(fails, r.Name)
	}
	b := c.Build.Build
	speed, _ := constraints.FigureNamed("top_speed_kmh")
	return dataout.Object{
		{Key: "profile", Value: profile},
		{Key: "motor_teeth", Value: some(c.Motor)},
		{Key: "wheel_teeth", Value: some(c.Wheel)},
		{Key: "reduction", Value: b.Drive.Reduction},
		{Key: "top_speed_kmh", Value: speed.Value(b)},
		{Key: "verdict", Value: verdictOf(c).String()},
		{Key: "fails", Value: fails},
		{Key: "score", Value: c.Build.Score},
		{Key: "parts", Value: dataout.Parts(b)},
	}
}

// table is the chart as rows, one for each cell.
func (t *Teeth) table() (header []string, rows [][]any) {
	header = []string{"profile", "motor_teeth", "wheel_teeth", "reduction", "top_speed_kmh", "verdict", "fails", "score"}
	for _, c := range slices.Concat(t.cells, t.gears) {
		o := t.object(&c)
		var row []any
		for _, key := range header {
			row = append(row, o.Get(key))
		}
		ids := o.Get("parts").(dataout.Object)
		for _, key := range dataout.PartKeys() {
			row = append(row, ids.Get(key))
		}
		rows = append(rows, row)
	}
	return append(header, dataout.PartKeys()...), rows
}

// text is the chart as people read it, in so many columns.
func (t *Teeth) text(system quantity.System, width int) *layout.Text {
	out := &layout.Text{}
	say.AskedText(out, t.problem, system)
	unit, _ := system.Show("km/h")
	out.Heading(fmt.Sprintf("Top speed in %s by teeth, with %s, %s, %s, %s", unit,
		say.Pieces(t.base.Motors(), t.base.Motor.ID), t.base.Controller.ID, t.base.Battery.ID, t.base.Wheel.ID))
	if len(t.chosen) > 0 {
		of := "the best build"
		if !t.feasible {
			of = "the build that comes nearest, as none is feasible"
		}
		out.Paragraph(fmt.Sprintf("Taken from %s: %s. Keep one of each to choose for yourself, as in --keep wheel=%s.", of, strings.Join(t.chosen, ", "), t.base.Wheel.ID))
	}
	codes := t.codes()
	for _, profile := range t.profiles() {
		t.profileTable(out, profile, codes, system, width)
	}
	t.gearTable(out, codes, system)
	out.Paragraph(t.legend(codes))
	out.Paragraph(say.Closing)
	t.next(out)
	return out
}

// profiles lists the profiles of the cells, in order.
func (t *Teeth) profiles() []string {
	var out []string
	for _, c := range t.cells {
		if !slices.Contains(out, c.Profile) {
			out = append(out, c.Profile)
		}
	}
	return out
}

// profileTable adds the chart of one profile: motor teeth down, wheel teeth
// across. Where it is too wide it goes on below.
func (t *Teeth) profileTable(out *layout.Text, profile string, codes map[string]string, system quantity.System, width int) {
	cells := map[[2]int]plot.Tooth{}
	var small, large []int
	for _, c := range t.cells {
		if c.Profile != profile {
			continue
		}
		cells[[2]int{c.Motor, c.Wheel}] = c
		small, large = append(small, c.Motor), append(large, c.Wheel)
	}
	slices.Sort(small)
	slices.Sort(large)
	small, large = slices.Compact(small), slices.Compact(large)
	for part := range slices.Chunk(large, across(len(large), width)) {
		table := &layout.Table{Columns: []layout.Column{{Title: profile, Right: true}}}
		for _, n := range part {
			table.Columns = append(table.Columns, layout.Column{Title: fmt.Sprint(n) + strings.Repeat(" ", signWidth), Right: true})
		}
		for _, m := range small {
			row := []layout.Cell{{Text: fmt.Sprint(m)}}
			for _, n := range part {
				c, ok := cells[[2]int{m, n}]
				if !ok {
					row = append(row, layout.Cell{})
					continue
				}
				row = append(row, show(&c, codes, system))
			}
			table.Rows = append(table.Rows, row)
		}
		out.Table(table)
	}
}

// Widths of the chart.
const (
	signWidth  = 2
	cellWidth  = 9 // a speed of three digits, its sign, the gap
	labelWidth = 8 // the profile
)

// across is how many of n columns to set side by side, so that they fit and
// the parts of the chart are alike.
func across(n, width int) int {
	most := max(1, (width-labelWidth)/cellWidth)
	parts := (n + most - 1) / most
	return (n + parts - 1) / parts
}

// show is a cell as the chart shows it: the speed with a sign behind it.
func show(c *plot.Tooth, codes map[string]string, system quantity.System) layout.Cell {
	_, factor := system.Show("km/h")
	speed, _ := constraints.FigureNamed("top_speed_kmh")
	text := layout.Fixed(speed.Value(c.Build.Build)*factor, 1)
	sign, tone := " *", layout.Strong
	switch verdictOf(c) {
	case constraints.Fail:
		sign, tone = " "+codes[c.Fails[0].Name], layout.Faint
	case constraints.Undecided:
		sign, tone = " ?", layout.Warn
	}
	return layout.Cell{Text: text + sign, Tone: tone}
}

// codes gives each check that is the first to reject a cell a letter.
func (t *Teeth) codes() map[string]string {
	codes, taken := map[string]string{}, map[string]bool{}
	for _, check := range t.problem.Checks() {
		used := func(c plot.Tooth) bool { return !c.Feasible() && c.Fails[0].Name == check.Name }
		if !slices.ContainsFunc(t.cells, used) && !slices.ContainsFunc(t.gears, used) {
			continue
		}
		for _, letter := range strings.ReplaceAll(check.Name, "-", "") + "abcdefghijklmnopqrstuvwxyz" {
			if l := string(letter); !taken[l] {
				codes[check.Name], taken[l] = l, true
				break
			}
		}
	}
	return codes
}

// gearTable adds the gear drives in play.
func (t *Teeth) gearTable(out *layout.Text, codes map[string]string, system quantity.System) {
	unit, _ := system.Show("km/h")
	table := &layout.Table{Columns: []layout.Column{{Title: "gear drive"}, {Title: "ratio", Right: true}, {Title: unit, Right: true}}}
	for _, c := range t.gears {
		d := c.Build.Build.Drive
		table.Rows = append(table.Rows, []layout.Cell{{Text: d.Gear.ID}, {Text: layout.Fixed(d.Reduction, 2)}, show(&c, codes, system)})
	}
	out.Table(table)
}

// legend explains the signs.
func (t *Teeth) legend(codes map[string]string) string {
	var lines []string
	if len(t.cells) > 0 {
		lines = append(lines, "Rows: teeth on the motor; columns: on the wheel; where several drives have the teeth, the best of them")
	}
	passes := func(c plot.Tooth) bool { return verdictOf(&c) == constraints.Pass }
	if slices.ContainsFunc(slices.Concat(t.cells, t.gears), passes) {
		lines = append(lines, "*: passes every check")
	}
	if slices.ContainsFunc(slices.Concat(t.cells, t.gears), func(c plot.Tooth) bool { return verdictOf(&c) == constraints.Undecided }) {
		lines = append(lines, "?: passes what can be decided, the rest lacks data")
	}
	for _, check := range t.problem.Checks() {
		if code, ok := codes[check.Name]; ok {
			lines = append(lines, code+": fails "+check.Name+" ("+check.Subject+")")
		}
	}
	return strings.Join(lines, "; ") + "."
}

// next adds the commands to type next.
func (t *Teeth) next(out *layout.Text) {
	same := t.question.Again()
	out.Heading("Next")
	if !t.feasible {
		out.Verbatim("gearsearch relax" + same)
		return
	}
	keep := ""
	for _, slot := range []constraints.Slot{constraints.SlotMotor, constraints.SlotBattery, constraints.SlotController, constraints.SlotWheel} {
		if id := t.base.ID(slot); !slices.Equal(t.problem.Brief.Keep[slot], []string{id}) {
			keep += ask.KeepOnly(t.problem.Brief, slot, id)
		}
	}
	out.Verbatim("gearsearch rank" + same + keep)
}
