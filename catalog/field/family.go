package field

import "strconv"

// Family is a section in which numbers may be lists: it stands for as many values as
// the lists are long.
type Family[T any] struct {
	Members []T
	Given   Given
	listed  []spread
}

// Listed reports whether the section gave a list for the key.
func (f *Family[T]) Listed(key string) bool {
	for _, l := range f.listed {
		if f.Given.infos[l.field].Key == key {
			return true
		}
	}
	return false
}

// Lists reports whether the section gave a list for any key: whether it is a
// family at all.
func (f *Family[T]) Lists() bool { return len(f.listed) > 0 }

// familySize is the number of members that the lists stand for, 1 without
// lists. Lists of different lengths are reported, and the longest counts, so
// that all items are checked.
func (t *core) familySize(lists []spread, r *Report) int {
	n := 1
	for i, l := range lists {
		key := t.infos[l.field].Key
		first := lists[0]
		switch {
		case l.items == 0:
			r.Add(l.list.Place(), WrongText, "leave the key out where there is no value", "%s is an empty list", key)
		case i > 0 && l.items != first.items && first.items > 0:
			r.Add(l.list.Place(), Contradiction, "all lists of a table have one length, one item for each part",
				"%s has %s, %s has %d", key, items(l.items), t.infos[first.field].Key, first.items)
		}
		n = max(n, l.items)
	}
	return n
}

// items is a number of items in words.
func items(n int) string {
	if n == 1 {
		return "1 item"
	}
	return strconv.Itoa(n) + " items"
}
