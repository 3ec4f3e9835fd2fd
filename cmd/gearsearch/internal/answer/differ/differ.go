// Package differ answers catalog diff: what is other in a second catalog.
package differ

import (
	"slices"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Answer is what two catalogs do not have alike.
type Answer struct {
	Names   [2]string
	Was, Is *catalog.Catalog
	list    []catalog.Difference
}

// Give writes the answer; catalogs that differ have an exit code of their own.
func (s *Answer) Give(d *ask.Desk, a *ask.Answer) error {
	s.list = catalog.Differences(s.Was, s.Is)
	if s.Was.Currency != s.Is.Currency {
		d.Note("%s", say.TwoCurrencies(s.Was.Currency, s.Is.Currency))
	}
	if err := d.Give(a, ask.Forms{Text: s.text, Document: s.document, Table: s.table, Complete: true}); err != nil {
		return err
	}
	if len(s.list) > 0 {
		return outcome.ErrInfeasible
	}
	return nil
}

// How a part differs.
const (
	added   = "added"
	removed = "removed"
	changed = "changed"
)

// how says how a part differs.
func how(d *catalog.Difference) string {
	switch {
	case !d.InFirst():
		return added
	case !d.InSecond():
		return removed
	}
	return changed
}

// text is the answer as people read it.
func (s *Answer) text() *layout.Text {
	out := &layout.Text{}
	out.Heading(say.CatalogDiffers(s.Names, s.list))
	if of := s.of(changed); len(of) > 0 {
		out.Heading("Changed: " + say.Counted(uint64(len(of)), "part", "parts"))
		t := &layout.Table{Columns: []layout.Column{
			{Title: "kind"}, {Title: "id"}, {Title: "key"}, {Title: "was", Wrap: true, Least: say.ProseWidth}, {Title: "is", Wrap: true, Least: say.ProseWidth}, {Title: "unit"},
		}}
		for _, d := range of {
			for _, k := range d.Keys {
				t.Add(d.Kind, d.ID, k.Key.Key, say.KeyValue(k.Was), say.KeyValue(k.Is), s.unit(k.Key))
			}
		}
		out.Table(t)
	}
	for _, how := range []string{added, removed} {
		if of := s.of(how); len(of) > 0 {
			out.Heading(map[string]string{added: "Added: ", removed: "Removed: "}[how] + say.Counted(uint64(len(of)), "part", "parts"))
			t := &layout.Table{Columns: []layout.Column{{Title: "kind"}, {Title: "id"}, {Title: "name", Wrap: true, Least: say.ProseWidth}}}
			for _, d := range of {
				t.Add(d.Kind, d.ID, d.Name)
			}
			out.Table(t)
		}
	}
	return out
}

// of are the parts that differ in one way.
func (s *Answer) of(way string) []catalog.Difference {
	return slices.DeleteFunc(slices.Clone(s.list), func(d catalog.Difference) bool { return how(&d) != way })
}

// unit is a key's unit: the currency of a price, where both catalogs have one.
func (s *Answer) unit(in *field.Info) string {
	if in.Key != "price" {
		return in.Unit
	}
	if s.Was.Currency != s.Is.Currency {
		return s.Was.Currency + ", " + s.Is.Currency
	}
	return s.Is.Currency
}

// document is the answer as data.
func (s *Answer) document() dataout.Document {
	return dataout.Document{
		Head: dataout.Object{
			{Key: "schema", Value: 1},
			{Key: "same", Value: len(s.list) == 0},
			{Key: "was", Value: dataout.Catalog(s.Was)},
			{Key: "is", Value: dataout.Catalog(s.Is)},
		},
		Lists: []dataout.List{{Key: "parts", Items: dataout.Objects(s.list, func(d catalog.Difference) dataout.Object {
			keys := []dataout.Object{}
			for _, k := range d.Keys {
				keys = append(keys, dataout.Object{{Key: "key", Value: k.Key.Key}, {Key: "was", Value: k.Was}, {Key: "is", Value: k.Is}, {Key: "unit", Value: dataout.TextOrNil(s.unit(k.Key))}})
			}
			return dataout.Object{
				{Key: "change", Value: how(&d)},
				{Key: "kind", Value: d.Kind},
				{Key: "id", Value: d.ID},
				{Key: "was_at", Value: place(d.InFirst(), d.Was)},
				{Key: "is_at", Value: place(d.InSecond(), d.Is)},
				{Key: "keys", Value: keys},
			}
		})}},
	}
}

// place is where a part stands, nil for one that is not there.
func place(there bool, p catalog.Position) any {
	if !there {
		return nil
	}
	return dataout.Place(p)
}

// table is the answer as rows, one for each key.
func (s *Answer) table() (header []string, rows [][]any) {
	for _, d := range s.list {
		for _, k := range d.Keys {
			rows = append(rows, []any{how(&d), d.Kind, d.ID, k.Key.Key, k.Was, k.Is, dataout.TextOrNil(s.unit(k.Key))})
		}
	}
	return []string{"change", "kind", "id", "key", "was", "is", "unit"}, rows
}
