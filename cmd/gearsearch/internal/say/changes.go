package say

import (
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// PartChange says what a [[change]] changes, and of what it is the second to do so.
func PartChange(c *catalog.Change) string {
	text := strings.ReplaceAll(c.Kind, "_", " ") + " " + c.ID
	if c.Parts > 1 {
		text += ", " + Counted(uint64(c.Parts), "part", "parts")
	}
	text += ": " + strings.Join(c.Keys, ", ")
	if len(c.Unset) > 0 {
		if len(c.Keys) > 0 {
			text += "; "
		}
		text += "takes away " + strings.Join(c.Unset, ", ")
	}
	for _, o := range c.Overrules {
		text += "; " + Overruled(o)
	}
	return text
}

// Overruled says that an earlier change of a key does not count.
func Overruled(o catalog.Overruled) string {
	return o.Key + " was changed at " + Place(o.Pos) + ", and this counts"
}

// Place is where a part or a key stands.
func Place(p catalog.Position) string { return field.Position(p.File, p.Line, p.Column) }

// Rate says what one of a currency is, and of how many prices that is true.
func Rate(r catalog.Rate, own string) string {
	return "1 " + r.Currency + " = " + field.FormatNumber(r.Rate) + " " + own + ", " + Counted(uint64(r.Parts), "price", "prices")
}
