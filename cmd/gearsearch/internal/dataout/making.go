package dataout

import (
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints/outfit"
)

// Makings are parts that are made, with the figures to make them by.
func Makings(made []outfit.Making) []Object {
	out := []Object{}
	for _, m := range made {
		out = append(out, making(m))
	}
	return out
}

func making(m outfit.Making) Object {
	figures := []Object{}
	for _, d := range m.Figures {
		var value any = d.Value
		if d.Text != "" {
			value = d.Text
		}
		figures = append(figures, Object{{Key: "figure", Value: d.Name}, {Key: "value", Value: value}, {Key: "unit", Value: TextOrNil(d.Unit)}})
	}
	return Object{
		{Key: "slot", Value: m.Slot},
		{Key: "id", Value: m.Part.ID},
		{Key: "made", Value: m.How},
		{Key: "pieces", Value: m.Pieces},
		{Key: "figures", Value: figures},
		{Key: "cautions", Value: OrNone(say.Notes(m.Cautions, quantity.Metric))},
	}
}
