package sheet

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
	"gearsearch/search"
)

// Answer is all about one build as people read it.
type Answer struct {
	search.Scored
	System quantity.System
	Why    bool
	Whole  bool // a text has everything, not the first page alone
	Strict bool
	Varied *search.Robustness // nil: not asked for
	File   string             // of the build
	Again  string             // the flags that make the question, as they can be typed again behind the file
	Anew   string             // the same behind a command that takes none
}

func (s *Answer) text() *layout.Text {
	if !s.Whole {
		return s.first()
	}
	out := &layout.Text{}
	results := s.Build.Results()
	out.Heading(say.Verdict(results, s.Strict))
	say.AskedText(out, s.Build.Problem, s.System)
	out.Table(say.PartsTable(s.Build, s.System))
	say.MadeText(out, outfit.Makings(s.Build), s.System)
	if s.Why {
		s.reasons(out)
	} else {
		out.Table(s.figures())
	}
	out.Heading("Checks")
	out.Table(say.ChecksTable(results, s.Build.Problem, s.System))
	if slices.ContainsFunc(results, func(r constraints.Result) bool { return say.Sign(r) == say.ThinSign }) {
		out.Paragraph(fmt.Sprintf("!: passed by less than %d"+say.NBSP+"%%", say.ThinMargin))
	}
	if s.Why {
		var meanings []string
		for _, r := range results {
			meanings = append(meanings, r.Name+" passes when "+r.Meaning)
		}
		out.List(meanings)
	}
	s.route(out)
	say.SettingsText(out, s.Build, s.Why, s.System)
	s.tolerance(out)
	out.Heading("Score " + layout.Fixed(s.Score, 1) + " of 100")
	out.Table(s.scores())
	if s.Why {
		s.scoreReasons(out)
	}
	out.Heading("Assumed")
	out.Paragraph(strings.Join(say.Assumptions(s.Build.Assumptions()), "; ") + ".")
	out.Heading("Cautions")
	out.List(append(say.CautionsOf(s.Build, s.System), say.GeneralCautions(s.Build.GeneralCautions(), s.System)...))
	s.next(out, results)
	return out
}

// next adds what to type next: a ranking for a build that fails, and for any build
// the reasons and the shopping list.
func (s *Answer) next(out *layout.Text, results []constraints.Result) {
	var lines []string
	rejects := func(r constraints.Result) bool { return r.Rejects(s.Strict) }
	if slices.ContainsFunc(results, rejects) {
		lines = append(lines, "gearsearch rank"+s.Anew)
	}
	if !s.Why {
		lines = append(lines, "gearsearch sheet "+say.Typed(s.File)+" --why"+s.Again)
	}
	out.Heading("Next")
	out.Verbatim(append(lines, "gearsearch parts "+say.Typed(s.File)+s.Again)...)
}

// figures is the table of figures, by group.
func (s *Answer) figures() *layout.Table {
	t := &layout.Table{Columns: []layout.Column{{Title: "figure"}, {Title: "value", Right: true}, {Title: "unit"}, {Title: "meaning", Wrap: true, Least: say.ProseWidth}}}
	group := ""
	for _, f := range s.Build.Problem.Figures() {
		text, unit := s.value(f)
		if f = f.Of(s.Build); f.Group != group {
			group = f.Group
			t.Rows = append(t.Rows, []layout.Cell{{Text: group, Tone: layout.Strong}, {}, {}, {}})
		}
		t.Add("  "+f.Label, text, unit, f.Meaning)
	}
	return t
}

// reasons lists the figures with their formulas, the numbers put in, and the
// sources.
func (s *Answer) reasons(out *layout.Text) {
	group := ""
	for _, f := range s.Build.Problem.Figures() {
		text, unit := s.value(f)
		if f = f.Of(s.Build); f.Group != group {
			group = f.Group
			out.Heading(group)
		}
		line := strings.TrimSpace(f.Label+": "+text+" "+unit) + " – " + f.Meaning
		notes := []layout.Note{{Label: "formula", Text: f.Formula}}
		if dataout.Known(dataout.Figure(f, s.Build)) {
			notes = append(notes, layout.Note{Label: "numbers", Text: say.Put(f, s.Build)})
		}
		out.Entry(line, append(notes, layout.Note{Label: "source", Text: f.Source})...)
	}
}

// value is a figure as a sheet shows it, and its unit.
func (s *Answer) value(f constraints.Figure) (text, unit string) {
	text, unit, known := say.Figure(f, s.Build, s.System)
	if !known {
		return say.Absent(f, s.Build), ""
	}
	return text, unit
}

// scores lists the criteria.
func (s *Answer) scores() *layout.Table {
	t := &layout.Table{Columns: []layout.Column{
		{Title: "criterion"}, {Title: "score", Right: true}, {Title: "weight", Right: true}, {Title: "for", Wrap: true, Least: say.ProseWidth},
	}}
	for _, c := range s.Scores {
		t.Add(c.Name, layout.Fixed(c.Score, 2), say.Short(c.Weight), c.Meaning)
	}
	return t
}

// scoreReasons lists the criteria with their formulas, and the same with the
// build's numbers put in.
func (s *Answer) scoreReasons(out *layout.Text) {
	out.Paragraph("Each criterion, before it is held between 0 and 1:")
	for _, c := range s.Scores {
		out.Entry(c.Name, layout.Note{Label: "formula", Text: c.Formula}, layout.Note{Label: "numbers", Text: say.Numbers(c.Put(c.Ruling(s.Build)))})
	}
}

// writeCSV writes the figures of the build as rows.
func (s *Answer) writeCSV(w io.Writer) error {
	header := []string{"figure", "value", "unit", "meaning"}
	if s.Why {
		header = append(header, "formula", "numbers", "source")
	}
	var rows [][]any
	for _, o := range dataout.Why(s.Build) {
		row := make([]any, len(header))
		for i, key := range header {
			row[i] = o.Get(key)
		}
		if s.Varied != nil {
			row = append(row, nil, nil, nil)
			if x, ok := dataout.Spread(*s.Varied, o.Get("figure").(string)); ok {
				copy(row[len(header):], []any{x.Low, x.Middle, x.High})
			}
		}
		rows = append(rows, row)
	}
	if s.Varied != nil {
		header = append(header, "p5", "p50", "p95")
	}
	return dataout.WriteTable(w, header, rows)
}

// interrupted reports whether what is asked for beside the build is missing.
func (s *Answer) interrupted() bool { return s.Varied != nil && s.Varied.Draws == 0 }

// route adds how the build comes over the way of the brief.
func (s *Answer) route(out *layout.Text) {
	story, ok := s.Build.Story()
	if !ok {
		return
	}
	out.Heading("Route " + say.RouteName(s.Build.Problem.Brief.Way))
	out.Paragraph(say.RouteEnd(&story, s.System))
	out.List(say.RouteEvents(&story, s.System))
	out.Table(say.RouteTable(&story, s.System))
}

// toleranceMember is the build under varied parts and rider, as data: empty where
// that was not asked for, nil where it was interrupted.
func (s *Answer) toleranceMember() []dataout.Member {
	if s.Varied == nil {
		return nil
	}
	if s.interrupted() {
		return []dataout.Member{{Key: "tolerance", Value: nil}}
	}
	return []dataout.Member{{Key: "tolerance", Value: dataout.Robustness(*s.Varied)}}
}

// incompleteTolerance says what an interrupt left out.
const incompleteTolerance = "INCOMPLETE: interrupted before it was seen what becomes of the build when parts and rider vary."

// tolerance adds what becomes of the build when parts and rider vary.
func (s *Answer) tolerance(out *layout.Text) {
	if s.Varied == nil {
		return
	}
	if s.interrupted() {
		out.Paragraph(incompleteTolerance)
		return
	}
	out.Heading("When parts and rider vary it passes everything in " + say.Percent(s.Varied.Share) + " of the draws")
	out.Paragraph(say.ToleranceText(s.Build.Problem, s.Varied.Draws, s.System))
	checks := &layout.Table{Columns: []layout.Column{{Title: "check"}, {Title: "passes", Right: true}, {Title: "subject"}}}
	for _, c := range s.Varied.Checks {
		tone := layout.Plain
		if c.Share < 1 {
			tone = layout.Warn
		}
		checks.Rows = append(checks.Rows, []layout.Cell{{Text: c.Name}, {Text: say.Percent(c.Share), Tone: tone}, {Text: c.Check.Subject}})
	}
	out.Table(checks)
	figures := &layout.Table{Columns: []layout.Column{{Title: "figure"}, {Title: "5 %", Right: true}, {Title: "50 %", Right: true}, {Title: "95 %", Right: true}, {Title: "unit"}}}
	for _, f := range s.Varied.Figures {
		if math.IsNaN(f.Middle) {
			continue
		}
		_, unit := s.System.Value(0, f.Unit)
		decimals := quantity.Decimals(unit)
		if f.Unit == "price" {
			unit = s.Build.Problem.Catalog.Currency
		}
		cells := []string{f.Label}
		for _, x := range []float64{f.Low, f.Middle, f.High} {
			shown, _ := s.System.Value(x, f.Unit)
			cells = append(cells, layout.Fixed(shown, decimals))
		}
		figures.Add(append(cells, unit)...)
	}
	out.Table(figures)
	out.Paragraph("5 % of the draws lie below the first number, half below the second, 95 % below the third.")
}
