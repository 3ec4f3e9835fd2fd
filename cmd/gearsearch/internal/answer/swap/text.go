package swap

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// text is the answer as people read it.
func (s *Answer) text(system quantity.System) *layout.Text {
	out := &layout.Text{}
	s.incomplete(out)
	if s.All && s.complete() && s.total() > 0 {
		s.everyText(out, system)
		return out
	}
	s.inHand(out, system)
	say.AskedText(out, s.Full, system)
	what := say.Change(s.change())
	switch {
	case s.total() == 0 && s.complete():
		out.Heading("There is nothing to change: no other " + strings.Join(s.change(), " or ") + " is in play")
		out.Paragraph("Add parts to the catalog, or keep and avoid fewer.")
		return out
	case len(s.swaps) == 0:
		out.Heading("No change of " + what + " passes every check")
	default:
		out.Heading(s.heading(what))
		s.swapTable(out, system)
	}
	if s.complete() {
		s.brokenTable(out, system)
	}
	out.Paragraph(say.Closing)
	s.next(out)
	return out
}

// incomplete says after how much the answer was interrupted, where it was.
func (s *Answer) incomplete(out *layout.Text) {
	seen, all := uint64(0), 0.0
	for _, r := range s.Rounds {
		seen += r.result.Combinations
		all += r.Problem.Combinations()
	}
	say.IncompleteText(out, s.complete(), fmt.Sprintf("after %s of %s", layout.Count(seen), layout.Counted(all, "combination", "combinations")))
}

// heading says how many changes pass, and how many of these are shown.
func (s *Answer) heading(what string) string {
	n := s.feasible()
	text := fmt.Sprintf("%s of %s %s every check", layout.Count(n), say.Counted(s.total(), "change of "+what, "changes of "+what), say.Plural(n, "passes", "pass"))
	switch {
	case uint64(len(s.swaps)) < n:
		return text + ", " + say.BestFirst(len(s.swaps))
	case n > 1:
		return text + ", best first"
	}
	return text
}

// inHand says what the build in hand is, and what it fails.
func (s *Answer) inHand(out *layout.Text, system quantity.System) {
	b := s.Base.Build
	out.Heading("Your build: " + say.Build(b))
	if len(s.misses) > 0 {
		out.Paragraph("It fails as it is: " + say.Misses(s.misses, b.Problem, system) + ".")
		s.beyond(out)
		return
	}
	out.Paragraph(say.Verdict(b.Results(), s.Question.Strict) + ".")
}

// beyond names the misses that no change of the freed slots mends, and what decides
// them.
func (s *Answer) beyond(out *layout.Text) {
	freed := constraints.Scope(0)
	for _, r := range s.Rounds {
		freed |= r.Freed.Scope()
	}
	p := s.Base.Build.Problem
	var nouns []string
	for _, word := range s.change() {
		nouns = append(nouns, say.Change([]string{word}))
	}
	for _, r := range say.Untouched(s.misses, freed, p) {
		out.Paragraph(fmt.Sprintf("No change of %s mends %s: it depends on %s.", strings.Join(nouns, " or "), r.Name, say.GoesBy(r.Check, p)))
	}
}

// swapTable adds the build in hand and what each swap does to it: under each
// value its difference, or beside it where there is room.
func (s *Answer) swapTable(out *layout.Text, system quantity.System) {
	rows := []*say.Row{say.NewRow(s.Base)}
	for _, x := range s.swaps {
		rows = append(rows, say.NewRow(x.Scored))
	}
	t := &layout.Table{Rows: make([][]layout.Cell, len(rows))}
	add := func(c layout.Column, cells []layout.Cell) {
		t.Columns = append(t.Columns, c)
		for i := range rows {
			t.Rows[i] = append(t.Rows[i], cells[i])
		}
	}
	plain := func(text func(i int) string) []layout.Cell {
		cells := make([]layout.Cell, len(rows))
		for i := range rows {
			cells[i].Text = text(i)
		}
		return cells
	}
	later := func(text func(i int) string) []layout.Cell { // nothing for the build in hand
		return plain(func(i int) string {
			if i == 0 {
				return ""
			}
			return text(i)
		})
	}
	add(layout.Column{}, plain(func(i int) string {
		if i == 0 {
			return "now"
		}
		return fmt.Sprint(i)
	}))
	add(layout.Column{Title: "score", Right: true, Stack: "score"}, plain(func(i int) string { return layout.Fixed(rows[i].Score, 1) }))
	add(layout.Column{Title: "±", Right: true, Stack: "score"}, later(func(i int) string { return say.Signed(rows[i].Score-rows[0].Score, 1) }))
	for _, m := range say.Measures(s.Full, system) {
		texts, signs := make([]string, len(rows)), make([]string, len(rows))
		for i, r := range rows {
			texts[i], signs[i] = m.Text(r), r.Sign(m.Checks...)
		}
		add(layout.Column{Title: m.Title, Right: true, Stack: m.Key, Extra: m.Extra}, say.SignedCells(texts, signs))
		add(layout.Column{Title: "±", Right: true, Stack: m.Key, Extra: m.Extra}, later(func(i int) string { return m.Change(rows[0], rows[i]) }))
	}
	if s.changesDrive() {
		add(layout.Column{Title: "drive", Extra: true}, plain(func(i int) string { return say.Drive(rows[i].Build.Drive) }))
	}
	add(layout.Column{Title: "to pay", Right: true}, later(func(i int) string { return say.Money(s.swaps[i-1].Change.Price) }))
	add(layout.Column{Title: "new", Wrap: true, Least: say.ProseWidth, Stack: say.PartStack}, plain(func(i int) string {
		if i == 0 {
			return s.freedParts()
		}
		return say.Lines(s.swaps[i-1].Change.Buy)
	}))
	leaves := later(func(i int) string { return say.Lines(s.swaps[i-1].Change.Leave) })
	alike := true
	for _, cell := range leaves[1:] {
		alike = alike && cell.Text == leaves[1].Text
	}
	if !alike {
		add(layout.Column{Title: "taken out", Wrap: true, Least: say.ProseWidth, Stack: say.PartStack}, leaves)
	} else if leaves[1].Text != "" {
		out.Paragraph("Taken out: " + leaves[1].Text + ".")
	}
	t.Legend = s.legend(system)
	out.Table(t)
}

// freedParts names the parts of the build in hand that are changed.
func (s *Answer) freedParts() string {
	var ids []string
	for _, word := range s.change() {
		if word == ask.MotorsWord {
			ids = append(ids, motorsOf(s.Base.Build))
			continue
		}
		slots, _ := ask.SlotsOf(word)
		for _, slot := range slots {
			if id := s.Base.Build.ID(slot); id != "" {
				ids = append(ids, id)
			}
		}
	}
	return strings.Join(ids, ", ")
}

// legend explains the columns and signs of the table.
func (s *Answer) legend(system quantity.System) []layout.Gloss {
	legend := []layout.Gloss{{Text: "now: your build; ±: the difference from it"}}
	legend = append(legend, say.FigureGlosses(system)...)
	legend = append(legend, layout.Gloss{Titles: []string{"launch"}, Text: " in s"}, say.MarginGloss(", the differences in points"))
	if rule := s.erpmRule(system); rule != "" {
		legend = append(legend, layout.Gloss{Text: rule})
	}
	legend = append(legend, layout.Gloss{Titles: []string{"to pay"}, Text: ": " + s.Full.Catalog.Currency + " for the new parts, in packs as sold"})
	return append(legend, say.SignGlosses(": beyond it")...)
}

// erpmRule says which electrical rpm is held to the ceiling, where that depends on
// the brief.
func (s *Answer) erpmRule(system quantity.System) string {
	brief := s.Full.Brief
	if brief.Limit.ERPMRule == constraints.FreeSpin {
		return ""
	}
	unit, factor := system.Show("km/h")
	speed := say.Short(brief.Target.TopSpeed*3.6*factor) + " " + unit
	return fmt.Sprintf("erpm: as it is %s, with %s %% kept free below the ceiling", say.ERPMRule(brief, speed), say.Short(brief.Limit.ERPMHeadroom*100))
}

// brokenTable adds the swaps that break something: all where they are asked for,
// those that break the least where nothing passes, else only their number.
func (s *Answer) brokenTable(out *layout.Text, system quantity.System) {
	n := s.total() - s.feasible()
	list := s.broken
	switch {
	case n == 0:
		return
	case len(list) == 0:
		var counts []string
		for _, x := range s.rejections(0) {
			if x.Count > 0 {
				counts = append(counts, layout.Count(x.Count)+say.NBSP+x.Check.Name)
			}
		}
		out.Paragraph(fmt.Sprintf("%s %s something, counted under the first check that fails: %s. --all shows the figures of each.",
			say.Counted(n, "change", "changes"), say.Plural(n, "breaks", "break"), strings.Join(counts, ", ")))
		return
	}
	heading := fmt.Sprintf("%s %s something", say.Counted(n, "change", "changes"), say.Plural(n, "breaks", "break"))
	if uint64(len(list)) < n {
		heading += fmt.Sprintf(", %d of them here", len(list))
	}
	if len(list) > 1 {
		heading += ", those that break least first"
	}
	out.Heading(heading)
	t := &layout.Table{Columns: []layout.Column{
		{Title: "new", Wrap: true, Least: say.ProseWidth}, {Title: "to pay", Right: true}, {Title: "breaks", Wrap: true, Least: say.ProseWidth},
	}}
	for _, x := range list {
		t.Add(say.Lines(x.Change.Buy), say.Money(x.Change.Price), say.Misses(x.Breaks, s.Full, system))
	}
	out.Table(t)
}

// next adds the commands to type next.
func (s *Answer) next(out *layout.Text) {
	same := s.Question.AgainOf()
	command := s.changing(s.change()) + same
	switch {
	case !s.complete():
		return
	case len(s.swaps) > 0:
		out.Heading("Next")
		out.Verbatim(command+" --save 1=swapped.toml", "gearsearch sheet swapped.toml"+s.Question.AgainSaved())
	default:
		s.wayOut(out, same)
	}
}

// changing is the command that makes these changes.
func (s *Answer) changing(words []string) string {
	command := "gearsearch swap " + say.Typed(s.File)
	if s.inTurn() {
		return command + " --all"
	}
	return command + " --change " + strings.Join(words, ",")
}

// fewWays is how many ways to change more are told.
const fewWays = 3

// wayOut adds a change that leads to a feasible build, where one was found.
func (s *Answer) wayOut(out *layout.Text, same string) {
	w := s.ways
	var more []string
	for _, set := range w.more[:min(fewWays, len(w.more))] {
		more = append(more, s.changing(slices.Concat(s.change(), say.ChangeWords(set)))+same)
	}
	out.Heading("Next")
	switch {
	case len(more) > 0:
		out.Paragraph("With more changed at once, some change passes every check:")
		out.Verbatim(more...)
	case w.rank:
		out.Paragraph("No change of this build passes, and other builds do:")
		out.Verbatim("gearsearch rank" + s.Question.Again())
	case w.relax:
		out.Paragraph("No build passes, unless something gives way:")
		out.Verbatim("gearsearch relax" + s.Question.Again())
	case len(w.demote) == 0:
		out.Paragraph("No build was found that is feasible: add parts to the catalog, or ask for less.")
	}
	if len(w.demote) > 0 {
		out.Paragraph("To see what there is with what breaks least as a mere caution:")
		out.Verbatim(s.changing(s.change()) + same + " --set limit.demote=" + strings.Join(w.demote, ","))
	}
}

// changesDrive reports whether a part of the drive is among what is changed.
func (s *Answer) changesDrive() bool {
	for _, word := range s.change() {
		slots, ok := ask.SlotsOf(word)
		if ok && slices.Contains(constraints.DriveSlots(), slots[0]) {
			return true
		}
	}
	return false
}
