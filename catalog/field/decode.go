package field

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gearsearch/catalog/unit"
)

// Given tells which keys a section gave, and where.
type Given struct {
	section Section
	infos   []Info
	values  []int32 // by field, 0: absent
	later   []Value // by field, in place of values where several sections gave the keys; nil: one did
}

// Has reports whether the section gives the key, be its value right or wrong.
func (g Given) Has(key string) bool { return g.Value(key).Kind() != KindAbsent }

// Value is the value of the key as written, the zero Value where absent.
func (g Given) Value(key string) Value {
	for i := range g.infos {
		switch {
		case g.infos[i].Key != key:
		case g.later != nil:
			return g.later[i]
		case g.values[i] != 0:
			return Value{g.section.tree, g.values[i]}
		}
	}
	return Value{}
}

// Info is the field of that key, nil if the table has none.
func (g Given) Info(key string) *Info {
	for i := range g.infos {
		if g.infos[i].Key == key {
			return &g.infos[i]
		}
	}
	return nil
}

// Place is where the value of the key stands; the section's place where the
// key is absent.
func (g Given) Place(key string) Place {
	if v := g.Value(key); v.Kind() != KindAbsent {
		return v.Place()
	}
	return g.section.Place()
}

// Section is the section that was read.
func (g Given) Section() Section { return g.section }

// decode reads a section. In a family, lists of numbers and of ids, and ranges, are
// left to the caller, to be shared out among the members; sound is false where one of
// the ranges could not be read.
func (t *core) decode(s Section, into *box, r *Report, family bool) (g Given, spreads []spread, sound bool) {
	g, sound = Given{section: s, infos: t.infos, values: make([]int32, len(t.fields))}, true
	for e := range s.Entries() {
		i, known := t.index[string(e.key)]
		if !known {
			t.unknown(e, s, r)
			continue
		}
		g.values[i] = e.Value.n
		if family {
			sp, several, good := t.spreadOf(i, e.Value, r)
			if several {
				spreads = append(spreads, sp)
			}
			if sound = sound && good; several || !good {
				continue
			}
		}
		t.fields[i].set(&t.infos[i], e.Value, into, r)
	}
	if !s.Damaged() {
		t.missing(g, r)
	}
	t.refine(s, r)
	return g, spreads, sound
}

// set reads one value into its field.
func (f *Field[T]) set(in *Info, v Value, into *T, r *Report) {
	switch {
	case f.Number != nil && f.Text != nil:
		f.setNumberOrWord(in, v, into, r)
	case f.Number != nil:
		if x, currency, ok := in.amount(v, r); ok {
			*f.Number(into) = f.toSI(x)
			if f.Currency != nil {
				*f.Currency(into) = currency
			}
		}
	case f.Count != nil:
		if x, ok := in.number(v, r); ok {
			*f.Count(into) = int(x)
		}
	case f.Text != nil:
		if s, ok := in.text(v, r); ok {
			*f.Text(into) = s
		}
	case f.Set != nil:
		if s, ok := in.text(v, r); ok {
			f.Set(into, s)
		}
	case f.Flag != nil:
		if b, ok := in.flag(v, r); ok {
			*f.Flag(into) = &b
		}
	case f.Bool != nil:
		if b, ok := in.flag(v, r); ok {
			*f.Bool(into) = b
		}
	case f.Texts != nil:
		if list, ok := in.texts(v, r); ok {
			*f.Texts(into) = list
		}
	case f.Numbers != nil:
		if list, ok := in.numbers(v, f.toSI, r); ok {
			*f.Numbers(into) = list
		}
	case f.Section:
		in.section(v, r)
	case f.Sections:
		in.sections(v, r)
	}
}

// section holds a value to being one table.
func (in *Info) section(v Value, r *Report) {
	switch v.Kind() {
	case KindSection:
	case KindList:
		r.Add(v.Place(), WrongType, "write ["+in.Key+"]", "%s is a list of tables, must be one table", in.Key)
	default:
		r.Add(v.Place(), WrongType, "write ["+in.Key+"]", "%s is %s, must be a table", in.Key, v.shown())
	}
}

// sections holds a value to being a list of tables.
func (in *Info) sections(v Value, r *Report) {
	hint := "write [[" + in.Key + "]], once for each"
	switch v.Kind() {
	case KindList:
		for item := range v.Items() {
			if item.Kind() != KindSection {
				r.Add(item.Place(), WrongType, hint, "%s has %s in its list, must have tables only", in.Key, item.Kind().noun())
			}
		}
	case KindSection:
		r.Add(v.Place(), WrongType, hint, "%s is one table, must be a list of tables", in.Key)
	default:
		r.Add(v.Place(), WrongType, hint, "%s is %s, must be a list of tables", in.Key, v.shown())
	}
}

// setNumberOrWord reads a number, which empties the word, or a word, which
// makes the number NaN.
func (f *Field[T]) setNumberOrWord(in *Info, v Value, into *T, r *Report) {
	s := v.String()
	if k := v.Kind(); k == KindText || k == KindCell {
		if slices.Contains(in.Words, s) {
			*f.Text(into), *f.Number(into) = s, math.NaN()
			return
		}
		if !beginsWithNumber(s) {
			r.Add(v.Place(), WrongType, in.wordHint(s), "%s is %s, must be %s or a number, %s", in.Key, Quote(s), wordList(in.Words), in.Range())
			return
		}
	}
	if x, ok := in.number(v, r); ok {
		*f.Text(into), *f.Number(into) = "", f.toSI(x)
	}
}

// beginsWithNumber reports whether a text is a number, with a unit or without,
// rather than a word.
func beginsWithNumber(s string) bool {
	_, _, fault := unit.Split(s)
	return fault != unit.NoNumber || withComma.MatchString(s) || decimalComma.MatchString(s)
}

// texts reads one text or a list of them.
func (in *Info) texts(v Value, r *Report) (list []string, ok bool) {
	ok = true
	for item := range v.items() {
		if in.Verbatim {
			s, good := in.text(item, r)
			list, ok = append(list, s), ok && good
			continue
		}
		if in.joined(item, r) {
			list, ok = append(list, ""), false
			continue
		}
		s, good := in.text(item, r)
		s = strings.TrimSpace(s) // as in a cell, where blanks may stand around the separators
		if good && strings.Contains(s, ListSeparator) {
			r.Add(item.Place(), WrongText, "", "%s has %s in it, which separates the items of a list in CSV", in.Key, ListSeparator)
			good = false
		}
		if good && in.Once && slices.Contains(list, s) {
			r.Add(item.Place(), GivenTwice, "", "%s names %s twice", in.Key, Quote(s))
			good = false
		}
		list, ok = append(list, s), ok && good
	}
	if in.Filled && len(list) == 0 {
		r.Add(v.Place(), WrongText, "leave the key out where there is none", "%s is an empty list", in.Key)
		return nil, false
	}
	return list, ok
}

// joined reports an item that is several with the wrong separator between them:
// no item of a list has a comma or a semicolon in it.
func (in *Info) joined(v Value, r *Report) bool {
	if k := v.Kind(); k != KindText && k != KindCell {
		return false
	}
	s := v.String()
	at := strings.IndexAny(s, ",;")
	if at < 0 {
		return false
	}
	names := strings.FieldsFunc(s, func(c rune) bool { return c == ',' || c == ';' })
	for i := range names {
		names[i] = strings.TrimSpace(names[i])
	}
	hint := ""
	switch {
	case len(names) < 2:
	case v.Kind() == KindText:
		hint = `write a list as ["` + strings.Join(names, `", "`) + `"]`
	default:
		hint = "write a list as " + strings.Join(names, v.tree.separator)
	}
	r.Add(v.Place(), WrongText, hint, "%s is %s: there is a %q in it", in.Key, Quote(s), s[at:at+1])
	return true
}

// numbers reads one number or a list of them, in SI units.
func (in *Info) numbers(v Value, toSI func(float64) float64, r *Report) (list []float64, ok bool) {
	ok = true
	for item := range v.items() {
		x, good := in.number(item, r)
		if good && in.Once && slices.Contains(list, toSI(x)) {
			r.Add(item.Place(), GivenTwice, "", "%s has %s twice", in.Key, item.shown())
			good = false
		}
		list, ok = append(list, toSI(x)), ok && good
	}
	if in.Filled && len(list) == 0 {
		r.Add(v.Place(), WrongText, "", "%s is an empty list", in.Key)
		return nil, false
	}
	return list, ok
}

// unknown reports a key that the table does not have.
func (t *core) unknown(e Entry, s Section, r *Report) {
	if s.tree.header != 0 && s.n != s.tree.header {
		return // reported at the column's header
	}
	key, hint := e.Key(), ""
	if r.Hinting() {
		hint = t.keyHint(key)
	}
	what := "key"
	if e.Value.isTables() {
		what = "table"
	}
	r.Add(e.At, UnknownKey, hint, "unknown %s %s in %s", what, Quote(key), t.Name)
}

// missing reports the required keys that are absent, but for those that the hint of an
// unknown key asks for.
func (t *core) missing(g Given, r *Report) {
	for i := range t.infos {
		in := &t.infos[i]
		if !in.Required || g.values[i] != 0 || r.Hinting() && t.misspelt(g.section, in.Key) {
			continue
		}
		what := in.Key
		if tree := g.section.tree; tree != nil && tree.header != 0 {
			if g.section.n == tree.header {
				what = "column " + in.Key
			} else if !tree.renamed && tree.find(tree.header, []byte(in.Key)) == 0 {
				continue // reported at the header row
			}
		}
		hint := in.Meaning
		if hint != "" && in.Unit != "" {
			hint += ", in " + in.Unit
		}
		r.Add(g.section.Place(), Missing, hint, "%s has no %s", t.label(g), what)
	}
}

// misspelt reports whether an unknown key of a section is meant for a key, as its hint
// says.
func (t *core) misspelt(s Section, key string) bool {
	for e := range s.Entries() {
		if _, known := t.index[string(e.key)]; known || e.Value.isTables() {
			continue
		}
		if t.hinted(e.Key()) == key {
			return true
		}
	}
	return false
}

// label names a section in a message: its kind, and its id where it has one.
func (t *core) label(g Given) string {
	if tree := g.section.tree; tree != nil && g.section.n == tree.header {
		return t.Name
	}
	if v := g.Value("id"); v.Kind() == KindText || v.Kind() == KindCell {
		return fmt.Sprintf("%s %s", t.Name, Quote(v.String()))
	}
	return t.Name
}
