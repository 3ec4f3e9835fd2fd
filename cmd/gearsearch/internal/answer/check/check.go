// Package check answers catalog check: the doubts about a catalog in which
// nothing is wrong, its parts of no use, and its missing keys.
package check

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints/audit"
)

// Give answers with what there is to say of a catalog that was read from
// paths.
func Give(d *ask.Desk, a *ask.Answer, read *catalog.Catalog, paths []string) error {
	s := &answer{read, paths, audit.Doubts(read), audit.Idle(read), audit.Gaps(read)}
	return d.Give(a, ask.Forms{Text: s.text, Document: s.document, Table: s.table, Complete: true})
}

// answer is the doubts, idle parts and gaps of a catalog without mistakes.
type answer struct {
	*catalog.Catalog
	paths        []string // of its files and folders, none for the demo
	doubts, idle []audit.Remark
	gaps         []audit.Gap
}

// text is the answer as people read it.
func (s *answer) text() *layout.Text {
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
	remarks(out, "Unlikely", s.doubts)
	remarks(out, "Parts that can be in no build", s.idle)
	s.missing(out)
	if len(s.paths) > 0 {
		out.Heading("Next")
		out.Verbatim(ask.RankWords(s.paths, nil))
	}
	return out
}

// missing adds the keys that are not given.
func (s *answer) missing(out *layout.Text) {
	if len(s.gaps) == 0 {
		out.Paragraph("Every part has the keys that the checks need.")
		return
	}
	out.Heading("Missing keys, and the checks that stay undecided without them")
	t := &layout.Table{Columns: []layout.Column{
		{Title: "kind"}, {Title: "key"}, {Title: "missing", Right: true}, {Title: "in", Wrap: true, Least: say.ProseWidth}, {Title: "undecided", Wrap: true, Least: say.ProseWidth},
	}}
	for _, g := range s.gaps {
		t.Add(g.Kind, g.Key, layout.Count(uint64(len(g.IDs))), few(g.IDs), openWords(g))
	}
	out.Table(t)
}

// remarks adds the first remarks of a kind, each with its place: those before
// all that do not follow from others.
func remarks(out *layout.Text, title string, list []audit.Remark) {
	const most = 6
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
	for _, r := range list[:min(len(list), most)] {
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
	if more := len(list) - most; more > 0 {
		out.Paragraph(fmt.Sprintf("And %d more: --format csv lists them all.", more))
	}
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

// few lists the first ids.
func few(ids []string) string {
	const most = 3
	if len(ids) <= most {
		return strings.Join(ids, " ")
	}
	return strings.Join(ids[:most], " ") + " …"
}

// document is the answer as data.
func (s *answer) document() dataout.Document {
	gap := func(g audit.Gap) dataout.Object {
		return dataout.Object{
			{Key: "kind", Value: g.Kind},
			{Key: "key", Value: g.Key},
			{Key: "ids", Value: g.IDs},
			{Key: "checks", Value: dataout.OrNone(g.Checks)},
			{Key: "leaves_open", Value: openWords(g)},
		}
	}
	return dataout.Document{
		Head: dataout.Object{{Key: "schema", Value: 1}, {Key: "title", Value: s.Title}, {Key: "catalog", Value: dataout.Catalog(s.Catalog)}},
		Lists: []dataout.List{
			{Key: "missing", Items: dataout.Objects(s.gaps, gap)},
			{Key: "unlikely", Items: dataout.Objects(s.doubts, remarkObject)},
			{Key: "idle", Items: dataout.Objects(s.idle, remarkObject)},
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

// table is the answer as rows: missing keys, unlikely values, idle parts.
func (s *answer) table() (header []string, rows [][]any) {
	for _, g := range s.gaps {
		rows = append(rows, []any{"missing", g.Kind, g.Key, len(g.IDs), strings.Join(g.IDs, " "), openWords(g), nil, nil})
	}
	add := func(finding string, list []audit.Remark) {
		for _, r := range list {
			said := say.Remark(r)
			row := []any{finding, r.Kind, dataout.TextOrNil(r.Key), len(r.IDs), strings.Join(r.IDs, " "), said.Message, dataout.TextOrNil(said.File), nil}
			if said.Line > 0 {
				row[7] = said.Line
			}
			rows = append(rows, row)
		}
	}
	add("unlikely", s.doubts)
	add("idle", s.idle)
	return []string{"finding", "kind", "key", "parts", "ids", "says", "file", "line"}, rows
}
