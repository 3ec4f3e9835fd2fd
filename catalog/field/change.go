package field

import (
	"slices"
	"strings"
)

// A section may change a value that another section gave. What both gave is a Given
// of its own, in which each key stands where it was given last.

// DecodeOwn is Decode of the keys that the table has; the others are left to whoever
// reads them.
func (t *Table[T]) DecodeOwn(s Section, into *T, r *Report) Given {
	g := Given{section: s, infos: t.infos, values: make([]int32, len(t.fields))}
	b := &box{into}
	for e := range s.Entries() {
		if i, known := t.index[string(e.key)]; known {
			g.values[i] = e.Value.n
			t.fields[i].set(&t.infos[i], e.Value, b, r)
		}
	}
	if !s.Damaged() {
		t.missing(g, r)
	}
	return g
}

// Nothing is a Given of no section.
func (t *Table[T]) Nothing() Given {
	return Given{infos: t.infos, values: make([]int32, len(t.fields))}
}

// Change reads a section that changes a value, of which was is what was given
// before. It returns what is given after it; a key that nobody gives stands in the
// section. Keys in besides are left out: whoever reads them has another table.
func (t *Table[T]) Change(s Section, into *T, was Given, besides []string, r *Report) Given {
	g := was.changedBy(s)
	b := &box{into}
	for e := range s.Entries() {
		i, known := t.index[string(e.key)]
		switch {
		case slices.Contains(besides, string(e.key)):
		case !known:
			t.unknown(e, s, r)
		case g.change(i, e, r):
			t.fields[i].set(&t.infos[i], e.Value, b, r)
		}
	}
	t.refine(s, r)
	return g
}

// change has the key of field i stand where an entry gives it; ok is false of a list.
func (g Given) change(i int, e Entry, r *Report) (ok bool) {
	if g.infos[i].Family && e.Value.Kind() == KindList {
		r.Add(e.Value.Place(), WrongType, "name one part of a family by its own id", "%s is a list: a change gives one value", e.Key())
		return false
	}
	g.later[i] = e.Value
	return true
}

// Unset makes a key of a value hold what it holds where it is not given, and g say
// so. The table must have the key.
func (t *Table[T]) Unset(of *T, g Given, key string) {
	i, b := t.index[key], &box{of}
	if f := &t.fields[i]; f.Set != nil {
		f.Set(b, "")
	} else {
		f.clear(b)
	}
	g.later[i] = Value{}
}

// changedBy is a copy of g with room for what a section changes.
func (g Given) changedBy(s Section) Given {
	later := make([]Value, len(g.infos))
	for i := range g.infos {
		later[i] = g.Value(g.infos[i].Key)
	}
	return Given{section: s, infos: g.infos, later: later}
}

// Mark is a point in a report, for Blame.
func (r *Report) Mark() int { return len(r.found) }

// Blame puts the problems that were found since a mark and stand elsewhere into a
// section that brought them about: to the value of a key that the message names, else
// to the section.
func (r *Report) Blame(since int, s Section) {
	since = min(since, len(r.found))
	for i := since; i < len(r.found); i++ {
		if f := &r.found[i]; !s.holds(f.at) {
			f.at = s.named(f.message)
		}
	}
}

// Once takes away what was found twice since a mark.
func (r *Report) Once(since int) {
	since = min(since, len(r.found))
	kept := r.found[:since]
	for _, f := range r.found[since:] {
		if !slices.Contains(kept[since:], f) {
			kept = append(kept, f)
		}
	}
	r.found = kept
}

// holds reports whether a place is that of the section, or of one of its values.
func (s Section) holds(at Place) bool {
	if at == s.Place() {
		return true
	}
	for e := range s.Entries() {
		if v := e.Value.Place(); at.text == v.text && at.start >= e.At.start && at.end <= v.end {
			return true
		}
	}
	return false
}

// named is the place of the first value whose key a message names, else of the
// section.
func (s Section) named(message string) Place {
	words := strings.FieldsFunc(message, func(c rune) bool { return c == ' ' || c == ',' })
	for _, w := range words {
		if v := s.Value(w); v.Kind() != KindAbsent && w != "id" && w != "kind" {
			return v.Place()
		}
	}
	return s.Place()
}
