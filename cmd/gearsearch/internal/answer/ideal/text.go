package ideal

import (
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// forms are the forms of the answer.
func (i *Answer) forms(a *ask.Answer) ask.Forms {
	return ask.Forms{
		Text:     func() *layout.Text { return i.text(a.System) },
		Document: i.document,
		Table:    i.table,
		Complete: i.complete,
	}
}

const perMetre = 1000 // mm

// document is the answer as data.
func (i *Answer) document() dataout.Document {
	ends := func(s search.Span, per float64) []float64 { return []float64{s.Low * per, s.High * per} }
	return dataout.Document{
		Head: append(dataout.Head(i.Problem, i.complete), dataout.Member{Key: "bounds", Value: dataout.Object{
			{Key: "kv", Value: ends(i.Bounds.KV, 1)}, {Key: "reduction", Value: ends(i.Bounds.Reduction, 1)}, {Key: "wheel_mm", Value: ends(i.Bounds.Wheel, perMetre)},
		}}),
		Lists: []dataout.List{{Key: "frames", Items: func(yield func(dataout.Object) bool) {
			for n := range i.listed() {
				if !yield(i.object(&i.frames[n])) {
					return
				}
			}
		}}},
	}
}

// object is one frame as data.
func (i *Answer) object(f *search.Frame) dataout.Object {
	drives := []string{}
	for _, d := range f.NearDrives {
		drives = append(drives, d.Name())
	}
	moves := []dataout.Object{}
	for _, m := range f.Moves {
		key, per := m.Name, 1.0
		if m.Name == "wheel" {
			key, per = "wheel_mm", perMetre
		}
		moves = append(moves, dataout.Object{
			{Key: "quantity", Value: key}, {Key: "from", Value: m.From * per}, {Key: "to", Value: m.To * per}, {Key: "gain", Value: m.Gain}, {Key: "feasible", Value: m.Feasible},
		})
	}
	return dataout.Object{
		{Key: "motors", Value: f.Motors},
		{Key: "feasible", Value: f.Works},
		{Key: "kv", Value: f.KV},
		{Key: "reduction", Value: f.Ratio},
		{Key: "wheel_mm", Value: f.Wheel * perMetre},
		{Key: "score", Value: f.Ideal.Score},
		{Key: "gap", Value: f.Ideal.Score - f.Catalog.Score},
		{Key: "bases", Value: f.Bases},
		{Key: "bases_left", Value: f.Left},
		{Key: "catalog_feasible", Value: f.Fits},
		{Key: "catalog", Value: dataout.Build(f.Catalog)},
		{Key: "moves", Value: moves},
		{Key: "nearest", Value: dataout.Object{{Key: "motor", Value: f.NearMotor.ID}, {Key: "drives", Value: drives}, {Key: "wheel", Value: f.NearWheel.ID}}},
		{Key: "build", Value: dataout.Build(f.Ideal)},
	}
}

// table is the answer as rows.
func (i *Answer) table() (header []string, rows [][]any) {
	header = []string{"motors", "feasible", "kv", "reduction", "wheel_mm", "score", "catalog_feasible", "catalog_score", "gap"}
	header = append(header, dataout.PartKeys()...)
	for n := range i.listed() {
		f := &i.frames[n]
		row := []any{
			f.Motors, f.Works, f.KV, f.Ratio, f.Wheel * perMetre, f.Ideal.Score, f.Fits, f.Catalog.Score, f.Ideal.Score - f.Catalog.Score,
		}
		ids := dataout.Parts(f.Catalog.Build).(dataout.Object)
		for _, key := range dataout.PartKeys() {
			row = append(row, ids.Get(key))
		}
		rows = append(rows, row)
	}
	return header, rows
}

// text is the answer as people read it.
func (i *Answer) text(system quantity.System) *layout.Text {
	out := &layout.Text{}
	say.IncompleteText(out, i.complete, "after "+say.Counted(uint64(len(i.frames)), "motor frame", "motor frames"))
	say.AskedText(out, i.Problem, system)
	if len(i.frames) > 0 {
		out.Heading(i.heading())
		i.frameTable(out, system)
	}
	for n := range i.listed() {
		i.details(out, n, system)
	}
	out.Paragraph(i.boundsText(system) + " Each motor is rewound with as much copper: its resistance goes with 1/kv², its no-load current and current limits with kv. Battery, controller, efficiency, prices and masses are those of the frame's best build" + i.elsewhereText() + ".")
	out.Paragraph(say.Closing)
	i.next(out)
	return out
}

// listed is how many frames are shown.
func (i *Answer) listed() int {
	if i.Top == 0 {
		return len(i.frames)
	}
	return min(i.Top, len(i.frames))
}

// heading says how many frames can do it.
func (i *Answer) heading() string {
	works := uint64(0)
	for _, f := range i.frames {
		if f.Works {
			works++
		}
	}
	if works == 0 {
		return i.noneText()
	}
	text := fmt.Sprintf("%d of %s can do it at the right kv, ratio and wheel", works, say.Counted(uint64(len(i.frames)), "motor frame", "motor frames"))
	if n := i.listed(); n < len(i.frames) {
		return text + ", " + say.BestFirst(n)
	}
	return text + ", best first"
}

// elsewhereText says whose parts are kept where the best build's are not.
func (i *Answer) elsewhereText() string {
	for _, f := range i.frames {
		if f.Bases > 1 {
			return ", or, where those cannot be made to pass, of a build near it"
		}
	}
	return ""
}

// noneText says that no frame can do it, as far as was looked.
func (i *Answer) noneText() string {
	for _, f := range i.frames {
		if f.Left > 0 {
			return "No motor frame passes every check at any kv, reduction and wheel, with the other parts that were tried"
		}
	}
	return "No motor frame passes every check, whatever its kv, reduction and wheel"
}

// boundsText gives the bounds of the search for ideals.
func (i *Answer) boundsText(system quantity.System) string {
	unit, factor := system.Show("mm")
	ends := func(s search.Span, per float64) string { return say.Short(s.Low*per) + " to " + say.Short(s.High*per) }
	return fmt.Sprintf("Tried: kv %s rpm/V, reduction %s, wheel %s %s.",
		ends(i.Bounds.KV, 1), ends(i.Bounds.Reduction, 1), ends(i.Bounds.Wheel, perMetre*factor), unit)
}

// frameTable lists the frames with their ideals and how near the catalog
// comes.
func (i *Answer) frameTable(out *layout.Text, system quantity.System) {
	unit, factor := system.Show("mm")
	t := &layout.Table{Columns: []layout.Column{
		{},
		{Title: "frame", Wrap: true, Least: say.ProseWidth},
		{Title: "kv", Right: true},
		{Title: "ratio", Right: true},
		{Title: "wheel" + say.NBSP + unit, Right: true},
		{Title: "score", Right: true},
		{Title: "parts", Right: true},
		{Title: "gap", Right: true},
	}}
	missing := false
	for n := range i.listed() {
		f := &i.frames[n]
		score, parts := layout.Fixed(f.Ideal.Score, 1), layout.Fixed(f.Catalog.Score, 1)
		if !f.Works {
			score += say.FailSign
		}
		if !f.Fits {
			parts += say.FailSign
		}
		missing = missing || !f.Works || !f.Fits
		t.Add(fmt.Sprint(n+1), strings.Join(f.Motors, ", "), layout.Fixed(f.KV, 0), layout.Fixed(f.Ratio, 2), layout.Fixed(f.Wheel*perMetre*factor, quantity.Decimals(unit)),
			score, parts, say.Signed(f.Ideal.Score-f.Catalog.Score, 1))
	}
	out.Table(t)
	lines := []string{"score: of the ideal; parts: of the frame's best build from the catalog; gap: between the two"}
	if missing {
		lines = append(lines, "!!: it fails a check")
	}
	out.Paragraph(strings.Join(lines, "; ") + ".")
}

// details say how near the catalog comes to a frame's ideal.
func (i *Answer) details(out *layout.Text, n int, system quantity.System) {
	f := &i.frames[n]
	unit, factor := system.Show("mm")
	wheel := func(diameter float64) string {
		return layout.Fixed(diameter*perMetre*factor, quantity.Decimals(unit)) + say.NBSP + unit
	}
	var drives []string
	for _, d := range f.NearDrives {
		drives = append(drives, say.Drive(d)+" = "+layout.Fixed(d.Reduction, 2))
	}
	if len(drives) == 0 {
		drives = []string{"none fits this motor with any wheel"}
	}
	notes := []layout.Note{{Label: "best build", Text: say.Build(f.Catalog.Build)}}
	if !f.Fits {
		notes = append(notes, layout.Note{Label: "it fails", Text: say.Misses(rejecting(f.Catalog.Build, i.Question.Strict), i.Problem, system)})
	}
	if !f.Works {
		notes = append(notes, layout.Note{Label: "ideal fails", Text: say.Misses(rejecting(f.Ideal.Build, i.Question.Strict), i.Problem, system)})
	}
	if text := basesText(f); text != "" {
		notes = append(notes, layout.Note{Label: "tried", Text: text})
	}
	notes = append(notes,
		layout.Note{Label: "nearest", Text: fmt.Sprintf("motor %s, wheel %s (%s)", f.NearMotor.ID, f.NearWheel.ID, wheel(f.NearWheel.Diameter))},
		layout.Note{Label: "drives", Text: strings.Join(drives, ", ")},
		layout.Note{Label: "one change", Text: i.oneChange(f, wheel)},
	)
	out.Entry(fmt.Sprintf("%d. kv%s%s, reduction%s%s, wheel%s%s", n+1, say.NBSP, layout.Fixed(f.KV, 0), say.NBSP, layout.Fixed(f.Ratio, 2), say.NBSP, wheel(f.Wheel)), notes...)
}

// basesText says how many sets of other parts a frame was tried with, "" where one
// was enough.
func basesText(f *search.Frame) string {
	if f.Bases == 1 {
		return ""
	}
	text := say.Counted(uint64(f.Bases), "set", "sets") + " of battery, controller, winding, number of motors, wheel and gear drive or belt"
	if f.Left > 0 {
		text += ", those nearest the best build; " + layout.Count(uint64(f.Left)) + " more were not tried"
	}
	if f.Works {
		return text + "; the ideal with these parts passes"
	}
	return text + "; none has an ideal that passes"
}

// rejecting are the results that reject a build.
func rejecting(b *constraints.Build, strict bool) []constraints.Result {
	var out []constraints.Result
	for _, r := range b.Results() {
		if r.Rejects(strict) {
			out = append(out, r)
		}
	}
	return out
}

// oneChange says which single purchase for the catalog build would close most
// of the gap.
func (i *Answer) oneChange(f *search.Frame, wheel func(diameter float64) string) string {
	gap := f.Ideal.Score - f.Catalog.Score
	m, ok := bestMove(f)
	switch {
	case f.Fits && gap <= leastGain:
		return "none needed: the best build is as good, to the digits shown"
	case !ok && f.Fits:
		return "none gains anything: two or more must change together"
	case !ok:
		return "none makes the best build pass"
	}
	what := ""
	switch m.Name {
	case "kv":
		to, from := layout.Pair(m.To, m.From, 0)
		what = fmt.Sprintf("kv %s instead of %s", to, from)
	case "reduction":
		to, from := layout.Pair(m.To, m.From, 2)
		what = fmt.Sprintf("a reduction of %s instead of %s", to, from)
	default:
		what = fmt.Sprintf("a wheel of %s instead of %s", wheel(m.To), wheel(m.From))
	}
	if !f.Fits {
		return what + " makes the best build pass"
	}
	return fmt.Sprintf("%s gains %s of the %s points", what, layout.Fixed(m.Gain, 1), layout.Fixed(gap, 1))
}

// next adds what to type next: a ranking with the best frame for which catalog parts
// do it, or else relax.
func (i *Answer) next(out *layout.Text) {
	if len(i.frames) == 0 {
		return
	}
	same := i.Question.Again()
	out.Heading("Next")
	for _, f := range i.frames {
		if f.Fits {
			out.Verbatim("gearsearch rank" + same + ask.KeepOnly(i.Problem.Brief, constraints.SlotMotor, f.Motors...))
			return
		}
	}
	out.Verbatim("gearsearch relax" + same)
}
