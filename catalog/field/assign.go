package field

import (
	"slices"
	"strings"
)

// Assign sets one key from untyped text, as a command line gives it: numbers
// and flags as they are, lists with commas. A blank takes back what a list of
// texts holds, as if its key were not given. The error is a *Problem without a
// place, and nothing is set then.
func (t *Table[T]) Assign(into *T, key, text string) error {
	var r Report
	i, known := t.index[key]
	if !known {
		hint := ""
		if near, ok := Nearest(key, slices.Values(t.Keys())); ok {
			hint = "did you mean " + near + "?"
		}
		return &Problem{Message: visible("unknown key " + Quote(key) + " in " + t.Name), Hint: hint}
	}
	tree := &tree{text: r.add(Source{Data: []byte(text)}), separator: ","}
	in := &t.infos[i]
	given := node{end: uint32(len(text)), kind: KindCell}
	switch blank := strings.TrimSpace(text) == ""; {
	case blank && in.Type == TypeTexts:
		*t.fields[i].Texts(into) = nil
		return nil
	case blank && in.Type == TypeNumbers:
		given.kind = KindList
	}
	v := tree.add(given)
	t.fields[i].set(in, Value{tree, v}, into, &r)
	if len(r.found) > 0 {
		return &Problem{Message: r.found[0].message, Hint: r.found[0].hint}
	}
	return nil
}
