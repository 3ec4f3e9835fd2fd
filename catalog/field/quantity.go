package field

import (
	"fmt"
	"regexp"
	"strings"

	"gearsearch/catalog/unit"
)

// A number of a document stands in the unit of its key. Where that unit is one
// of a kind, the number may stand with another of them in a text: "25mph". What
// is in quotes without a unit is refused, since nobody can tell whether the key
// was looked at; and so is a unit of something else. Numbers are never taken out
// of a text, nor a reader told to: the number without its unit is another one.

// amount reads a number for the field, in the key's unit, and the currency that
// was written beside it, "" for none. It reports what is wrong; ok is false then.
func (in *Info) amount(v Value, r *Report) (x float64, currency string, ok bool) {
	switch v.Kind() {
	case KindInteger, KindFloat:
		n := v.tree.at(v.n)
		x, err := parseNumber(v.tree.text.data[n.start:n.end], n.kind)
		if err != nil {
			return 0, "", false // reported when the document was parsed
		}
		return x, "", in.inRange(x, v, r)
	case KindCell:
		s := strings.TrimSpace(v.String())
		plain := ungrouped(s)
		if plain == s {
			if plain, ok = in.plainNumber(s, v, r); !ok {
				return 0, "", false
			}
			if v.tree.localised && unitComma.MatchString(s) {
				plain = strings.Replace(s, ",", ".", 1)
			}
		}
		return in.written(plain, Quote(s), "", v, r)
	case KindText:
		s := v.String()
		return in.written(s, "the text "+Quote(s), " without quotes", v, r)
	}
	hint := ""
	if v.Kind() == KindDate && in.Kind != nil && in.Kind.Quotient { // 15:36 is a time of day
		hint = "two numbers with a colon stand in quotes: write " + Quote(v.String())
	}
	r.Add(v.Place(), WrongType, hint, "%s is %s, must be a number", in.Key, v.shownOrNoun())
	return 0, "", false
}

// written reads a number of a text or a cell; shown is how a message shows it,
// and quotes says of a text that a bare number stands without them.
func (in *Info) written(s, shown, quotes string, v Value, r *Report) (x float64, currency string, ok bool) {
	a, p := in.parse(s, quotes)
	switch {
	case p != nil:
		r.Add(v.Place(), p.Code, p.Hint, "%s is %s%s", in.Key, shown, p.Message)
		return 0, "", false
	case a.Bare && quotes == "":
		return a.Value, "", in.inRange(a.Value, v, r)
	case a.Bare && in.Kind != nil && (in.Unit != "" || in.Kind.Money || in.Kind.Quotient):
		r.Add(v.Place(), WrongType, in.bareHint(s), "%s is %s, without a unit", in.Key, shown)
		return 0, "", false
	case a.Bare:
		if wrong, hint := in.fault(a.Value); wrong != "" { // without quotes too
			r.Add(v.Place(), OutOfRange, hint, "%s is %s, %s", in.Key, shown, wrong)
			return 0, "", false
		}
		r.Add(v.Place(), WrongType, numberHint(s, quotes), "%s is %s, must be a number", in.Key, shown)
		return 0, "", false
	}
	if wrong, _ := in.fault(a.Value); wrong != "" {
		r.Add(v.Place(), OutOfRange, "", "%s is %s%s, %s", in.Key, shown, in.converted(a), wrong)
		return 0, "", false
	}
	if in.Kind.Money {
		currency = a.Unit
	}
	return a.Value, currency, true
}

// parse reads a number with a unit, or a bare one. What is wrong stands in the
// problem: its message goes on after the text in quotes.
func (in *Info) parse(s, quotes string) (a unit.Amount, wrong *Problem) {
	s = strings.TrimSpace(s)
	if wholeRange.MatchString(s) {
		return a, &Problem{Code: WrongType, Message: ", must be one number", Hint: "a range stands alone, at a key of a part of a catalog"}
	}
	kind := in.Kind
	if kind == nil {
		kind = &unit.Kind{Name: "a number"}
	}
	a, fault := kind.Read(s, in.unitOfKind())
	switch fault {
	case unit.OK:
		return a, nil
	case unit.NoUnit:
		return a, nil
	case unit.TooLarge:
		return a, &Problem{Code: OutOfRange, Message: ": " + errTooLarge.Error()}
	case unit.OutOfRange:
		return a, &Problem{Code: OutOfRange, Message: ", no possible " + noun(kind)}
	case unit.NotOfKind:
		if in.Kind == nil {
			return a, &Problem{Code: WrongType, Message: ", must be a number: the key has no unit"}
		}
		return a, &Problem{Code: WrongType, Message: ": " + Quote(a.Unit) + " is no unit of " + noun(kind), Hint: kind.Known()}
	}
	hint := numberHint(s, quotes)
	switch {
	case hint != "":
	case fault == unit.Comma && unitComma.MatchString(s):
		hint = "write " + strings.Replace(s, ",", ".", 1) + ", with a decimal point"
	case fault == unit.Thousands:
		hint = "write it without separators of thousands"
	}
	return a, &Problem{Code: WrongType, Message: ", must be a number", Hint: hint}
}

var unitComma = regexp.MustCompile(`^[+-]?[0-9]+,[0-9]+[^0-9,.]*$`)

// noun is the name of a kind without its article.
func noun(k *unit.Kind) string {
	_, name, _ := strings.Cut(k.Name, " ")
	return name
}

// unitOfKind is the key's unit as its kind knows it; "" for the kind's own.
func (in *Info) unitOfKind() string {
	switch {
	case in.Kind == nil || in.Unit == "":
		return ""
	case in.Kind.Has(in.Unit):
		return in.Unit
	}
	return ""
}

// ReadNumber reads a number for the key from a text that is no part of a
// document, with a unit or bare: then in the key's unit. What is wrong is "" or
// goes on after the text in quotes. The currency of an amount of money is left
// to the caller.
func (in *Info) ReadNumber(s string) (x float64, currency, wrong, hint string) {
	a, p := in.parse(s, "")
	switch {
	case p != nil:
		return 0, "", p.Message, p.Hint
	case in.Kind != nil && in.Kind.Money:
		currency = a.Unit
	}
	return a.Value, currency, "", ""
}

// bareHint says what to write in place of a number that stands in quotes.
func (in *Info) bareHint(s string) string {
	s = strings.TrimSpace(s)
	switch {
	case in.Unit != "":
		return fmt.Sprintf("write %s without quotes, which is in %s, or put the unit behind it; %s", s, in.Unit, in.Kind.Known())
	case in.Kind.Quotient:
		return "write " + s + ` without quotes, or "` + s + `:1"`
	}
	return "write " + s + " without quotes, or put the unit behind it; " + in.Kind.Known()
}

// converted is an amount in the key's unit, as a message has it behind the text.
func (in *Info) converted(a unit.Amount) string {
	if in.Unit == "" || in.Kind.Same(a.Unit, in.Unit) {
		return ""
	}
	return ", " + FormatNumber(a.Value) + " " + in.Unit
}

// bareQuantity is a number with a unit that stands without quotes, so that the
// document could not be read there.
type bareQuantity struct {
	section int32 // that it stands in
	key     string
	text    string
	found   int // its problem in the report
}

// refine makes the hints of numbers with units that stand without quotes in a
// section those of their keys.
func (t *core) refine(s Section, r *Report) {
	if s.tree == nil {
		return
	}
	for _, q := range s.tree.bare {
		i, known := t.index[q.key]
		if q.section != s.n || !known || q.found >= len(r.found) || r.found[q.found].at.text != s.tree.text {
			continue
		}
		in := &t.infos[i]
		if _, p := in.parse(q.text, ""); p != nil && in.Numeric() {
			f := &r.found[q.found]
			f.message, f.hint = visible(in.Key+" is "+q.text+p.Message), visible(p.Hint)
		}
	}
}
