package catalog

import (
	"iter"
	"slices"

	"gearsearch/catalog/field"
)

// table is a table of a file whose ranges stand for several parts, so that it can be
// written again as it was.
type table struct {
	size    int
	spreads []field.Spread // in the order written
}

// newTable is the table of a family with ranges; nil for any other.
func newTable[T any](f *field.Family[T]) *table {
	if !f.Ranges() {
		return nil
	}
	return &table{len(f.Members), slices.Collect(f.Spreads())}
}

// Ranges are the ranges of the table that the part comes from, each as it stands
// there, teeth = "12..80"; nil for a part of no range.
func (p *Part) Ranges() []string {
	if p.table == nil {
		return nil
	}
	var out []string
	for _, s := range p.table.spreads {
		if s.Range != nil {
			out = append(out, s.Key+" = "+field.TOML(*s.Range))
		}
	}
	return out
}

// first is the first member that has the same value for a spread as a member.
func first(s field.Spread, member int) int { return member / s.Stride % s.Len * s.Stride }

// spread is the table's spread of a key; ok is false where its members have one value.
func (t *table) spread(key string) (s field.Spread, ok bool) {
	i := slices.IndexFunc(t.spreads, func(s field.Spread) bool { return s.Key == key })
	if i < 0 {
		return s, false
	}
	return t.spreads[i], true
}

// Rows yields what the parts of a kind are written as in columns, as WriteCSV does: the
// values of a part, or of a table with ranges, in the order of the kind's keys. It
// yields nothing of an unknown kind.
func (c *Catalog) Rows(kindName string) iter.Seq[iter.Seq2[*field.Info, any]] {
	k, ok := kindNamed(kindName)
	if !ok {
		return func(func(iter.Seq2[*field.Info, any]) bool) {}
	}
	return writtenRows(k, c, true)
}

// writtenRows yields what the parts of a kind are written as: a part, or a table of
// ranges as it was. columns says that keys are written in the order of the kind. It
// goes by numbers of parts: what is generic is compiled for every kind.
func writtenRows(k kind, c *Catalog, columns bool) iter.Seq[iter.Seq2[*field.Info, any]] {
	return func(yield func(iter.Seq2[*field.Info, any]) bool) {
		w := rangeWriter{k, c, slices.Collect(k.parts(c)), columns}
		tables := w.tables()
		for i, p := range w.parts {
			members := tables[p.table]
			switch {
			case members == nil:
				if !yield(k.values(c, i)) {
					return
				}
			case members[0] == i:
				if !yield(w.asTable(p.table, members)) {
					return
				}
			}
		}
	}
}

// rangeWriter writes the parts of a kind.
type rangeWriter struct {
	kind    kind
	catalog *Catalog
	parts   []*Part
	columns bool // keys are written in the order of the kind
}

// tables are the tables with ranges of which all parts are here as the table has
// them: the numbers of their members in the order of the table.
func (w *rangeWriter) tables() map[*table][]int {
	out := map[*table][]int{}
	for i, p := range w.parts {
		if p.table != nil {
			out[p.table] = append(out[p.table], i)
		}
	}
	for table, members := range out {
		slices.SortFunc(members, func(a, b int) int { return w.parts[a].member - w.parts[b].member })
		if len(members) != table.size || !w.whole(table, members) || w.columns && !w.inColumns(table, members) {
			delete(out, table)
		}
	}
	return out
}

// whole reports whether each member still is what its table makes of it.
func (w *rangeWriter) whole(table *table, members []int) bool {
	for i, at := range members {
		if w.parts[at].member != i || w.parts[at].Family != w.parts[members[0]].Family {
			return false
		}
		for in, v := range w.kind.values(w.catalog, at) {
			s, spread := table.spread(in.Key)
			like := members[0]
			if spread {
				like = members[first(s, i)]
			}
			if in.Key == "id" {
				continue
			}
			if field.TOML(v) != field.TOML(w.kind.value(w.catalog, like, in.Key)) {
				return false
			}
			if spread && s.Range != nil && field.TOML(v) != field.TOML(s.Range.At(i/s.Stride%s.Len)) {
				return false
			}
		}
	}
	return true
}

// inColumns reports whether the table reads the same where its keys stand in the order
// of the kind: only a running number depends on the order.
func (w *rangeWriter) inColumns(table *table, members []int) bool {
	if len(members) < 2 || w.parts[members[1]].ID != w.parts[members[1]].Family+"-2" {
		return true
	}
	fields := w.kind.info().Fields
	column := func(s field.Spread) int {
		return slices.IndexFunc(fields, func(in field.Info) bool { return in.Key == s.Key })
	}
	first := func(s field.Spread) int { // of the lists, which are one axis, the first column counts
		at := column(s)
		for _, other := range table.spreads {
			if s.Range == nil && other.Range == nil {
				at = min(at, column(other))
			}
		}
		return at
	}
	return slices.IsSortedFunc(table.axes(), func(a, b field.Spread) int { return first(a) - first(b) })
}

// axes are the spreads that multiply: ranges, and one list for all.
func (t *table) axes() []field.Spread {
	listed := false
	return slices.DeleteFunc(slices.Clone(t.spreads), func(s field.Spread) bool {
		if s.Range != nil {
			return false
		}
		twice := listed
		listed = true
		return twice
	})
}

// asTable yields the keys of a table with ranges: those of one value, then the others
// in the order written; or all in the order of the kind.
func (w *rangeWriter) asTable(table *table, members []int) iter.Seq2[*field.Info, any] {
	return func(yield func(*field.Info, any) bool) {
		for in, v := range w.kind.values(w.catalog, members[0]) {
			s, spread := table.spread(in.Key)
			switch {
			case in.Key == "id":
				v = w.parts[members[0]].Family
			case spread && w.columns:
				v = w.several(s, members)
			case spread:
				continue
			}
			if !yield(in, v) {
				return
			}
		}
		if w.columns {
			return
		}
		for _, s := range table.spreads {
			if !yield(w.kind.field(s.Key), w.several(s, members)) {
				return
			}
		}
	}
}

// several is the value of a key with several: its range, or the list of what the
// members have.
func (w *rangeWriter) several(s field.Spread, members []int) any {
	if s.Range != nil {
		return *s.Range
	}
	var list []float64
	for i := range s.Len {
		switch v := w.kind.value(w.catalog, members[i*s.Stride], s.Key).(type) {
		case float64:
			list = append(list, v)
		case int:
			list = append(list, float64(v))
		}
	}
	return list
}
