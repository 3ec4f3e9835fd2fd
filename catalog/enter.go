package catalog

import (
	"bytes"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// Entered is a key of a part with its value as TOML.
type Entered struct{ Key, TOML string }

// KindNamed describes the kind of that name.
func KindNamed(name string) (info KindInfo, ok bool) {
	k, ok := kindNamed(name)
	if !ok {
		return KindInfo{}, false
	}
	return k.info(), true
}

// Field is the key of that name; nil where the kind has none.
func (k KindInfo) Field(key string) *field.Info {
	for i := range k.Fields {
		if k.Fields[i].Key == key {
			return &k.Fields[i]
		}
	}
	return nil
}

// EntryKeys are the keys of a kind in the order in which they are best asked for:
// the id, its own, and then those of every kind.
func EntryKeys(k KindInfo) []field.Info {
	common := k.shared()
	return slices.Concat(k.Fields[:1], k.Fields[common:], k.Fields[1:common])
}

// shared is how many keys of the kind every kind has: the first ones.
func (k KindInfo) shared() int {
	return 1 + slices.IndexFunc(k.Fields, func(in field.Info) bool { return in.Key == lastShared })
}

// ReadEntered reads a value of a key, written as in a cell of a CSV file, with a unit
// or in the key's own, and returns it as TOML; "" where it leaves the key out. The
// error is a *field.Problem without a place.
func ReadEntered(kindName, key, text string) (toml string, err error) {
	k, ok := kindNamed(kindName)
	if !ok {
		return "", &field.Problem{Code: field.UnknownKind, Message: "there is no kind " + field.Quote(kindName)}
	}
	in := k.info().Field(key)
	if in == nil {
		return "", &field.Problem{Code: field.UnknownKey, Message: "there is no key " + field.Quote(key)}
	}
	value, err := in.ReadCell(text)
	if err != nil || value == nil {
		return "", err
	}
	return field.TOML(value), nil // the currency of a price is looked at with the rest
}

// Table is a part as a table of a catalog file: a header and a line for each key,
// in the order of its kind.
func (k KindInfo) Table(keys []Entered) []string {
	lines := []string{"[[" + k.Name + "]]"}
	for _, e := range k.ordered(keys) {
		lines = append(lines, e.Key+" = "+e.TOML)
	}
	return lines
}

// ordered are keys in the order of the kind.
func (k KindInfo) ordered(keys []Entered) []Entered {
	var out []Entered
	for i := range k.Fields {
		for _, e := range keys {
			if e.Key == k.Fields[i].Key {
				out = append(out, e)
			}
		}
	}
	return out
}

// With is a catalog file in TOML with one part more: a table at its end, or an
// item of the list where the file has its parts of that kind in one. All else of
// it stays as it is to the byte. What is wrong with the file is left to Read.
func (k KindInfo) With(src Source, keys []Entered) []byte {
	var r field.Report
	if end, ok := field.Parse(src, &r, KindNames()...).Root().Value(k.Name).ListEnd(); ok {
		return k.inList(src, end, keys)
	}
	newline := "\n"
	if bytes.Contains(src.Data, []byte("\r\n")) {
		newline = "\r\n"
	}
	out := slices.Clone(src.Data)
	if len(out) > 0 && out[len(out)-1] != '\n' {
		out = append(out, newline...)
	}
	return append(out, newline+strings.Join(k.Table(keys), newline)+newline...)
}

// inList is With where the parts of the kind are the items of a list, whose
// bracket is closed at an offset: with a comma before the new one, or, where that
// does not read, without.
func (k KindInfo) inList(src Source, end int, keys []Entered) []byte {
	var pairs []string
	for _, e := range k.ordered(keys) {
		pairs = append(pairs, e.Key+" = "+e.TOML)
	}
	item := "{ " + strings.Join(pairs, ", ") + " }"
	var out []byte
	for _, before := range []string{", ", ""} {
		out = slices.Concat(src.Data[:end], []byte(before+item), src.Data[end:])
		var r field.Report
		field.Parse(Source{Name: src.Name, Data: out}, &r, KindNames()...)
		if r.Len() == 0 {
			break
		}
	}
	return out
}

// Example are values of a part of a kind as somebody enters them: those of the first
// such part of the starter catalog.
func Example(kindName string) []Entered {
	parts, _ := Starter()
	c, err := Read(parts)
	k, ok := kindNamed(kindName)
	if err != nil || !ok || k.count(c) == 0 {
		return nil
	}
	var out []Entered
	for in, v := range k.values(c, 0) {
		if v != nil && !implied(in, v) {
			out = append(out, Entered{in.Key, field.Cell(v)})
		}
	}
	return out
}
