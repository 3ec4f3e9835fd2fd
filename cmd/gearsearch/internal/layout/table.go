package layout

import (
	"maps"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// Table is a table of texts.
type Table struct {
	Columns []Column
	Rows    [][]Cell // as many cells as columns
	Legend  []Gloss  // what titles and signs mean: a sentence below the table
	Bare    bool     // no rule under the titles, and neighbouring texts near each other
}

// Column is a column of a table.
type Column struct {
	Title string
	Right bool   // numbers: aligned right
	Stack string // neighbours of one Stack may share a column; "": never
	Wrap  bool   // a text that may be wrapped
	Least int    // columns that a wrapped text needs; a word is never broken
	Extra bool   // left out where the terminal is narrow: it can be done without
	Turn  int    // in which extra columns are left out: those of lower turns first
	Dear  bool   // an extra column of a bare table: the gaps close before it is left out
	Spare bool   // there only where the extra columns are left out
}

// Gloss says what titles or a sign of a table mean.
type Gloss struct {
	// Titles are the columns that it is about. Those of them that are laid out
	// stand before the text, and it is left out where none is.
	Titles []string
	// Sign is a sign at the end of a word, which stands before the text. It is
	// left out where no cell that is laid out has it.
	Sign string
	Text string
}

// Cell is one cell.
type Cell struct {
	Text string
	Tone Tone
}

// Add adds a row of plain cells.
func (t *Table) Add(cells ...string) {
	row := make([]Cell, len(cells))
	for i, c := range cells {
		row[i] = Cell{Text: c}
	}
	t.Rows = append(t.Rows, row)
}

// Layout constants.
const (
	Gap      = 2 // columns between two columns of a table
	near     = 1 // where texts may stand closer
	maxStack = 4 // lines of a row before it becomes a list
)

// text lays the table out in the style's width: as few lines for a row as
// possible, and the extra columns where there is room for them.
func (t *Table) text(s Style) string {
	full := t.full()
	for depth := 1; depth <= maxStack; depth++ {
		for _, try := range append([]attempt{{full, false}}, t.leaner()...) {
			g := try.stacked(depth)
			g.tight = try.tight
			if widths, ok := g.fit(s.Width); ok {
				return g.render(s, widths) + try.legendText(s)
			}
		}
	}
	return full.asList(s) + full.legendText(s)
}

// full is the table with its extra columns.
func (t *Table) full() *Table { return t.without(func(c *Column) bool { return c.Spare }) }

// attempt is a table with some of its columns, and with its gaps closed or not.
type attempt struct {
	*Table
	tight bool
}

// leaner are the table without its extra columns of the first turn, of the first
// two, and so on; with closed gaps before a dear column goes, and once it is gone.
func (t *Table) leaner() []attempt {
	turns, dear := map[int]bool{}, map[int]bool{}
	for _, c := range t.Columns {
		if c.Extra {
			turns[c.Turn] = true
			dear[c.Turn] = dear[c.Turn] || c.Dear
		}
	}
	var out []attempt
	last := t.full()
	for _, turn := range slices.Sorted(maps.Keys(turns)) {
		if dear[turn] {
			out = append(out, attempt{last, true})
		}
		last = t.without(func(c *Column) bool { return c.Extra && c.Turn <= turn })
		out = append(out, attempt{last, false})
	}
	if slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Dear }) {
		out = append(out, attempt{last, true})
	}
	return out
}

// without is the table without some columns.
func (t *Table) without(out func(c *Column) bool) *Table {
	some := &Table{Rows: make([][]Cell, len(t.Rows)), Legend: t.Legend, Bare: t.Bare}
	for i, c := range t.Columns {
		if out(&c) {
			continue
		}
		some.Columns = append(some.Columns, c)
		for r, row := range t.Rows {
			some.Rows[r] = append(some.Rows[r], row[i])
		}
	}
	return some
}

// legendText is the legend as a paragraph below the table.
func (t *Table) legendText(s Style) string {
	text := t.legend()
	if text == "" {
		return ""
	}
	return "\n" + strings.Join(Wrap(text, s.Width), "\n") + "\n"
}

// legend explains the columns and signs of the table; "" where there is nothing
// to explain.
func (t *Table) legend() string {
	var lines []string
	for _, g := range t.Legend {
		switch titles := t.have(g.Titles); {
		case g.Sign != "" && t.signed(g.Sign):
			lines = append(lines, g.Sign+g.Text)
		case g.Sign == "" && len(titles) > 0:
			lines = append(lines, strings.Join(titles, ", ")+g.Text)
		case g.Sign == "" && len(g.Titles) == 0:
			lines = append(lines, g.Text)
		}
	}
	if len(lines) == 0 {
		return ""
	}
	return strings.Join(lines, "; ") + "."
}

// have are the titles that the table has.
func (t *Table) have(titles []string) []string {
	return slices.DeleteFunc(slices.Clone(titles), func(title string) bool {
		return !slices.ContainsFunc(t.Columns, func(c Column) bool { return c.Title == title })
	})
}

// signed reports whether a word of the table ends with a sign, which is made of
// ! or ?.
func (t *Table) signed(sign string) bool {
	for _, row := range t.Rows {
		for _, c := range row {
			for _, word := range words(c.Text) {
				if word[len(strings.TrimRight(word, "!?")):] == sign {
					return true
				}
			}
		}
	}
	return false
}

// grid is a table with its columns stacked: cells of one or more lines.
type grid struct {
	columns [][]Column // by column and line
	rows    [][][]Cell // by row, column and line
	bare    bool
	tight   bool // with closed gaps
}

// stacked puts up to depth neighbours of one Stack on top of each other.
func (t *Table) stacked(depth int) *grid {
	g := &grid{rows: make([][][]Cell, len(t.Rows)), bare: t.Bare}
	for i := 0; i < len(t.Columns); {
		n := 1
		for n < depth && i+n < len(t.Columns) && t.Columns[i].Stack != "" && t.Columns[i+n].Stack == t.Columns[i].Stack {
			n++
		}
		g.columns = append(g.columns, t.Columns[i:i+n])
		for r, row := range t.Rows {
			g.rows[r] = append(g.rows[r], row[i:i+n])
		}
		i += n
	}
	return g
}

// fit is the width of each column in a text of that width; ok is false where
// the grid does not fit. Wrapped columns give way, the widest first.
func (g *grid) fit(width int) (widths []int, ok bool) {
	widths, least := make([]int, len(g.columns)), make([]int, len(g.columns))
	over := -width
	for i, lines := range g.columns {
		over += g.gap(i)
		for j, c := range lines {
			natural, word := g.extent(i, j)
			widths[i] = max(widths[i], natural)
			if c.Wrap {
				natural = min(natural, max(c.Least, word))
			}
			least[i] = max(least[i], natural)
		}
		over += widths[i]
	}
	for ; over > 0; over-- {
		give := -1
		for i := range widths {
			if widths[i] > least[i] && (give < 0 || widths[i] > widths[give]) {
				give = i
			}
		}
		if give < 0 {
			return widths, false
		}
		widths[give]--
	}
	return widths, true
}

// gap is what stands between a column and the one before: near where both are
// texts in a bare table, behind the numbers of its rows, and where gaps are closed,
// unless numbers of the column have spaces in them.
func (g *grid) gap(i int) int {
	text := func(lines []Column) bool { return !lines[0].Right }
	switch {
	case i == 0:
		return 0
	case g.bare && (text(g.columns[i-1]) && text(g.columns[i]) || i == 1 && !text(g.columns[0])):
		return near
	case g.bare && g.tight && !g.spaced(i):
		return near
	}
	return Gap
}

// spaced reports whether numbers of a column have spaces in them.
func (g *grid) spaced(i int) bool {
	if !g.columns[i][0].Right {
		return false
	}
	return slices.ContainsFunc(g.rows, func(row [][]Cell) bool {
		return slices.ContainsFunc(row[i], func(c Cell) bool { return strings.Contains(c.Text, thin) })
	})
}

// inside is what of that gap belongs to the column itself.
func (g *grid) inside(i int) int {
	if !g.bare || i == 0 {
		return 0
	}
	return g.gap(i) - near
}

// extent is the width of the widest cell in line j of column i, its title
// included, and that of the widest word.
func (g *grid) extent(i, j int) (cell, word int) {
	measure := func(text string) {
		cell = max(cell, Width(text))
		for _, w := range words(text) {
			word = max(word, Width(w))
		}
	}
	measure(g.columns[i][j].Title)
	for _, row := range g.rows {
		measure(row[i][j].Text)
	}
	return cell, word
}

// render prints the grid.
func (g *grid) render(s Style, widths []int) string {
	t := table.NewWriter()
	style := plainStyle()
	if g.bare {
		style.Options.SeparateHeader = false
		style.Box.MiddleVertical = strings.Repeat(" ", near)
		style.Box.EmptySeparator = style.Box.MiddleVertical
	}
	t.SetStyle(style)
	t.SuppressTrailingSpaces()
	var configs []table.ColumnConfig
	var head table.Row
	titled := false
	for i, lines := range g.columns {
		align := text.AlignRight
		var titles []Cell
		for _, c := range lines {
			if !c.Right {
				align = text.AlignLeft
			}
			titles = append(titles, Cell{Text: c.Title, Tone: Faint})
			titled = titled || c.Title != ""
		}
		configs = append(configs, table.ColumnConfig{Number: i + 1, Align: align, AlignHeader: align, WidthMin: widths[i] + g.inside(i)})
		head = append(head, g.cell(s, i, titles, widths))
	}
	t.SetColumnConfigs(configs)
	if titled {
		t.AppendHeader(head)
	}
	for _, row := range g.rows {
		cells := make(table.Row, len(row))
		for i, lines := range row {
			cells[i] = g.cell(s, i, lines, widths)
		}
		t.AppendRow(cells)
	}
	return t.Render() + "\n"
}

// cell is the text of a cell of column i, wrapped where its column is.
func (g *grid) cell(s Style, i int, lines []Cell, widths []int) string {
	var out []string
	for j, c := range lines {
		parts := []string{c.Text}
		if g.columns[i][j].Wrap {
			parts = Wrap(c.Text, widths[i])
		}
		for _, part := range parts {
			if part != "" {
				part = strings.Repeat(" ", g.inside(i)) + s.paint(part, c.Tone)
			}
			out = append(out, part)
		}
	}
	for len(out) > 1 && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	return strings.Join(out, "\n")
}

// plainStyle is a table of aligned columns under a rule, with no box, in the
// letters as they are.
func plainStyle() table.Style {
	var style table.Style
	style.Name = "plain"
	style.Box.MiddleHorizontal = "─"
	style.Box.MiddleSeparator = strings.Repeat("─", Gap)
	style.Box.MiddleVertical = strings.Repeat(" ", Gap)
	style.Box.EmptySeparator = style.Box.MiddleVertical
	style.Options.SeparateColumns = true
	style.Options.SeparateHeader = true
	return style
}

// asList prints each row as lines of "title: text".
func (t *Table) asList(s Style) string {
	var out strings.Builder
	for i, row := range t.Rows {
		if i > 0 {
			out.WriteByte('\n')
		}
		for j, c := range row {
			if c.Text == "" {
				continue
			}
			line := c.Text
			if title := t.Columns[j].Title; title != "" {
				line = title + ": " + line
			}
			for k, part := range Wrap(line, s.Width-2) {
				if k > 0 || j > 0 {
					part = "  " + part
				}
				out.WriteString(s.paint(part, c.Tone) + "\n")
			}
		}
	}
	return out.String()
}

// markdown is the table in Markdown, columns side by side.
func (t *Table) markdown() string {
	t = t.full()
	w := table.NewWriter()
	w.SetStyle(plainStyle())
	head := make(table.Row, len(t.Columns))
	var configs []table.ColumnConfig
	for i, c := range t.Columns {
		head[i] = Escape(c.Title)
		align := text.AlignDefault
		if c.Right {
			align = text.AlignRight
		}
		configs = append(configs, table.ColumnConfig{Number: i + 1, Align: align})
	}
	w.SetColumnConfigs(configs)
	w.AppendHeader(head)
	for _, row := range t.Rows {
		cells := make(table.Row, len(row))
		for i, c := range row {
			cells[i] = Escape(strings.TrimRight(c.Text, " "))
		}
		w.AppendRow(cells)
	}
	out := w.RenderMarkdown() + "\n"
	if text := t.legend(); text != "" {
		out += "\n" + Escape(text) + "\n"
	}
	return out
}
