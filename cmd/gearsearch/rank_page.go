package main

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/page"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// rankPage is a ranking as people read it.
type rankPage struct {
	*rankAnswer
	system  quantity.System
	saved   []saving
	near    *search.NearMiss // where nothing is feasible; may be nil
	relaxed *relaxAnswer     // likewise
	wishes  *search.Wishes   // nil: not counted
}

func (r *rankPage) page() *page.Page {
	p := &page.Page{}
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
func (r *rankPage) incomplete(p *page.Page) {
	switch {
	case !r.result.Complete && r.uncounted:
		p.Text("INCOMPLETE: interrupted; this is the best so far.")
	case !r.result.Complete:
		p.Text(fmt.Sprintf("INCOMPLETE: interrupted after %s of %s combinations; this is the best so far.",
			page.Count(r.result.Combinations), page.Fixed(r.result.Problem.Combinations(), 0)))
	case r.shortened:
		p.Text("INCOMPLETE: interrupted after the ranking; what is to be added to it is not all there.")
	}
}

// buildTable adds the table of builds, what all of them share, and what its signs
// and words mean.
func (r *rankPage) buildTable(p *page.Page, rows []*row) {
	t := newComparison(rows)
	for _, c := range r.columns(rows) {
		t.add(c)
	}
	p.Heading(r.heading(len(rows)))
	t.addTo(p)
	r.legend(p, rows)
}

// comparison is a table with a build in each row.
type comparison struct {
	rows   []*row
	table  *page.Table
	marked map[string]bool // checks that a column speaks for
	shared []string        // parts that all rows have
}

func newComparison(rows []*row) *comparison {
	return &comparison{rows: rows, table: &page.Table{Rows: make([][]page.Cell, len(rows))}, marked: map[string]bool{}}
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
		t.marked[name] = true
	}
	t.addCells(c.Column, cells)
}

// addCells adds a column of cells.
func (t *comparison) addCells(c page.Column, cells []page.Cell) {
	t.table.Columns = append(t.table.Columns, c)
	for i := range t.rows {
		t.table.Rows[i] = append(t.table.Rows[i], cells[i])
	}
}

// addTo adds the table to a page, with a column for the checks to watch that no
// other speaks for, after what all rows have in common.
func (t *comparison) addTo(p *page.Page) {
	alike := everywhere(t.rows, t.marked)
	if c := watchColumn(t.marked, alike); c.holdsText(t.rows) {
		t.add(c)
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
	p.Table(t.table)
}

// heading says how many of how many builds are listed, and in which order.
func (r *rankPage) heading(n int) string {
	all := r.result.Feasible
	switch {
	case r.front != nil:
		text := fmt.Sprintf("%s of %s %s on the front of %s", page.Count(uint64(r.result.FrontSize)), counted(all, "feasible build", "feasible builds"),
			plural(uint64(r.result.FrontSize), "is", "are"), r.frontWords())
		if n < r.result.FrontSize {
			return fmt.Sprintf("%s; the best %d%s", text, n, strings.TrimSuffix(r.order(), ", best first"))
		}
		return text + r.order()
	case r.uncounted:
		return "The best " + counted(uint64(n), "feasible build", "feasible builds") + r.order()
	case r.robust:
		return fmt.Sprintf("The best %d of %s%s", n, counted(all, "feasible build", "feasible builds"), r.order())
	}
	return ofMany(n, all, "feasible build") + r.order()
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
		names = append(names, fmt.Sprintf("%s (%s is better)", label(f.Name, f.Unit), end))
	}
	return strings.Join(names, ", ")
}

// ofMany says how many of how many.
func ofMany(n int, total uint64, what string) string {
	if total != 1 {
		what += "s"
	}
	if uint64(n) == total {
		return page.Count(total) + " " + what
	}
	return fmt.Sprintf("%d of %s %s", n, page.Count(total), what)
}

// cells are the cells of a column with their signs; alike reports whether all
// are the same.
func (c *rankColumn) cells(rows []*row) (cells []page.Cell, alike bool) {
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
		Column: page.Column{Title: "watch", Stack: partStack, Wrap: true},
		cell: func(r *row) (string, string) {
			list := slices.DeleteFunc(r.watched(marked), func(w string) bool { return above[w] })
			return strings.Join(list, " "), noSign
		},
	}
}

// legend explains the signs and words that stand in the table.
func (r *rankPage) legend(p *page.Page, rows []*row) {
	speed, _ := r.system.Show("km/h")
	distance, _ := r.system.Show("km")
	lines := []string{speed + ": top speed", "range in " + distance}
	if !math.IsNaN(r.result.Problem.Brief.Target.LaunchTime) {
		lines = append(lines, "launch in s")
	}
	if r.result.Problem.Climbs() || r.result.Problem.HasCeiling() {
		lines = append(lines, "climb, erpm, heat: how far the limit is away, in % of it")
	}
	signs := map[string]bool{}
	for _, row := range rows {
		for name := range row.results {
			signs[row.sign(name)] = true
		}
	}
	if signs[thinSign] {
		lines = append(lines, fmt.Sprintf("!: less than %d"+nbsp+"%%", thinMargin))
	}
	if signs[failSign] {
		lines = append(lines, "!!: beyond it, which the brief lets caution only")
	}
	if signs[openSign] {
		lines = append(lines, "?: not decided, for lack of data")
	}
	if held := limitMeanings(rows); len(held) > 0 {
		lines = append(lines, "held by "+strings.Join(held, ", "))
	}
	if r.front != nil {
		lines = append(lines, "on the front: no other feasible build is as good on all of these figures and better on one")
	}
	p.Text(strings.Join(lines, "; ") + ".")
}

// tally adds what became of the combinations.
func (r *rankPage) tally(p *page.Page) {
	t := r.result.Tally
	if r.uncounted {
		r.untold(p)
		return
	}
	text := fmt.Sprintf("%s combinations, %s feasible", page.Count(t.Combinations), page.Count(t.Feasible))
	if t.Feasible == 0 && r.result.Complete {
		text = fmt.Sprintf("Nothing feasible in %s combinations", page.Count(t.Combinations))
	}
	if t.Unknown > 0 {
		text += fmt.Sprintf(", %s of these with something undecided", page.Count(t.Unknown))
	}
	p.Heading(text)
	table := &page.Table{Columns: []page.Column{{Title: "turned down by"}, {Title: "combinations", Right: true}, {Title: "which is about"}}}
	var none []string
	for _, x := range r.result.Rejections() {
		if x.Count == 0 {
			none = append(none, x.Check.Name)
			continue
		}
		table.Add(x.Check.Name, page.Count(x.Count), subject(x.Check))
	}
	p.Table(table)
	if len(none) > 0 {
		p.Text("None turned down by: " + strings.Join(none, ", ") + ".")
	}
	r.dearest(p)
}

// untold says what a ranking without a count leaves out.
func (r *rankPage) untold(p *page.Page) {
	all := page.Fixed(r.result.Problem.Combinations(), 0) + " combinations"
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
		if c.ranks != "" {
			c.text = c.ranks + ": " + c.text
		}
		items = append(items, c.text)
	}
	return items
}

// rankedCaution is a caution with the ranks of the builds that it is for, ""
// for all.
type rankedCaution struct{ ranks, text string }

// sortedCautions are the cautions of builds; those that differ in numbers only
// are one.
func sortedCautions(rows []*row, system quantity.System) []rankedCaution {
	ranks, sentences := map[string][]int{}, map[string][]string{}
	var order []string
	for _, r := range rows {
		for _, c := range r.Build.Cautions(system.Show) {
			key := pattern(c)
			if ranks[key] == nil {
				order = append(order, key)
			}
			ranks[key] = append(ranks[key], r.Rank)
			sentences[key] = append(sentences[key], c)
		}
	}
	var out []rankedCaution
	for _, key := range order {
		c := rankedCaution{text: merged(sentences[key])}
		if len(ranks[key]) < len(rows) {
			c.ranks = spans(ranks[key])
		}
		out = append(out, c)
	}
	return out
}

// spans writes ascending numbers, runs of three and more as 4–9.
func spans(numbers []int) string {
	var out []string
	for i := 0; i < len(numbers); {
		j := i
		for j+1 < len(numbers) && numbers[j+1] == numbers[j]+1 {
			j++
		}
		if j-i >= 2 {
			out = append(out, fmt.Sprintf("%d–%d", numbers[i], numbers[j]))
		} else {
			for k := i; k <= j; k++ {
				out = append(out, fmt.Sprint(numbers[k]))
			}
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
}

// next adds what to type next.
func (r *rankPage) next(p *page.Page, rows []*row) {
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
			"gearsearch rank"+same+" --save 1=build.toml",
			"gearsearch sheet build.toml --why"+same,
		)
	}
}
