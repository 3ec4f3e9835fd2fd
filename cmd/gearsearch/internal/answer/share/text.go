package share

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// text is the answer as people read it.
func (s *Answer) text(system quantity.System) *layout.Text {
	out := &layout.Text{}
	say.IncompleteText(out, s.result.Complete, "before all combinations were seen")
	for i, problem := range s.result.Problems {
		if text := say.Asked(problem, system); text != "" {
			out.Paragraph("Asked of " + s.title(i) + ": " + text + ".")
		}
	}
	sets := s.result.Sets
	if len(sets) > 0 {
		out.Heading(s.heading())
		rows := s.rows()
		s.setTable(out, rows, system)
		s.changeTable(out)
		s.purchase(out)
	}
	s.tally(out)
	if len(sets) == 0 && s.result.Complete {
		s.nothing(out)
	}
	if len(sets) > 0 {
		s.assumed(out)
		out.Heading("Cautions")
		out.List(append(s.cautions(system), s.generalCautions(system)...))
	}
	s.next(out)
	return out
}

// title is the name of a brief, with its file where the name does not tell it.
func (s *Answer) title(brief int) string {
	label, file := s.Names[brief], s.Files[brief]
	switch {
	case file == "-":
		return label + " (standard input)"
	case strings.Contains(file, label):
		return label
	}
	return label + " (" + say.Shown(file) + ")"
}

// heading says what the sets share, and in which order they are.
func (s *Answer) heading() string {
	text := fmt.Sprintf("%s: one build each for %s, with the same %s", say.Counted(uint64(len(s.result.Sets)), "set", "sets"), say.InWords(s.Names), say.InWords(s.shared()))
	order := "best mean score first"
	if s.Worst {
		order = "best lowest score first"
	}
	return text + "; " + order
}

// shared names what is shared, in words.
func (s *Answer) shared() []string { return say.Changes(s.Words) }

// setRow is a build of a set.
type setRow struct {
	*say.Row
	set   *search.Set
	brief int
}

func (s *Answer) rows() []setRow {
	var out []setRow
	for i := range s.result.Sets {
		set := &s.result.Sets[i]
		for brief, b := range set.Builds {
			out = append(out, setRow{say.NewRow(b), set, brief})
		}
	}
	return out
}

// setTable adds the sets, a line for each build, and what all of them have.
func (s *Answer) setTable(out *layout.Text, list []setRow, system quantity.System) {
	rows := make([]*say.Row, len(list))
	for i, r := range list {
		rows[i] = r.Row
	}
	t := say.NewComparison(rows)
	// of says something of a whole set, in its first line.
	of := func(title string, text func(set *search.Set) string) {
		cells := make([]layout.Cell, len(list))
		for i, r := range list {
			if r.brief == 0 {
				cells[i].Text = text(r.set)
			}
		}
		t.AddCells(layout.Column{Title: title, Right: true, Stack: "set"}, cells)
	}
	of("set", func(set *search.Set) string { return fmt.Sprint(set.Rank) })
	title := "mean"
	if s.Worst {
		title = "lowest"
	}
	of(title, func(set *search.Set) string { return layout.Fixed(s.score(set), 1) })
	of(s.Questions[0].Catalog.Currency, func(set *search.Set) string { return say.Money(set.Price) })
	names := make([]layout.Cell, len(list))
	for i, r := range list {
		names[i].Text = s.Names[r.brief]
	}
	t.AddCells(layout.Column{Title: "for"}, names)
	for _, c := range s.columns(rows, system) {
		t.Add(c)
	}
	t.AddTo(out, s.legend(system))
}

// columns are what a line says of its build.
func (s *Answer) columns(rows []*say.Row, system quantity.System) []say.Column {
	out := []say.Column{
		{Column: layout.Column{Title: "score", Right: true, Stack: say.NumberStack}, Cell: func(r *say.Row) (string, string) { return layout.Fixed(r.Score, 1), say.NoSign }},
		say.FigureColumn("", "top_speed_kmh", system),
	}
	if s.anyBrief((*constraints.Problem).Climbs) {
		out = append(out, say.MarginColumn("climb"))
	}
	if s.anyBrief((*constraints.Problem).HasCeiling) {
		out = append(out, say.MarginColumn("erpm"))
	}
	out = append(out, say.FigureColumn("range", "range_km", system))
	if s.anyBrief(launches) {
		launch := say.FigureColumn("launch", "launch_s", system)
		out = append(out, say.Column{Column: launch.Column, Checks: launch.Checks, Cell: func(r *say.Row) (text, sign string) {
			if !launches(r.Build.Problem) {
				return "", say.NoSign
			}
			return launch.Cell(r)
		}})
	}
	out = append(out, say.Extra(say.FigureColumn("", "mass_kg", system)))
	return append(out, say.PartColumns(rows)...)
}

// legend explains the columns and signs.
func (s *Answer) legend(system quantity.System) []layout.Gloss {
	legend := []layout.Gloss{{Titles: []string{s.Questions[0].Catalog.Currency}, Text: ": of the whole set, shared parts counted once"}}
	legend = append(legend, say.FigureGlosses(system)...)
	legend = append(legend, layout.Gloss{Titles: []string{"launch"}, Text: " in s"}, say.MarginGloss(""))
	return append(legend, say.SignGlosses(": beyond it, only a caution in this brief")...)
}

// steps are the pairs of briefs between which parts are changed: each and the
// next, and where there are more than two the last and the first.
func (s *Answer) steps() [][2]int {
	var out [][2]int
	for i := range len(s.Names) - 1 {
		out = append(out, [2]int{i, i + 1})
	}
	if len(s.Names) > 2 {
		out = append(out, [2]int{len(s.Names) - 1, 0})
	}
	return out
}

// changeTable adds what is changed between the builds of each set.
func (s *Answer) changeTable(out *layout.Text) {
	t := &layout.Table{Columns: []layout.Column{{Title: "set", Right: true}}}
	if len(s.Names) > 2 {
		t.Columns = append(t.Columns, layout.Column{Title: "from"}, layout.Column{Title: "to"})
	}
	t.Columns = append(t.Columns, layout.Column{Title: "take off", Wrap: true, Least: say.ProseWidth}, layout.Column{Title: "put on", Wrap: true, Least: say.ProseWidth})
	for _, set := range s.result.Sets {
		for _, step := range s.steps() {
			c := set.Builds[step[0]].Build.ChangeTo(set.Builds[step[1]].Build)
			cells := []string{fmt.Sprint(set.Rank)}
			if len(s.Names) > 2 {
				cells = append(cells, s.Names[step[0]], s.Names[step[1]])
			}
			t.Add(append(cells, orNothing(say.Lines(c.Leave)), orNothing(say.Lines(c.Buy)))...)
		}
	}
	if len(s.Names) > 2 {
		out.Heading("What to change")
	} else {
		out.Heading(fmt.Sprintf("What to change from %s to %s, and back the other way round", s.Names[0], s.Names[1]))
	}
	out.Table(t)
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// purchase adds all parts of the first set, with the builds that have them.
func (s *Answer) purchase(out *layout.Text) {
	set := &s.result.Sets[0]
	t := &layout.Table{Columns: []layout.Column{
		{Title: "slot"},
		{Title: "pieces", Right: true},
		{Title: "id", Stack: "part"},
		{Title: "name", Stack: "part", Wrap: true, Least: say.ProseWidth},
		{Title: "for"},
		{Title: s.Questions[0].Catalog.Currency, Right: true},
	}}
	for _, l := range set.Lines {
		t.Add(l.Slot.String(), fmt.Sprint(l.Pieces), l.Part.ID, l.Part.Name, s.users(set, l), say.Money(l.Price))
	}
	t.Add("", "", "", "", "together", say.Money(set.Price))
	out.Heading("Set 1, all its parts")
	out.Table(t)
}

// users names the builds of a set that have a part.
func (s *Answer) users(set *search.Set, l constraints.Line) string {
	var out []string
	for i, b := range set.Builds {
		if b.Build.ID(l.Slot) == l.Part.ID {
			out = append(out, s.Names[i])
		}
	}
	switch {
	case len(out) < len(s.Names):
		return say.InWords(out)
	case len(out) == 2:
		return "both"
	}
	return "all"
}

// tally adds what became of the combinations of each brief.
func (s *Answer) tally(out *layout.Text) {
	switch {
	case !s.result.Complete:
		out.Heading("Each brief by itself, as far as it was counted")
	case len(s.result.Sets) == 0:
		out.Heading(fmt.Sprintf("No choice of %s serves %s", say.InWords(s.shared()), say.InWords(s.Names)))
	default:
		out.Heading("Each brief by itself")
	}
	t := &layout.Table{Columns: []layout.Column{{Title: "of all combinations"}}}
	for _, name := range s.Names {
		t.Columns = append(t.Columns, layout.Column{Title: name, Right: true})
	}
	line := func(title string, of func(brief int) string) {
		cells := []string{title}
		for i := range s.Names {
			cells = append(cells, of(i))
		}
		t.Add(cells...)
	}
	tallies := s.result.Tallies
	line("combinations", func(i int) string { return layout.Count(tallies[i].Combinations) })
	line("feasible", func(i int) string { return layout.Count(tallies[i].Feasible) })
	line("with a check undecided", func(i int) string { return layout.Count(tallies[i].Unknown) })
	for _, name := range s.checkNames() {
		line("rejected by "+name, func(i int) string {
			if count, ok := s.rejected(i, name); ok {
				return layout.Count(count)
			}
			return "–"
		})
	}
	out.Table(t)
}

// checkNames are the checks that turn a combination of some brief down, in
// order.
func (s *Answer) checkNames() []string {
	var out []string
	for _, c := range constraints.Registry() {
		for i := range s.Names {
			if n, _ := s.rejected(i, c.Name); n > 0 {
				out = append(out, c.Name)
				break
			}
		}
	}
	return out
}

// rejected is how many combinations of a brief a check rejects; ok is false
// where the brief does not have it tested.
func (s *Answer) rejected(brief int, check string) (n uint64, ok bool) {
	for i, c := range s.result.Problems[brief].Checks() {
		if c.Name == check {
			return s.result.Tallies[brief].Rejected[i], true
		}
	}
	return 0, false
}

// nothing says why there is no set, and what would open one.
func (s *Answer) nothing(out *layout.Text) {
	if i := s.barren(); i >= 0 {
		out.Heading("Nothing is feasible for " + s.Names[i] + " by itself")
		return
	}
	if len(s.Words) < 2 {
		out.Paragraph("Each brief has feasible builds by itself, but no " + say.InWords(s.shared()) + " is in builds of " + allOf(len(s.Names)) + ".")
		return
	}
	text := "Each brief has feasible builds by itself, but no set shares all of these."
	if len(s.loosened) == 0 {
		text += " Sharing all but one of them does not help."
		if len(s.alone) > 0 {
			text += " Each by itself can be shared: " + say.InWords(say.Changes(s.alone)) + "."
		}
		out.Paragraph(text)
		return
	}
	out.Paragraph(text + " Sharing all but one of them gives a set:")
	t := &layout.Table{Columns: []layout.Column{{Title: "not shared"}, {Title: "best score", Right: true}, {Title: s.Questions[0].Catalog.Currency, Right: true}, {Title: "to change", Wrap: true, Least: say.ProseWidth}}}
	for _, l := range s.loosened {
		cells := []string{say.Change([]string{l.word}), layout.Fixed(s.score(&l.best), 1), say.Money(l.best.Price)}
		for _, step := range s.steps() {
			c := l.best.Builds[step[0]].Build.ChangeTo(l.best.Builds[step[1]].Build)
			text := orNothing(say.Lines(c.Leave))
			if len(c.Leave)+len(c.Buy) > 0 {
				text += " for " + orNothing(say.Lines(c.Buy))
			}
			if len(s.Names) > 2 {
				text = s.Names[step[0]] + " to " + s.Names[step[1]] + ": " + text
			}
			t.Add(append(cells, text)...)
			cells = []string{"", "", ""}
		}
	}
	out.Table(t)
}

// allOf says of how many briefs something holds: of all of them.
func allOf(briefs int) string {
	if briefs == 2 {
		return "both"
	}
	return fmt.Sprintf("all %d", briefs)
}

// assumed adds the assumptions behind the builds' figures, by brief where they
// differ.
func (s *Answer) assumed(out *layout.Text) {
	out.Heading("Assumed")
	var all [][]string
	for i := range s.result.Problems {
		all = append(all, say.Assumptions(s.used(i).Assumptions()))
	}
	common := slices.DeleteFunc(slices.Clone(all[0]), func(text string) bool {
		return slices.ContainsFunc(all[1:], func(list []string) bool { return !slices.Contains(list, text) })
	})
	if len(common) > 0 {
		out.Paragraph(strings.Join(common, "; ") + ".")
	}
	for i, list := range all {
		own := slices.DeleteFunc(slices.Clone(list), func(text string) bool { return slices.Contains(common, text) })
		if len(own) > 0 {
			out.Paragraph("For " + s.Names[i] + ": " + strings.Join(own, "; ") + ".")
		}
	}
}

// used is what the builds for a brief are made of.
func (s *Answer) used(brief int) *constraints.Used {
	used := constraints.NewUsed(s.result.Problems[brief])
	for _, set := range s.result.Sets {
		used.Add(set.Builds[brief].Build)
	}
	return used
}

// cautions are those of the builds, by set.
func (s *Answer) cautions(system quantity.System) []string {
	var out []string
	for i, name := range s.Names {
		var rows []*say.Row
		for _, set := range s.result.Sets {
			r := say.NewRow(set.Builds[i])
			r.Rank = set.Rank
			rows = append(rows, r)
		}
		for _, c := range say.SortedCautions(rows, system) {
			who := name
			if c.Ranks != "" {
				who += ", set" + say.NBSP + c.Ranks
			}
			out = append(out, who+": "+c.Text)
		}
	}
	return append(out, s.otherBoards()...)
}

// generalCautions are what is said once, each thing once for all briefs.
func (s *Answer) generalCautions(system quantity.System) []string {
	var all []constraints.Caution
	for _, p := range s.result.Problems {
		for _, c := range p.GeneralCautions() {
			if !slices.Contains(all, c) {
				all = append(all, c)
			}
		}
	}
	return say.GeneralCautions(all, system)
}

// otherBoards cautions where the briefs describe different boards.
func (s *Answer) otherBoards() []string {
	first := s.result.Problems[0].Brief.Board
	for i, p := range s.result.Problems[1:] {
		same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
		if b := p.Brief.Board; !same(b.Mass, first.Mass) || !same(b.Hanger, first.Hanger) {
			return []string{fmt.Sprintf("%s and %s have another board mass or hanger: another deck or other trucks are no part of a set, and their price is not in it", s.Names[0], s.Names[i+1])}
		}
	}
	return nil
}

// next adds the commands to type next.
func (s *Answer) next(out *layout.Text) {
	command := "gearsearch rank" + ask.AgainEach(s.Questions) + " --share " + strings.Join(s.Words, ",")
	if s.Worst {
		command += " --worst"
	}
	switch i := s.barren(); {
	case !s.result.Complete:
		return
	case len(s.saved) > 0:
		out.Heading("Next")
		var lines []string
		for i, file := range s.saved {
			lines = append(lines, "gearsearch parts "+say.Typed(file)+s.Questions[i].AgainSaved())
		}
		out.Verbatim(lines...)
	case len(s.result.Sets) > 0:
		out.Heading("Next")
		out.Verbatim(command+" --save 1=set.toml", "gearsearch parts "+say.Typed(s.fileOf("set.toml", 0))+s.Questions[0].AgainSaved())
	case i >= 0:
		out.Heading("Next")
		out.Verbatim("gearsearch relax" + s.Questions[i].Again())
	case len(s.loosened) > 0:
		out.Heading("Next")
		left := slices.DeleteFunc(slices.Clone(s.Words), func(w string) bool { return w == s.loosened[0].word })
		out.Verbatim(strings.Replace(command, "--share "+strings.Join(s.Words, ","), "--share "+strings.Join(left, ","), 1))
	case len(s.alone) > 0:
		out.Heading("Next")
		out.Verbatim(strings.Replace(command, "--share "+strings.Join(s.Words, ","), "--share "+s.alone[0], 1))
	}
}
