package dataout

import (
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

// Settings are what the controllers of a build are to be set to.
func Settings(b *constraints.Build) []Object {
	var out []Object
	for _, s := range outfit.Settings(b) {
		out = append(out, Object{
			{Key: "setting", Value: s.Name},
			{Key: "value", Value: s.Value},
			{Key: "unit", Value: TextOrNil(s.Unit)},
			{Key: "set_by", Value: TextOrNil(s.By)},
			{Key: "meaning", Value: say.SettingWords(s, quantity.Metric)},
			{Key: "numbers", Value: TextOrNil(say.Statements(s.How, quantity.Metric))},
			{Key: "source", Value: s.Source},
		})
	}
	return out
}
