package say

import (
	"maps"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
)

// Comparison is a table with a build in each row.
type Comparison struct {
	rows   []*Row
	table  *layout.Table
	marked map[string]bool // checks that a column speaks for
	extra  map[string]bool // likewise a column that a narrow terminal does without
	shared []string        // parts that all rows have
}

// NewComparison is the table of the rows, without columns.
func NewComparison(rows []*Row) *Comparison {
	return &Comparison{rows: rows, table: &layout.Table{Rows: make([][]layout.Cell, len(rows))}, marked: map[string]bool{}, extra: map[string]bool{}}
}

// Add adds a column, or says once what is the same part in all rows.
func (t *Comparison) Add(c Column) {
	cells, alike := c.cells(t.rows)
	if c.part && alike && len(t.rows) > 1 {
		if cells[0].Text != "" && !c.Extra {
			t.shared = append(t.shared, c.Title+" "+cells[0].Text)
		}
		return
	}
	for _, name := range c.Checks {
		t.extra[name] = true
		if !c.Extra {
			t.marked[name] = true
		}
	}
	t.AddCells(c.Column, cells)
}

// AddCells adds a column of cells.
func (t *Comparison) AddCells(c layout.Column, cells []layout.Cell) {
	t.table.Columns = append(t.table.Columns, c)
	for i := range t.rows {
		t.table.Rows[i] = append(t.table.Rows[i], cells[i])
	}
}

// AddTo adds the table to a text, below what all rows have in common, with a last
// column for checks to watch that have no column of their own. The legend explains
// the columns, and the signs in the table or above it.
func (t *Comparison) AddTo(out *layout.Text, legend []layout.Gloss) {
	alike := everywhere(t.rows, t.marked)
	wide, narrow := watchColumn(t.extra, alike), watchColumn(t.marked, alike)
	if !narrow.sameAs(wide, t.rows) { // where the extra columns are, they speak for themselves
		wide.Extra, narrow.Spare = true, true
		if wide.holdsText(t.rows) {
			t.Add(wide)
		}
	}
	if narrow.holdsText(t.rows) {
		t.Add(narrow)
	}
	var all []string
	if len(t.shared) > 0 {
		all = append(all, strings.Join(t.shared, ", "))
	}
	if len(alike) > 0 {
		all = append(all, "to watch: "+strings.Join(slices.Sorted(maps.Keys(alike)), " "))
	}
	if len(all) > 0 {
		out.Paragraph("In all of them: " + strings.Join(all, "; ") + ".")
	}
	for i, g := range legend {
		above := slices.ContainsFunc(slices.Collect(maps.Keys(alike)), func(w string) bool { return g.Sign != "" && signIn(w) == g.Sign })
		if above {
			legend[i] = layout.Gloss{Text: g.Sign + g.Text}
		}
	}
	t.table.Legend = legend
	out.Table(t.table)
}

// signIn is the sign at the end of a check to watch.
func signIn(watched string) string {
	return watched[len(strings.TrimRight(watched, ThinSign+OpenSign)):]
}

// everywhere are the checks to watch in every row.
func everywhere(rows []*Row, marked map[string]bool) map[string]bool {
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
func watchColumn(marked, above map[string]bool) Column {
	return Column{
		Column: layout.Column{Title: "watch", Stack: PartStack, Wrap: true},
		Cell: func(r *Row) (string, string) {
			list := slices.DeleteFunc(r.watched(marked), func(w string) bool { return above[w] })
			return strings.Join(list, " "), NoSign
		},
	}
}

// BuildCautions are the cautions of single builds with their ranks.
func BuildCautions(rows []*Row, system quantity.System) []string {
	var items []string
	for _, c := range SortedCautions(rows, system) {
		if c.Ranks != "" {
			c.Text = c.Ranks + ": " + c.Text
		}
		items = append(items, c.Text)
	}
	return items
}

// SortedCautions are the cautions of builds; those that differ only in numbers are
// merged.
func SortedCautions(rows []*Row, system quantity.System) []Caution {
	var all Cautions
	for _, r := range rows {
		all.Add(r.Rank, r.Build.Cautions())
	}
	return all.List(system)
}
