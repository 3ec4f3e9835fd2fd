package say

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Asked says what a brief asks: every key of its targets, limits and
// conditions that is not at its default.
func Asked(p *constraints.Problem, system quantity.System) string {
	var out []string
	before := "" // the key that was named last
	for _, s := range p.Brief.Values() {
		if s.Name == "weights" {
			continue // they order builds and ask nothing
		}
		for _, k := range s.Keys {
			if k.Differs() && !isYours(p, s.Name, k.Key) {
				text := keyText(p, s.Name, k, system)
				if least, ok := mostOf(k.Key, k.Unit); ok && least == quantity.Label(before, k.Unit) {
					text = strings.TrimPrefix(text, least+" ")
				}
				out, before = append(out, text), k.Key
			}
		}
	}
	if text := Yours(p); text != "" {
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

// KeyLabel is the name of a key of a brief as people read it, without its unit.
func KeyLabel(key, unit string) string {
	if least, ok := mostOf(key, unit); ok {
		return least + " at most"
	}
	return quantity.Label(key, unit)
}

// mostOf is what a key sets the greatest value of, as top_speed_max_kmh does of
// the top speed.
func mostOf(key, unit string) (least string, ok bool) {
	return strings.CutSuffix(quantity.Label(key, unit), " max")
}

// ProseWidth is the least width of a column of prose.
const ProseWidth = 16

// NBSP is a space at which no line is broken.
const NBSP = "\u00a0"

// Bound is a sentence in which no line is broken between a number and its unit.
func Bound(text string) string { return afterNumber.ReplaceAllString(text, "$1"+NBSP+"$2") }

var afterNumber = regexp.MustCompile(`([0-9]) (\p{L}|[%°])`)

// keyText is a key of the brief with its value.
func keyText(p *constraints.Problem, section string, k constraints.ResolvedKey, system quantity.System) string {
	name := KeyLabel(k.Key, k.Unit)
	if slices.Contains([]string{"rider", "board", "keep", "avoid"}, section) && name != "motors" && name != "hanger" {
		name = section + " " + name
	}
	switch v := k.Value.(type) {
	case float64:
		v, unit := system.Value(v, k.Unit)
		if k.Key == "price" {
			unit = p.Catalog.Currency
		}
		return strings.TrimSuffix(name+NBSP+Short(v)+NBSP+unit, NBSP)
	case []string:
		const few = 3
		if len(v) > few {
			return fmt.Sprintf("%s %s and %d more", name, strings.Join(v[:few], " "), len(v)-few)
		}
		return name + " " + strings.Join(v, " ")
	case []float64:
		var items []string
		for _, x := range v {
			items = append(items, Short(x))
		}
		return name + " " + strings.Join(items, " or ")
	default:
		if k.Key == "sensored" && v == true {
			return "motors with sensors"
		}
		return name + " " + fmt.Sprint(v)
	}
}
