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

// Verdict says in a line how the checks came out.
func Verdict(results []constraints.Result, strict bool) string {
	r := resultsOf(results)
	parts := []string{fmt.Sprintf("%d of %d checks passed", r.passed, r.all)}
	if len(r.failed) > 0 {
		parts = append(parts, "failed: "+strings.Join(r.failed, ", "))
	}
	return strings.Join(append(parts, r.others(strict)...), "; ")
}

// sortedResults are the checks of a build, by name, as they came out.
type sortedResults struct {
	all, passed           int
	failed, open, demoted []string // demoted: not passed, and only a caution
}

func resultsOf(results []constraints.Result) sortedResults {
	out := sortedResults{all: len(results)}
	for _, r := range results {
		switch {
		case r.Verdict == constraints.Pass:
			out.passed++
		case r.Demoted:
			out.demoted = append(out.demoted, r.Name)
		case r.Verdict == constraints.Fail:
			out.failed = append(out.failed, r.Name)
		default:
			out.open = append(out.open, r.Name)
		}
	}
	return out
}

// others names the checks that neither pass nor fail.
func (r *sortedResults) others(strict bool) []string {
	var out []string
	if len(r.open) > 0 {
		text := "not decided for lack of data: "
		if strict {
			text = "not decided, which --strict takes for failed: "
		}
		out = append(out, text+strings.Join(r.open, ", "))
	}
	if len(r.demoted) > 0 {
		out = append(out, "only a caution: "+strings.Join(r.demoted, ", "))
	}
	return out
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
