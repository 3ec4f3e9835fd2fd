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

// TwoCurrencies says that prices are compared as they stand.
func TwoCurrencies(was, is string) string {
	return "prices are in " + was + " in the first catalog and in " + is + " in the second, and are compared as they stand"
}

// CatalogDiffers says how many parts two catalogs do not have alike.
func CatalogDiffers(names [2]string, list []catalog.Difference) string {
	first, second := Shown(names[0]), Shown(names[1])
	if len(list) == 0 {
		return "The same parts in " + first + " and " + second
	}
	return "From " + first + " to " + second + ": " + Counted(uint64(len(list)), "part differs", "parts differ")
}

// KeyValue is a value of a key as people read it, "–" for none.
func KeyValue(v any) string {
	switch v := v.(type) {
	case nil:
		return "–"
	case []string:
		return strings.Join(v, ", ")
	case bool:
		if v {
			return "yes"
		}
		return "no"
	}
	return field.Cell(v)
}

// Shared says how many parts several catalogs have.
func Shared(shared, equal int) string {
	switch {
	case shared == 0:
		return "No part is in more than one of them."
	case equal == shared:
		return Counted(uint64(shared), "part is", "parts are") + " in more than one of them, and nowhere do they differ."
	}
	return Counted(uint64(shared), "part is", "parts are") + " in more than one of them; " + Counted(uint64(shared-equal), "differs", "differ") + "."
}

// Conflict says which values catalogs have for a key, each with its place. Prices are
// in a currency.
func Conflict(c *catalog.Conflict, currency string) string {
	unit := c.Key.Unit
	if c.Key.Key == "price" {
		unit = currency
	}
	text := strings.ReplaceAll(c.Kind, "_", " ") + " " + c.ID + ", " + c.Key.Key + ": "
	for i, t := range c.Told {
		if i > 0 {
			text += ", then "
		}
		value := KeyValue(t.Value)
		if t.Value == nil {
			value = "none"
		} else if unit != "" {
			value += NBSP + unit
		}
		text += value + " (" + Place(t.Pos) + ")"
	}
	return text
}

// Used is a list of a standard that a catalog uses, in words.
func Used(u catalog.Used) string {
	text := u.List + ", " + Counted(uint64(u.Parts), "part", "parts")
	if l, ok := catalog.StandardNamed(u.List); ok {
		text += ": " + l.Standard
	}
	return text
}
