package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/words"
	"gearsearch/constraints"
	"gearsearch/search"
)

// sheetPage is all about one build as people read it.
type sheetPage struct {
	search.Scored
	system quantity.System
	why    bool
	strict bool
	varied *search.Robustness // nil: not asked for
	file   string             // of the build
	again  string             // the flags that make the question, as they can be typed again
}

func (s *sheetPage) page() *layout.Page {
	p := &layout.Page{}
	results := s.Build.Results()
	p.Heading(verdictWords(results, s.strict))
	askedText(p, s.Build.Problem, s.system)
	p.Table(partsTable(s.Build, s.system))
	if s.why {
		s.reasons(p)
	} else {
		p.Table(s.figures())
	}
	p.Heading("Checks")
	p.Table(checksTable(results, s.Build.Problem, s.system))
	if slices.ContainsFunc(results, func(r constraints.Result) bool { return signOf(r) == thinSign }) {
		p.Text(fmt.Sprintf("!: passed by less than %d"+nbsp+"%%", thinMargin))
	}
	if s.why {
		var meanings []string
		for _, r := range results {
			meanings = append(meanings, r.Name+" passes when "+r.Meaning)
		}
		p.List(meanings)
	}
	s.tolerance(p)
	p.Heading("Score " + layout.Fixed(s.Score, 1) + " of 100")
	p.Table(s.scores())
	if s.why {
		s.scoreReasons(p)
	}
	p.Heading("Assumed")
	p.Text(strings.Join(s.Build.Assumptions(), "; ") + ".")
	p.Heading("Cautions")
	p.List(append(s.Build.Cautions(s.system.Show), constraints.GeneralCautions()...))
	s.next(p, results)
	return p
}

// next adds what to type next: for a build that fails which do not, and for any
// the reasons and what to buy.
func (s *sheetPage) next(p *layout.Page, results []constraints.Result) {
	var lines []string
	rejects := func(r constraints.Result) bool { return r.Rejects(s.strict) }
	if slices.ContainsFunc(results, rejects) {
		lines = append(lines, "gearsearch rank"+s.again)
	}
	if !s.why {
		lines = append(lines, "gearsearch sheet "+typed(s.file)+" --why"+s.again)
	}
	p.Heading("Next")
	p.Verbatim(append(lines, "gearsearch parts "+typed(s.file)+s.again)...)
}

// askedText adds what the brief asks, if it asks anything, and of the demo's
// parts that they are invented.
func askedText(p *layout.Page, problem *constraints.Problem, system quantity.System) {
	if text := asked(problem, system); text != "" {
		p.Text("Asked: " + text + ".")
	}
	if note := words.InventedNote(problem.Catalog); note != "" {
		p.Text(note)
	}
}

// verdictWords say in a line what the checks say.
func verdictWords(results []constraints.Result, strict bool) string {
	var failed, open, demoted []string
	for _, r := range results {
		switch {
		case r.Verdict == constraints.Pass:
		case r.Demoted:
			demoted = append(demoted, r.Name)
		case r.Verdict == constraints.Fail:
			failed = append(failed, r.Name)
		default:
			open = append(open, r.Name)
		}
	}
	passed := len(results) - len(failed) - len(open) - len(demoted)
	parts := []string{fmt.Sprintf("%d of %d checks passed", passed, len(results))}
	if len(failed) > 0 {
		parts = append(parts, "failed: "+strings.Join(failed, ", "))
	}
	if len(open) > 0 {
		text := "not decided for lack of data: "
		if strict {
			text = "not decided, which --strict takes for failed: "
		}
		parts = append(parts, text+strings.Join(open, ", "))
	}
	if len(demoted) > 0 {
		parts = append(parts, "only a caution: "+strings.Join(demoted, ", "))
	}
	return strings.Join(parts, "; ")
}

// partsTable lists the parts of a build.
func partsTable(b *constraints.Build, system quantity.System) *layout.Table {
	unit, factor := system.Show("kg")
	t := &layout.Table{Columns: []layout.Column{
		{Title: "slot"},
		{Title: "pieces", Right: true},
		{Title: "id", Stack: "part"},
		{Title: "name", Stack: "part", Wrap: true, Least: proseWidth},
		{Title: b.Problem.Catalog.Currency, Right: true},
		{Title: unit, Right: true, Extra: true},
	}}
	add := func(slot constraints.Slot, n int, part *catalog.Part, price, mass float64) {
		t.Add(slot.String(), fmt.Sprint(n), part.ID, part.Name, money(price), layout.Fixed(mass*factor, 2))
	}
	pieces := func(slot constraints.Slot, n int, part *catalog.Part) {
		add(slot, n, part, part.Cost(n), part.Mass*float64(n))
	}
	n := b.Motors()
	pieces(constraints.SlotMotor, n, &b.Motor.Part)
	pieces(constraints.SlotController, b.Controllers(), &b.Controller.Part)
	add(constraints.SlotBattery, 1, &b.Battery.Part, b.Battery.PackPrice(), b.Battery.PackMass())
	d := b.Drive
	if d.Gear != nil {
		pieces(constraints.SlotGearDrive, n, &d.Gear.Part)
	} else {
		pieces(constraints.SlotMotorPulley, n, &d.MotorPulley.Part)
		pieces(constraints.SlotWheelPulley, n, &d.WheelPulley.Part)
	}
	if d.Belt != nil {
		pieces(constraints.SlotBelt, n, &d.Belt.Part)
	}
	if d.Mount != nil {
		pieces(constraints.SlotMount, n, &d.Mount.Part)
	}
	const wheels = 4 // of a board
	pieces(constraints.SlotWheel, wheels, &b.Wheel.Part)
	return t
}

// money writes an amount: with cents where there are any.
func money(x float64) string { return words.Money(x) }

// figures is the table of figures, by group.
func (s *sheetPage) figures() *layout.Table {
	t := &layout.Table{Columns: []layout.Column{{Title: "figure"}, {Title: "value", Right: true}, {Title: "unit"}, {Title: "which is", Wrap: true, Least: proseWidth}}}
	group := ""
	for _, f := range constraints.Figures() {
		if f.Group != group {
			group = f.Group
			t.Rows = append(t.Rows, []layout.Cell{{Text: group, Tone: layout.Strong}, {}, {}, {}})
		}
		text, unit := s.value(f)
		t.Add("  "+f.Label, text, unit, f.Meaning)
	}
	return t
}

// reasons lists the figures with their formulas, the numbers put in, and the
// sources.
func (s *sheetPage) reasons(p *layout.Page) {
	group := ""
	for _, f := range constraints.Figures() {
		if f.Group != group {
			group = f.Group
			p.Heading(group)
		}
		text, unit := s.value(f)
		line := strings.TrimSpace(f.Label+": "+text+" "+unit) + " – " + f.Meaning
		notes := []layout.Note{{Label: "formula", Text: f.Formula}}
		if dataout.Known(dataout.Figure(f, s.Build)) {
			notes = append(notes, layout.Note{Label: "numbers", Text: f.Put(s.Build)})
		}
		p.Entry(line, append(notes, layout.Note{Label: "source", Text: f.Source})...)
	}
}

// value is a figure as a sheet shows it, and its unit.
func (s *sheetPage) value(f constraints.Figure) (text, unit string) {
	text, unit, known := words.Figure(f, s.Build, s.system)
	if !known {
		return words.Absent(f, s.Build), ""
	}
	return text, unit
}

// checksTable lists outcomes with value, limit and margin.
func checksTable(results []constraints.Result, p *constraints.Problem, system quantity.System) *layout.Table {
	t := &layout.Table{Columns: []layout.Column{
		{Title: "check"},
		{Title: "verdict"},
		{Title: "value", Right: true},
		{Title: "limit", Right: true},
		{Title: "unit"},
		{Title: "margin", Right: true},
		{Title: "which is about"},
	}}
	for _, r := range results {
		value, limit, unit := words.Outcome(r, p, system)
		verdict, tone, margin := r.Verdict.String(), layout.Plain, ""
		if m := r.MarginPct(r.Outcome); !math.IsNaN(m) {
			margin = layout.Fixed(m, 0) + "%"
		}
		switch signOf(r) {
		case failSign:
			tone = layout.Bad
		case openSign:
			tone = layout.Warn
		case thinSign:
			tone, margin = layout.Warn, margin+thinSign
		}
		if r.Demoted && r.Verdict != constraints.Pass {
			verdict += ", demoted"
		}
		t.Rows = append(t.Rows, []layout.Cell{
			{Text: r.Name},
			{Text: verdict, Tone: tone},
			{Text: value},
			{Text: limit},
			{Text: unit},
			{Text: margin, Tone: tone},
			{Text: r.Check.Subject},
		})
	}
	return t
}

// scores lists the criteria.
func (s *sheetPage) scores() *layout.Table {
	t := &layout.Table{Columns: []layout.Column{
		{Title: "criterion"}, {Title: "score", Right: true}, {Title: "weight", Right: true}, {Title: "for", Wrap: true, Least: proseWidth},
	}}
	for _, c := range s.Scores {
		t.Add(c.Name, layout.Fixed(c.Score, 2), short(c.Weight), c.Meaning)
	}
	return t
}

// scoreReasons lists the criteria with their formulas, and the same with the
// build's numbers put in.
func (s *sheetPage) scoreReasons(p *layout.Page) {
	p.Text("Each criterion, before it is held between 0 and 1:")
	for _, c := range s.Scores {
		p.Entry(c.Name, layout.Note{Label: "formula", Text: c.Formula}, layout.Note{Label: "numbers", Text: c.Put(s.Build)})
	}
}

// writeCSV writes the figures of the build as rows.
func (s *sheetPage) writeCSV(w io.Writer) error {
	header := []string{"figure", "value", "unit", "meaning"}
	if s.why {
		header = append(header, "formula", "numbers", "source")
	}
	var rows [][]any
	for _, o := range dataout.Why(s.Build) {
		row := make([]any, len(header))
		for i, key := range header {
			row[i] = o.Get(key)
		}
		if s.varied != nil {
			row = append(row, nil, nil, nil)
			if x, ok := spreadOf(*s.varied, o.Get("figure").(string)); ok {
				copy(row[len(header):], []any{x.Low, x.Middle, x.High})
			}
		}
		rows = append(rows, row)
	}
	if s.varied != nil {
		header = append(header, "p5", "p50", "p95")
	}
	return dataout.WriteTable(w, header, rows)
}

// interrupted reports whether what is asked for beside the build is missing.
func (s *sheetPage) interrupted() bool { return s.varied != nil && s.varied.Draws == 0 }

// toleranceMember is what becomes of the build when parts and rider vary, as
// data: empty where that is not asked for, nil where it was interrupted.
func (s *sheetPage) toleranceMember() []dataout.Member {
	if s.varied == nil {
		return nil
	}
	if s.interrupted() {
		return []dataout.Member{{Key: "tolerance", Value: nil}}
	}
	return []dataout.Member{{Key: "tolerance", Value: robustnessObject(*s.varied)}}
}

// tolerance adds what becomes of the build when parts and rider vary.
func (s *sheetPage) tolerance(p *layout.Page) {
	if s.varied == nil {
		return
	}
	if s.interrupted() {
		p.Text("INCOMPLETE: interrupted before it was seen what becomes of the build when parts and rider vary.")
		return
	}
	p.Heading("When parts and rider vary it passes everything in " + percent(s.varied.Share) + " of the draws")
	p.Text(toleranceText(s.Build.Problem, s.varied.Draws, s.system))
	checks := &layout.Table{Columns: []layout.Column{{Title: "check"}, {Title: "passes", Right: true}, {Title: "which is about"}}}
	for _, c := range s.varied.Checks {
		tone := layout.Plain
		if c.Share < 1 {
			tone = layout.Warn
		}
		checks.Rows = append(checks.Rows, []layout.Cell{{Text: c.Name}, {Text: percent(c.Share), Tone: tone}, {Text: c.Check.Subject}})
	}
	p.Table(checks)
	figures := &layout.Table{Columns: []layout.Column{{Title: "figure"}, {Title: "5 %", Right: true}, {Title: "50 %", Right: true}, {Title: "95 %", Right: true}, {Title: "unit"}}}
	for _, f := range s.varied.Figures {
		if math.IsNaN(f.Middle) {
			continue
		}
		unit, factor := s.system.Show(f.Unit)
		decimals := quantity.Decimals(unit)
		if f.Unit == "price" {
			unit = s.Build.Problem.Catalog.Currency
		}
		cells := []string{f.Label}
		for _, x := range []float64{f.Low, f.Middle, f.High} {
			cells = append(cells, layout.Fixed(x*factor, decimals))
		}
		figures.Add(append(cells, unit)...)
	}
	p.Table(figures)
	p.Text("5 % of the draws lie below the first number, half below the second, 95 % below the third.")
}
