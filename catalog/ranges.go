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
	return k.rows(c, true)
}

func (k *kindOf[T]) rows(c *Catalog, columns bool) iter.Seq[iter.Seq2[*field.Info, any]] {
	return func(yield func(iter.Seq2[*field.Info, any]) bool) {
		tables := k.tables(c, columns)
		for i, t := range *k.list(c) {
			p := k.part(t)
			members := tables[p.table]
			switch {
			case members == nil:
				if !yield(k.values(c, i)) {
					return
				}
			case members[0] == t:
				if !yield(k.asTable(p.table, members, columns)) {
					return
				}
			}
		}
	}
}

// tables are the tables with ranges of which all parts are here as the table has
// them: their members in the order of the table.
func (k *kindOf[T]) tables(c *Catalog, columns bool) map[*table][]*T {
	out := map[*table][]*T{}
	for _, t := range *k.list(c) {
		if p := k.part(t); p.table != nil {
			out[p.table] = append(out[p.table], t)
		}
	}
	for table, members := range out {
		slices.SortFunc(members, func(a, b *T) int { return k.part(a).member - k.part(b).member })
		if len(members) != table.size || !k.whole(table, members) || columns && !k.inColumns(table, members) {
			delete(out, table)
		}
	}
	return out
}

// whole reports whether each member still is what its table makes of it.
func (k *kindOf[T]) whole(table *table, members []*T) bool {
	for i, t := range members {
		if k.part(t).member != i || k.part(t).Family != k.part(members[0]).Family {
			return false
		}
		for in, v := range k.table.Values(k.asWritten(t)) {
			s, spread := table.spread(in.Key)
			like := members[0]
			if spread {
				like = members[first(s, i)]
			}
			if in.Key == "id" {
				continue
			}
			if same, _ := k.table.Lookup(k.asWritten(like), in.Key); field.TOML(v) != field.TOML(same) {
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
func (k *kindOf[T]) inColumns(table *table, members []*T) bool {
	if len(members) < 2 || k.part(members[1]).ID != k.part(members[1]).Family+"-2" {
		return true
	}
	column := func(s field.Spread) int { return slices.Index(k.table.Keys(), s.Key) }
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
func (k *kindOf[T]) asTable(table *table, members []*T, columns bool) iter.Seq2[*field.Info, any] {
	return func(yield func(*field.Info, any) bool) {
		for in, v := range k.table.Values(k.asWritten(members[0])) {
			s, spread := table.spread(in.Key)
			switch {
			case in.Key == "id":
				v = k.part(members[0]).Family
			case spread && columns:
				v = k.several(s, members)
			case spread:
				continue
			}
			if !yield(in, v) {
				return
			}
		}
		if columns {
			return
		}
		for _, s := range table.spreads {
			if !yield(k.field(s.Key), k.several(s, members)) {
				return
			}
		}
	}
}

// several is the value of a key with several: its range, or the list of what the
// members have.
func (k *kindOf[T]) several(s field.Spread, members []*T) any {
	if s.Range != nil {
		return *s.Range
	}
	var list []float64
	for i := range s.Len {
		switch v, _ := k.table.Lookup(k.asWritten(members[i*s.Stride]), s.Key); v := v.(type) {
		case float64:
			list = append(list, v)
		case int:
			list = append(list, float64(v))
		}
	}
	return list
}
