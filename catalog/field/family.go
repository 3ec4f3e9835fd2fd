package field

import (
	"iter"
	"slices"
	"strconv"
	"strings"
)

// Family is a section in which numbers may be lists or ranges: it stands for as many
// values as they come to together.
type Family[T any] struct {
	Members []T
	Given   Given
	Broken  bool // a range could not be read: which members there are is not known
	spreads []spread
}

// Spread is a key of a family that gives several values: one after the other the
// members have them, Stride members each, and then the first one again.
type Spread struct {
	Key    string
	Range  *Range // nil: a list
	Len    int    // how many values
	Stride int
}

// Listed reports whether the section gave several values for the key.
func (f *Family[T]) Listed(key string) bool {
	return slices.ContainsFunc(f.spreads, func(s spread) bool { return f.Given.infos[s.field].Key == key })
}

// Lists reports whether the section gave several values for any key: whether it is a
// family at all.
func (f *Family[T]) Lists() bool { return len(f.spreads) > 0 }

// Ranges reports whether the section gave a range for any key.
func (f *Family[T]) Ranges() bool { return slices.ContainsFunc(f.spreads, spread.ranged) }

// Spreads yields the keys with several values, in the order written.
func (f *Family[T]) Spreads() iter.Seq[Spread] {
	return func(yield func(Spread) bool) {
		for _, s := range f.spreads {
			out := Spread{Key: f.Given.infos[s.field].Key, Len: s.items, Stride: s.stride}
			if s.ranged() {
				out.Range = &s.of
			}
			if !yield(out) {
				return
			}
		}
	}
}

// spread is a key of a family that gives a list, or a range.
type spread struct {
	field  int
	value  Value
	of     Range // its Len is 0 where it is a list
	items  int
	stride int
}

func (s spread) ranged() bool { return s.of.Len > 0 }

// spreadOf reads a value of a family's key that stands for several. It is one where
// several is true; good is false where it was meant to be a range and cannot be read,
// which is reported then.
func (t *core) spreadOf(i int, v Value, r *Report) (s spread, several, good bool) {
	in := &t.infos[i]
	if !in.Family {
		return s, false, !in.rangeAstray(v, r)
	}
	if v.Kind() == KindList || in.Numeric() && v.Kind() == KindCell && strings.Contains(v.String(), v.tree.separator) {
		s = spread{field: i, value: v}
		for range v.items() {
			s.items++
		}
		return s, true, true
	}
	text, meant := rangeText(v)
	switch {
	case meant && !in.Numeric():
		return s, false, !in.rangeAstray(v, r)
	case !meant:
		return s, false, true
	}
	g, ok := in.readRange(text, v, r)
	return spread{field: i, value: v, of: g, items: g.Len}, ok, ok
}

// familySize is the number of members that lists and ranges stand for, 1 without, and
// notes how many members share a value. Lists go together; each range multiplies; the
// first key slowest. Lists of different lengths are reported, and the longest counts,
// so that all items are checked. More than MaxItems members are reported, and counted
// as one.
func (t *core) familySize(spreads []spread, r *Report) (n int, ok bool) {
	longest := t.longestList(spreads, r)
	n = 1
	for i := range spreads {
		if items := axis(spreads, i, longest); items > 0 {
			if n *= items; n > MaxItems {
				s := &spreads[i]
				r.Add(s.value.Place(), TooLarge, "make tables of fewer parts", "with %s the table stands for more than %d parts", t.infos[s.field].Key, MaxItems)
				return 1, false
			}
		}
	}
	stride := 1
	for i := len(spreads) - 1; i >= 0; i-- {
		items := axis(spreads, i, longest)
		if items == 0 {
			continue
		}
		for j := range spreads {
			if i == j || !spreads[i].ranged() && !spreads[j].ranged() {
				spreads[j].stride = stride
			}
		}
		stride *= items
	}
	return n, true
}

// axis is by how much a family is multiplied at spread i: a range by its numbers, the
// lists together by the longest of them, which stand where the first of them does; 0
// at the others.
func axis(spreads []spread, i, longest int) int {
	switch {
	case spreads[i].ranged():
		return spreads[i].items
	case slices.IndexFunc(spreads, func(s spread) bool { return !s.ranged() }) == i:
		return longest
	}
	return 0
}

// longestList is the length of the longest list, at least 1. Lists that do not go
// together are reported.
func (t *core) longestList(spreads []spread, r *Report) int {
	longest, first := 1, -1
	for i, l := range spreads {
		if l.ranged() {
			continue
		}
		key := t.infos[l.field].Key
		switch {
		case l.items == 0:
			r.Add(l.value.Place(), WrongText, "leave the key out where there is no value", "%s is an empty list", key)
		case first >= 0 && l.items != spreads[first].items && spreads[first].items > 0:
			r.Add(l.value.Place(), Contradiction, "all lists of a table have one length, one item for each part",
				"%s has %s, %s has %d", key, items(l.items), t.infos[spreads[first].field].Key, spreads[first].items)
		}
		if first < 0 {
			first = i
		}
		longest = max(longest, l.items)
	}
	return longest
}

// share gives each member of a family its value of each list and range. What is wrong
// with an item is reported once.
func (t *core) share(spreads []spread, member func(i int) *box, n int, r *Report) {
	longest := 1
	for _, s := range spreads {
		if !s.ranged() {
			longest = max(longest, s.items)
		}
	}
	for _, s := range spreads {
		if s.ranged() {
			for m := range n {
				t.fields[s.field].put(s.of.At(m/max(1, s.stride)%s.items), member(m))
			}
			continue
		}
		i := 0
		for item := range s.value.items() {
			if i*s.stride >= n {
				break
			}
			before := r.Len()
			for m := i * s.stride; m < n && r.Len() == before; m = nextOf(m, s.stride, longest) {
				t.fields[s.field].set(&t.infos[s.field], item, member(m), r)
			}
			i++
		}
	}
}

// nextOf is the next member with the same value as member m.
func nextOf(m, stride, items int) int {
	if (m+1)%stride != 0 {
		return m + 1
	}
	return m + 1 + stride*(items-1)
}

// put sets the field to a number in the key's unit, which is in its range.
func (f *Field[T]) put(x float64, into *T) {
	if f.Count != nil {
		*f.Count(into) = int(x)
		return
	}
	*f.Number(into) = f.toSI(x)
}

// items is a number of items in words.
func items(n int) string {
	if n == 1 {
		return "1 item"
	}
	return strconv.Itoa(n) + " items"
}
