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
		out.Data = sectioned(out, k)
	}
	for _, k := range slices.Backward(keys) { // each goes right behind its header
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

// lineEnding is how the lines of a text end.
func lineEnding(data []byte) string {
	if bytes.Contains(data, []byte("\r\n")) {
		return "\r\n"
	}
	return "\n"
}

// sectioned is a brief's text with the section of a key.
func sectioned(src field.Source, k KeyText) []byte {
	var r field.Report
	section, _, _ := strings.Cut(k.Path, ".")
	if _, ok := field.Parse(src, &r).Root().Value(section).Section(); ok {
		return src.Data
	}
	ending := lineEnding(src.Data)
	data := src.Data
	if len(data) > 0 && data[len(data)-1] != '\n' {
		data = slices.Concat(data, []byte(ending))
	}
	return slices.Concat(data, []byte(ending+"["+section+"]"+ending))
}

// amended is a brief's text, which has the section of a key, with the key.
func amended(src field.Source, k KeyText) []byte {
	var r field.Report
	section, name, _ := strings.Cut(k.Path, ".")
	in, _ := field.Parse(src, &r).Root().Value(section).Section()
	if v := in.Value(name); v.Kind() != field.KindAbsent {
		start, end := v.Place().Span()
		return slices.Concat(src.Data[:start], []byte(k.Text), src.Data[end:])
	}
	ending := lineEnding(src.Data)
	line := []byte(name + " = " + k.Text + ending)
	_, at := in.Place().Span()
	behind := bytes.IndexByte(src.Data[at:], '\n')
	if behind < 0 {
		return slices.Concat(src.Data, []byte(ending), line)
	}
	at += behind + 1
	return slices.Concat(src.Data[:at], line, src.Data[at:])
}
