package catalog

import (
	"bytes"
	"encoding/json"

	"gearsearch/catalog/field"
)

// Schema is the JSON Schema (draft 2020-12) of a catalog file, for editors of
// TOML and JSON: every kind with its keys, their types, ranges and words, and
// which keys go together. What takes more than one table to tell it leaves
// out: ids given twice, references, the lengths of a family's lists, voltages
// that contradict each other.
func Schema() []byte {
	head := field.ObjectSchema(headTable().Infos(), false)
	properties := head.Lookup("properties").(field.JSON)
	for i := range properties {
		m := &properties[i]
		value := m.Value.(field.JSON)
		if k, ok := kindNamed(m.Key); ok {
			m.Value = value.With("items", partSchema(k.info()))
		}
		if m.Key == "currency" {
			m.Value = value.With("minLength", 1).With("maxLength", maxCurrency).With("not", field.JSON{{Key: "pattern", Value: " "}})
		}
	}
	s := append(field.JSON{
		{Key: "$schema", Value: "https://json-schema.org/draft/2020-12/schema"},
		{Key: "$id", Value: "urn:gearsearch:catalog:1"},
		{Key: "title", Value: "Catalog of parts"},
	}, head...)
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	_ = e.Encode(s) // of plain values: it cannot fail
	return b.Bytes()
}

// partSchema is the schema of one table of a kind.
func partSchema(k KindInfo) field.JSON {
	s := field.ObjectSchema(k.Fields, true)
	if len(k.Choice) > 0 {
		s = s.With("oneOf", choiceSchema(k.Choice))
	}
	if len(k.Needs) > 0 {
		var needs field.JSON
		for _, n := range k.Needs {
			needs = needs.With(n.Key, []string{n.Other})
		}
		s = s.With("dependentRequired", needs)
	}
	return s
}

// choiceSchema is one schema for each group: its keys, and none of the others.
func choiceSchema(groups []Group) []field.JSON {
	var out []field.JSON
	for i, g := range groups {
		var others field.JSON
		for j, other := range groups {
			if j == i {
				continue
			}
			for _, key := range append(append([]string{}, other.Keys...), other.May...) {
				others = others.With(key, false)
			}
		}
		branch := field.JSON{}
		if len(g.Keys) > 0 {
			branch = branch.With("required", g.Keys)
		}
		out = append(out, branch.With("properties", others))
	}
	return out
}
