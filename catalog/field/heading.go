package field

import (
	"strings"
	"unicode/utf8"

	"gearsearch/catalog/unit"
)

// Heading finds the key that the heading of a column of a spreadsheet is meant
// for: its own name, with its unit or without, or what people call it; a unit may
// stand behind, in brackets or after a comma, as in "KV (rpm/V)" or "R [mΩ]". in is
// what bare numbers below it are in, "" for the key's own unit. A unit that the key
// does not take makes it no key's heading: its numbers would be read as others.
func Heading(infos []Info, title string) (key, in string, ok bool) {
	name, behind := splitHeading(title)
	plain := plainName(name)
	if plain == "" {
		return "", "", false
	}
	for _, fits := range []func(*Info) (string, bool){
		func(in *Info) (string, bool) { return "", in.Key == plain },
		func(in *Info) (string, bool) { return "", in.stem() == plain },
		func(in *Info) (string, bool) { return in.answersTo(plain) },
		func(in *Info) (string, bool) { return in.currencyAt(plain) },
	} {
		for i := range infos {
			if at, ok := fits(&infos[i]); ok {
				in, ok := infos[i].headed(at, behind)
				return infos[i].Key, in, ok
			}
		}
	}
	return "", "", false
}

// splitHeading takes what stands in brackets, or behind a comma or a stroke with
// spaces about it, off the end of a heading.
func splitHeading(title string) (name, behind string) {
	title = strings.TrimSpace(strings.TrimRight(strings.TrimSpace(title), "*:"))
	for _, pair := range []string{"()", "[]", "{}"} {
		if inner, ok := strings.CutSuffix(title, pair[1:]); ok {
			if i := strings.LastIndex(inner, pair[:1]); i > 0 {
				return strings.TrimSpace(inner[:i]), strings.TrimSpace(inner[i+1:])
			}
		}
	}
	for _, mark := range []string{",", " / ", " in "} {
		if i := strings.LastIndex(title, mark); i > 0 {
			return strings.TrimSpace(title[:i]), strings.TrimSpace(title[i+len(mark):])
		}
	}
	return title, ""
}

// headed is the unit of the numbers below a heading with a unit at the end of its
// name, or another text behind it; "" for the key's own.
func (in *Info) headed(atEnd, behind string) (name string, ok bool) {
	if behind == "" {
		behind = atEnd
	}
	switch {
	case behind == "" || in.Kind == nil || in.Kind.Quotient:
		return "", true
	case in.Kind.Money:
		return behind, isCurrency(behind)
	case in.Kind.Same(behind, in.Unit):
		return "", true
	}
	return behind, in.Kind.Has(behind)
}

// currencyAt reports whether a name is that of an amount of money with a currency
// behind it, and which.
func (in *Info) currencyAt(name string) (currency string, ok bool) {
	i := strings.LastIndexByte(name, '_')
	if in.Kind != &unit.Money || i < 0 || !isCurrency(name[i+1:]) {
		return "", false
	}
	_, ok = in.answersTo(name[:i])
	return strings.ToUpper(name[i+1:]), ok
}

// isCurrency reports whether a text may be the code or the sign of a currency:
// three letters, or one character that is neither letter nor digit.
func isCurrency(s string) bool {
	const code = 3
	if utf8.RuneCountInString(s) == 1 {
		return !IsID(strings.ToLower(s))
	}
	return len(s) == code && strings.Trim(strings.ToLower(s), "abcdefghijklmnopqrstuvwxyz") == ""
}
