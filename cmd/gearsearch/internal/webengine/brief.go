package webengine

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// values are the keys of a brief that are set, section.key, as texts.
type values map[string]string

// brief makes the brief of the request. The error is of type *wrong and has
// every problem of it.
func (r *request) brief() (*constraints.Brief, error) {
	b := constraints.DefaultBrief()
	keys := r.keys()
	var problems field.Problems
	for _, key := range keys {
		text := strings.TrimSpace(r.Brief[key])
		switch {
		case text == "":
			continue
		case text == noWords && listsWords(key):
			text = ""
		}
		if p := set(b, key, text); p != nil {
			problems = append(problems, *p)
		}
	}
	if len(problems) > 0 {
		return nil, newWrong(problems)
	}
	if err := b.Validate(); err != nil {
		return nil, about(err)
	}
	if err := r.wayOf(b); err != nil {
		return nil, about(err)
	}
	return b, nil
}

// keys are the keys of the brief, sorted.
func (r *request) keys() []string { return slices.Sorted(maps.Keys(r.Brief)) }

// problem puts the request's brief to a catalog.
func (r *request) problem(c *catalog.Catalog) (*constraints.Problem, error) {
	b, err := r.brief()
	if err != nil {
		return nil, err
	}
	p, err := constraints.NewProblem(c, b)
	return p, about(err)
}

// about lists problems, each with the key that it is about.
func about(err error) error {
	var problems field.Problems
	if errors.As(err, &problems) {
		return newWrong(problems)
	}
	return err
}

// set sets a key of a brief from a text, in which a number may carry a unit.
// What is wrong is said to be brought about by the key.
func set(b *constraints.Brief, key, text string) *field.Problem {
	text, err := pointed(key, text)
	if err != nil {
		return err
	}
	return setPlain(b, key, text)
}

// setPlain is set for a text whose decimals stand behind a point.
func setPlain(b *constraints.Brief, key, text string) *field.Problem {
	err := b.Set(key, text, key)
	var p *field.Problem
	if errors.As(err, &p) {
		return p
	}
	return nil
}

// pointed is a text for a key with a point for a decimal comma. A number such as
// 1,500, which may mean thousands, is a problem; a list keeps its commas.
func pointed(key, text string) (string, *field.Problem) {
	if k, ok := constraints.BriefKeyAt(key); !ok || !oneNumber(k.Type) {
		return text, nil
	}
	plain, wrong := field.Pointed(text)
	if wrong != nil {
		wrong.By = key
	}
	return plain, wrong
}

// oneNumber reports whether a key's value is one number, or may be.
func oneNumber(t field.Type) bool {
	return t == field.TypeNumber || t == field.TypeWhole || t == field.TypeNumberOrWord
}

// valuesOf are the keys of a brief that were written.
func valuesOf(b *constraints.Brief) values {
	out := values{}
	eachWritten(b, func(section string, k constraints.ResolvedKey) {
		key := section + "." + k.Key
		if out[key] = textOf(k.Value); out[key] == "" && listsWords(key) {
			out[key] = noWords
		}
	})
	return out
}

// noWords is the text of a list of words that is written and empty: an empty text is
// a key that is not written.
const noWords = "none"

// listsWords reports whether a key holds a list of words of the format.
func listsWords(key string) bool {
	k, ok := constraints.BriefKeyAt(key)
	return ok && k.Type == field.TypeTexts && len(k.Words) > 0
}

// eachWritten hands over every key of a brief that was written, as its default is
// too.
func eachWritten(b *constraints.Brief, yield func(section string, k constraints.ResolvedKey)) {
	for _, section := range b.Values() {
		for _, k := range section.Keys {
			if k.Value != nil && b.Written(section.Name+"."+k.Key) {
				yield(section.Name, k)
			}
		}
	}
}

// textOf is the value of a key as Set reads it.
func textOf(value any) string {
	switch v := value.(type) {
	case float64:
		return field.FormatNumber(v)
	case []float64:
		var items []string
		for _, x := range v {
			items = append(items, field.FormatNumber(x))
		}
		return strings.Join(items, ",")
	case []string:
		return strings.Join(v, ",")
	}
	return fmt.Sprint(value)
}

// briefTOML writes a brief as a file that reads back as the same brief.
func briefTOML(b *constraints.Brief) string {
	var out strings.Builder
	out.WriteString("schema = 1\n")
	last := ""
	eachWritten(b, func(section string, k constraints.ResolvedKey) {
		if section != last {
			fmt.Fprintf(&out, "\n[%s]\n", section)
			last = section
		}
		fmt.Fprintf(&out, "%s = %s\n", k.Key, tomlOf(k.Value))
	})
	return out.String()
}

// tomlOf is a value of a brief in TOML. Texts of a brief are words and ids, which need
// no escapes, and the name of a route.
func tomlOf(value any) string {
	list := func(items []string) string { return "[" + strings.Join(items, ", ") + "]" }
	switch v := value.(type) {
	case float64:
		return field.FormatNumber(v)
	case []float64:
		var items []string
		for _, x := range v {
			items = append(items, field.FormatNumber(x))
		}
		return list(items)
	case []string:
		var items []string
		for _, s := range v {
			items = append(items, `"`+s+`"`)
		}
		return list(items)
	case bool:
		return strconv.FormatBool(v)
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(fmt.Sprint(value)) + `"`
}

// known is a number for JSON: nil where it is not known.
func known(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}
