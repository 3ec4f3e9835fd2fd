package catalog

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"gearsearch/catalog/field"
)

// Schema is the JSON Schema (draft 2020-12) of a catalog file, for editors of
// TOML and JSON: every kind with its keys, their types, ranges and words, and
// which keys go together. What takes more than one table to tell it leaves
// out: ids given twice, references, the lengths of a family's lists, voltages
// that contradict each other.
func Schema() []byte {
	s := field.ObjectSchema(headTable().Infos(), false)
	s.Dialect, s.ID, s.Title = "https://json-schema.org/draft/2020-12/schema", "urn:gearsearch:catalog:1", "Catalog of parts"
	for _, k := range Kinds() {
		s.Properties[k.Name].Items = partSchema(k)
	}
	s.Properties[changeKey].Items = changeSchema()
	rates := s.Properties[ratesKey]
	rates.PatternProperties = map[string]*field.Schema{fmt.Sprintf("^[^ ]{1,%d}$", maxCurrency): rateSchema()}
	rates.AdditionalProperties = new(bool)
	lists := &field.Schema{Enum: StandardNames()}
	use := s.Properties[useKey]
	*use = field.Schema{Description: use.Description, AnyOf: []*field.Schema{lists, {Type: field.Types{"array"}, Items: lists, MinItems: 1, UniqueItems: true}}}
	currency := s.Properties["currency"]
	currency.MinLength, currency.MaxLength, currency.Not = 1, maxCurrency, &field.Schema{Pattern: " "}

	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	_ = e.Encode(s) // of plain values: it cannot fail
	return b.Bytes()
}

// partSchema is the schema of one table of a kind.
func partSchema(k KindInfo) *field.Schema {
	s := field.ObjectSchema(k.Fields, true)
	if len(k.Choice) > 0 {
		s.OneOf = choiceSchema(k.Choice)
	}
	for _, n := range k.Needs {
		if s.DependentRequired == nil {
			s.DependentRequired = map[string][]string{}
		}
		s.DependentRequired[n.Key] = []string{n.Other}
	}
	return s
}

// choiceSchema is one schema for each group: its keys, and none of the others.
func choiceSchema(groups []Group) []*field.Schema {
	var out []*field.Schema
	for i, g := range groups {
		branch := &field.Schema{Required: g.Keys, Properties: map[string]*field.Schema{}}
		for j, other := range groups {
			if j == i {
				continue
			}
			for _, key := range slices.Concat(other.Keys, other.May) {
				branch.Properties[key] = field.Never()
			}
		}
		out = append(out, branch)
	}
	return out
}

// changeSchema is the schema of one change: by its kind, any keys of that.
func changeSchema() *field.Schema {
	own := changeTable().Infos()
	s := field.ObjectSchema(own, false)
	s.AdditionalProperties = nil
	for _, k := range Kinds() {
		is := &field.Schema{Properties: map[string]*field.Schema{"kind": {Enum: []string{k.Name}}}, Required: []string{"kind"}}
		then := field.ObjectSchema(k.Fields, false)
		then.Type, then.Required = nil, nil
		var optional []string
		for _, in := range k.Fields {
			if !in.Required {
				optional = append(optional, in.Key)
			}
		}
		for i := range own {
			then.Properties[own[i].Key] = &field.Schema{}
		}
		word := &field.Schema{Enum: optional}
		then.Properties["unset"] = &field.Schema{AnyOf: []*field.Schema{word, {Type: field.Types{"array"}, Items: word}}}
		s.AllOf = append(s.AllOf, &field.Schema{If: is, Then: then})
	}
	return s
}

// rateSchema is the schema of one rate.
func rateSchema() *field.Schema {
	low, high := 1/dearest, float64(dearest)
	return &field.Schema{Type: field.Types{"number"}, Minimum: &low, Maximum: &high}
}
