package vary

import (
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// text is the answer as people read it.
func (v *Answer) text(system quantity.System) *layout.Text {
	out := &layout.Text{}
	b := v.base.Build
	if v.Bare != nil {
		out.Heading(say.BareBuild(b, system))
	} else {
		out.Heading(say.Build(b))
	}
	say.AskedText(out, b.Problem, system)
	v.rowTable(out, system)
	if rules := v.rules(); len(rules) > 0 {
		out.Paragraph(strings.Join(rules, " "))
	}
	if v.Bare != nil {
		out.Paragraph(say.BareAssumed(b, v.Bare.start.Motors > 0))
		if more := v.tellsMore(); len(more) > 0 {
			out.Paragraph("Further numbers tell more:")
			out.List(say.TellsMore(more))
		}
		out.Paragraph(say.BareClosing)
	} else {
		out.Paragraph(say.Closing)
	}
	v.next(out)
	return out
}

// rules say what stays the same where numbers are varied.
func (v *Answer) rules() []string {
	var out []string
	for i, row := range v.changes {
		for _, c := range row {
			rule := say.VariedRule(c.Key, v.rows[i].Build.Drive)
			told := v.Bare == nil || c.Key == "kv" && len(v.Bare.parts) > 0 // else there is nothing to hold
			if rule != "" && told && !slices.Contains(out, rule) {
				out = append(out, rule)
			}
		}
	}
	return out
}

// tellsMore are the flags that would tell more of bare numbers, none for a build.
func (v *Answer) tellsMore() []string {
	out := []string{}
	if v.Bare == nil {
		return out
	}
	b := v.base.Build
	m, c, p := b.Motor, b.Controller, b.Battery
	for _, x := range []struct {
		flag string
		adds bool
	}{
		{say.TellResistance, math.IsNaN(m.Resistance)},
		{say.TellMotorCurrent, math.IsNaN(m.PeakCurrent) && math.IsNaN(c.MotorCurrent)},
		{say.TellPackCurrent, math.IsNaN(p.DischargeLimit()) && math.IsNaN(c.BatteryCurrent)},
		{say.TellPolePairs, math.IsNaN(m.PolePairs)},
		{say.TellCeiling, math.IsNaN(c.Ceiling)},
		{say.TellCapacity, math.IsNaN(p.CapacityAh())},
		{say.TellGrade, b.ThrustKnown() && !b.Problem.Climbs()},
	} {
		if x.adds {
			out = append(out, x.flag)
		}
	}
	return out
}

// leastWord is the least width of the columns of words.
const leastWord = 12

// rowTable adds the build itself and its variants: values, and behind them the
// difference where there is room.
func (v *Answer) rowTable(out *layout.Text, system quantity.System) {
	rows := []*say.Row{say.NewRow(v.base)}
	names := []string{say.VariedBase(v.Bare != nil)}
	for i, x := range v.rows {
		rows = append(rows, say.NewRow(x.Scored))
		var words []string
		for _, c := range v.changes[i] {
			words = append(words, say.VariedChange(c.Key, c.Value, system))
		}
		names = append(names, strings.Join(words, ", "))
	}
	t := &layout.Table{Rows: make([][]layout.Cell, len(rows))}
	add := func(c layout.Column, cells []layout.Cell) {
		t.Columns = append(t.Columns, c)
		for i := range rows {
			t.Rows[i] = append(t.Rows[i], cells[i])
		}
	}
	plain := func(text func(i int) string) []layout.Cell {
		cells := make([]layout.Cell, len(rows))
		for i := range rows {
			cells[i].Text = text(i)
		}
		return cells
	}
	add(layout.Column{Title: "change", Wrap: true, Least: leastWord}, plain(func(i int) string { return names[i] }))
	for _, m := range say.VariedMeasures(v.base.Build.Problem, system, v.Bare != nil) {
		texts, signs, known := make([]string, len(rows)), make([]string, len(rows)), false
		for i, r := range rows {
			texts[i], signs[i] = m.Text(r), r.Sign(m.Checks...)
			known = known || strings.Trim(texts[i], "?–") != ""
		}
		if !known {
			continue
		}
		add(layout.Column{Title: m.Title, Right: true, Stack: m.Key, Extra: m.Extra}, say.SignedCells(texts, signs))
		if len(rows) > 1 {
			changes := plain(func(i int) string {
				if i == 0 {
					return ""
				}
				return m.Change(rows[0], rows[i])
			})
			add(layout.Column{Title: "±", Right: true, Stack: m.Key, Extra: m.Extra || m.Key != "top_speed_kmh"}, changes)
		}
	}
	if checks := plain(func(i int) string { return v.checksOf(i) }); slices.ContainsFunc(checks, func(c layout.Cell) bool { return c.Text != "" }) {
		add(layout.Column{Title: "checks", Wrap: true, Least: leastWord}, checks)
	}
	t.Legend = say.VariedLegend(v.base.Build, system, v.Bare != nil, len(rows) > 1)
	out.Table(t)
}

// checksOf says what the build fails, and of a variant what it cures and adds.
func (v *Answer) checksOf(i int) string {
	var parts []string
	say := func(verb string, results []constraints.Result) {
		if len(results) > 0 {
			parts = append(parts, verb+" "+strings.Join(checkNames(results), ", "))
		}
	}
	if i == 0 {
		say("fails", v.base.Build.Rejections(v.Question.Strict))
	} else {
		say("cures", v.rows[i-1].Cured)
		say("adds", v.rows[i-1].Added)
	}
	return strings.Join(parts, "; ")
}

// next adds what to type next.
func (v *Answer) next(out *layout.Text) {
	again := v.Question.AgainOf()
	var lines []string
	if v.crosses {
		file := ""
		if v.Bare == nil {
			file = " " + say.Typed(v.File)
		}
		lines = append(lines, "gearsearch vary"+file+v.Words+" --all"+again)
	}
	switch slots := v.slots(); {
	case v.Bare != nil:
		lines = append(lines, "gearsearch catalog new my-board")
	case len(slots) > 0:
		lines = append(lines, "gearsearch swap "+say.Typed(v.File)+" --change "+strings.Join(slots, ",")+again)
	default:
		lines = append(lines, "gearsearch sheet "+say.Typed(v.File)+again)
	}
	out.Heading("Next")
	out.Verbatim(lines...)
}

// slots are what other parts could be bought for, of what is varied.
func (v *Answer) slots() []string {
	of := map[string]string{"kv": "motor", "series": "battery", "teeth": ask.WholeDrive, "ratio": ask.WholeDrive, "wheel_mm": "wheel", "motors": ask.MotorsWord, "charge": ""}
	var out []string
	for _, a := range v.Axes {
		word, number := of[a.Key]
		if !number {
			word = a.Key
			if slot, _ := constraints.SlotNamed(word); !slot.Always() {
				word = ask.WholeDrive
			}
		}
		if word != "" && !slices.Contains(out, word) {
			out = append(out, word)
		}
	}
	return out
}
