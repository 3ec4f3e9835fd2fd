package field

import (
	"fmt"
	"iter"
)

// Table is a field table: the keys of one kind of section. NewTable makes it.
// It is not changed by use and safe for use by several goroutines.
type Table[T any] struct {
	*core
	numbers []func(*T) *float64 // by field; nil: not one number
	blank   T
}

// core is what of a table does not depend on what it decodes into: it reaches a
// value through a box, and so is compiled once, not once for each kind.
type core struct {
	Name string // the kind of section, as messages name it
	// Stray says what to do about a key that the table does not have and that
	// is near none of its keys, "" for nothing. It may be nil.
	Stray func(key string) string
	// Elsewhere says where a key belongs that the table does not have and another
	// table has, "" for nowhere. It may be nil.
	Elsewhere func(key string) string

	fields []Field[box]
	infos  []Info
	index  map[string]int
}

// box holds a pointer to what a table decodes into.
type box struct{ of any }

func unbox[T any](b *box) *T { return b.of.(*T) }

// NewTable makes a field table. It panics on a table that contradicts itself:
// a key twice, a field without an accessor, a Fallback that the key may not
// hold; tables are program text.
func NewTable[T any](name string, groups ...[]Field[T]) *Table[T] {
	t := &Table[T]{core: &core{Name: name, index: map[string]int{}}}
	blank := &box{&t.blank}
	for _, fields := range groups {
		for i, f := range Lift(fields, unbox[T]) {
			t.add(f, blank)
			t.numbers = append(t.numbers, fields[i].Number)
		}
	}
	return t
}

// add puts a field behind the others, and what it falls back on into a blank.
func (t *core) add(f Field[box], blank *box) {
	if _, twice := t.index[f.Key]; twice {
		panic(fmt.Sprintf("field: %s has key %s twice", t.Name, f.Key))
	}
	if f.Per == 0 {
		f.Per = 1
	}
	in := f.info(t.Name)
	if !f.fallsBack(&in) {
		panic(fmt.Sprintf("field: %s.%s cannot fall back on %v", t.Name, f.Key, f.Fallback))
	}
	t.index[f.Key] = len(t.fields)
	t.fields = append(t.fields, f)
	t.infos = append(t.infos, in)
	f.clear(blank)
}

// Blank is a T in which every key holds its Fallback, a number without one NaN,
// and everything else is zero: what a section without keys decodes into. Its
// lists are not to be changed.
func (t *Table[T]) Blank() T { return t.blank }

// Numbers lists the keys that hold one number, each with the place of that number in
// a T.
func (t *Table[T]) Numbers() iter.Seq2[*Info, func(*T) *float64] {
	return func(yield func(*Info, func(*T) *float64) bool) {
		for i, at := range t.numbers {
			if at != nil && !yield(&t.infos[i], at) {
				return
			}
		}
	}
}

// Decode reads a section into a value. Keys that the section does not give are
// left as they are, so that into may hold defaults. What is wrong is reported,
// and the fields concerned keep what they held.
func (t *Table[T]) Decode(s Section, into *T, r *Report) Given {
	g, _, _ := t.decode(s, &box{into}, r, false)
	return g
}

// DecodeFamily reads a section in which numeric keys, and texts marked Spread,
// may be lists of one length, and numeric keys ranges: one member for each place in
// the lists and each number of a range, the first key slowest. Every member begins as
// a copy of start. Slices and pointers are shared by the members.
func (t *Table[T]) DecodeFamily(s Section, start T, r *Report) Family[T] {
	given, spreads, sound := t.decode(s, &box{&start}, r, true)
	n, fits := t.familySize(spreads, r)
	f := Family[T]{Given: given, Broken: !sound || !fits, spreads: spreads}
	f.Members = make([]T, n)
	for i := range f.Members {
		f.Members[i] = start
	}
	if fits {
		t.share(spreads, func(i int) *box { return &box{&f.Members[i]} }, n, r)
	}
	return f
}

// Assign sets one key from untyped text, as a command line gives it: numbers
// and flags as they are, lists with commas. A blank gives a list of texts back
// what it holds where its key is not given. The error is a *Problem without a
// place, and nothing is set then.
func (t *Table[T]) Assign(into *T, key, text string) error { return t.assign(&box{into}, key, text) }

// Values yields each field with the value that a T holds for it, in the key's
// unit: a float64, int, string, bool, []string or []float64, nil where it is
// absent. Sections are left out.
func (t *Table[T]) Values(of *T) iter.Seq2[*Info, any] { return t.values(&box{of}) }

// Lookup returns the value of one key, as Values gives it; ok is false if the
// table has no such key or the value is absent.
func (t *Table[T]) Lookup(of *T, key string) (value any, ok bool) { return t.lookup(&box{of}, key) }

// Clear makes every key of a T hold what it holds where it is not given: its
// Fallback, or nothing.
func (t *Table[T]) Clear(of *T) { t.clear(&box{of}) }
