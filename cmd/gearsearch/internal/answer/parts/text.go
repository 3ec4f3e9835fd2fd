package parts

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

// text is the answer as people read it.
func (s *Answer) text() *layout.Text {
	out := &layout.Text{}
	problem := s.Build.Problem
	out.Heading("Shopping list: " + s.total())
	if unpriced := s.unpriced(); len(unpriced) > 0 {
		out.Paragraph("The total leaves out parts without a price: " + strings.Join(unpriced, ", ") + ".")
	}
	if text := say.OldPrices(s.prices(), s.Today); text != "" {
		out.Paragraph(text)
	}
	say.AskedText(out, problem, s.System)
	if len(s.missed) > 0 {
		out.Paragraph("This build fails a check of its brief: " + strings.Join(s.missed, ", ") + ".")
	}
	if todo := s.failures(); len(todo) > 0 {
		out.Paragraph("Before you ride: " + strings.Join(todo, "; ") + ".")
	}
	out.Table(s.listTable())
	s.links(out)
	say.MadeText(out, s.Makings(), s.System)
	out.Heading("What the build needs around its drivetrain")
	for _, n := range s.Needs {
		s.needEntry(out, n)
	}
	s.boxSketch(out)
	out.Heading("Checks of these parts")
	out.Table(s.checks())
	if s.Why {
		for _, r := range s.Results() {
			out.Entry(r.Name+" passes when "+r.Meaning, layout.Note{Label: "source", Text: r.Source})
		}
	}
	say.SettingsText(out, s.Build, s.Why, s.System)
	s.facts(out)
	out.Heading("Assumed")
	out.Paragraph(strings.Join(append(say.Notes(s.Assumptions(), s.System), say.Assumptions(s.Build.Assumptions())...), "; ") + ".")
	out.Heading("Cautions")
	var cautions []string
	for _, text := range slices.Concat(
		say.OutfitCautions(s.Outfit, s.System),
		say.CautionsOf(s.Build, s.System, constraints.NotSafeToTouch),
		say.GeneralCautions(s.Build.GeneralCautions(), s.System, constraints.FullPack),
	) {
		cautions = append(cautions, say.Bound(text))
	}
	out.List(cautions)
	s.tools(out)
	s.next(out)
	return out
}

// failures say what to do about failed checks that no part to buy mends.
func (s *Answer) failures() []string {
	var out []string
	for _, r := range s.Results() {
		if r.Fails() && !r.Caution && r.Need == nil && r.Says.Told() {
			out = append(out, s.checkWords(r)+" ("+r.Name+")")
		}
	}
	return out
}

// total is the known price of the list, "at least" where a price is missing.
func (s *Answer) total() string {
	text := say.Money(s.Total.Known) + say.NBSP + s.Build.Problem.Catalog.Currency
	if s.Total.Missing {
		text = "at least " + text
	}
	return text
}

// listTable is the shopping list.
func (s *Answer) listTable() *layout.Table {
	t := &layout.Table{Columns: []layout.Column{
		{Title: "for"},
		{Title: "pieces", Right: true},
		{Title: "id", Stack: "part"},
		{Title: "name", Stack: "part", Wrap: true, Least: say.ProseWidth},
		{Title: "to buy", Right: true},
		{Title: "at", Right: true, Extra: true},
		{Title: s.Build.Problem.Catalog.Currency, Right: true},
	}}
	told := slices.ContainsFunc(s.list(), func(l listed) bool { return l.Priced+l.Source != "" })
	if told {
		t.Columns = append(t.Columns, layout.Column{Title: "price from", Wrap: true, Least: say.ProseWidth})
	}
	for _, l := range s.list() {
		row := []layout.Cell{
			{Text: quantity.Label(l.Called, "")},
			{Text: layout.Count(uint64(l.Pieces))},
			{Text: l.ID},
			{Text: l.Name},
			{Text: buyWords(l.Line)},
			{Text: sum(l.Unit)},
			{Text: sum(l.Total)},
		}
		if l.ID == "" {
			row[2], row[3] = layout.Cell{Text: "–"}, layout.Cell{Text: stateWords(l.need.State), Tone: layout.Warn}
		}
		if told {
			row = append(row, layout.Cell{Text: say.PriceFrom(l.Priced, l.Source)})
		}
		t.Rows = append(t.Rows, row)
	}
	t.Legend = s.legend()
	return t
}

// prices are the days of the prices that are paid.
func (s *Answer) prices() []say.Price {
	var out []say.Price
	for _, l := range s.list() {
		if l.Packs > 0 && !math.IsNaN(l.Total) {
			out = append(out, say.Price{Of: quantity.Label(l.Slot, ""), Day: l.Priced})
		}
	}
	return out
}

// buyWords is the packs to buy for a line.
func buyWords(l outfit.Line) string {
	switch {
	case l.Owned:
		return "owned"
	case l.Made != "":
		return l.Made
	case l.Packs == 0:
		return "0"
	case l.SoldIn == 1:
		return layout.Count(uint64(l.Packs))
	}
	return fmt.Sprintf("%d × %d", l.Packs, l.SoldIn)
}

// sum is an amount, "?" for one that is not known.
func sum(x float64) string {
	if math.IsNaN(x) {
		return "?"
	}
	return say.Money(x)
}

// stateWords say in a few words why nothing is chosen.
func stateWords(s outfit.State) string {
	return map[outfit.State]string{
		outfit.Misfit:  "no part of the catalog will do",
		outfit.Unsure:  "too little is known of the catalog's parts",
		outfit.Missing: "not in the catalog",
		outfit.Open:    "too little is known of the build",
	}[s]
}

// legend explains the list.
func (s *Answer) legend() []layout.Gloss {
	packs, open, wire, made := layout.Gloss{Titles: []string{"to buy"}, Text: ": packs"}, false, false, false
	var notes []layout.Gloss
	for _, l := range s.list() {
		if l.Made != "" && !made {
			made = true
			notes = append(notes, layout.Gloss{Text: strings.Join(catalog.Makings(), ", ") + ": to be made, at the price of the material"})
		}
		if strings.Contains(buyWords(l.Line), "×") {
			packs.Text = ": packs, × the pieces in a pack"
		}
		if text := l.noted(s.System); text != "" {
			notes = append(notes, layout.Gloss{Text: quantity.Label(l.Called, "") + ": " + text})
		}
		open = open || math.IsNaN(l.Total)
		wire = wire || l.need != nil && l.need.Kind == "wire"
	}
	legend := append([]layout.Gloss{packs}, notes...)
	if open {
		legend = append(legend, layout.Gloss{Text: "?: not known, and where nothing is chosen what to look for stands below"})
	}
	if wire {
		legend = append(legend, layout.Gloss{Titles: []string{"pieces"}, Text: ": metres of wire"})
	}
	return legend
}

// links lists where parts are to be had, as far as the catalog says.
func (s *Answer) links(out *layout.Text) {
	var lines []string
	seen := map[string]bool{}
	for _, l := range s.list() {
		if l.Link != "" && !seen[l.ID] {
			seen[l.ID] = true
			lines = append(lines, l.ID+" "+l.Link)
		}
	}
	if len(lines) > 0 {
		out.Heading("Links")
		out.Verbatim(lines...)
	}
}

// needEntry adds one need: the part, its demands, its notes.
func (s *Answer) needEntry(out *layout.Text, n *outfit.Need) {
	var notes []layout.Note
	note := func(label, text string) { notes = append(notes, layout.Note{Label: label, Text: say.Bound(text)}) }
	name := quantity.Label(n.Line().Slot, "")
	switch n.State {
	case outfit.Chosen:
		note("chosen", strings.TrimSpace(n.Part.ID+" "+n.Part.Name))
	case outfit.Missing:
		name += ", " + stateWords(n.State)
		if why := say.ReasonWords(n, s.System); why != "" {
			note("none does", why)
		}
	default:
		note(n.State.String(), stateWords(n.State)+reasonWords(n, s.System))
	}
	for _, text := range say.Notes(n.Notes, s.System) {
		note("note", text)
	}
	if s.Why {
		for _, d := range n.Demands {
			note("demand", demandWords(d, s.System))
			note("source", d.Source)
		}
	}
	out.Entry(name+": "+say.Bound(say.Statement(n.Buy, s.System)), notes...)
}

// reasonWords say why none of the parts is chosen: the nearest ones, each with
// what it lacks, or what is not known of the build.
func reasonWords(n *outfit.Need, system quantity.System) string {
	switch n.State {
	case outfit.Open:
		return ": " + say.NeedWords(n, system)
	case outfit.Chosen, outfit.Missing:
		return ""
	}
	why := say.ReasonWords(n, system)
	if why == "" {
		return ""
	}
	return " (" + why + ")"
}

// demandWords say what a part must bear and why.
func demandWords(d outfit.Demand, system quantity.System) string {
	text := say.Demand(d)
	unit, factor := system.Show(d.Unit)
	if d.Key == "shaft_mm" { // keys are sold by mm
		unit, factor = d.Unit, 1
	}
	value := func(x float64) string { return strings.TrimSpace(say.Short(x*d.PerSI*factor) + say.NBSP + unit) }
	switch {
	case d.YesNo:
	case d.Open != nil:
		return text + ": not known, as " + say.Statements(d.Open, system)
	case !math.IsNaN(d.Least) && d.Least == d.Most:
		text += " " + value(d.Least)
	default:
		if !math.IsNaN(d.Least) {
			text += " ≥" + say.NBSP + value(d.Least)
		}
		if !math.IsNaN(d.Most) {
			text += " ≤" + say.NBSP + value(d.Most)
		}
	}
	if d.How != nil {
		text += ": " + say.Statements(d.How, system)
	}
	return text
}

// sketch draws where the cells of the pack run in the box chosen; nil without
// one.
func (s *Answer) sketch() []string {
	if s.Layout == nil {
		return nil
	}
	return say.Sketch(*s.Layout, int(s.Build.Battery.Series), int(s.Build.Battery.Strings()))
}

// boxSketch adds the sketch of the pack in its box.
func (s *Answer) boxSketch(out *layout.Text) {
	lines := s.sketch()
	if lines == nil {
		return
	}
	out.Heading("The pack in the box: " + say.LayoutWords(*s.Layout))
	out.Verbatim(lines...)
	out.Paragraph("Each cell by the number of its group and the pole that faces you; cells of one number are parallel, the groups in series from 1 up. A proposal of where the cells run, not a plan to weld by, and the best of the patterns tried, not of all there are.")
}

// checks is the table of the outfit's checks.
func (s *Answer) checks() *layout.Table {
	t := &layout.Table{Columns: []layout.Column{
		{Title: "check"},
		{Title: "verdict"},
		{Title: "value", Right: true},
		{Title: "limit", Right: true},
		{Title: "unit"},
		{Title: "margin", Right: true, Extra: true},
		{Title: "meaning", Wrap: true, Least: say.ProseWidth},
	}}
	for _, r := range s.Results() {
		verdict, tone := r.Verdict.String(), layout.Plain
		switch {
		case r.Fails() && r.Caution:
			verdict, tone = "caution", layout.Warn
		case r.Fails():
			tone = layout.Bad
		case r.Verdict == constraints.Undecided:
			tone = layout.Warn
		}
		value, limit, unit := s.outcome(r)
		margin := ""
		if m := r.MarginPct(); !math.IsNaN(m) {
			margin = layout.Fixed(m, 0) + "%"
		}
		t.Rows = append(t.Rows, []layout.Cell{
			{Text: r.Name}, {Text: verdict, Tone: tone}, {Text: value}, {Text: limit}, {Text: unit}, {Text: margin}, {Text: s.checkWords(r)},
		})
	}
	return t
}

// outcome is the value and the limit of a check as a table shows them.
func (s *Answer) outcome(r outfit.Result) (value, limit, unit string) {
	if r.Unit == "" || math.IsNaN(r.Value) && math.IsNaN(r.Limit) {
		return "", "", ""
	}
	unit, factor := s.System.Show(r.Unit)
	value, limit = layout.Pair(r.Value*r.PerSI*factor, r.Limit*r.PerSI*factor, quantity.Decimals(unit))
	sign := "≤"
	if r.Lower {
		sign = "≥"
	}
	if math.IsNaN(r.Value) {
		value = ""
	}
	if math.IsNaN(r.Limit) {
		return value, "", unit
	}
	return value, sign + say.NBSP + limit, unit
}

// checkWords is the finding of a check, without what stands above.
func (s *Answer) checkWords(r outfit.Result) string {
	n := r.Need
	switch {
	case n != nil && n.Part != nil:
		return n.Part.ID + " does"
	case n != nil:
		return stateWords(n.State)
	case r.Says.Told():
		return say.Bound(say.Statement(r.Says, s.System))
	}
	return r.Meaning
}

// facts adds the figures of currents, braking and descents.
func (s *Answer) facts(out *layout.Text) {
	out.Heading("Currents, braking and descents")
	if s.Why {
		for _, f := range s.Facts() {
			value, unit := s.fact(f)
			out.Entry(strings.TrimSpace(say.FactLabel(f)+": "+value+" "+unit)+" – "+say.FactWords(f, s.System),
				layout.Note{Label: "because", Text: say.Bound(say.Statements(f.How, s.System))}, layout.Note{Label: "source", Text: f.Source})
		}
		return
	}
	t := &layout.Table{Columns: []layout.Column{{Title: "figure"}, {Title: "value", Right: true}, {Title: "unit"}, {Title: "meaning", Wrap: true, Least: say.ProseWidth}}}
	for _, f := range s.Facts() {
		value, unit := s.fact(f)
		t.Add(say.FactLabel(f), value, unit, say.FactWords(f, s.System))
	}
	out.Table(t)
}

// fact is a fact's value and unit as they are shown.
func (s *Answer) fact(f outfit.Fact) (value, unit string) {
	switch {
	case math.IsNaN(f.Value):
		return "–", ""
	case math.IsInf(f.Value, 0):
		return "any", ""
	}
	unit, factor := s.System.Show(f.Unit)
	return layout.Fixed(f.Value*factor, quantity.Decimals(unit)), unit
}

// tools adds the tools and small parts, each with the parts that it is for.
func (s *Answer) tools(out *layout.Text) {
	out.Heading("Tools and small parts")
	var lines []string
	for _, t := range s.Tools() {
		text := say.Statement(t.Use, s.System) + " (for " + strings.Join(t.For, ", ") + ")"
		for _, note := range say.Notes(t.Notes, s.System) {
			text += "; " + note
		}
		if s.Why {
			text += " [" + t.Source + "]"
		}
		lines = append(lines, say.Bound(text))
	}
	out.List(lines)
}

// tellMore says how to see the missing keys of the catalog, where something is not
// known for want of one.
func (s *Answer) tellMore() []string {
	lacking := slices.ContainsFunc(s.Needs, func(n *outfit.Need) bool { return n.State == outfit.Open || n.State == outfit.Unsure })
	if !lacking || s.Sources.DemoParts() {
		return nil
	}
	return []string{"gearsearch catalog check" + s.Sources.CatalogWords()}
}

// next adds the commands to type next.
func (s *Answer) next(out *layout.Text) {
	same := ""
	for _, word := range s.Words {
		same += " " + word
	}
	out.Heading("Next")
	lines := []string{"gearsearch parts " + say.Typed(s.File) + same + " -o list.csv"}
	if !s.Why {
		lines = append([]string{"gearsearch parts " + say.Typed(s.File) + same + " --why"}, lines...)
	}
	out.Verbatim(append(s.tellMore(), lines...)...)
	if !s.Sources.DemoParts() && slices.ContainsFunc(s.Needs, func(n *outfit.Need) bool { return n.Kind != "" && n.State == outfit.Missing }) {
		out.Paragraph("Add parts that the catalog lacks, to have them chosen and priced: gearsearch catalog schema --reference has the keys of each kind.")
	}
}
