// Package merge answers catalog merge: what was made of several catalogs, and where
// they differ.
package merge

import (
	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Answer is a merged catalog that is written.
type Answer struct {
	*catalog.Merged
	File     string
	Catalogs int // that it is made of
}

// Give writes what was made. With --quiet nothing is said to people.
func (s *Answer) Give(d *ask.Desk, a *ask.Answer) error {
	if d.Quiet && a.Format == ask.FormatTable {
		return nil
	}
	return d.Give(a, ask.Forms{Text: s.text, Document: s.document, Table: s.table, Complete: true})
}

// parts is how many parts the catalog has.
func (s *Answer) parts() uint64 {
	n := 0
	for _, k := range s.Catalog.Count() {
		n += k.N
	}
	return uint64(n)
}

// mostSaid is how many changes and conflicts people are shown.
const mostSaid = 40

// text is the answer as people read it.
func (s *Answer) text() *layout.Text {
	out := &layout.Text{}
	out.Heading("Wrote " + say.Shown(s.File) + " with " + say.Counted(s.parts(), "part", "parts") + " of " + say.Counted(uint64(s.Catalogs), "catalog", "catalogs"))
	out.Paragraph(say.Shared(s.Shared, s.Equal))
	if n := len(s.Conflicts); n > 0 {
		out.Heading("They differ in " + say.Counted(uint64(n), "key", "keys") + ": the last counts")
		var items []string
		for i := range s.Conflicts[:min(n, mostSaid)] {
			items = append(items, say.Conflict(&s.Conflicts[i], s.Catalog.Currency))
		}
		out.List(items)
		rest(out, n)
	}
	if n := len(s.Catalog.Changes); n > 0 {
		out.Heading("Changes carried out: " + layout.Count(uint64(n)))
		var items []string
		for i := range s.Catalog.Changes[:min(n, mostSaid)] {
			c := &s.Catalog.Changes[i]
			items = append(items, say.Place(c.Pos)+": "+say.PartChange(c))
		}
		out.List(items)
		rest(out, n)
	}
	for _, r := range s.Catalog.Rates {
		out.Paragraph("Turned at " + say.Rate(r, s.Catalog.Currency) + ".")
	}
	out.Paragraph("Comments are not kept, and families and ranges are written out part by part.")
	out.Heading("Next")
	out.Verbatim("gearsearch catalog check " + say.Typed(s.File))
	return out
}

// rest says how many of n are not shown.
func rest(out *layout.Text, n int) {
	if n > mostSaid {
		out.Paragraph("And " + layout.Count(uint64(n-mostSaid)) + " more: --format csv lists them all.")
	}
}

// document is the answer as data.
func (s *Answer) document() dataout.Document {
	return dataout.Document{
		Head: dataout.Object{
			{Key: "schema", Value: 1},
			{Key: "file", Value: s.File},
			{Key: "catalog", Value: dataout.Catalog(s.Catalog)},
			{Key: "shared", Value: s.Shared},
			{Key: "equal", Value: s.Equal},
		},
		Lists: []dataout.List{
			{Key: "conflicts", Items: dataout.Objects(s.Conflicts, func(c catalog.Conflict) dataout.Object {
				values := []dataout.Object{}
				for _, v := range c.Told {
					values = append(values, append(dataout.Object{{Key: "value", Value: v.Value}}, dataout.Place(v.Pos)...))
				}
				return dataout.Object{{Key: "kind", Value: c.Kind}, {Key: "id", Value: c.ID}, {Key: "key", Value: c.Key.Key}, {Key: "unit", Value: dataout.TextOrNil(c.Key.Unit)}, {Key: "values", Value: values}}
			})},
			{Key: "changes", Items: dataout.Objects(s.Catalog.Changes, dataout.PartChange)},
			{Key: "rates", Items: dataout.Objects(s.Catalog.Rates, dataout.Rate)},
		},
	}
}

// table is the conflicts as rows: a row for each value, of which the last of a key
// counts.
func (s *Answer) table() (header []string, rows [][]any) {
	for _, c := range s.Conflicts {
		for i, v := range c.Told {
			rows = append(rows, []any{c.Kind, c.ID, c.Key.Key, v.Value, dataout.TextOrNil(c.Key.Unit), i == len(c.Told)-1, v.Pos.File, v.Pos.Line})
		}
	}
	return []string{"kind", "id", "key", "value", "unit", "counts", "file", "line"}, rows
}
