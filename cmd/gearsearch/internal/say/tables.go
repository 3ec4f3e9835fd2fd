package say

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Closing ends the text of an answer that is about more than one build.
const Closing = "These are computed figures, not a promise of safety: gearsearch sheet BUILD.toml shows what one build assumes and what to beware of."

// AskedText adds what the brief asks, if it asks anything, and of the demo's
// parts that they are invented.
func AskedText(out *layout.Text, problem *constraints.Problem, system quantity.System) {
	if text := Asked(problem, system); text != "" {
		out.Paragraph("Asked: " + text + ".")
	}
	if note := InventedNote(problem.Catalog); note != "" {
		out.Paragraph(note)
	}
}

// Verdict say in a line what the checks say.
func Verdict(results []constraints.Result, strict bool) string {
	var failed, open, demoted []string
	for _, r := range results {
		switch {
		case r.Verdict == constraints.Pass:
		case r.Demoted:
			demoted = append(demoted, r.Name)
		case r.Verdict == constraints.Fail:
			failed = append(failed, r.Name)
		default:
			open = append(open, r.Name)
		}
	}
	passed := len(results) - len(failed) - len(open) - len(demoted)
	parts := []string{fmt.Sprintf("%d of %d checks passed", passed, len(results))}
	if len(failed) > 0 {
		parts = append(parts, "failed: "+strings.Join(failed, ", "))
	}
	if len(open) > 0 {
		text := "not decided for lack of data: "
		if strict {
			text = "not decided, which --strict takes for failed: "
		}
		parts = append(parts, text+strings.Join(open, ", "))
	}
	if len(demoted) > 0 {
		parts = append(parts, "only a caution: "+strings.Join(demoted, ", "))
	}
	return strings.Join(parts, "; ")
}

// PartsTable lists the parts of a build.
func PartsTable(b *constraints.Build, system quantity.System) *layout.Table {
	unit, factor := system.Show("kg")
	t := &layout.Table{Columns: []layout.Column{
		{Title: "slot"},
		{Title: "pieces", Right: true},
		{Title: "id", Stack: "part"},
		{Title: "name", Stack: "part", Wrap: true, Least: ProseWidth},
		{Title: b.Problem.Catalog.Currency, Right: true},
		{Title: unit, Right: true, Extra: true},
	}}
	lines, order := b.Lines(), constraints.InKindOrder(constraints.Slots())
	slices.SortFunc(lines, func(a, b constraints.Line) int { return slices.Index(order, a.Slot) - slices.Index(order, b.Slot) })
	for _, l := range lines {
		t.Add(l.Slot.String(), fmt.Sprint(l.Pieces), l.Part.ID, l.Part.Name, Money(l.Price), layout.Fixed(l.Mass*factor, 2))
	}
	return t
}

// ChecksTable lists outcomes with value, limit and margin.
func ChecksTable(results []constraints.Result, p *constraints.Problem, system quantity.System) *layout.Table {
	t := &layout.Table{Columns: []layout.Column{
		{Title: "check"},
		{Title: "verdict"},
		{Title: "value", Right: true},
		{Title: "limit", Right: true},
		{Title: "unit"},
		{Title: "margin", Right: true},
		{Title: "subject"},
	}}
	for _, r := range results {
		value, limit, unit := Outcome(r, p, system)
		verdict, tone, margin := r.Verdict.String(), layout.Plain, ""
		if m := r.MarginPct(r.Outcome); !math.IsNaN(m) {
			margin = layout.Fixed(m, 0) + "%"
		}
		switch Sign(r) {
		case FailSign:
			tone = layout.Bad
		case OpenSign:
			tone = layout.Warn
		case ThinSign:
			tone, margin = layout.Warn, margin+ThinSign
		}
		if r.Demoted && r.Verdict != constraints.Pass {
			verdict += ", demoted"
		}
		t.Rows = append(t.Rows, []layout.Cell{
			{Text: r.Name},
			{Text: verdict, Tone: tone},
			{Text: value},
			{Text: limit},
			{Text: unit},
			{Text: margin, Tone: tone},
			{Text: r.Shown().Subject},
		})
	}
	return t
}
