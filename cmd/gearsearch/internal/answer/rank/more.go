package rank

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// steadiness adds how firmly the first build stands first.
func (r *text) steadiness(out *layout.Text) {
	if r.stable == nil {
		return
	}
	out.Heading("How firm the first place is")
	out.Paragraph("Each weight by itself, the others held: how far it may move before another build scores more. That build is named by its rank, where it is among the first, and by the parts in which it differs from the best.")
	t := &layout.Table{Columns: []layout.Column{
		{Title: "weight of"},
		{Title: "is", Right: true},
		{Title: "holds from", Right: true},
		{Title: "to", Right: true},
		{Title: "below it leads", Wrap: true, Least: say.ProseWidth},
		{Title: "above it leads", Wrap: true, Least: say.ProseWidth},
	}}
	for _, w := range r.stable.Ranges {
		high := "any"
		if w.Above != nil {
			high = layout.Fixed(w.High, 2)
		}
		t.Add(w.Name, say.Short(w.Weight), layout.Fixed(w.Low, 2), high, r.rival(w.Below), r.rival(w.Above))
	}
	out.Table(t)
	out.Paragraph(r.winsText())
}

// winsText says how often each of the first builds wins with random weights.
func (r *text) winsText() string {
	var wins []string
	others := 1.0
	for i, share := range r.stable.Wins {
		others -= share
		if share > 0 {
			wins = append(wins, fmt.Sprintf("build%s%d in%s%s", say.NBSP, i+1, say.NBSP, say.Percent(share)))
		}
	}
	if rest := say.Percent(math.Max(0, others)); rest != "0%" {
		wins = append(wins, fmt.Sprintf("a build beyond the first %d in%s%s", len(r.stable.Wins), say.NBSP, rest))
	}
	return fmt.Sprintf("With %s, all as likely, the best is %s.", say.Counted(uint64(r.stable.Draws), "random weighting", "random weightings"), strings.Join(wins, ", "))
}

// rival names a build that takes over: its rank if it is ranked, and in which
// parts it differs from the first.
func (r *text) rival(b *constraints.Build) string {
	if b == nil {
		return "–"
	}
	first := r.result.At(0).Build
	what := say.Differences(first, b)
	for i := range r.result.Len() {
		if other := r.result.At(i).Build; buildsAlike(other, b) {
			return fmt.Sprintf("%d: %s", i+1, what)
		}
	}
	return what
}

// buildsAlike reports whether two builds are made of the same parts.
func buildsAlike(a, b *constraints.Build) bool {
	return a.Motors() == b.Motors() && say.Differences(a, b) == "" && say.Differences(b, a) == ""
}

// toleranceTable adds what becomes of the builds when parts and rider vary.
func (r *text) toleranceTable(out *layout.Text, rows []*say.Row) {
	if !r.Tolerance {
		return
	}
	out.Heading("When parts and rider vary")
	out.Paragraph(say.ToleranceText(r.result.Problem, r.Draws, r.system))
	t := &layout.Table{Columns: []layout.Column{{Right: true}, {Title: "passes all", Right: true}}}
	figures := spreading(r.result.Problem)
	for _, f := range figures {
		unit, _ := r.system.Show(f.Unit)
		t.Columns = append(t.Columns, layout.Column{Title: strings.TrimSpace(shortLabel(f) + say.NBSP + unit), Stack: say.NumberStack})
	}
	t.Columns = append(t.Columns, layout.Column{Title: "fails most", Wrap: true, Least: say.ProseWidth})
	for _, row := range rows {
		x, ok := r.varied[row.Rank]
		if !ok {
			continue
		}
		cells := []string{fmt.Sprint(row.Rank), say.Percent(x.Share)}
		for _, f := range figures {
			spread, _ := dataout.Spread(x, f.Name)
			cells = append(cells, spreadText(spread, r.system))
		}
		t.Add(append(cells, weakest(x))...)
	}
	out.Table(t)
	out.Paragraph("Three figures: 5 % of the draws lie below the first, half below the second, 95 % below the third; fails most: the checks that do not always pass, with the share of draws in which they do.")
}

// shortLabel is the label of a figure, short enough for a column.
func shortLabel(f constraints.Figure) string {
	switch f.Name {
	case "climb_margin_pct":
		return "climb"
	case "hill_torque_nm":
		return "torque"
	case "top_speed_kmh":
		return "" // the unit says it
	}
	return f.Label
}

// spreadText is a spread as a table shows it: three numbers.
func spreadText(x search.FigureSpread, system quantity.System) string {
	if math.IsNaN(x.Middle) {
		return "?"
	}
	unit, factor := system.Show(x.Unit)
	decimals := quantity.Decimals(unit)
	if x.Unit == "%" {
		decimals = 0
	}
	var out []string
	for _, value := range []float64{x.Low, x.Middle, x.High} {
		out = append(out, layout.Fixed(value*factor, decimals))
	}
	text := strings.Join(out, " ")
	if x.Known < 1 {
		text += say.OpenSign
	}
	return text
}

// weakest names the checks that do not always pass, the weakest first: three
// at most.
func weakest(x search.Robustness) string {
	const most = 3
	checks := slices.DeleteFunc(slices.Clone(x.Checks), func(c search.CheckShare) bool { return c.Share == 1 })
	slices.SortStableFunc(checks, func(a, b search.CheckShare) int { return cmp.Compare(a.Share, b.Share) })
	var out []string
	for _, c := range checks[:min(most, len(checks))] {
		out = append(out, c.Name+say.NBSP+say.Percent(c.Share))
	}
	if len(checks) > most {
		out = append(out, "…")
	}
	return strings.Join(out, ", ")
}
