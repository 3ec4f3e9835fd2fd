package catalog

import (
	"slices"

	"gearsearch/catalog/field"
)

// Difference is a part that two catalogs do not have alike.
type Difference struct {
	Kind, ID, Name string
	Was, Is        Position // where it stands in the first and in the second; zero: not in it
	Keys           []KeyDifference
}

// InFirst and InSecond report whether the first and the second have the part.
func (d *Difference) InFirst() bool { return d.Was != Position{} }

// InSecond is InFirst for the second.
func (d *Difference) InSecond() bool { return d.Is != Position{} }

// KeyDifference is a key with its two values, as Entry.Values gives them.
type KeyDifference struct {
	Key     *field.Info
	Was, Is any // nil: not given
}

// Differences are the parts that two catalogs do not have alike, by kind and id, with
// the keys in which they differ. A part of another kind in each is two.
func Differences(a, b *Catalog) []Difference {
	var out []Difference
	for _, k := range registry {
		first, second := entriesOf(a, k), entriesOf(b, k)
		for len(first) > 0 || len(second) > 0 {
			switch {
			case len(second) == 0 || len(first) > 0 && first[0].Part.ID < second[0].Part.ID:
				out, first = append(out, differs(&first[0], nil)), first[1:]
			case len(first) == 0 || second[0].Part.ID < first[0].Part.ID:
				out, second = append(out, differs(nil, &second[0])), second[1:]
			default:
				if d := differs(&first[0], &second[0]); len(d.Keys) > 0 {
					out = append(out, d)
				}
				first, second = first[1:], second[1:]
			}
		}
	}
	return out
}

// entriesOf are the parts of a kind by id.
func entriesOf(c *Catalog, k kind) []Entry { return slices.Collect(c.Entries(k.info().Name)) }

// differs is the difference of a part in two catalogs, of which one may lack it.
func differs(a, b *Entry) Difference {
	var d Difference
	var was, is map[string]any
	of := a
	if a != nil {
		d.Was, was = placed(a.Part.Pos), given(*a)
	}
	if b != nil {
		of = b
		d.Is, is = placed(b.Part.Pos), given(*b)
	}
	d.Kind, d.ID, d.Name = of.Kind, of.Part.ID, of.Part.Name
	for in := range of.Values() {
		x, y := was[in.Key], is[in.Key]
		if in.Key != "id" && !sameValue(x, y) {
			d.Keys = append(d.Keys, KeyDifference{in, x, y})
		}
	}
	return d
}

// placed is a position that is not zero, also of a part that was made in memory.
func placed(p Position) Position {
	if p == (Position{}) {
		p.Line = 1
	}
	return p
}

// given are the keys that a part gives, with their values.
func given(e Entry) map[string]any {
	out := map[string]any{}
	for in, v := range e.Values() {
		if v != nil && !implied(in, v) {
			out[in.Key] = v
		}
	}
	return out
}

// sameValue reports whether two values of a key are one.
func sameValue(a, b any) bool {
	x, listed := a.([]string)
	y, both := b.([]string)
	if listed || both {
		return listed && both && slices.Equal(x, y)
	}
	return a == b
}
