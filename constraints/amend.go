package constraints

import (
	"bytes"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// KeyText is a key of a brief, section.key, with its value as TOML has it.
type KeyText struct{ Path, Text string }

// Amend is the text of a brief with other values of some keys: all else of it, comments
// and order too, stays as it was. A key that is not there is put behind the header of
// its section, a section that is not there at the end. The error is of type
// field.Problems: the text is no brief, or keys cannot be put in, as where a section
// has no header of its own.
func Amend(src field.Source, keys []KeyText) ([]byte, error) {
	if _, err := ReadBrief(src); err != nil {
		return nil, err
	}
	out := src
	for _, k := range keys {
		out.Data = amended(out, k)
	}
	changed, err := ReadBrief(out)
	if err != nil {
		return nil, unamendable(src)
	}
	for _, k := range keys { // as if a flag had set it
		other := changed.Clone()
		if err := other.Set(k.Path, strings.Trim(k.Text, `"`), "the copy"); err != nil {
			return nil, err
		}
		t, name := keyTable(k.Path)
		was, _ := t.Lookup(changed, name)
		if now, _ := t.Lookup(other, name); was != now || !changed.Written(k.Path) {
			return nil, unamendable(src)
		}
	}
	return out.Data, nil
}

// unamendable is the problem with a brief into which keys cannot be put.
func unamendable(src field.Source) error {
	var r field.Report
	at := field.Parse(src, &r).Root().Place()
	return field.Problems{field.ProblemAt(at, "paste the keys into it instead", "this brief is not laid out in [sections], and no copy of it is made")}
}

// amended is a brief's text with one key.
func amended(src field.Source, k KeyText) []byte {
	var r field.Report
	doc := field.Parse(src, &r)
	section, name, _ := strings.Cut(k.Path, ".")
	ending := "\n"
	if bytes.Contains(src.Data, []byte("\r\n")) {
		ending = "\r\n"
	}
	in, ok := doc.Root().Value(section).Section()
	if ok {
		if v := in.Value(name); v.Kind() != field.KindAbsent {
			start, end := v.Place().Span()
			return slices.Concat(src.Data[:start], []byte(k.Text), src.Data[end:])
		}
		_, at := in.Place().Span()
		behind := bytes.IndexByte(src.Data[at:], '\n')
		if behind < 0 {
			return slices.Concat(src.Data, []byte(ending+name+" = "+k.Text+ending))
		}
		at += behind + 1
		return slices.Concat(src.Data[:at], []byte(name+" = "+k.Text+ending), src.Data[at:])
	}
	data := src.Data
	if len(data) > 0 && data[len(data)-1] != '\n' {
		data = slices.Concat(data, []byte(ending))
	}
	return slices.Concat(data, []byte(ending+"["+section+"]"+ending+name+" = "+k.Text+ending))
}
