package say

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints/outfit"
)

// LabelMake names the line of a first page on the parts that are made.
const LabelMake = "make"

// MadeText adds the parts that are made, each with the figures to make it by and what
// to beware of; nothing where all are bought.
func MadeText(out *layout.Text, list []outfit.Making, system quantity.System) {
	if len(list) == 0 {
		return
	}
	out.Heading("To make")
	for _, m := range list {
		notes := []layout.Note{{Label: "figures", Text: MakingFigures(m)}}
		for _, c := range m.Cautions {
			notes = append(notes, layout.Note{Label: "caution", Text: Bound(Statement(c, system))})
		}
		title := fmt.Sprintf("%s %s: %s", quantity.Label(m.Called, ""), m.Part.ID, m.How)
		if m.Pieces > 1 {
			title += fmt.Sprintf(", %d pieces", m.Pieces)
		}
		out.Entry(title, notes...)
	}
}

// MakingFigures are the figures to make a part by, in a line. Lengths are in mm
// whatever units are shown, as drawings have them.
func MakingFigures(m outfit.Making) string {
	var out []string
	for _, d := range m.Figures {
		out = append(out, quantity.Label(d.Name, d.Unit)+NBSP+dimension(d))
	}
	return strings.Join(out, ", ")
}

// dimension is a figure to make a part by, with its unit.
func dimension(d outfit.Dimension) string {
	const hundredth = 100 // of a mm, as finely as anybody makes parts
	switch {
	case d.Text != "":
		return d.Text
	case math.IsNaN(d.Value):
		return "unknown"
	}
	return strings.TrimSuffix(field.FormatNumber(math.Round(d.Value*hundredth)/hundredth)+NBSP+d.Unit, NBSP)
}

// ToMake names the parts that are made, for a first page; "" where all are bought.
func ToMake(list []outfit.Making) string {
	var out []string
	for _, m := range list {
		out = append(out, m.Part.ID+" ("+m.How+")")
	}
	if out == nil {
		return ""
	}
	return strings.Join(out, ", ") + "; figures with --full"
}
