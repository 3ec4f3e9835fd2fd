package field

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// Schema is a JSON Schema (draft 2020-12) of a value, in the keywords that keys and
// sections take. What is not set is left out, and allows everything.
type Schema struct {
	Dialect              string              `json:"$schema,omitempty"`
	ID                   string              `json:"$id,omitempty"`
	Title                string              `json:"title,omitempty"`
	Description          string              `json:"description,omitempty"`
	Type                 Types               `json:"type,omitempty"`
	Enum                 []string            `json:"enum,omitempty"`
	Minimum              *float64            `json:"minimum,omitempty"`
	ExclusiveMinimum     *float64            `json:"exclusiveMinimum,omitempty"`
	Maximum              *float64            `json:"maximum,omitempty"`
	Pattern              string              `json:"pattern,omitempty"`
	MinLength            int                 `json:"minLength,omitempty"`
	MaxLength            int                 `json:"maxLength,omitempty"`
	Items                *Schema             `json:"items,omitempty"`
	MinItems             int                 `json:"minItems,omitempty"`
	MaxItems             int                 `json:"maxItems,omitempty"`
	UniqueItems          bool                `json:"uniqueItems,omitempty"`
	Properties           map[string]*Schema  `json:"properties,omitempty"`
	Required             []string            `json:"required,omitempty"`
	DependentRequired    map[string][]string `json:"dependentRequired,omitempty"`
	PatternProperties    map[string]*Schema  `json:"patternProperties,omitempty"`
	AdditionalProperties *bool               `json:"additionalProperties,omitempty"`
	AllOf                []*Schema           `json:"allOf,omitempty"`
	If                   *Schema             `json:"if,omitempty"`
	Then                 *Schema             `json:"then,omitempty"`
	AnyOf                []*Schema           `json:"anyOf,omitempty"`
	OneOf                []*Schema           `json:"oneOf,omitempty"`
	Not                  *Schema             `json:"not,omitempty"`
}

// Never is a schema that allows no value.
func Never() *Schema { return &Schema{Not: &Schema{}} }

// Types are the types that a value may have.
type Types []string

// MarshalJSON writes a single type by itself.
func (t Types) MarshalJSON() ([]byte, error) {
	if len(t) == 1 {
		return json.Marshal(t[0])
	}
	return json.Marshal([]string(t))
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

// Schema is the JSON Schema of the key's value, with type, range, words and meaning.
// In a family, numbers and ids may be lists. Rules on several keys, or on several
// documents, are not in it.
func (in *Info) Schema(family bool) *Schema {
	s := in.valueSchema(family && in.Family)
	s.Description = in.Description()
	return s
}

// valueSchema is that of the key's value, or of a list of such values too.
func (in *Info) valueSchema(list bool) *Schema {
	switch in.Type {
	case TypeNumber, TypeWhole:
		return in.numberSchema(list)
	case TypeNumbers:
		return in.numberSchema(true)
	case TypeNumberOrWord:
		return &Schema{AnyOf: []*Schema{in.numberSchema(false), {Enum: in.Words}}}
	case TypeWord:
		if in.Fold {
			return &Schema{Type: Types{"string"}, Pattern: foldedPattern(in.Words)}
		}
		return &Schema{Enum: in.Words}
	case TypeDay:
		return &Schema{Type: Types{"string"}, Pattern: dayPattern}
	case TypeFlag:
		return &Schema{Type: Types{"boolean"}}
	case TypeSection:
		return &Schema{Type: Types{"object"}}
	case TypeSections:
		return &Schema{Type: Types{"array"}}
	}
	return in.textSchema(list)
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
// list of them or a range too. Ranges say nothing of lists and texts, patterns nothing of
// numbers and items nothing of either, so that all can stand in one schema,
// whose mistakes editors explain better than those of a choice.
func (in *Info) numberSchema(list bool) *Schema {
	one := Schema{Type: Types{"number"}}
	if in.Whole {
		one.Type = Types{"integer"}
	}
	if low := in.Min; !math.IsInf(low, -1) {
		if in.Above {
			one.ExclusiveMinimum = &low
		} else {
			one.Minimum = &low
		}
	}
	if high := in.Max; !math.IsInf(high, 1) {
		one.Maximum = &high
	}
	if in.Kind != nil {
		one.Type, one.Pattern = append(one.Type, "string"), in.Kind.Pattern()
	}
	s := one.orItems(list, in.Once)
	if list && in.Family {
		if in.Kind == nil {
			s.Type = append(s.Type, "string")
		}
		s.Pattern = alternatives(one.Pattern, rangePattern(!in.Whole))
	}
	return s
}

// alternatives is a regular expression for what either of two is for; "" is none.
func alternatives(a, b string) string {
	if a == "" {
		return b
	}
	return "(" + a + ")|(" + b + ")"
}

// textSchema is that of a text or id, and of a list of them too.
func (in *Info) textSchema(list bool) *Schema {
	if in.Words != nil { // a list of words
		word := &Schema{Enum: in.Words}
		items := &Schema{Type: Types{"array"}, Items: word, UniqueItems: in.Once}
		if in.Filled {
			items.MinItems = 1
		}
		return &Schema{AnyOf: []*Schema{word, items}}
	}
	one := Schema{Type: Types{"string"}, Pattern: textPattern, MaxLength: MaxText}
	switch {
	case in.ID:
		one.Pattern = idPattern
	case in.Type == TypeTexts:
		one.Pattern = itemPattern
	}
	if in.Required || in.Type == TypeTexts {
		one.MinLength = 1
	}
	return one.orItems(list || in.Type == TypeTexts, in.Once || in.ID && in.Type != TypeTexts)
}

// orItems is the schema of such a value, and with list of a list of them too.
func (s Schema) orItems(list, once bool) *Schema {
	if !list {
		return &s
	}
	one := s
	s.Type = append(slices.Clone(s.Type), "array")
	s.Items, s.MinItems, s.MaxItems, s.UniqueItems = &one, 1, MaxItems, once
	return &s
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
func ObjectSchema(infos []Info, family bool) *Schema {
	s := &Schema{Type: Types{"object"}, Properties: map[string]*Schema{}, AdditionalProperties: new(bool)}
	for i := range infos {
		s.Properties[infos[i].Key] = infos[i].Schema(family)
		if infos[i].Required {
			s.Required = append(s.Required, infos[i].Key)
		}
	}
	return s
}
