package sheet

import (
	"slices"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

// first is the first page of a sheet, which fits a terminal: what decides first, and
// below it a line on each thing that the whole sheet tells.
func (s *Answer) first() *layout.Text {
	out := &layout.Text{}
	out.Within(say.FirstLines)
	p, results := s.Build.Problem, s.Build.Results()
	out.Heading(say.SheetHeading(s.Build, s.Score, s.Strict))
	out.Notes(layout.Note{Label: say.LabelParts, Text: say.Build(s.Build)})
	table, shown := say.SheetTable(s.Build, s.System)
	out.Table(table)
	if s.interrupted() {
		out.Paragraph(incompleteTolerance)
	}
	out.Notes(
		layout.Note{Label: say.LabelWatch, Text: say.SheetWatch(results, shown)},
		layout.Note{Label: say.LabelMake, Text: say.ToMake(outfit.Makings(s.Build))},
		layout.Note{Label: say.LabelFor, Text: say.RideShort(p, s.System)},
		layout.Note{Label: say.LabelVaried, Text: say.SheetVaried(s.Varied)},
		layout.Note{Label: say.LabelAssumed, Text: say.FirstAssumptions(s.Build.Assumptions())},
		layout.Note{Label: say.LabelCaution, Text: say.FirstCautionsOf(s.Build, s.System)},
		layout.Note{Label: say.LabelNext, Text: s.firstNext(results), Typed: true},
	)
	return out
}

// firstNext is the command to type next: a ranking for a build that fails, the
// shopping list for any other.
func (s *Answer) firstNext(results []constraints.Result) string {
	if slices.ContainsFunc(results, func(r constraints.Result) bool { return r.Rejects(s.Strict) }) {
		return "gearsearch rank" + s.Anew
	}
	return "gearsearch parts " + say.Typed(s.File) + s.Again
}
