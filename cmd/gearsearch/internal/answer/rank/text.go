package rank

import (
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// text is a ranking as people read it.
type text struct {
	*Answer
	system  quantity.System
	saved   []ask.Saving
	near    *search.NearMiss   // where nothing is feasible; may be nil
	relaxed *search.Relaxed    // likewise
	slips   *constraints.Build // that only grip keeps from the climb; nil: grip is not the reason
	wishes  *search.Wishes     // nil: not counted
}

func (r *text) text() *layout.Text {
	out := &layout.Text{}
	var rows []*say.Row
	for s := range r.builds() {
		rows = append(rows, say.NewRow(s))
	}
	if !r.whole {
		return r.first(rows)
	}
	r.incomplete(out)
	say.AskedText(out, r.result.Problem, r.system)
	if len(rows) > 0 {
		r.buildTable(out, rows)
		r.steadiness(out)
		r.toleranceTable(out, rows)
	}
	r.tally(out)
	if r.near != nil {
		r.nearest(out)
	}
	if r.relaxed != nil {
		r.concessions(out)
	}
	out.Heading("Assumed")
	out.Paragraph(strings.Join(say.Assumptions(r.used().Assumptions()), "; ") + ".")
	out.Heading("Cautions")
	out.List(append(say.BuildCautions(rows, r.system), say.GeneralCautions(r.result.Problem.GeneralCautions(), r.system)...))
	r.next(out, rows)
	return out
}

// used is what the builds that are shown are made of.
func (r *text) used() *constraints.Used {
	used := dataout.Used(r.result.Problem, r.builds())
	if r.near != nil {
		used.Add(r.near.Build)
	}
	return used
}

// incomplete says what the interrupt cut short.
func (r *text) incomplete(out *layout.Text) {
	switch {
	case !r.result.Complete && r.Uncounted:
		out.Paragraph(say.BestSofar(0, r.result.Problem))
	case !r.result.Complete:
		out.Paragraph(say.BestSofar(r.result.Combinations, r.result.Problem))
	case r.shortened:
		out.Paragraph("INCOMPLETE: interrupted after the ranking, which is complete; some of what follows it is missing.")
	}
}

// buildTable adds the table of builds, what all of them share, and what its signs
// and words mean.
func (r *text) buildTable(out *layout.Text, rows []*say.Row) {
	t := say.NewComparison(rows)
	for _, c := range r.columns(rows) {
		t.Add(c)
	}
	out.Heading(r.heading(len(rows)))
	t.AddTo(out, r.legend(rows))
	if text := say.Measure(r.measures); text != "" {
		out.Paragraph(text)
	}
}

// heading says how many of how many builds are listed, and in which order.
func (r *text) heading(n int) string {
	all := r.result.Feasible
	switch {
	case r.Front != nil:
		text := fmt.Sprintf("%s of %s %s on the front of %s", layout.Count(uint64(r.result.FrontSize)), say.Counted(all, "feasible build", "feasible builds"),
			say.Plural(uint64(r.result.FrontSize), "is", "are"), r.frontWords())
		if n < r.result.FrontSize {
			return fmt.Sprintf("%s; the best %s%s", text, layout.Count(uint64(n)), r.each())
		}
		return text + r.order()
	case r.Uncounted:
		return "The best " + say.Counted(uint64(n), "feasible build", "feasible builds") + r.order()
	case r.Robust:
		return fmt.Sprintf("The best %d of %s%s", n, say.Counted(all, "feasible build", "feasible builds"), r.order())
	}
	return ofMany(n, all, "feasible build", "feasible builds") + r.order()
}

// order says in which order builds are listed.
func (r *text) order() string {
	if r.Robust {
		return ", those first that pass most often" + r.each()
	}
	return ", best first" + r.each()
}

// each says of what each build that is listed is the best.
func (r *text) each() string {
	if r.Apart.None() {
		return ""
	}
	return "; one for each choice of " + say.Choices(r.Apart)
}

// frontWords name the figures of a front with the end that is better.
func (r *text) frontWords() string {
	var names []string
	for _, f := range r.Front {
		end := "more"
		if f.Better == constraints.Lesser {
			end = "less"
		}
		names = append(names, fmt.Sprintf("%s (%s is better)", f.Label, end))
	}
	return strings.Join(names, ", ")
}

// ofMany says how many of how many.
func ofMany(n int, total uint64, one, more string) string {
	if uint64(n) == total {
		return say.Counted(total, one, more)
	}
	return layout.Count(uint64(n)) + " of " + say.Counted(total, one, more)
}

// alike reports whether the table says what builds stand for.
func (r *text) alike() bool { return !r.Apart.None() && r.result.Counted() }

// legend explains the columns, signs and words of the table.
func (r *text) legend(rows []*say.Row) []layout.Gloss {
	legend := say.FigureGlosses(r.system)
	legend = append(legend, layout.Gloss{Titles: []string{"launch"}, Text: " in s"}, say.MarginGloss(""))
	legend = append(legend,
		layout.Gloss{Titles: []string{"max. grade"}, Text: ": the steepest at the climb speed"},
		layout.Gloss{Titles: []string{"ratio"}, Text: ": motor turns per wheel turn"})
	legend = append(legend, say.SignGlosses(": beyond it, only a caution in this brief")...)
	if held := say.LimitMeanings(rows); len(held) > 0 {
		legend = append(legend, layout.Gloss{Titles: []string{"limit"}, Text: ": of the top speed; " + strings.Join(held, "; ")})
	}
	if r.alike() {
		legend = append(legend, layout.Gloss{Titles: []string{"alike"}, Text: ": how many more feasible builds have the same " + say.Choices(r.Apart)})
	}
	if r.Front != nil {
		legend = append(legend, layout.Gloss{Text: "on the front: no other feasible build is as good on all of these figures and better on one"})
	}
	return legend
}

// tally adds the counts of the combinations.
func (r *text) tally(out *layout.Text) {
	t := r.result.Tally
	if r.Uncounted {
		r.untold(out)
		return
	}
	all := say.Counted(t.Combinations, "combination", "combinations")
	text := fmt.Sprintf("%s, %s feasible", all, layout.Count(t.Feasible))
	if t.Feasible == 0 && r.result.Complete {
		text = "Nothing feasible in " + all
	}
	if t.Unknown > 0 {
		text += fmt.Sprintf(", %s of these with a check undecided", layout.Count(t.Unknown))
	}
	out.Heading(text)
	table := &layout.Table{Columns: []layout.Column{{Title: "rejected by"}, {Title: "combinations", Right: true}, {Title: "subject"}}}
	var none []string
	for _, x := range r.result.Rejections() {
		if x.Count == 0 {
			none = append(none, x.Check.Name)
			continue
		}
		table.Add(x.Check.Name, layout.Count(x.Count), r.result.Problem.As(x.Check).Subject)
	}
	out.Table(table)
	if len(none) > 0 {
		out.Paragraph("Checks that reject none: " + strings.Join(none, ", ") + ".")
	}
	r.dearest(out)
}

// untold says what a ranking without a count leaves out.
func (r *text) untold(out *layout.Text) {
	all := say.Combinations(r.result.Problem)
	if r.result.Complete && r.result.Len() == 0 {
		out.Heading("Nothing feasible in " + all)
	} else {
		out.Heading(all + ", not counted")
	}
	out.Paragraph("With --no-count neither the feasible builds are counted nor those that each check rejects. The ranking is the same as with the count.")
}

// next adds the commands to type next.
func (r *text) next(out *layout.Text, rows []*say.Row) {
	same := r.Question.Again()
	if len(rows) == 0 && !r.result.Complete {
		return // nothing is known yet
	}
	out.Heading("Next")
	switch {
	case len(rows) == 0:
		r.concede(out, same)
	case len(r.saved) > 0:
		out.Verbatim("gearsearch sheet " + say.Typed(r.saved[0].File) + " --why" + r.Question.AgainSaved())
	default:
		out.Verbatim(
			"gearsearch rank"+same+r.Manner.again()+r.saveFirst(rows[0].Rank),
			"gearsearch sheet build.toml --why"+r.Question.AgainSaved(),
		)
	}
}

// saveFirst is the flags that save the build that is shown first, by its rank:
// another order than by score does not change that.
func (r *text) saveFirst(rank int) string {
	text := fmt.Sprintf(" --save %d=build.toml", rank)
	if rank > ask.DefaultTop {
		text += fmt.Sprintf(" --top %d", rank)
	}
	return text
}
