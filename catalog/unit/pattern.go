package unit

import (
	"regexp"
	"strings"
	"unicode"
)

const decimal = `[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?`

// Pattern is a regular expression, of ECMAScript and of Go alike, for the texts
// that Read takes, but for what a number that is too large, a currency, or a
// slope of 90 degrees has to say.
func (k *Kind) Pattern() string {
	switch {
	case k.Quotient:
		return `^\s*` + decimal + `\s*:\s*` + decimal + `\s*$`
	case k.Money:
		const currency = `[^0-9\s%+.,:'_-]+`
		return `^\s*(` + decimal + `\s*` + currency + `|` + currency + `\s*` + decimal + `)\s*$`
	}
	var names []string
	for _, u := range k.Units {
		for _, n := range u.Names {
			names = append(names, anyCase(n, u.milli))
		}
	}
	return `^\s*` + decimal + `\s*(` + strings.Join(names, "|") + `)\s*$`
}

// anyCase is a pattern for a name in letters of either case; that of a milli
// stays.
func anyCase(name string, milli bool) string {
	var b strings.Builder
	for i, r := range name {
		upper, lower := unicode.ToUpper(r), unicode.ToLower(r)
		switch {
		case milli && i == 0:
			b.WriteRune(r)
		case r == '\u00b5':
			b.WriteString("[\u00b5\u03bc]")
		case lower == 'ω':
			b.WriteString("[\u2126\u03a9\u03c9]")
		case upper != lower:
			b.WriteString("[" + string(upper) + string(lower) + "]")
		default:
			b.WriteString(regexp.QuoteMeta(string(r)))
		}
	}
	return b.String()
}
