package rank

import (
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
)

// firstRows is how many builds the first page lists unless asked for otherwise.
const firstRows = 10

// first is the first page of a ranking, which fits a terminal: the builds in a row
// each, and below them a line on each thing that the whole ranking tells.
func (r *text) first(rows []*say.Row) *layout.Text {
	out := &layout.Text{}
	out.Within(say.FirstLines)
	if !r.topGiven {
		rows = rows[:min(firstRows, len(rows))]
	}
	r.incomplete(out)
	var notes []layout.Note
	if len(rows) > 0 {
		notes = r.firstTable(out, rows)
	} else {
		notes = r.firstNothing(out)
	}
	p := r.result.Problem
	notes = append(notes, layout.Note{Label: say.LabelAsked, Text: say.AskedShort(p, r.system)})
	if r.Uncounted {
		notes = append(notes, layout.Note{Label: say.LabelCounts, Text: say.RankUncounted(p)})
	} else {
		notes = append(notes, layout.Note{Label: say.LabelCounts, Text: say.RankCounts(r.result, r.wishes, r.system)})
	}
	var own say.Cautions
	for _, row := range rows {
		own.Add(row.Rank, row.Build.Cautions())
	}
	notes = append(notes,
		layout.Note{Label: say.LabelMeasure, Text: say.FirstMeasure(r.measures)},
		layout.Note{Label: say.LabelAssumed, Text: say.FirstAssumptions(r.used().Assumptions())},
		layout.Note{Label: say.LabelCaution, Text: say.FirstCautions(&own, p.GeneralCautions(), r.system)},
		layout.Note{Label: say.LabelNext, Text: r.firstNext(rows), Typed: true},
	)
	out.Notes(notes...)
	return out
}

// firstTable adds the table of builds, and gives what is told of all of them.
func (r *text) firstTable(out *layout.Text, rows []*say.Row) []layout.Note {
	var more []say.Column
	if r.Tolerance {
		more = append(more, say.NumberColumn("passes", func(row *say.Row) string {
			if x, ok := r.varied[row.Rank]; ok {
				return say.Percent(x.Share)
			}
			return ""
		}))
	}
	t, alike, spoken := say.RankTable(rows, r.result.Problem, r.Front, r.system, more...)
	heading := []string{r.firstHeading(len(rows))}
	if note := say.FirstInvented(r.result.Problem); note != "" {
		heading = append(heading, note)
	}
	out.Heading(strings.Join(heading, "; "))
	out.Table(t)
	notes := []layout.Note{
		{Label: say.LabelAll, Text: strings.Join(alike, ", ")},
		{Label: say.LabelWatch, Text: say.RankWatch(rows, spoken)},
		{Label: say.LabelSteady, Text: say.RankSteady(r.stable)},
	}
	if r.Tolerance {
		notes = append(notes, layout.Note{Label: say.LabelVaried, Text: say.RankVaried(r.Draws)})
	}
	return notes
}

// firstHeading says how many of how many are listed, and in which order.
func (r *text) firstHeading(n int) string {
	if r.Front != nil || r.Apart.None() {
		return strings.TrimSuffix(r.heading(n), r.each())
	}
	return say.RankHeading(n, r.result.Feasible, !r.Uncounted) + strings.TrimSuffix(r.order(), r.each())
}

// firstNothing says that nothing is feasible, what the nearest build misses, and the
// cheapest concessions.
func (r *text) firstNothing(out *layout.Text) []layout.Note {
	p := r.result.Problem
	heading := say.NothingDoes(p)
	if note := say.FirstInvented(p); note != "" {
		heading += "; " + note
	}
	out.Heading(heading)
	if r.near == nil {
		return nil
	}
	out.Notes(layout.Note{Label: say.LabelNearest, Text: say.Build(r.near.Build)})
	out.Table(say.MissesTable(r.near.Misses, p, r.system))
	why := ""
	if r.slips != nil {
		why = say.Slip(r.slips, p, r.system)
	}
	if r.relaxed != nil {
		list := r.relaxed.Openings[:min(fewConcessions, len(r.relaxed.Openings))]
		out.Table(say.ConcessionsTable(list, r.relaxed.Pairs, p.Catalog.Currency, r.system))
	}
	return []layout.Note{{Label: say.LabelWhy, Text: why}}
}

// firstNext is the command to type next.
func (r *text) firstNext(rows []*say.Row) string {
	same := r.Question.Again()
	switch {
	case len(rows) > 0 && len(r.saved) > 0:
		return "gearsearch sheet " + say.Typed(r.saved[0].File) + r.Question.AgainSaved()
	case len(rows) > 0:
		return "gearsearch rank" + same + r.Manner.again() + r.saveFirst(rows[0].Rank)
	case !r.result.Complete:
		return "" // nothing is known yet
	case r.relaxed != nil:
		return "gearsearch rank" + same + say.Settings(&r.relaxed.Openings[0])
	}
	return "gearsearch relax" + same
}
