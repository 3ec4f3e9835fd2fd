package dataout

import (
	"iter"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// OrNone is a list that is never null.
func OrNone(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// Objects turns a list into objects.
func Objects[T any](list []T, object func(T) Object) iter.Seq[Object] {
	return func(yield func(Object) bool) {
		for _, x := range list {
			if !yield(object(x)) {
				return
			}
		}
	}
}

// TextOrNil is a text, nil for an empty one.
func TextOrNil(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// LineObjects are lines of a shopping list with their prices.
func LineObjects(lines []constraints.Line) []Object {
	out := []Object{}
	for _, l := range lines {
		out = append(out, Object{{Key: "slot", Value: l.Slot.String()}, {Key: "id", Value: l.Part.ID}, {Key: "pieces", Value: l.Pieces}, {Key: "price", Value: l.Price}})
	}
	return out
}

// Place is where something stands in a file.
func Place(p catalog.Position) Object {
	return Object{{Key: "file", Value: TextOrNil(p.File)}, {Key: "line", Value: p.Line}, {Key: "column", Value: p.Column}}
}

// PartChange is a change of a part.
func PartChange(c catalog.Change) Object {
	overrules := []Object{}
	for _, o := range c.Overrules {
		overrules = append(overrules, append(Object{{Key: "key", Value: o.Key}}, Place(o.Pos)...))
	}
	return append(Object{
		{Key: "kind", Value: c.Kind},
		{Key: "id", Value: c.ID},
		{Key: "parts", Value: c.Parts},
		{Key: "keys", Value: OrNone(c.Keys)},
		{Key: "unset", Value: OrNone(c.Unset)},
		{Key: "overrules", Value: overrules},
	}, Place(c.Pos)...)
}

// UsedList is a list of a standard that a catalog uses.
func UsedList(u catalog.Used) Object {
	return append(Object{{Key: "list", Value: u.List}, {Key: "parts", Value: u.Parts}}, Place(u.Pos)...)
}

// Rate is what one of a currency is.
func Rate(r catalog.Rate) Object {
	return append(Object{{Key: "currency", Value: r.Currency}, {Key: "rate", Value: r.Rate}, {Key: "prices", Value: r.Parts}}, Place(r.Pos)...)
}
