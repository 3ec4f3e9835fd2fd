package catalog

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"

	"gearsearch/catalog/field"
)

// Catalogs are merged by one rule: of a part that several have, the later gives the
// keys that it has, and the others stay. Keys that make sense only together are taken
// together: a price with what it buys and its day, the volts of a pack or its cell. So
// merging is associative: it is the same which two of three are merged first, in what
// is written and in the keys of which it is said that they differ.

// Merged is what several catalogs make together.
type Merged struct {
	Catalog *Catalog // as it reads once it is written
	Text    []byte   // a TOML file
	// Shared is how many parts more than one of the catalogs has, Equal how many of
	// these they have alike.
	Shared, Equal int
	Conflicts     []Conflict // by kind, id and the order of keys
}

// Conflict is a key for which catalogs have different values. The last counts.
type Conflict struct {
	Kind, ID string
	Key      *field.Info
	Told     []Told // in the order of the catalogs, without repeats; the first again where a later does not count
}

// Told is a value of a key and where it stands. A value of nil is one that was left out
// because others came in its place.
type Told struct {
	Value any
	Pos   Position
}

// Merge merges catalogs, each of one file or more, which may refer to one another's
// parts and change them. What is wrong with their content is returned as
// field.Problems.
func Merge(catalogs ...[]Source) (*Merged, error) {
	r := newReader()
	r.merge = &merging{givens: map[*Part]mark{}, first: map[string]idOf{}}
	for _, files := range catalogs {
		for _, f := range files {
			r.file(f)
		}
		r.merge.ends = append(r.merge.ends, len(r.catalog.sources))
	}
	c, err := r.done()
	if err != nil {
		return nil, err
	}
	m := &Merged{}
	w := mergedText{head: head{title: c.Title, currency: c.currency()}, rates: c.Rates}
	for _, k := range registry {
		entries := entriesOf(c, k)
		for len(entries) > 0 {
			n := 1
			for n < len(entries) && entries[n].Part.ID == entries[0].Part.ID {
				n++
			}
			w.add(m.fold(k, r.merge, entries[:n]))
			entries = entries[n:]
		}
	}
	m.Text = w.bytes()
	if m.Catalog, err = Read(Source{Name: "merged.toml", Data: m.Text}); err != nil {
		return nil, w.mergedBadly(err)
	}
	m.Catalog.Files, m.Catalog.Changes, m.Catalog.Rates = c.Files, c.Changes, c.Rates
	return m, nil
}

// merging is what a reader knows that merges.
type merging struct {
	ends   []int // of the catalogs among the files
	now    int   // the catalog being read
	first  map[string]idOf
	givens map[*Part]mark
}

// idOf is where an id stands: the catalog, and the kind of the part.
type idOf struct {
	catalog int
	kind    string
}

// at moves to a file.
func (m *merging) at(file int) {
	for m.now < len(m.ends)-1 && file >= m.ends[m.now] {
		m.now++
	}
}

// refuses reports whether an id may not be given again, as it may by a later catalog to
// a part of the same kind; other is the other kind that has it.
func (m *merging) refuses(id, kind string, twice bool) (no bool, other string) {
	was := m.first[id]
	switch {
	case twice && was.kind != kind:
		return true, was.kind
	case twice && was.catalog == m.now:
		return true, ""
	}
	m.first[id] = idOf{m.now, kind}
	return false, ""
}

// version is a part as one catalog has it.
type version struct {
	values map[string]any
	places map[string]Position
}

// versionOf is a part with the places of its keys.
func versionOf(m *merging, e Entry) version {
	v := version{given(e), map[string]Position{}}
	of := m.givens[e.Part]
	for in := range e.Values() {
		if in.Type == field.TypeFlag && of.given.Has(in.Key) && v.values[in.Key] == nil {
			v.values[in.Key] = false // a flag that is taken back
		}
	}
	marks := Places{e.Part.ID: of}
	for key := range v.values {
		v.places[key] = positionOf(marks.At(e.Part.ID, key))
	}
	return v
}

// foldedPart is a part as it is written.
type foldedPart struct {
	kind   kind
	id     string
	values map[string]any
	at     Position // of its last version
}

// fold makes one part of its versions, and notes the keys for which they differ.
func (m *Merged) fold(k kind, of *merging, entries []Entry) foldedPart {
	last := entries[len(entries)-1].Part
	sum := versionOf(of, entries[0])
	told := map[string][]Told{}
	for key, v := range sum.values {
		told[key] = []Told{{v, sum.places[key]}}
	}
	for _, e := range entries[1:] {
		sum.take(k.info(), versionOf(of, e), told)
	}
	if len(entries) > 1 {
		m.Shared++
		before := len(m.Conflicts)
		m.note(k, last.ID, told)
		if len(m.Conflicts) == before {
			m.Equal++
		}
	}
	return foldedPart{k, last.ID, sum.values, last.Pos}
}

// note adds the conflicts of a part, in the order of its keys.
func (m *Merged) note(k kind, id string, told map[string][]Told) {
	fields := k.info().Fields
	for i := range fields {
		if list := told[fields[i].Key]; len(list) > 1 {
			m.Conflicts = append(m.Conflicts, Conflict{k.info().Name, id, &fields[i], list})
		}
	}
}

// take takes over what a later version has.
func (v *version) take(k KindInfo, later version, told map[string][]Told) {
	drop, whole := map[string]bool{}, map[string]bool{}
	for _, b := range bundles(k) {
		b.settle(v.values, later.values, drop, whole)
	}
	was := v.places["id"]
	for i := range k.Fields {
		key := k.Fields[i].Key
		value, has := later.values[key]
		_, had := v.values[key]
		if drop[key] && has {
			v.refuse(key, was, later, told)
			continue
		}
		if !had && !has {
			continue
		}
		if whole[key] && !had && len(told[key]) == 0 {
			told[key] = []Told{{nil, was}} // it had all that goes together, without this key
		}
		switch list := told[key]; {
		case drop[key]:
			told[key] = append(list, Told{nil, later.places["id"]})
			delete(v.values, key)
		case has:
			if len(list) == 0 || !sameValue(list[len(list)-1].Value, value) {
				told[key] = append(list, Told{value, later.places[key]})
			}
			v.values[key], v.places[key] = value, later.places[key]
		}
	}
}

// refuse notes a key of a later version that does not come, since what it goes with stays
// the earlier's: that one counts again.
func (v *version) refuse(key string, was Position, later version, told map[string][]Told) {
	value, had := v.values[key]
	if had && sameValue(value, later.values[key]) {
		return
	}
	stays := Told{value, v.places[key]}
	if !had {
		stays.Pos = was
	}
	if len(told[key]) == 0 {
		told[key] = []Told{stays}
	}
	told[key] = append(told[key], Told{later.values[key], later.places[key]}, stays)
}

// bundle is keys that make sense only together. One with a lead goes by it: where a
// version has the lead, all are its own; the others stay out of one that has none.
type bundle struct {
	lead string // "": any of the keys
	keys []string
}

// bundles are the bundles of a kind.
func bundles(k KindInfo) []bundle {
	out := []bundle{{"price", []string{"price", "sold_in", "priced", "source"}}}
	var choice []string
	for _, g := range k.Choice {
		choice = append(choice, slices.Concat(g.Keys, g.May)...)
	}
	switch k.Name {
	case "battery":
		choice = append(choice, "chemistry")
	case "bms":
		out = append(out, bundle{keys: []string{"balance", "balance_ma"}})
	}
	if choice != nil {
		out = append(out, bundle{keys: choice})
	}
	return out
}

// settle decides whose keys of a bundle count. In drop are those of the earlier that go
// with it, and those of the later that do not come.
// In whole are those of a bundle that both have.
func (b bundle) settle(earlier, later map[string]any, drop, whole map[string]bool) {
	has := func(of map[string]any) bool {
		if b.lead != "" {
			_, ok := of[b.lead]
			return ok
		}
		return slices.ContainsFunc(b.keys, func(key string) bool { _, ok := of[key]; return ok })
	}
	for _, key := range b.keys {
		_, comes := later[key]
		whole[key] = has(earlier) && has(later)
		switch {
		case has(later):
			drop[key] = !comes
		case has(earlier) && comes:
			drop[key] = true
		}
	}
}

// mergedText writes parts as a TOML file, and knows which line is whose.
type mergedText struct {
	head  head
	rates []Rate // which a catalog that is merged later may need
	parts []foldedPart
	lines []int // the part of each line, −1 for none
}

func (w *mergedText) add(p foldedPart) { w.parts = append(w.parts, p) }

// bytes is the file, as WriteTOML writes catalogs.
func (w *mergedText) bytes() []byte {
	var b bytes.Buffer
	line := func(part int, format string, args ...any) {
		fmt.Fprintf(&b, format+"\n", args...)
		w.lines = append(w.lines, part)
	}
	line(-1, "schema = 1")
	if w.head.title != "" {
		line(-1, "title = %s", field.TOML(w.head.title))
	}
	line(-1, "currency = %s", field.TOML(w.head.currency))
	if len(w.rates) > 0 {
		line(-1, "")
		line(-1, "[%s]", ratesKey)
	}
	for _, r := range w.rates {
		line(-1, "%s = %s", tomlKey(r.Currency), field.TOML(r.Rate))
	}
	for i, p := range w.parts {
		line(i, "")
		line(i, "[[%s]]", p.kind.info().Name)
		for _, in := range p.kind.info().Fields {
			if v := p.values[in.Key]; v != nil {
				line(i, "%s = %s", in.Key, field.TOML(v))
			}
		}
	}
	return b.Bytes()
}

// mergedBadly says what is wrong with parts of which one catalog gives some keys and
// another others, at the last of them.
func (w *mergedText) mergedBadly(err error) error {
	var problems field.Problems
	if !errors.As(err, &problems) {
		return err
	}
	out := slices.Clone(problems)
	for i := range out {
		p := &out[i]
		if p.Line < 1 || p.Line > len(w.lines) || w.lines[p.Line-1] < 0 {
			continue
		}
		of := w.parts[w.lines[p.Line-1]]
		p.File, p.Line, p.Column, p.Source, p.Caret, p.Width = of.at.File, of.at.Line, of.at.Column, "", 0, 0
		p.Message = fmt.Sprintf("%s %s, put together of several: %s", of.kind.info().Name, field.Quote(of.id), p.Message)
		p.Hint = "take it out of one of the catalogs, or give it the same values in both"
	}
	slices.SortStableFunc(out, func(a, b field.Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return out
}
