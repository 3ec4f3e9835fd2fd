package field

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// JSON is a JSON object whose members keep their order.
type JSON []Member

// Member is one member of a JSON object.
type Member struct {
	Key   string
	Value any
}

// Lookup is the value of a member, nil if there is none.
func (o JSON) Lookup(key string) any {
	for _, m := range o {
		if m.Key == key {
			return m.Value
		}
	}
	return nil
}

// With is the object with a member set, at its place if there is one of that
// key, else at the end.
func (o JSON) With(key string, value any) JSON {
	out := append(JSON(nil), o...)
	for i := range out {
		if out[i].Key == key {
			out[i].Value = value
			return out
		}
	}
	return append(out, Member{key, value})
}

// MarshalJSON writes the object.
func (o JSON) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	for i, m := range o {
		b.WriteByte("{,"[min(i, 1)])
		if err := e.Encode(m.Key); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := e.Encode(m.Value); err != nil {
			return nil, err
		}
	}
	if len(o) == 0 {
		b.WriteByte('{')
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// Patterns of texts, for regular expressions of ECMAScript and of Go alike, in
// which the characters stand for themselves.
const (
	idPattern = `^[a-z0-9][a-z0-9._-]*$`
	// What CheckText refuses, but for what lies outside the basic plane.
	refusedClass = "\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufff9-\ufffb"
	textPattern  = "^[^" + refusedClass + "]*$"
	itemPattern  = "^[^" + refusedClass + ",;" + ListSeparator + "]*$"
)

// Schema is the JSON Schema (draft 2020-12) of the key's value, with type,
// range, words and meaning. In a family, numbers and ids may be lists. Not in
// it is what takes more than one key, or more than one document, to tell.
func (in *Info) Schema(family bool) JSON {
	s := JSON{{"description", in.Description()}}
	switch in.Type {
	case TypeNumber, TypeWhole:
		return append(s, in.numberSchema(family && in.Family)...)
	case TypeNumbers:
		return append(s, in.numberSchema(true)...)
	case TypeNumberOrWord:
		return append(s, Member{"anyOf", []JSON{in.numberSchema(false), {{"enum", in.Words}}}})
	case TypeWord:
		if in.Fold {
			return append(s, Member{"type", "string"}, Member{"pattern", foldedPattern(in.Words)})
		}
		return append(s, Member{"enum", in.Words})
	case TypeFlag:
		return append(s, Member{"type", "boolean"})
	case TypeSection:
		return append(s, Member{"type", "object"})
	case TypeSections:
		return append(s, Member{"type", "array"})
	}
	return append(s, in.textSchema(family && in.Family)...)
}

// foldedPattern is a regular expression for words in whatever letters, large or
// small: schemas have no flag for that.
func foldedPattern(words []string) string {
	var p strings.Builder
	for i, word := range words {
		p.WriteString(map[bool]string{true: "^(", false: "|"}[i == 0])
		for _, r := range word {
			if large := unicode.ToUpper(r); large != r {
				fmt.Fprintf(&p, "[%c%c]", large, r)
			} else {
				p.WriteString(regexp.QuoteMeta(string(r)))
			}
		}
	}
	return p.String() + ")$"
}

// numberSchema is that of a number, with its unit in a text or bare, and of a
// list of them too. Ranges say nothing of lists and texts, patterns nothing of
// numbers and items nothing of either, so that all can stand in one schema,
// whose mistakes editors explain better than those of a choice.
func (in *Info) numberSchema(list bool) JSON {
	kind := "number"
	if in.Whole {
		kind = "integer"
	}
	var limits JSON
	if !math.IsInf(in.Min, -1) {
		key := "minimum"
		if in.Above {
			key = "exclusiveMinimum"
		}
		limits = append(limits, Member{key, in.Min})
	}
	if !math.IsInf(in.Max, 1) {
		limits = append(limits, Member{"maximum", in.Max})
	}
	if in.Kind == nil {
		return withItems([]string{kind}, limits, list, in.Once)
	}
	return withItems([]string{kind, "string"}, append(limits, Member{"pattern", in.Kind.Pattern()}), list, in.Once)
}

// textSchema is that of a text or id, and of a list of them too.
func (in *Info) textSchema(list bool) JSON {
	if in.Words != nil { // a list of words
		word := JSON{{"enum", in.Words}}
		items := JSON{{"type", "array"}, {"items", word}, {"uniqueItems", in.Once}}
		if in.Filled {
			items = items.With("minItems", 1)
		}
		return JSON{{"anyOf", []JSON{word, items}}}
	}
	pattern := textPattern
	switch {
	case in.ID:
		pattern = idPattern
	case in.Type == TypeTexts:
		pattern = itemPattern
	}
	limits := JSON{{"pattern", pattern}, {"maxLength", MaxText}}
	if in.Required || in.Type == TypeTexts {
		limits = append(JSON{{"minLength", 1}}, limits...)
	}
	return withItems([]string{"string"}, limits, list || in.Type == TypeTexts, in.Once || in.ID && in.Type != TypeTexts)
}

// withItems is the schema of a value of some types within limits, and of a list
// of such values too.
func withItems(types []string, limits JSON, list, once bool) JSON {
	one := append(JSON{typesMember(types)}, limits...)
	if !list {
		return one
	}
	s := append(JSON{typesMember(append(slices.Clone(types), "array"))}, limits...)
	s = append(s, Member{"items", one}, Member{"minItems", 1}, Member{"maxItems", MaxItems})
	if once {
		s = append(s, Member{"uniqueItems", true})
	}
	return s
}

// typesMember is the member that tells the types of a value.
func typesMember(types []string) Member {
	if len(types) == 1 {
		return Member{"type", types[0]}
	}
	return Member{"type", types}
}

// Description is what the key means on one line, with its unit, and what its
// absence means.
func (in *Info) Description() string {
	s := in.Meaning
	if in.Unit != "" {
		s += ", in " + in.Unit
	}
	if in.Default != "" {
		s += "; unless given: " + in.Default
	}
	return strings.ToUpper(s[:min(len(s), 1)]) + s[min(len(s), 1):]
}

// ObjectSchema is the JSON Schema of a section with these keys and no others.
func ObjectSchema(infos []Info, family bool) JSON {
	var properties JSON
	required := []string{}
	for i := range infos {
		properties = append(properties, Member{infos[i].Key, infos[i].Schema(family)})
		if infos[i].Required {
			required = append(required, infos[i].Key)
		}
	}
	return JSON{
		{"type", "object"},
		{"properties", properties},
		{"required", required},
		{"additionalProperties", false},
	}
}
