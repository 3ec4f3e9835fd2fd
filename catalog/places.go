package catalog

import "gearsearch/catalog/field"

// Places are where the parts of a catalog stand in its files.
type Places map[string]mark // by id

// mark is where a part stands in its file.
type mark struct {
	given  field.Given
	member int // which of the parts that the table stands for
	table  *table
	use    *named // the list that it comes from; nil: it stands in the file itself
}

// item is which item of a key's list is the part's.
func (m mark) item(key string) int {
	if m.table != nil {
		if s, ok := m.table.spread(key); ok {
			return m.member / s.Stride % s.Len
		}
	}
	return m.member
}

// mark notes where a part stands.
func (r *reader) mark(part *Part, given field.Given) {
	m := mark{given, part.member, part.table, r.listAt(part.Pos)}
	if r.marks != nil {
		r.marks[part.ID] = m
	}
	if r.merge != nil {
		r.merge.givens[part] = m
	}
}

// Places reads the catalog's files again and this time notes where each part
// stands. It costs nothing to read a catalog that nobody asks about, and the
// places of a large one would take more memory than its parts. A catalog that
// was made in memory has no places.
func (c *Catalog) Places() Places {
	r := newReader()
	r.marks = Places{}
	for _, src := range c.sources {
		r.file(src)
	}
	r.readAll()
	return r.marks
}

// At is where a part gives a key: at the part's own item of a list where its
// table stands for several. Where it gives it not, it is the part's own place.
func (p Places) At(id, key string) field.Place {
	m := p[id]
	at := m.given.Section().Place()
	for _, k := range []string{"id", key} {
		v := m.given.Value(k)
		if v.Kind() == field.KindAbsent {
			continue
		}
		at = v.Place()
		if in := m.given.Info(k); in != nil && in.Family && v.Kind() == field.KindList {
			i := 0
			for item := range v.Items() {
				if i == m.item(k) {
					at = item.Place()
				}
				i++
			}
		}
	}
	if m.use != nil && at.SameSource(m.use.within) {
		return m.use.at // nobody can open the list itself
	}
	return at
}
