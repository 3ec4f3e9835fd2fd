// Package check answers catalog check: the doubts about a catalog in which
// nothing is wrong, its parts of no use, and its missing keys.
package check

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/audit"
	"gearsearch/search"
)

// Answer is the doubts, idle parts and gaps of a catalog without mistakes.
type Answer struct {
	*catalog.Catalog
	Paths   []string             // of its files and folders, none for the demo
	Problem *constraints.Problem // under whose brief the gaps are ranked; nil: under none

	doubts, idle []audit.Remark
	gaps         []audit.Gap
	measures     *search.Measures // nil: not looked for, or interrupted
}

// Give finds the answer, writes it, and says what it means for the exit code.
func (s *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer) error {
	s.doubts, s.idle, s.gaps = audit.Doubts(s.Catalog), audit.Idle(s.Catalog), audit.Gaps(s.Catalog)
	complete := true
	if s.Problem != nil {
		var err error
		if complete, err = s.measure(ctx, d); err != nil {
			return err
		}
	}
	if err := d.Give(a, ask.Forms{Text: func() *layout.Text { return s.text(a.System) }, Document: s.document, Table: s.table, Complete: complete}); err != nil {
		return err
	}
	if !complete {
		d.Note("interrupted: what the missing keys decide is not counted")
		return outcome.ErrInterrupted
	}
	return nil
}

// measure counts the builds that each missing key decides under the brief, and ranks
// the gaps by that; false where it was interrupted.
func (s *Answer) measure(ctx context.Context, d *ask.Desk) (complete bool, err error) {
	bar := d.Bar()
	defer bar.Stop()
	o := search.Options{Top: ask.DefaultTop, Progress: bar.Progress()}
	r, err := search.Rank(ctx, s.Problem, o)
	if err != nil || !r.Complete {
		return false, err
	}
	m, complete := search.ToMeasure(ctx, r, 0, o)
	if !complete {
		return false, nil
	}
	s.measures = m
	slices.SortStableFunc(s.gaps, func(a, b audit.Gap) int { return cmp.Compare(s.decides(b), s.decides(a)) })
	return true, nil
}

// decides is how many builds a gap's keys decide, each in the parts that lack
// it: no build has two of them.
func (s *Answer) decides(g audit.Gap) uint64 {
	n := uint64(0)
	if s.measures != nil {
		for _, m := range s.measures.List {
			if m.Kind == g.Kind && m.Key == g.Key {
				n += m.Decides
			}
		}
	}
	return n
}

// first are the parts of a gap, those first whose keys decide most.
func (s *Answer) first(g audit.Gap) []string {
	var out []string
	decisive := map[string]bool{}
	if s.measures != nil {
		for _, m := range s.measures.List {
			if m.Kind == g.Kind && m.Key == g.Key {
				out, decisive[m.ID] = append(out, m.ID), true
			}
		}
	}
	for _, id := range g.IDs {
		if !decisive[id] {
			out = append(out, id)
		}
	}
	return out
}

// text is the answer as people read it.
func (s *Answer) text(system quantity.System) *layout.Text {
	out := &layout.Text{}
	total := 0
	counts := &layout.Table{Columns: []layout.Column{{Title: "kind"}, {Title: "parts", Right: true}}}
	for _, k := range s.Count() {
		total += k.N
		if k.N > 0 {
			counts.Add(k.Kind, layout.Count(uint64(k.N)))
		}
	}
	text := "Nothing is wrong: " + say.Counted(uint64(total), "part", "parts")
	if s.Title != "" {
		text += " of " + s.Title
	}
	out.Heading(text)
	out.Table(counts)
	if s.Problem != nil {
		say.AskedText(out, s.Problem, system)
	}
	s.changed(out)
	remarks(out, "Unlikely", s.doubts)
	remarks(out, "Parts that can be in no build", s.idle)
	s.missing(out)
	if len(s.Paths) > 0 {
		out.Heading("Next")
		out.Verbatim(ask.RankWords(s.Paths, nil))
	}
	return out
}

// changed adds the lists of standards that are used, and what changes of parts and rates
// do, those first that overrule others.
func (s *Answer) changed(out *layout.Text) {
	if len(s.Uses) > 0 {
		out.Heading("Lists of standards")
		var items []string
		for _, u := range s.Uses {
			items = append(items, say.Place(u.Pos)+": "+say.Used(u))
		}
		out.List(items)
	}
	if n := len(s.Changes); n > 0 {
		out.Heading("Changes of parts: " + layout.Count(uint64(n)))
		list := slices.Clone(s.Changes)
		slices.SortStableFunc(list, func(a, b catalog.Change) int { return cmp.Compare(len(b.Overrules), len(a.Overrules)) })
		var items []string
		for i := range list[:min(n, mostRemarks)] {
			items = append(items, say.Place(list[i].Pos)+": "+say.PartChange(&list[i]))
		}
		out.List(items)
		more(out, n)
	}
	if len(s.Rates) > 0 {
		out.Heading("Prices in other currencies")
		var items []string
		for _, r := range s.Rates {
			items = append(items, say.Rate(r, s.Currency)+" ("+say.Place(r.Pos)+")")
		}
		out.List(items)
	}
}

// mostRemarks is how many remarks of a kind are shown.
const mostRemarks = 6

// more says how many remarks are not shown, of so many.
func more(out *layout.Text, n int) {
	if n > mostRemarks {
		out.Paragraph(fmt.Sprintf("And %d more: --format csv lists them all.", n-mostRemarks))
	}
}

// missing adds the keys that are not given.
func (s *Answer) missing(out *layout.Text) {
	if len(s.gaps) == 0 {
		out.Paragraph("Every part has the keys that the checks need.")
		return
	}
	title := "Missing keys, and the checks that stay undecided without them"
	if s.measures != nil {
		title = "Missing keys, those first that decide most builds of the brief"
	}
	out.Heading(title)
	if text := say.Measure(s.measures); text != "" {
		out.Paragraph(text)
	} else if s.measures != nil {
		out.Paragraph("None of them alone decides a feasible build.")
	}
	t := &layout.Table{Columns: []layout.Column{
		{Title: "kind"}, {Title: "key"}, {Title: "missing", Right: true}, {Title: "in", Wrap: true, Least: say.ProseWidth}, {Title: "undecided", Wrap: true, Least: say.ProseWidth},
	}}
	const count = 2 // the column of how many parts lack a key, or of what it decides
	if s.measures != nil {
		t.Columns[count].Title = "decides"
	}
	for _, g := range s.gaps {
		cells := []string{g.Kind, g.Key, layout.Count(uint64(len(g.IDs))), few(s.first(g)), openWords(g)}
		if s.measures != nil {
			cells[count] = ""
			if ranged(g) {
				cells[count] = layout.Count(s.decides(g))
			}
		}
		t.Add(cells...)
	}
	out.Table(t)
}

// remarks adds the first remarks of a kind, each with its place; those that do not
// follow from others come first.
func remarks(out *layout.Text, title string, list []audit.Remark) {
	if len(list) == 0 {
		return
	}
	out.Heading(title + ": " + layout.Count(uint64(len(list))))
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b audit.Remark) int {
		switch {
		case a.Follows == b.Follows:
			return 0
		case b.Follows:
			return -1
		}
		return 1
	})
	var items []string
	for _, r := range list[:min(len(list), mostRemarks)] {
		said := say.Remark(r)
		text := said.Message
		if said.File != "" {
			text = field.Position(said.File, said.Line, said.Column) + ": " + text
		}
		if said.Hint != "" {
			text += "; " + said.Hint
		}
		items = append(items, text)
	}
	out.List(items)
	more(out, len(list))
}

// openWords name the checks that a gap leaves undecided, or the value assumed
// instead.
func openWords(g audit.Gap) string {
	text, instead := strings.Join(g.Checks, ", "), say.Instead(g.Instead)
	switch {
	case instead == "":
		return text
	case text == "":
		return "instead: " + instead
	}
	return text + "; instead: " + instead
}

// ranged reports whether a range stands in for a gap's key.
func ranged(g audit.Gap) bool {
	return slices.ContainsFunc(constraints.RangedKeys(), func(k constraints.BlankKey) bool { return k.Kind == g.Kind && k.Key == g.Key })
}

// decided is what a gap decides as data: nil where it is not looked for, or no
// range stands in for the key.
func (s *Answer) decided(g audit.Gap) any {
	if s.measures == nil || !ranged(g) {
		return nil
	}
	return s.decides(g)
}

// few lists the first ids.
func few(ids []string) string {
	const most = 3
	if len(ids) <= most {
		return strings.Join(ids, " ")
	}
	return strings.Join(ids[:most], " ") + " …"
}

// document is the answer as data.
func (s *Answer) document() dataout.Document {
	gap := func(g audit.Gap) dataout.Object {
		return dataout.Object{
			{Key: "kind", Value: g.Kind},
			{Key: "key", Value: g.Key},
			{Key: "ids", Value: s.first(g)},
			{Key: "checks", Value: dataout.OrNone(g.Checks)},
			{Key: "leaves_open", Value: openWords(g)},
			{Key: "decides", Value: s.decided(g)},
		}
	}
	var brief any
	if s.Problem != nil {
		brief = dataout.Brief(s.Problem)
	}
	measure := dataout.List{Key: "measure"}
	if s.measures != nil {
		measure.Items = dataout.Objects(s.measures.List, func(m search.Measure) dataout.Object {
			return dataout.Object{{Key: "kind", Value: m.Kind}, {Key: "key", Value: m.Key}, {Key: "id", Value: m.ID}, {Key: "decides", Value: m.Decides}}
		})
	}
	return dataout.Document{
		Head: dataout.Object{{Key: "schema", Value: 1}, {Key: "title", Value: s.Title}, {Key: "brief", Value: brief}, {Key: "catalog", Value: dataout.Catalog(s.Catalog)}},
		Lists: []dataout.List{
			measure,
			{Key: "missing", Items: dataout.Objects(s.gaps, gap)},
			{Key: "unlikely", Items: dataout.Objects(s.doubts, remarkObject)},
			{Key: "idle", Items: dataout.Objects(s.idle, remarkObject)},
			{Key: "uses", Items: dataout.Objects(s.Uses, dataout.UsedList)},
			{Key: "changes", Items: dataout.Objects(s.Changes, dataout.PartChange)},
			{Key: "rates", Items: dataout.Objects(s.Rates, dataout.Rate)},
		},
	}
}

func remarkObject(r audit.Remark) dataout.Object {
	said := say.Remark(r)
	return dataout.Object{
		{Key: "kind", Value: r.Kind},
		{Key: "key", Value: dataout.TextOrNil(r.Key)},
		{Key: "ids", Value: r.IDs},
		{Key: "file", Value: dataout.TextOrNil(said.File)},
		{Key: "line", Value: said.Line},
		{Key: "column", Value: said.Column},
		{Key: "message", Value: said.Message},
		{Key: "hint", Value: dataout.TextOrNil(said.Hint)},
		{Key: "basis", Value: dataout.TextOrNil(r.Basis)},
	}
}

// table is the answer as rows: missing keys, unlikely values, idle parts, lists that
// are used, changes.
func (s *Answer) table() (header []string, rows [][]any) {
	for _, g := range s.gaps {
		rows = append(rows, []any{"missing", g.Kind, g.Key, len(g.IDs), s.first(g), openWords(g), nil, nil, s.decided(g)})
	}
	add := func(finding string, list []audit.Remark) {
		for _, r := range list {
			said := say.Remark(r)
			row := []any{finding, r.Kind, dataout.TextOrNil(r.Key), len(r.IDs), r.IDs, said.Message, dataout.TextOrNil(said.File), nil, nil}
			if said.Line > 0 {
				row[7] = said.Line
			}
			rows = append(rows, row)
		}
	}
	add("unlikely", s.doubts)
	add("idle", s.idle)
	for _, u := range s.Uses {
		rows = append(rows, []any{"used", nil, "use", u.Parts, []string{u.List}, say.Used(u), u.Pos.File, u.Pos.Line, nil})
	}
	for i := range s.Changes {
		c := &s.Changes[i]
		rows = append(rows, []any{"changed", c.Kind, nil, c.Parts, []string{c.ID}, say.PartChange(c), c.Pos.File, c.Pos.Line, nil})
	}
	return []string{"finding", "kind", "key", "parts", "ids", "says", "file", "line", "decides"}, rows
}
