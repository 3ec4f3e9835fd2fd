package field

import (
	"cmp"
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
	found := Headings(infos, title)
	if len(found) == 0 {
		return "", "", false
	}
	return found[0].Keys[0], found[0].Unit, true
}

// Headings is Heading with every key that the heading may as well be meant for, one
// in each target.
func Headings(infos []Info, title string) []Target {
	name, behind := splitHeading(title)
	plain := bareName(name)
	if plain == "" {
		return nil
	}
	for _, fits := range []func(*Info) (string, bool){
		func(in *Info) (string, bool) { return "", in.Key == plain },
		func(in *Info) (string, bool) { return "", in.Stem() == plain },
		func(in *Info) (string, bool) { return in.called(plain) },
		func(in *Info) (string, bool) { return in.currencyAt(plain) },
	} {
		var found []Target
		fitting := false
		for i := range infos {
			if at, ok := fits(&infos[i]); ok {
				fitting = true
				if in, ok := infos[i].headed(at, behind); ok {
					found = append(found, Target{[]string{infos[i].Key}, in})
				}
			}
		}
		if fitting {
			return found
		}
	}
	return nil
}

// called is answersTo for a heading, which may be no more than a unit: the numbers
// below are in that then, as below "poles".
func (in *Info) called(name string) (unit string, ok bool) {
	unit, ok = in.answersTo(name)
	if !ok || unit != "" || in.Kind == nil || !in.Kind.Has(name) {
		return unit, ok
	}
	if own := cmp.Or(in.unitOfKind(), in.Kind.Units[0].Names[0]); in.Kind.Same(name, own) {
		return "", true
	}
	return name, true
}

// bareName is a name as keys are written, without the signs that headings have.
func bareName(name string) string {
	name = strings.NewReplacer("Ø", " ", "ø", " ", "⌀", " ", ".", " ", "#", " ", "№", " ", ":", " ").Replace(name)
	return plainName(strings.Join(strings.Fields(name), " "))
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
