package say

import (
	"gearsearch/catalog"
	"gearsearch/constraints"
)

// Invented is the mark of a part of the demo catalog, and of its price.
const Invented = "invented"

// InventedNote says of a catalog with parts of the demo that they are invented,
// "" of any other.
func InventedNote(c *catalog.Catalog) string {
	switch some, all := inventedParts(c); {
	case !some:
		return ""
	case all:
		return "Demo parts: every maker, part and price here is invented; none of it can be bought."
	}
	return "Parts of the demo are among these: their makers and prices are invented, and they cannot be bought."
}

// inventedParts reports whether some and whether all parts of a catalog are of the
// demo.
func inventedParts(c *catalog.Catalog) (some, all bool) {
	all = true
	for _, p := range c.Parts() {
		some = some || p.Invented()
		all = all && p.Invented()
	}
	return some, some && all
}

// InventedIn reports whether parts of a build are of the demo catalog, and with
// them its price.
func InventedIn(b *constraints.Build) bool {
	for _, l := range b.Lines() {
		if l.Part.Invented() {
			return true
		}
	}
	return false
}
