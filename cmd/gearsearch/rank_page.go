package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/words"
	"gearsearch/constraints"
	"gearsearch/search"
)

// rankPage is a ranking as people read it.
type rankPage struct {
	*rankAnswer
	system  quantity.System
	saved   []saving
	near    *search.NearMiss // where nothing is feasible; may be nil
	relaxed *search.Relaxed  // likewise
	wishes  *search.Wishes   // nil: not counted
}

func (r *rankPage) page() *layout.Page {
	p := &layout.Page{}
	var rows []*row
	for s := range r.builds() {
		rows = append(rows, newRow(s))
	}
	r.incomplete(p)
	askedText(p, r.result.Problem, r.system)
	if len(rows) > 0 {
		r.buildTable(p, rows)
		r.steadiness(p, rows)
		r.toleranceTable(p, rows)
	}
	r.tally(p)
	if r.near != nil {
		r.nearest(p)
	}
	if r.relaxed != nil {
		r.concessions(p)
	}
	p.Heading("Assumed")
	p.Text(strings.Join(r.result.Problem.Assumptions(), "; ") + ".")
	p.Heading("Cautions")
	p.List(append(buildCautions(rows, r.system), constraints.GeneralCautions()...))
	r.next(p, rows)
	return p
}

// incomplete says what was interrupted.
func (r *rankPage) incomplete(p *layout.Page) {
	switch {
	case !r.result.Complete && r.uncounted:
		p.Text("INCOMPLETE: interrupted; this is the best so far.")
	case !r.result.Complete:
		p.Text(fmt.Sprintf("INCOMPLETE: interrupted after %s of %s; this is the best so far.",
			layout.Count(r.result.Combinations), combinations(r.result.Problem)))
	case r.shortened:
		p.Text("INCOMPLETE: interrupted after the ranking; what is to be added to it is not all there.")
	}
}

// buildTable adds the table of builds, what all of them share, and what its signs
// and words mean.
func (r *rankPage) buildTable(p *layout.Page, rows []*row) {
	t := newComparison(rows)
	for _, c := range r.columns(rows) {
		t.add(c)
	}
	p.Heading(r.heading(len(rows)))
	t.addTo(p, r.legend(rows))
}

// comparison is a table with a build in each row.
type comparison struct {
	rows   []*row
	table  *layout.Table
	marked map[string]bool // checks that a column speaks for
	extra  map[string]bool // likewise a column that a narrow page does without
	shared []string        // parts that all rows have
}

func newComparison(rows []*row) *comparison {
	return &comparison{rows: rows, table: &layout.Table{Rows: make([][]layout.Cell, len(rows))}, marked: map[string]bool{}, extra: map[string]bool{}}
}

// add adds a column, or says once what is the same part in all rows.
func (t *comparison) add(c rankColumn) {
	cells, alike := c.cells(t.rows)
	if c.part && alike && len(t.rows) > 1 {
		if cells[0].Text != "" && !c.Extra {
			t.shared = append(t.shared, c.Title+" "+cells[0].Text)
		}
		return
	}
	for _, name := range c.checks {
		t.extra[name] = true
		if !c.Extra {
			t.marked[name] = true
		}
	}
	t.addCells(c.Column, cells)
}

// addCells adds a column of cells.
func (t *comparison) addCells(c layout.Column, cells []layout.Cell) {
	t.table.Columns = append(t.table.Columns, c)
	for i := range t.rows {
		t.table.Rows[i] = append(t.table.Rows[i], cells[i])
	}
}

// addTo adds the table to a page, with a column for the checks to watch that no
// other speaks for, after what all rows have in common. Below it stands what the
// columns mean, and what the signs mean that stand in it or above it.
func (t *comparison) addTo(p *layout.Page, legend []layout.Gloss) {
	alike := everywhere(t.rows, t.marked)
	wide, narrow := watchColumn(t.extra, alike), watchColumn(t.marked, alike)
	if !narrow.sameAs(wide, t.rows) { // where the extra columns are, they speak for themselves
		wide.Extra, narrow.Spare = true, true
		if wide.holdsText(t.rows) {
			t.add(wide)
		}
	}
	if narrow.holdsText(t.rows) {
		t.add(narrow)
	}
	var all []string
	if len(t.shared) > 0 {
		all = append(all, strings.Join(t.shared, ", "))
	}
	if len(alike) > 0 {
		all = append(all, "to watch: "+strings.Join(slices.Sorted(maps.Keys(alike)), " "))
	}
	if len(all) > 0 {
		p.Text("In all of them: " + strings.Join(all, "; ") + ".")
	}
	for i, g := range legend {
		above := slices.ContainsFunc(slices.Collect(maps.Keys(alike)), func(w string) bool { return g.Sign != "" && signIn(w) == g.Sign })
		if above {
			legend[i] = layout.Gloss{Text: g.Sign + g.Text}
		}
	}
	t.table.Legend = legend
	p.Table(t.table)
}

// signIn is the sign at the end of a check to watch.
func signIn(watched string) string {
	return watched[len(strings.TrimRight(watched, thinSign+openSign)):]
}

// heading says how many of how many builds are listed, and in which order.
func (r *rankPage) heading(n int) string {
	all := r.result.Feasible
	switch {
	case r.front != nil:
		text := fmt.Sprintf("%s of %s %s on the front of %s", layout.Count(uint64(r.result.FrontSize)), counted(all, "feasible build", "feasible builds"),
			plural(uint64(r.result.FrontSize), "is", "are"), r.frontWords())
		if n < r.result.FrontSize {
			return fmt.Sprintf("%s; the best %s%s", text, layout.Count(uint64(n)), strings.TrimSuffix(r.order(), ", best first"))
		}
		return text + r.order()
	case r.uncounted:
		return "The best " + counted(uint64(n), "feasible build", "feasible builds") + r.order()
	case r.robust:
		return fmt.Sprintf("The best %d of %s%s", n, counted(all, "feasible build", "feasible builds"), r.order())
	}
	return ofMany(n, all, "feasible build", "feasible builds") + r.order()
}

// order says in which order builds are listed.
func (r *rankPage) order() string {
	if r.robust {
		return ", those first that pass most often"
	}
	return ", best first"
}

// frontWords name the figures of a front with the end that is better.
func (r *rankPage) frontWords() string {
	var names []string
	for _, f := range r.front {
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
		return counted(total, one, more)
	}
	return layout.Count(uint64(n)) + " of " + counted(total, one, more)
}

// combinations is how many a problem has, which may be more than any integer.
func combinations(p *constraints.Problem) string {
	return layout.Counted(p.Combinations(), "combination", "combinations")
}

// cells are the cells of a column with their signs; alike reports whether all
// are the same.
func (c *rankColumn) cells(rows []*row) (cells []layout.Cell, alike bool) {
	texts, signs := make([]string, len(rows)), make([]string, len(rows))
	alike = true
	for i, r := range rows {
		texts[i], signs[i] = c.cell(r)
		alike = alike && texts[i] == texts[0] && signs[i] == signs[0]
	}
	return signedCells(texts, signs), alike
}

// holdsText reports whether some cell of the column is not empty.
func (c *rankColumn) holdsText(rows []*row) bool {
	return slices.ContainsFunc(rows, func(r *row) bool { text, _ := c.cell(r); return text != "" })
}

// sameAs reports whether two columns have the same cells.
func (c *rankColumn) sameAs(other rankColumn, rows []*row) bool {
	return !slices.ContainsFunc(rows, func(r *row) bool {
		a, _ := c.cell(r)
		b, _ := other.cell(r)
		return a != b
	})
}

// watched lists the checks of a build with a sign that no column speaks for.
func (r *row) watched(marked map[string]bool) []string {
	var out []string
	for _, x := range r.Build.Results() {
		if sign := r.sign(x.Name); sign != noSign && !marked[x.Name] {
			out = append(out, x.Name+sign)
		}
	}
	return out
}

// everywhere are the checks to watch in every row.
func everywhere(rows []*row, marked map[string]bool) map[string]bool {
	count := map[string]int{}
	for _, r := range rows {
		for _, w := range r.watched(marked) {
			count[w]++
		}
	}
	out := map[string]bool{}
	for w, n := range count {
		if n == len(rows) && len(rows) > 1 {
			out[w] = true
		}
	}
	return out
}

// watchColumn lists the checks to watch in a row that no other column and no
// line above the table speaks of.
func watchColumn(marked, above map[string]bool) rankColumn {
	return rankColumn{
		Column: layout.Column{Title: "watch", Stack: partStack, Wrap: true},
		cell: func(r *row) (string, string) {
			list := slices.DeleteFunc(r.watched(marked), func(w string) bool { return above[w] })
			return strings.Join(list, " "), noSign
		},
	}
}

// legend explains the columns, signs and words of the table.
func (r *rankPage) legend(rows []*row) []layout.Gloss {
	legend := figureGlosses(r.system)
	legend = append(legend, layout.Gloss{Titles: []string{"launch"}, Text: " in s"}, marginGloss(""))
	legend = append(legend,
		layout.Gloss{Titles: []string{"max. grade"}, Text: ": the steepest at the climb speed"},
		layout.Gloss{Titles: []string{"ratio"}, Text: ": motor turns per wheel turn"})
	legend = append(legend, signGlosses(": beyond it, which the brief lets caution only")...)
	if held := limitMeanings(rows); len(held) > 0 {
		legend = append(legend, layout.Gloss{Titles: []string{"held by"}, Text: " " + strings.Join(held, ", ")})
	}
	if r.front != nil {
		legend = append(legend, layout.Gloss{Text: "on the front: no other feasible build is as good on all of these figures and better on one"})
	}
	return legend
}

// tally adds what became of the combinations.
func (r *rankPage) tally(p *layout.Page) {
	t := r.result.Tally
	if r.uncounted {
		r.untold(p)
		return
	}
	all := counted(t.Combinations, "combination", "combinations")
	text := fmt.Sprintf("%s, %s feasible", all, layout.Count(t.Feasible))
	if t.Feasible == 0 && r.result.Complete {
		text = "Nothing feasible in " + all
	}
	if t.Unknown > 0 {
		text += fmt.Sprintf(", %s of these with something undecided", layout.Count(t.Unknown))
	}
	p.Heading(text)
	table := &layout.Table{Columns: []layout.Column{{Title: "turned down by"}, {Title: "combinations", Right: true}, {Title: "which is about"}}}
	var none []string
	for _, x := range r.result.Rejections() {
		if x.Count == 0 {
			none = append(none, x.Check.Name)
			continue
		}
		table.Add(x.Check.Name, layout.Count(x.Count), x.Check.Subject)
	}
	p.Table(table)
	if len(none) > 0 {
		p.Text("None turned down by: " + strings.Join(none, ", ") + ".")
	}
	r.dearest(p)
}

// untold says what a ranking without a count leaves out.
func (r *rankPage) untold(p *layout.Page) {
	all := combinations(r.result.Problem)
	if r.result.Complete && r.result.Len() == 0 {
		p.Heading("Nothing feasible in " + all)
	} else {
		p.Heading(all + ", not counted")
	}
	p.Text("With --no-count it is left open how many builds are feasible, and which checks turn the others down. The ranking is the same as with the count.")
}

// buildCautions are the cautions of single builds with their ranks.
func buildCautions(rows []*row, system quantity.System) []string {
	var items []string
	for _, c := range sortedCautions(rows, system) {
		if c.Ranks != "" {
			c.Text = c.Ranks + ": " + c.Text
		}
		items = append(items, c.Text)
	}
	return items
}

// sortedCautions are the cautions of builds; those that differ in numbers only
// are one.
func sortedCautions(rows []*row, system quantity.System) []words.Caution {
	var all words.Cautions
	for _, r := range rows {
		all.Add(r.Rank, r.Build.Cautions(system.Show))
	}
	return all.List()
}

// next adds what to type next.
func (r *rankPage) next(p *layout.Page, rows []*row) {
	same := r.question.again()
	if len(rows) == 0 && !r.result.Complete {
		return // nothing is known yet
	}
	p.Heading("Next")
	switch {
	case len(rows) == 0:
		r.concede(p, same)
	case len(r.saved) > 0:
		p.Verbatim("gearsearch sheet " + typed(r.saved[0].file) + " --why" + same)
	default:
		p.Verbatim(
			"gearsearch rank"+same+r.manner.again()+r.saveFirst(rows[0].Rank),
			"gearsearch sheet build.toml --why"+same,
		)
	}
}

// saveFirst is the flags that save the build that is shown first, by its rank:
// another order than by score does not change that.
func (r *rankPage) saveFirst(rank int) string {
	text := fmt.Sprintf(" --save %d=build.toml", rank)
	if rank > defaultTop {
		text += fmt.Sprintf(" --top %d", rank)
	}
	return text
}
