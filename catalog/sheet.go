package catalog

import (
	"maps"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// KindColumn is the heading of the column that says of each row of a sheet what kind
// of part it is. Its sheet may have any name, and rows of all kinds.
const KindColumn = "kind"

// isSheet reports a file of rows and columns.
func isSheet(src Source) bool {
	name := strings.ToLower(src.Name)
	return src.Sheet != "" || strings.HasSuffix(name, ".csv") || strings.HasSuffix(name, ".tsv")
}

// IsWorkbook reports whether a name is that of a workbook, which WithSheets takes
// apart.
func IsWorkbook(name string) bool { return strings.HasSuffix(strings.ToLower(name), ".xlsx") }

// changeHint says where changes stand. In a sheet the column of kinds is that of the
// rows, and an empty cell takes nothing away.
const changeHint = "write [[change]] into a TOML file, and name that file behind this catalog"

// csv reads one sheet: of the kind that its name says or that it remembers, of the
// kinds that its rows say, or with the head.
func (r *reader) csv(src Source) {
	if !slices.Contains(r.catalog.Files, src.Name) || src.Sheet == "" {
		r.catalog.Files = append(r.catalog.Files, src.Name)
	}
	r.sheet(src, nil)
}

// sheet reads a sheet as it says, or as its headings were matched.
func (r *reader) sheet(src Source, as *field.Reading) {
	name := csvName(src)
	if name == changeKey {
		r.unsure = true
		r.report.Add(r.report.Start(src.Name), field.UnknownKind, changeHint, "a sheet has no changes, and %s is named after them", field.Quote(baseName(src.Name)))
		return
	}
	k, ok := kindNamed(name)
	s := sheetReader{reader: r, name: src.Name, sheet: field.ParseSheet(src, as, &r.report)}
	header := s.sheet.Header()
	r.unsure = r.unsure || header.Damaged()
	memory, remembers := s.sheet.Remembered()
	s.memory = memory
	if remembers && memory.Kind != "" {
		if k, ok = kindNamed(memory.Kind); !ok {
			r.strangeKind(header.Place(), memory.Kind)
			return
		}
	}
	switch {
	case header.Damaged() && !ok && name != headName:
	case s.mixed():
		s.read(nil)
	case ok && remembers:
		s.read(k)
	case ok:
		k.header(r, s.sheet)
		for row := range s.sheet.Rows() {
			k.read(r, row)
		}
	case name == headName:
		r.sheetHead(src.Name, s.sheet)
	default:
		r.noKind(src, name)
	}
}

// sheetReader reads the rows of a sheet whose headings need not be keys.
type sheetReader struct {
	*reader
	name   string // of the file
	sheet  *field.Sheet
	memory field.Remembered
}

// target is what a heading is taken for; ok is false where nothing tells.
func (s *sheetReader) target(heading string) (t field.Target, ok bool) {
	name := field.HeadingName(heading)
	if t, ok = s.memory.Keys[name]; ok {
		return t, true
	}
	if isKey(name) {
		return field.Target{Keys: []string{name}}, true
	}
	return field.Target{}, false
}

// isKey reports whether a heading is the column of kinds or a key of a kind, as it
// stands.
func isKey(name string) bool {
	if name == KindColumn || name == "currency" || name == "title" || name == useKey {
		return true
	}
	return slices.ContainsFunc(registry, func(k kind) bool { return k.field(name) != nil })
}

// mixed reports whether a column says the kinds of the rows.
func (s *sheetReader) mixed() bool { return s.has(KindColumn) }

// has reports whether a column is for a key.
func (s *sheetReader) has(key string) bool {
	for e := range s.sheet.Header().Entries() {
		if t, ok := s.target(e.Key()); ok && slices.Contains(t.Keys, key) {
			return true
		}
	}
	return false
}

// read reads the rows, all of one kind, or of those that they say. Where no column has
// ids they are made of the names.
func (s *sheetReader) read(k kind) {
	if !s.headings(k) {
		s.unsure = true
		return
	}
	heads, named := 0, !s.has("id")
	for row := range s.sheet.Rows() {
		of, name := k, ""
		if k == nil {
			if name = s.kindOf(row); name == "" {
				s.unsure = true
				continue
			}
			of, _ = kindNamed(name)
		}
		if of == nil { // the row of the title and the currency
			if heads++; heads > 1 {
				s.report.Add(row.Place(), field.GivenTwice, "", "a catalog has one title and one currency: one row is enough")
				continue
			}
			t := sheetHeadTable()
			s.rename(row, headName, func(key string) bool { _, ok := t.Info(key); return ok })
			s.head(s.name, t, row)
			continue
		}
		s.rename(row, of.info().Name, func(key string) bool { return of.field(key) != nil })
		if named {
			row.Derive("id", "name", slug)
		}
		of.read(s.reader, row)
	}
}

// headings reports the headings that are taken for nothing, and the keys that there
// are not.
func (s *sheetReader) headings(k kind) bool {
	before := s.report.Len()
	for e := range s.sheet.Header().Entries() {
		t, ok := s.target(e.Key())
		if !ok {
			s.strangeHeading(e, k)
			continue
		}
		for _, key := range t.Keys {
			if !isKey(key) {
				hint := ""
				if near, ok := field.Nearest(key, slices.Values(allKeys())); ok {
					hint = "did you mean " + near + "?"
				}
				s.report.Add(e.At, field.UnknownKey, hint, "column %s is taken for %s, which is no key", field.Quote(e.Key()), field.Quote(key))
			}
		}
	}
	return s.report.Len() == before
}

// strangeHeading reports a heading that is no key, with what it may be meant for.
func (s *sheetReader) strangeHeading(e field.Entry, k kind) {
	heading := field.HeadingName(e.Key())
	hint := "gearsearch catalog import says what it may be, and remembers it"
	if s.report.Hinting() {
		if near := nearestKeys(heading, k); len(near) > 0 {
			hint = "it may be " + strings.Join(near, " or ") + ": " + hint
		}
	}
	s.report.Add(e.At, field.UnknownKey, hint, "column %s is no key", field.Quote(heading))
}

// nearestKeys are the keys that a heading may be meant for: of a kind, or of all.
func nearestKeys(heading string, only kind) []string {
	var out []string
	for _, k := range registry {
		if only != nil && k.info().Name != only.info().Name {
			continue
		}
		for _, t := range field.Headings(k.info().Fields, heading) {
			if !slices.Contains(out, t.Keys[0]) {
				out = append(out, t.Keys[0])
			}
		}
	}
	if len(out) > 0 {
		return out
	}
	stems := map[string][]string{}
	for _, k := range registry {
		for i := range k.info().Fields {
			in := &k.info().Fields[i]
			for _, name := range append([]string{in.Key, in.Stem()}, in.Also...) {
				if !slices.Contains(stems[name], in.Key) {
					stems[name] = append(stems[name], in.Key)
				}
			}
		}
	}
	if near, ok := field.Nearest(strings.ReplaceAll(strings.ToLower(heading), " ", "_"), slices.Values(slices.Sorted(maps.Keys(stems)))); ok {
		out = stems[near]
	}
	return out
}

// allKeys are the keys of all kinds, each once, and the column of kinds.
func allKeys() []string {
	out := []string{KindColumn}
	for _, k := range registry {
		for _, in := range k.info().Fields {
			if !slices.Contains(out, in.Key) {
				out = append(out, in.Key)
			}
		}
	}
	return out
}

// kindOf is the kind that a row says, "" where it says none.
func (s *sheetReader) kindOf(row field.Section) string {
	for e := range row.Entries() {
		if t, _ := s.target(e.Key()); !slices.Contains(t.Keys, KindColumn) {
			continue
		}
		name, ok := kindWord(e.Value.String())
		if !ok {
			s.strangeKind(e.Value.Place(), strings.TrimSpace(e.Value.String()))
		}
		return name
	}
	s.report.Add(row.Place(), field.Missing, "write one of "+strings.Join(KindNames(), ", "), "the row says no kind of part")
	return ""
}

// kindWord is the kind that a cell names, small letters or not, with spaces or
// dashes between words; the head counts as one.
func kindWord(text string) (name string, ok bool) {
	name = strings.NewReplacer(" ", "_", "-", "_").Replace(strings.ToLower(strings.TrimSpace(text)))
	if _, ok := kindNamed(name); ok || name == headName {
		return name, true
	}
	return "", false
}

// strangeKind reports a kind of parts that there is not.
func (r *reader) strangeKind(at field.Place, name string) {
	hint := "the kinds are " + strings.Join(KindNames(), ", ")
	if near, ok := likelyKind(name); ok {
		hint = "did you mean " + near + "?"
	}
	if strings.ToLower(name) == changeKey {
		hint = changeHint
	}
	r.report.Add(at, field.UnknownKind, hint, "%s is no kind of parts", field.Quote(name))
}

// otherKinds are what people call kinds of parts, with the kind.
func otherKinds() map[string]string {
	return map[string]string{
		"esc": "controller", "vesc": "controller", "pack": "battery", "accumulator": "battery", "tyre": "wheel", "tire": "wheel",
		"gear": "gear_drive", "gearbox": "gear_drive", "hub_motor": "gear_drive", "plug": "connector", "cable": "wire", "enclosure": "box", "case": "box", "breaker": "fuse",
	}
}

// likelyKind is the kind that a word is most likely meant for.
func likelyKind(word string) (name string, ok bool) {
	word = strings.NewReplacer(" ", "_", "-", "_").Replace(strings.ToLower(word))
	for _, w := range []string{word, strings.TrimSuffix(word, "s")} {
		if name, ok = otherKinds()[w]; ok {
			return name, true
		}
		if _, ok := kindNamed(w); ok {
			return w, true
		}
	}
	return field.Nearest(word, slices.Values(KindNames()))
}

// rename puts the keys in the place of a row's headings, those that the kind has.
func (s *sheetReader) rename(row field.Section, kindName string, has func(key string) bool) {
	taken := map[string]bool{}
	row.Rename(func(heading string, v field.Value) (key, unit string) {
		t, _ := s.target(heading)
		if len(t.Keys) == 0 || t.Keys[0] == KindColumn {
			return "", ""
		}
		i := slices.IndexFunc(t.Keys, has)
		switch {
		case i < 0:
			s.report.Add(v.Place(), field.UnknownKey, "leave the cell empty", "a %s has no key %s", kindName, strings.Join(t.Keys, " or "))
			return "", ""
		case taken[t.Keys[i]]:
			s.report.Add(v.Place(), field.GivenTwice, "leave one of the columns out", "key %s has two cells in this row", t.Keys[i])
			return "", ""
		}
		taken[t.Keys[i]] = true
		return t.Keys[i], t.Unit
	})
}
