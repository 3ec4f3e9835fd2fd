package fit

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/ridelog"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/cmd/gearsearch/internal/say/fitted"
	"gearsearch/constraints"
	"gearsearch/search/fit"
)

// text is the answer as people read it.
func (f *Answer) text(system quantity.System) *layout.Text {
	out := &layout.Text{}
	r := f.result
	out.Heading(fitted.Heading(r, system))
	out.Table(f.values(system))
	for _, text := range fitted.Untold(r) {
		out.Paragraph(text)
	}
	out.Paragraph(strings.Join(fitted.Binding(r, &f.Records, system), " "))
	out.Table(f.records(system))
	var notes []layout.Note
	for _, l := range f.Logs {
		texts := []string{fitted.Kind(l)}
		for i := range l.Notes {
			texts = append(texts, fitted.LogNote(&l.Notes[i]))
		}
		notes = append(notes, layout.Note{Label: say.Shown(l.Name), Text: strings.Join(texts, "; ")})
	}
	out.Notes(notes...)
	if keys := f.keys(); len(keys) > 0 && f.Copy == nil {
		out.Heading("For the brief")
		out.Verbatim(pasted(keys)...)
	}
	out.Heading("Cautions")
	out.List(fitted.Cautions())
	if f.Copy != nil && len(f.keys()) > 0 {
		out.Heading("Next")
		out.Verbatim("gearsearch rank"+f.again(), "gearsearch sheet "+say.Typed(f.File)+" --tolerance"+f.again())
	}
	return out
}

// again is the flags of the question with the copy as its brief, as they can be typed
// again.
func (f *Answer) again() string {
	words := f.Question.Words()
	if i := slices.Index(words, "--brief"); i >= 0 {
		words = slices.Delete(slices.Clone(words), i, i+2)
	}
	return say.Repeated(append([]string{"--brief", say.Typed(f.Copy.Name)}, words...))
}

// values is the table of the two.
func (f *Answer) values(system quantity.System) *layout.Table {
	t := &layout.Table{Columns: []layout.Column{
		{}, {Title: "value", Right: true}, {Title: "95" + say.NBSP + "% from", Right: true}, {Title: "to", Right: true}, {Title: "unit"}, {Title: "brief", Right: true}, {Title: "is"},
	}}
	for _, u := range fitted.Both() {
		e := f.result.Estimate(u)
		value, unit := fitted.Value(u, e.Value, system)
		was, _ := fitted.Value(u, f.was(u), system)
		low, high := "", ""
		if e.Verdict != fit.Held {
			low, _ = fitted.Value(u, e.Low, system)
			high, _ = fitted.Value(u, e.High, system)
		}
		t.Add(fitted.Name(u), value, low, high, unit, was, fitted.Verdict(e))
	}
	return t
}

// was is an unknown as the brief has it.
func (f *Answer) was(u fit.Unknown) float64 {
	if u == fit.Rolling {
		return f.Build.Wheel.Crr
	}
	return f.Build.Problem.DragArea
}

// records is the table of runs and rides, each beside its fit.
func (f *Answer) records(system quantity.System) *layout.Table {
	perKmh, speed := system.Value(3.6, "km/h")
	perWh, energy := system.Value(1/3.6, "Wh/km")
	t := &layout.Table{Columns: []layout.Column{
		{Title: "record", Wrap: true, Least: say.ProseWidth},
		{Title: "way", Extra: true},
		{Title: speed, Right: true},
		{Title: "speeds", Right: true, Extra: true},
		{Title: energy, Right: true},
		{Title: "fitted", Right: true},
		{Title: "off", Right: true},
	}}
	for i := range f.result.Runs {
		run := &f.result.Runs[i]
		last := len(run.Speeds) - 1
		t.Add(say.Shown(run.Name), fitted.Way(run.Direction), layout.Fixed(run.Speeds[0]*perKmh, 1)+"–"+layout.Fixed(run.Speeds[last]*perKmh, 1),
			strconv.Itoa(last+1), "", "", "±"+say.NBSP+layout.Fixed(run.Residual*perKmh, 2)+say.NBSP+speed)
	}
	for i := range f.result.Rides {
		ride := &f.result.Rides[i]
		t.Add(say.Shown(ride.Name), "", layout.Fixed(ride.Speed*perKmh, 1), "", layout.Fixed(ride.Energy*perWh, 1), layout.Fixed(ride.Computed*perWh, 1),
			signed(100*(ride.Computed/ride.Energy-1))+say.NBSP+"%")
	}
	return t
}

// signed is a number with one decimal and its sign.
func signed(x float64) string {
	if math.Abs(x) < 0.05 {
		return "0.0"
	}
	if x > 0 {
		return "+" + layout.Fixed(x, 1)
	}
	return strings.Replace(layout.Fixed(x, 1), "-", "−", 1)
}

// keys are the keys of a brief that hold what is told.
func (f *Answer) keys() []constraints.KeyText {
	var out []constraints.KeyText
	number := func(x float64) string { return strconv.FormatFloat(x, 'g', 4, 64) }
	for _, u := range []fit.Unknown{fit.Drag, fit.Rolling} { // in the order of a brief's sections
		e := f.result.Estimate(u)
		if e.Verdict != fit.Told {
			continue
		}
		flag, within := "ground.rolling_fitted", "tolerance.rolling_pct"
		if u == fit.Drag {
			flag, within = "rider.drag_fitted", "tolerance.drag_pct"
		}
		out = append(out, constraints.KeyText{Path: u.Key(), Text: number(e.Value)}, constraints.KeyText{Path: flag, Text: "true"}, constraints.KeyText{Path: within, Text: number(fitted.Share(e))})
	}
	return out
}

// pasted are keys as lines of a brief, section by section.
func pasted(keys []constraints.KeyText) []string {
	var out []string
	for _, section := range []string{"rider", "ground", "tolerance"} {
		header := "[" + section + "]"
		for _, k := range keys {
			in, name, _ := strings.Cut(k.Path, ".")
			if in != section {
				continue
			}
			if header != "" {
				out = append(out, header)
				header = ""
			}
			out = append(out, name+" = "+k.Text)
		}
	}
	return out
}

// kindOf is the kind of a log for programs.
func kindOf(k ridelog.Kind) string {
	if k == ridelog.Coast {
		return "coast-down"
	}
	return "ride"
}
