package swap

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// The text with --all: what is best, and a row of figures for each change, whatever
// it breaks.

// everyText adds it.
func (s *Answer) everyText(out *layout.Text, system quantity.System) {
	s.best(out, system)
	s.inHand(out, system)
	say.AskedText(out, s.Full, system)
	out.Heading(s.everyHeading())
	if len(s.listed()) > 0 {
		s.everyTable(out, system)
	}
	if text := s.neverText(); text != "" {
		out.Paragraph(text)
	}
	out.Paragraph(say.Closing)
	s.next(out)
}

// best names the best change and what it does, or the one that comes nearest.
func (s *Answer) best(out *layout.Text, system quantity.System) {
	listed := s.listed()
	if len(listed) == 0 {
		out.Heading("No change of " + s.whatChanges() + " can be put together")
		return
	}
	x := listed[0]
	switch {
	case len(s.swaps) == 0:
		out.Heading("No change passes every check; the nearest: " + s.newParts(x))
	case len(s.misses) == 0 && x.Score < s.Base.Score:
		out.Heading("No change scores higher than what is in hand; the best: " + s.newParts(x))
	default:
		out.Heading("The best change: " + s.newParts(x))
	}
	from, to := say.NewRow(s.Base), say.NewRow(x.Scored)
	parts := []string{fmt.Sprintf("Score %s (%s)", layout.Fixed(x.Score, 1), say.Signed(x.Score-s.Base.Score, 1))}
	for _, m := range say.Measures(s.Full, system) {
		if change := m.Change(from, to); strings.Trim(change, "0.") != "" {
			parts = append(parts, m.Named(to)+" ("+change+")")
		}
	}
	parts = append(parts, say.Money(x.Change.Price)+" "+s.Full.Catalog.Currency+" to pay")
	for i := range parts {
		parts[i] = strings.ReplaceAll(parts[i], " ", say.NBSP)
	}
	out.Paragraph(strings.Join(parts, ", ") + ".")
	if len(x.Breaks) > 0 {
		out.Paragraph("It fails: " + say.Misses(x.Breaks, s.Full, system) + ".")
	}
	if len(x.Cures) > 0 {
		out.Paragraph("It cures: " + strings.Join(names(x.Cures), ", ") + ".")
	}
}

// whatChanges names what changes.
func (s *Answer) whatChanges() string {
	if s.inTurn() {
		return "one part"
	}
	return say.Change(s.change())
}

// everyHeading says how many changes there are, and how many rows follow.
func (s *Answer) everyHeading() string {
	n := uint64(len(s.listed()))
	pass := "none passes"
	if s.feasible() > 0 {
		pass = layout.Count(s.feasible()) + " " + say.Plural(s.feasible(), "passes", "pass")
	}
	text := fmt.Sprintf("%s, %s every check", say.Counted(s.total(), "change of "+s.whatChanges(), "changes of "+s.whatChanges()), pass)
	switch {
	case n == 1 && s.feasible()+s.fitting() > 1:
		return text + "; the best"
	case n < s.feasible()+s.fitting():
		return text + fmt.Sprintf("; the first %d, best first", n)
	}
	return text
}

// fitting is how many changes break something and could be put together.
func (s *Answer) fitting() uint64 {
	n := uint64(0)
	for _, r := range s.Rounds {
		n += uint64(r.broken.Fitting())
	}
	return n
}

// neverText counts the changes whose parts can never be put together, by what changes
// and the check that rules them out; "" for none.
func (s *Answer) neverText() string {
	var parts []string
	all := uint64(0)
	for _, r := range s.Rounds {
		n, reasons := r.never()
		if all += n; n == 0 {
			continue
		}
		part := reasons
		if s.inTurn() {
			part = layout.Count(n) + " of " + say.Change(r.Change) + " (" + reasons + ")"
		}
		parts = append(parts, strings.ReplaceAll(part, " ", say.NBSP))
	}
	if all == 0 {
		return ""
	}
	return say.Counted(all, "change never fits", "changes never fit") + " and " + say.Plural(all, "is", "are") + " left out: " + strings.Join(parts, ", ") + "."
}

// never is how many changes of a round can never be put together, and by which
// checks.
func (r *Round) never() (n uint64, reasons string) {
	var list []string
	for _, m := range r.broken.Misfits {
		n += uint64(m.Count)
		list = append(list, m.Check.Name+" "+layout.Count(uint64(m.Count)))
	}
	if len(list) == 1 {
		return n, r.broken.Misfits[0].Check.Name
	}
	return n, strings.Join(list, ", ")
}

// newParts names what a change puts in; of the build in hand, what it has there.
func (s *Answer) newParts(x change) string {
	if x.Build == s.Base.Build {
		return s.freedParts()
	}
	return strings.Join(s.changed(x, constraints.Slots()), ", ")
}

// shortParts names the same in a line: two pulleys by their teeth, and no belt that
// follows from them.
func (s *Answer) shortParts(x change) string {
	slots := constraints.Slots()
	drive, base := x.Build.Drive, s.Base.Build
	turned := 0
	for _, slot := range []constraints.Slot{constraints.SlotMotorPulley, constraints.SlotWheelPulley, constraints.SlotMount} {
		if id := drive.ID(slot); id != "" && id != base.ID(slot) {
			turned++
		}
	}
	if drive.Gear != nil || x.Build == base && !s.changesDrive() || x.Build != base && turned == 0 {
		return s.newParts(x)
	}
	left := []constraints.Slot{constraints.SlotBelt}
	if turned > 1 || x.Build == base {
		left = append(left, constraints.SlotMotorPulley, constraints.SlotWheelPulley)
	}
	ids := s.changed(x, slices.DeleteFunc(slots, func(slot constraints.Slot) bool { return slices.Contains(left, slot) }))
	if len(left) > 1 {
		ids = append([]string{say.Drive(drive)}, ids...)
	}
	return strings.Join(ids, ", ")
}

// changed names what a build has in some slots and the one in hand has not.
func (s *Answer) changed(x change, slots []constraints.Slot) []string {
	var ids []string
	base := s.Base.Build
	if x.Build.Motors() != base.Motors() {
		ids = append(ids, motorsOf(x.Build))
	}
	for _, slot := range slots {
		if id := x.Build.ID(slot); id != "" && id != base.ID(slot) {
			ids = append(ids, id)
		}
	}
	if len(ids) == 0 { // only less: a belt that is chosen no more
		ids = append(ids, say.Drive(x.Build.Drive))
	}
	return ids
}

// motorsOf is the number of motors of a build, in words.
func motorsOf(b *constraints.Build) string {
	return say.Counted(uint64(b.Motors()), "motor", "motors")
}

// everyTable adds the build in hand and each change with its figures.
func (s *Answer) everyTable(out *layout.Text, system quantity.System) {
	listed := s.listed()
	rows := []*say.Row{say.NewRow(s.Base)}
	for _, x := range listed {
		rows = append(rows, say.NewRow(x.Scored))
	}
	grid := newGrid(len(rows))
	grid.add(layout.Column{}, func(i int) string {
		if i == 0 {
			return "now"
		}
		return fmt.Sprint(i)
	})
	parts := func(of func(x change) string) func(i int) string {
		return func(i int) string {
			switch {
			case i > 0:
				return of(listed[i-1])
			case s.inTurn():
				return "as it is"
			}
			return of(change{Swap: search.Swap{Scored: s.Base}})
		}
	}
	grid.add(layout.Column{Title: "new", Wrap: true, Least: say.ProseWidth, Extra: true}, parts(s.newParts))
	grid.add(layout.Column{Title: "new", Wrap: true, Least: say.ProseWidth, Spare: true}, parts(s.shortParts))
	if s.inTurn() {
		grid.add(layout.Column{Title: "in place of", Extra: true}, func(i int) string { return s.replaced(listed, i) })
	}
	paid := func(i int) string {
		if i == 0 {
			return ""
		}
		return say.Money(listed[i-1].Change.Price)
	}
	marks := func(i int) string { return s.marks(listed, i) }
	room := lineWidth - grid.width() - width("to pay", len(rows), paid) - width("fails", len(rows), marks)
	s.figures(grid, rows, room, system)
	grid.add(layout.Column{Title: "to pay", Right: true}, paid)
	if slices.ContainsFunc(rows, func(r *say.Row) bool { return r.Build.Rejected(s.Question.Strict) }) || len(s.misses) > 0 {
		grid.add(layout.Column{Title: "fails"}, marks)
	}
	grid.table.Legend = s.everyLegend(system)
	out.Table(grid.table)
}

// replaced is what the i-th row takes out.
func (s *Answer) replaced(listed []change, i int) string {
	if i == 0 {
		return ""
	}
	var ids []string
	for _, l := range listed[i-1].Change.Leave {
		ids = append(ids, l.Part.ID)
	}
	return strings.Join(ids, ", ")
}

// figures adds the score and what builds are compared in, with the differences to the
// build in hand where there is room for all. Where there is not, as many stay as fit,
// first those that the changes alter.
func (s *Answer) figures(grid *grid, rows []*say.Row, room int, system quantity.System) {
	type column struct {
		layout.Column
		cells   []layout.Cell
		changes []string
	}
	var columns []*column
	for _, m := range say.Measures(s.Full, system) {
		c := &column{Column: layout.Column{Title: m.Title, Right: true, Extra: true}}
		texts, signs := make([]string, len(rows)), make([]string, len(rows))
		for i, r := range rows {
			texts[i], signs[i] = m.Text(r), r.Sign(m.Checks...)
			c.changes = append(c.changes, m.Change(rows[0], r))
		}
		c.cells = say.SignedCells(texts, signs)
		columns = append(columns, c)
	}
	score := &column{Column: layout.Column{Title: "score", Right: true, Extra: true}}
	for _, r := range rows {
		score.cells = append(score.cells, layout.Cell{Text: layout.Fixed(r.Score, 1)})
		score.changes = append(score.changes, say.Signed(r.Score-rows[0].Score, 1))
	}
	columns = append(columns, score)
	idle := func(c *column) bool { // no change changes it
		return !slices.ContainsFunc(c.changes, func(text string) bool { return strings.Trim(text, "0.") != "" })
	}
	for _, last := range []bool{false, true} {
		for _, c := range columns {
			w := width(c.Title, len(c.cells), func(i int) string { return c.cells[i].Text })
			if idle(c) == last && w <= room {
				c.Extra = false
				room -= w
			}
		}
	}
	for _, c := range append([]*column{score}, columns[:len(columns)-1]...) {
		grid.addCells(c.Column, c.cells)
		grid.add(layout.Column{Title: "±", Right: true, Extra: true}, func(i int) string {
			if i == 0 {
				return ""
			}
			return c.changes[i]
		})
	}
}

// mostMarks is how wide the checks of a row are at most; the others are counted.
const mostMarks = 24

// marks are the checks that the i-th row fails, and those that it cures.
func (s *Answer) marks(listed []change, i int) string {
	var marks []string
	if i == 0 {
		return short(names(s.misses))
	}
	x := listed[i-1]
	added := names(x.Adds(s.Base.Build, s.Question.Strict))
	for _, name := range added {
		marks = append(marks, "+"+name)
	}
	for _, r := range x.Cures {
		marks = append(marks, "-"+r.Name)
	}
	for _, r := range x.Breaks {
		if !slices.Contains(added, r.Name) {
			marks = append(marks, r.Name)
		}
	}
	return short(marks)
}

// short joins marks, as many as there is room for.
func short(marks []string) string {
	for n := len(marks); n > 1; n-- {
		text := strings.Join(marks[:n], " ")
		if n < len(marks) {
			text += fmt.Sprintf(" and %d more", len(marks)-n)
		}
		if layout.Width(text) <= mostMarks {
			return text
		}
	}
	switch len(marks) {
	case 0, 1:
		return strings.Join(marks, " ")
	}
	return fmt.Sprintf("%s and %d more", marks[0], len(marks)-1)
}

// everyLegend explains the columns and signs of the table.
func (s *Answer) everyLegend(system quantity.System) []layout.Gloss {
	legend := []layout.Gloss{{Text: "now: the build in hand"}, {Titles: []string{"±"}, Text: ": the difference to it"}}
	legend = append(legend, say.FigureGlosses(system)...)
	legend = append(legend, layout.Gloss{Titles: []string{"launch"}, Text: " in s"}, say.MarginGloss(""))
	if rule := s.erpmRule(system); rule != "" {
		legend = append(legend, layout.Gloss{Titles: []string{"erpm"}, Text: strings.TrimPrefix(rule, "erpm")})
	}
	legend = append(legend, layout.Gloss{Titles: []string{"to pay"}, Text: ": " + s.Full.Catalog.Currency + " for the new parts, in packs as sold"})
	fails := ": + is new, - is cured"
	if len(s.misses) > 0 {
		fails += ", the others fail now too"
	}
	return append(append(legend, layout.Gloss{Titles: []string{"fails"}, Text: fails}), say.SignGlosses(": beyond it")...)
}

// lineWidth is the terminal for which a row is one line.
const lineWidth = 80

// grid is a table that is filled by columns.
type grid struct{ table *layout.Table }

func newGrid(rows int) *grid { return &grid{&layout.Table{Rows: make([][]layout.Cell, rows)}} }

// add adds a column of plain texts.
func (g *grid) add(c layout.Column, text func(i int) string) {
	cells := make([]layout.Cell, len(g.table.Rows))
	for i := range cells {
		cells[i].Text = text(i)
	}
	g.addCells(c, cells)
}

// addCells adds a column.
func (g *grid) addCells(c layout.Column, cells []layout.Cell) {
	g.table.Columns = append(g.table.Columns, c)
	for i := range cells {
		g.table.Rows[i] = append(g.table.Rows[i], cells[i])
	}
}

// width is the width of the columns that always stay, which are added first.
func (g *grid) width() int {
	sum := 0
	for i, c := range g.table.Columns {
		if !c.Extra {
			sum += width(c.Title, len(g.table.Rows), func(row int) string { return g.table.Rows[row][i].Text })
		}
	}
	return sum
}

// width is what a column takes with the gap behind it.
func width(title string, rows int, text func(i int) string) int {
	w := layout.Width(title)
	for i := range rows {
		w = max(w, layout.Width(text(i)))
	}
	return w + layout.Gap
}
