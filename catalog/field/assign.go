package field

import "strings"

// assign is Table.Assign.
func (t *core) assign(into *box, key, text string) error {
	var r Report
	i, known := t.index[key]
	if !known {
		return t.stranger(key)
	}
	tree := &tree{text: r.add(Source{Data: []byte(text)}), separator: ","}
	in := &t.infos[i]
	given := node{end: uint32(len(text)), kind: KindCell}
	switch blank := strings.TrimSpace(text) == ""; {
	case blank && in.Type == TypeTexts:
		t.fields[i].clear(into)
		return nil
	case blank && in.Type == TypeNumbers:
		given.kind = KindList
	}
	v := tree.add(given)
	t.fields[i].set(in, Value{tree, v}, into, &r)
	if len(r.found) > 0 {
		return &Problem{Code: r.found[0].code, Message: r.found[0].message, Hint: r.found[0].hint}
	}
	return nil
}

// ReadCell reads a value for the key as a cell of a CSV file has it: a float64 in the
// key's unit, a Range or a []float64 of several parts, a string, a bool or a []string; nil for a blank cell. An amount of money
// with its currency stays the text that it is. The error is a *Problem without a place.
func (in *Info) ReadCell(text string) (value any, err error) {
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	var r Report
	tree := &tree{text: r.add(Source{Data: []byte(text)}), separator: ListSeparator}
	v := Value{tree, tree.add(node{end: uint32(len(text)), kind: KindCell})}
	switch in.Type {
	case TypeNumber, TypeWhole:
		if s, meant := rangeText(v); meant && in.Family {
			value, _ = in.readRange(s, v, &r)
			break
		}
		if in.Family && strings.Contains(text, ListSeparator) {
			value, _ = in.numbers(v, func(x float64) float64 { return x }, &r)
			break
		}
		x, currency, _ := in.amount(v, &r)
		value = x
		if currency != "" {
			value = strings.TrimSpace(text)
		}
	case TypeFlag:
		value, _ = in.flag(v, &r)
	case TypeTexts:
		value, _ = in.texts(v, &r)
	default:
		value, _ = in.text(v, &r)
	}
	if len(r.found) > 0 {
		return nil, &Problem{Code: r.found[0].code, Message: r.found[0].message, Hint: r.found[0].hint}
	}
	return value, nil
}

// stranger is the problem with a key that the table does not have.
func (t *core) stranger(key string) *Problem {
	return &Problem{Code: UnknownKey, Message: visible("unknown key " + Quote(key) + " in " + t.Name), Hint: visible(t.keyHint(key))}
}
