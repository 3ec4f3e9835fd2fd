package field

import "iter"

// Value is one value of a document: a small handle, to be passed by value.
// The zero Value is absent.
type Value struct {
	tree *tree
	n    int32
}

// Kind is the type of the value as written; KindAbsent for the zero Value.
func (v Value) Kind() Kind {
	if v.tree == nil {
		return KindAbsent
	}
	return v.tree.at(v.n).kind
}

// Place is where the value stands; nowhere for the zero Value.
func (v Value) Place() Place {
	if v.tree == nil {
		return Place{}
	}
	n := v.tree.at(v.n)
	return Place{v.tree.text, n.start, n.end}
}

// String is the decoded text of a text or cell, the source of any other kind.
func (v Value) String() string {
	if v.tree == nil {
		return ""
	}
	return string(v.bytes())
}

func (v Value) bytes() []byte { return v.tree.content(v.tree.at(v.n)) }

// Items yields the items of a list, or any other value itself, so that a single value
// may stand for a list of one.
func (v Value) Items() iter.Seq[Value] {
	return func(yield func(Value) bool) {
		switch v.Kind() {
		case KindAbsent:
		case KindList:
			for n := v.tree.at(v.n).child; n != 0; n = v.tree.at(n).next {
				if !yield(Value{v.tree, n}) {
					return
				}
			}
		default:
			yield(v)
		}
	}
}

// Parts is Items, except that a cell is taken apart at its separators: it
// yields the items as a field of texts or numbers reads them.
func (v Value) Parts() iter.Seq[Value] { return v.items() }

// Sections yields the sections of a list of tables, or a single section in place of a
// list. It skips other items.
func (v Value) Sections() iter.Seq[Section] {
	return func(yield func(Section) bool) {
		for item := range v.Items() {
			if s, ok := item.Section(); ok && !yield(s) {
				return
			}
		}
	}
}

// isTables reports whether the value was written with headers.
func (v Value) isTables() bool {
	if v.Kind() != KindSection && v.Kind() != KindList {
		return false
	}
	return v.Kind() == KindSection || v.tree.at(v.n).flags&headers != 0
}

// ListEnd is the offset of the bracket that closes a list; ok is false where the
// value is none, or a list of tables with headers.
func (v Value) ListEnd() (offset int, ok bool) {
	if v.Kind() != KindList || v.isTables() {
		return 0, false
	}
	return int(v.tree.at(v.n).end) - 1, true
}

// Section is the value as a section; ok is false if it is not one.
func (v Value) Section() (s Section, ok bool) {
	if v.Kind() != KindSection {
		return Section{}, false
	}
	return Section(v), true
}

// Section is a table of a document, or a row of a CSV file: keys with values,
// in the order written. The zero Section is empty and nowhere.
type Section struct {
	tree *tree
	n    int32
}

// Place is the section's header, or the brace or row it begins with; for the
// top level, the beginning of the document.
func (s Section) Place() Place { return Value(s).Place() }

// Damaged reports whether a syntax error stands in the section, so that a key
// that seems to be missing may be there.
func (s Section) Damaged() bool {
	return s.tree != nil && s.tree.at(s.n).flags&damaged != 0
}

// Entries yields each key as written (decoded), its place and its value.
func (s Section) Entries() iter.Seq[Entry] {
	return func(yield func(Entry) bool) {
		if s.tree == nil {
			return
		}
		for k := s.tree.at(s.n).child; k != 0; {
			key := s.tree.at(k)
			e := Entry{
				key:   s.tree.name(key),
				At:    Place{s.tree.text, key.start, key.end},
				Value: Value{s.tree, key.child},
			}
			if !yield(e) {
				return
			}
			k = key.next
		}
	}
}

// Entry is a key of a section with its value.
type Entry struct {
	key   []byte
	At    Place // of the key
	Value Value
}

// Key is the key, decoded.
func (e Entry) Key() string { return string(e.key) }

// Value returns the value of a key, the zero Value if it is absent.
func (s Section) Value(key string) Value {
	if s.tree == nil {
		return Value{}
	}
	k := s.tree.find(s.n, []byte(key))
	if k == 0 {
		return Value{}
	}
	return Value{s.tree, s.tree.at(k).child}
}

// Document is a parsed document.
type Document struct {
	tree *tree
}

// Root is the top level.
func (d *Document) Root() Section { return Section{d.tree, root} }
