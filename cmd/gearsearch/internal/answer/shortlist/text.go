package shortlist

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/catalog"
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
	say.IncompleteText(out, s.complete, "after "+say.Counted(uint64(len(s.parts)), "part", "parts")+" of the slot")
	say.AskedText(out, s.Problem, system)
	what := strings.ReplaceAll(s.Slot, "_", " ")
	open := s.opening()
	if len(open) > 0 {
		out.Heading(s.heading(what))
		s.openTable(out, system)
	} else if s.complete {
		out.Heading(fmt.Sprintf("None of %s does it", say.Counted(uint64(len(s.parts)), what, plurals(what))))
	}
	s.stoppedTable(out, what)
	s.unchosenTable(out)
	out.Paragraph(say.Closing)
	s.next(out)
	return out
}

// heading says how many parts are in how many feasible builds.
func (s *Answer) heading(what string) string {
	open, all := len(s.opening()), len(s.parts)
	text := fmt.Sprintf("%s of %s %s it, in %s", layout.Count(uint64(open)), say.Counted(uint64(all), what, plurals(what)), say.Plural(uint64(open), "does", "do"), say.Counted(s.feasible(), "feasible build", "feasible builds"))
	switch {
	case s.Top == 1 && open > 1:
		return text + ": the best"
	case s.Top > 0 && open > s.Top:
		return fmt.Sprintf("%s: the best %d", text, s.Top)
	case open > 1:
		return text + ", best first"
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
func (s *Answer) openTable(out *layout.Text, system quantity.System) {
	figures := search.TargetFigures(s.Problem)
	t := &layout.Table{Columns: []layout.Column{
		{Title: s.Slot, Wrap: s.Slot == ask.WholeDrive, Least: say.ProseWidth}, {Title: "builds", Right: true}, {Title: "best score", Right: true, Wrap: true, Least: 5},
	}}
	for _, f := range figures {
		t.Columns = append(t.Columns, layout.Column{Title: s.figureTitle(f, system), Right: true, Stack: say.NumberStack})
	}
	spans := s.spans()
	for _, x := range spans {
		unit, _ := system.Show(x.unit)
		t.Columns = append(t.Columns, layout.Column{Title: strings.TrimSpace(x.title + say.NBSP + unit), Right: true, Stack: "spans"})
	}
	open := s.best()
	for i := range open {
		c := &open[i]
		cells := []string{c.ID, layout.Count(c.Feasible), layout.Fixed(c.Best.Score, 1)}
		for j, f := range figures {
			unit, factor := system.Show(f.Unit)
			text := layout.Fixed(c.Figures[j]*factor, quantity.Decimals(unit))
			if f.Unit == "%" && text != "?" {
				text = layout.Fixed(c.Figures[j], 0) + "%"
			}
			cells = append(cells, text)
		}
		for _, x := range spans {
			cells = append(cells, x.text(c, system))
		}
		t.Add(cells...)
	}
	out.Table(t)
	var titles []string
	for _, f := range figures {
		titles = append(titles, strings.ReplaceAll(s.figureTitle(f, system), say.NBSP, " "))
	}
	lines := []string{strings.Join(titles, ", ") + ": each the best of any feasible build with the part"}
	if len(spans) > 0 {
		var titles []string
		for _, x := range spans {
			titles = append(titles, x.title)
		}
		lines = append(lines, strings.Join(titles, ", ")+": from the least to the greatest in those builds")
	}
	out.Paragraph(strings.Join(lines, "; ") + ".")
}

// figureTitle is a short title for a target's figure.
func (s *Answer) figureTitle(f constraints.Figure, system quantity.System) string {
	unit, _ := system.Show(f.Unit)
	switch f.Name {
	case "price":
		return s.Problem.Catalog.Currency
	case "climb_margin_pct":
		return "climb"
	case "launch_s", "hill_torque_nm", "range_km":
		return strings.ReplaceAll(f.Label, "hill torque", "torque") + say.NBSP + unit
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
		return say.Short(low * factor)
	}
	return say.Short(low*factor) + "–" + say.Short(high*factor)
}

// listed is how many parts that one check stops are named: all with --top 0,
// and few of those whose names are long.
func (s *Answer) listed() int {
	switch {
	case s.Top == 0:
		return len(s.parts)
	case s.Slot == ask.WholeDrive:
		return 2
	}
	return 10
}

// stoppedTable lists the parts that open nothing by what stops them.
func (s *Answer) stoppedTable(out *layout.Text, what string) {
	checks, ids := s.stopped()
	if len(checks) == 0 {
		return
	}
	stopped := 0
	for _, name := range checks {
		stopped += len(ids[name])
	}
	if open := len(s.opening()); open > 0 {
		out.Heading(say.Counted(uint64(stopped), what+" is", plurals(what)+" are") + " in no feasible build")
	}
	t := &layout.Table{Columns: []layout.Column{
		{Title: "stopped by"}, {Title: "subject"}, {Title: plurals(what), Right: true}, {Title: "which", Wrap: true, Least: say.ProseWidth},
	}}
	separator := ", "
	if s.Slot == ask.WholeDrive {
		separator = "; "
	}
	for _, name := range checks {
		list := ids[name]
		if most := s.listed(); len(list) > most {
			list = append(list[:most:most], "…")
		}
		about := ""
		for _, c := range s.Problem.Checks() {
			if c.Name == name {
				about = c.Subject
			}
		}
		t.Add(name, about, layout.Count(uint64(len(ids[name]))), strings.Join(list, separator))
	}
	out.Table(t)
	out.Paragraph("Stopped by: the furthest check that a combination with the part gets to.")
}

// unchosenTable lists the belts that no drive chooses by the reason.
func (s *Answer) unchosenTable(out *layout.Text) {
	var reasons []string
	ids, n, chains := map[string][]string{}, uint64(0), false
	for i := range s.parts {
		if c := &s.parts[i]; c.Unchosen != nil {
			why := say.Unchosen(c.Unchosen)
			chains = chains || c.Unchosen.Belt.Profile.Chained()
			if ids[why] == nil {
				reasons = append(reasons, why)
			}
			ids[why] = append(ids[why], c.ID)
			n++
		}
	}
	if n == 0 {
		return
	}
	one, more := "belt", "belts"
	if chains {
		one, more = "belt or chain", "belts and chains"
	}
	out.Heading(say.Counted(n, one+" is", more+" are") + " used by no drive")
	t := &layout.Table{Columns: []layout.Column{
		{Title: "reason", Wrap: true, Least: 2 * say.ProseWidth}, {Title: more, Right: true}, {Title: "which", Wrap: true, Least: say.ProseWidth},
	}}
	for _, why := range reasons {
		list := ids[why]
		if most := s.listed(); len(list) > most {
			list = append(list[:most:most], "…")
		}
		t.Add(why, layout.Count(uint64(len(ids[why]))), strings.Join(list, ", "))
	}
	out.Table(t)
}

// next adds the commands to type next.
func (s *Answer) next(out *layout.Text) {
	same := s.Question.Again()
	open := s.opening()
	switch {
	case len(open) == 0 && !s.complete:
		return
	case len(open) == 0:
		out.Heading("Next")
		out.Verbatim("gearsearch relax" + same)
		out.Paragraph("If that finds nothing either, ask for less in several ways at once, first what stops the most parts above, or add parts.")
	default:
		out.Heading("Next")
		keep := ""
		for _, slot := range s.kept() {
			if id := open[0].Best.Build.ID(slot); id != "" {
				keep += ask.KeepOnly(s.Problem.Brief, slot, id)
			}
		}
		out.Verbatim("gearsearch rank" + same + keep + s.otherKind(open[0].Best.Build.Drive))
	}
}

// kept are the slots in which the next command keeps the best build's parts. Of
// a belt they are all of its drive: to keep a belt alone is to have it chosen
// where another would be.
func (s *Answer) kept() []constraints.Slot {
	slots, _ := ask.SlotsOf(s.Slot)
	if s.Slot == constraints.SlotBelt.String() {
		return constraints.DriveSlots()
	}
	return slices.DeleteFunc(slices.Clone(slots), func(slot constraints.Slot) bool { return slot == constraints.SlotBelt })
}

// otherKind are the flags that put drives of the other kind than the best build's out
// of play, where the slot is one of a drive: keeping a pulley alone leaves gear
// drives in.
func (s *Answer) otherKind(d *constraints.Drive) string {
	slots, _ := ask.SlotsOf(s.Slot)
	if !slices.Contains(constraints.DriveSlots(), slots[0]) {
		return ""
	}
	out := constraints.SlotGearDrive
	if d.Gear != nil {
		out = constraints.SlotMotorPulley
	}
	var ids []string
	for _, other := range s.Problem.Drives {
		if id := other.ID(out); id != "" && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	if len(ids) == 0 {
		return ""
	}
	text := ""
	if len(s.Problem.Brief.Keep[out]) > 0 { // what is kept cannot be avoided
		text, ids = " --set keep."+out.String()+"=", idsOfKind(s.Problem.Catalog, out)
	}
	return text + " --avoid " + out.String() + "=" + strings.Join(ids, ",")
}

// idsOfKind lists the ids of all gear drives or of all motor pulleys of a catalog.
func idsOfKind(c *catalog.Catalog, slot constraints.Slot) []string {
	var ids []string
	if slot == constraints.SlotGearDrive {
		for _, g := range c.GearDrives {
			ids = append(ids, g.ID)
		}
		return ids
	}
	for _, pulley := range c.AllPulleys() {
		if pulley.Side == catalog.MotorSide {
			ids = append(ids, pulley.ID)
		}
	}
	return ids
}
