package main

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/page"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// page is the answer as people read it.
func (s *shortlistAnswer) page(system quantity.System) *page.Page {
	p := &page.Page{}
	incompleteText(p, s.complete, "after "+counted(uint64(len(s.parts)), "part", "parts")+" of the slot")
	askedText(p, s.problem, system)
	what := strings.ReplaceAll(s.slot, "_", " ")
	open := s.opening()
	if len(open) > 0 {
		p.Heading(s.heading(what))
		s.openTable(p, system)
	} else if s.complete {
		p.Heading(fmt.Sprintf("None of %s opens a build", counted(uint64(len(s.parts)), what, plurals(what))))
	}
	s.stoppedTable(p, what)
	p.Text(closing)
	s.next(p)
	return p
}

// heading says how many parts open how many builds.
func (s *shortlistAnswer) heading(what string) string {
	open, all := len(s.opening()), len(s.parts)
	text := fmt.Sprintf("%s of %s %s %s", page.Count(uint64(open)), counted(uint64(all), what, plurals(what)), plural(uint64(open), "opens", "open"), counted(s.feasible(), "feasible build", "feasible builds"))
	switch {
	case s.top == 1 && open > 1:
		return text + "; the one with the best build"
	case s.top > 0 && open > s.top:
		return fmt.Sprintf("%s; the %d with the best builds", text, s.top)
	case open > 1:
		return text + "; the best build's first"
	}
	return text
}

// plurals is the plural of a slot.
func plurals(what string) string {
	if what == "battery" {
		return "batteries"
	}
	return what + "s"
}

// openTable lists the parts that open builds.
func (s *shortlistAnswer) openTable(p *page.Page, system quantity.System) {
	figures := search.TargetFigures(s.problem)
	t := &page.Table{Columns: []page.Column{
		{Title: s.slot, Wrap: s.slot == wholeDrive, Least: proseWidth}, {Title: "builds", Right: true}, {Title: "best score", Right: true, Wrap: true, Least: 5},
	}}
	for _, f := range figures {
		t.Columns = append(t.Columns, page.Column{Title: s.figureTitle(f, system), Right: true, Stack: numberStack})
	}
	spans := s.spans()
	for _, x := range spans {
		unit, _ := system.Show(x.unit)
		t.Columns = append(t.Columns, page.Column{Title: strings.TrimSpace(x.title + nbsp + unit), Right: true, Stack: "spans"})
	}
	open := s.opening()
	if s.top > 0 {
		open = open[:min(s.top, len(open))]
	}
	for i := range open {
		c := &open[i]
		cells := []string{c.ID, page.Count(c.Feasible), page.Fixed(c.Best.Score, 1)}
		for j, f := range figures {
			unit, factor := system.Show(f.Unit)
			text := page.Fixed(c.Figures[j]*factor, quantity.Decimals(unit))
			if f.Unit == "%" && text != "?" {
				text = page.Fixed(c.Figures[j], 0) + "%"
			}
			cells = append(cells, text)
		}
		for _, x := range spans {
			cells = append(cells, x.text(c, system))
		}
		t.Add(cells...)
	}
	p.Table(t)
	var titles []string
	for _, f := range figures {
		titles = append(titles, strings.ReplaceAll(s.figureTitle(f, system), nbsp, " "))
	}
	lines := []string{strings.Join(titles, ", ") + ": the best that a feasible build with the part reaches, each on its own"}
	if len(spans) > 0 {
		var titles []string
		for _, x := range spans {
			titles = append(titles, x.title)
		}
		lines = append(lines, strings.Join(titles, ", ")+": what its feasible builds have, from the least to the greatest")
	}
	p.Text(strings.Join(lines, "; ") + ".")
}

// figureTitle is a short title for a target's figure.
func (s *shortlistAnswer) figureTitle(f constraints.Figure, system quantity.System) string {
	unit, _ := system.Show(f.Unit)
	switch f.Name {
	case "price":
		return s.problem.Catalog.Currency
	case "climb_margin_pct":
		return "climb"
	case "launch_s", "hill_torque_nm", "range_km":
		return strings.ReplaceAll(label(f.Name, f.Unit), "hill torque", "torque") + nbsp + unit
	}
	return unit
}

// text is a span as a table shows it.
func (x *span) text(c *search.Candidate, system quantity.System) string {
	_, factor := system.Show(x.unit)
	low, high := x.bounds(c)
	if math.IsNaN(low) {
		return ""
	}
	if low == high {
		return short(low * factor)
	}
	return short(low*factor) + "–" + short(high*factor)
}

// listed is how many parts that one check stops are named: all with --top 0,
// and few of those whose names are long.
func (s *shortlistAnswer) listed() int {
	switch {
	case s.top == 0:
		return len(s.parts)
	case s.slot == wholeDrive:
		return 2
	}
	return 10
}

// stoppedTable lists the parts that open nothing by what stops them.
func (s *shortlistAnswer) stoppedTable(p *page.Page, what string) {
	checks, ids := s.stopped()
	if len(checks) == 0 {
		return
	}
	if open := len(s.opening()); open > 0 {
		p.Heading(counted(uint64(len(s.parts)-open), what+" opens", plurals(what)+" open") + " no build")
	}
	t := &page.Table{Columns: []page.Column{
		{Title: "stopped by"}, {Title: "which is about"}, {Title: plurals(what), Right: true}, {Title: "which", Wrap: true, Least: proseWidth},
	}}
	separator := ", "
	if s.slot == wholeDrive {
		separator = "; "
	}
	for _, name := range checks {
		list := ids[name]
		if most := s.listed(); len(list) > most {
			list = append(list[:most:most], "…")
		}
		about := ""
		for _, c := range s.problem.Checks() {
			if c.Name == name {
				about = subject(c)
			}
		}
		t.Add(name, about, page.Count(uint64(len(ids[name]))), strings.Join(list, separator))
	}
	p.Table(t)
	p.Text("Stopped by: the check that turns down the combinations which get furthest.")
}

// next adds what to type next.
func (s *shortlistAnswer) next(p *page.Page) {
	same := s.question.again()
	open := s.opening()
	switch {
	case len(open) == 0 && !s.complete:
		return
	case len(open) == 0:
		p.Heading("Next")
		p.Verbatim("gearsearch relax" + same)
	default:
		p.Heading("Next")
		keep := ""
		slots, _ := slotsOf(s.slot)
		for _, slot := range slots {
			if id := open[0].Best.Build.ID(slot); id != "" && slot != constraints.SlotBelt || id != "" && s.slot != wholeDrive {
				keep += keepOnly(s.problem.Brief, slot, id)
			}
		}
		p.Verbatim("gearsearch rank" + same + keep)
	}
}
