package field

import "slices"

// Assign sets one key from untyped text, as a command line gives it: numbers
// and flags as they are, lists with commas. The error is a *Problem without a
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
	v := tree.add(node{end: uint32(len(text)), kind: KindCell})
	t.fields[i].set(&t.infos[i], Value{tree, v}, into, &r)
	if len(r.found) > 0 {
		return &Problem{Message: r.found[0].message, Hint: r.found[0].hint}
	}
	return nil
}
