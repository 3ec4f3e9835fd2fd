package catalog

import (
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// MaxParts is the largest number of parts in one catalog.
const MaxParts = 250_000

// reader gathers the parts of all files of one catalog.
type reader struct {
	report   field.Report
	opened   Opened
	catalog  *Catalog
	ids      map[string]field.Place // where each id is defined
	profiles map[string]*Profile    // built-in ones and the catalog's own
	parts    int
	full     bool
	// unsure is set when something could not be read, so that what seems to be
	// missing may be there.
	unsure  bool
	money   money
	wants   wants
	marks   Places // nil: not wanted
	changes changes
	uses    []*named // the lists that files name
	using   *named   // the one being read; nil: none is
	merge   *merging // nil: an id stands once
}

func newReader() *reader {
	r := &reader{
		catalog:  &Catalog{},
		ids:      map[string]field.Place{},
		profiles: map[string]*Profile{},
	}
	r.catalog.builtIn = builtInProfiles()
	for _, p := range r.catalog.builtIn {
		r.profiles[p.ID] = p
	}
	return r
}

// builtInProfiles are the profiles of the drive package as parts.
func builtInProfiles() []*Profile {
	var out []*Profile
	for _, p := range drive.Profiles() {
		part := blankPart()
		part.ID, part.SoldIn = p.Name, 1
		out = append(out, &Profile{Part: part, Profile: p, BuiltIn: true})
	}
	return out
}

// head is the top level of a TOML file, beside its parts.
type head struct {
	schema          float64
	title, currency string
	use             []string
}

// headFields are the keys of a catalog that are not of its parts.
func headFields() []field.Field[head] {
	return []field.Field[head]{
		{Key: "schema", Required: true, Whole: true, Min: 1, Max: 1, Meaning: "the version of the format: write schema = 1 at the top", Number: func(h *head) *float64 { return &h.schema }},
		{Key: "title", Meaning: "what the catalog is", Text: func(h *head) *string { return &h.title }},
		{Key: "currency", Default: defaultCurrency, Meaning: "of all prices", Text: func(h *head) *string { return &h.currency }},
		useField(),
	}
}

func headTable() *field.Table[head] {
	fields := headFields()
	for _, k := range registry {
		fields = append(fields, field.Field[head]{Key: k.info().Name, Meaning: k.info().Meaning, Sections: true})
	}
	fields = append(fields,
		field.Field[head]{Key: changeKey, Meaning: "a change of a part, or of a family, of this file or one before it", Sections: true},
		field.Field[head]{Key: ratesKey, Meaning: "what one of another currency is in the catalog's", Section: true})
	t := field.NewTable("catalog", fields)
	t.Stray = stray
	return t
}

// sheetHeadTable is the head as CSV has it, in a file of its own.
func sheetHeadTable() *field.Table[head] { return field.NewTable(headName, headFields()[1:]) }

// headName is the name of the CSV file that holds the head.
const headName = "catalog"

// stray says what to do about a key at the top level that the format does not
// have there.
func stray(key string) string {
	switch key {
	case "rider", "board", "ground", "target", "limit", "weights", "keep", "avoid", "build":
		return "this looks like a brief or a build, not a catalog"
	}
	for _, k := range registry {
		for _, f := range k.info().Fields {
			if f.Key == key {
				return "it belongs below a header such as [[" + k.info().Name + "]]"
			}
		}
	}
	return "kinds of parts: " + strings.Join(KindNames(), " ")
}

// toml reads one TOML file.
func (r *reader) toml(src Source) {
	r.catalog.Files = append(r.catalog.Files, src.Name)
	root := field.Parse(src, &r.report, append(KindNames(), changeKey)...).Root()
	if parts, ok := carried(root); ok {
		r.unsure = r.unsure || root.Damaged()
		root = parts
	}
	r.root(src.Name, root)
}

// root reads the top level of a TOML file.
func (r *reader) root(name string, root field.Section) {
	r.unsure = r.unsure || root.Damaged()
	r.head(name, headTable(), root)
	r.tables(root)
	for s := range root.Value(changeKey).Sections() {
		r.change(name, s)
	}
}

// tables reads the parts of a file or of a list.
func (r *reader) tables(root field.Section) {
	for _, k := range registry {
		for s := range root.Value(k.info().Name).Sections() {
			k.read(r, s)
		}
	}
}

// head reads the title and the currency, and the lists that the file uses.
func (r *reader) head(name string, t *field.Table[head], s field.Section) {
	var h head
	given := t.Decode(s, &h, &r.report)
	if r.catalog.Title == "" {
		r.catalog.Title = h.title
	}
	if given.Has("currency") {
		r.setCurrency(name, h.currency, given.Place("currency"))
	}
	if s, ok := given.Value(ratesKey).Section(); ok {
		r.rates(name, s)
	}
	r.use(given.Value(useKey), h.use)
}

// where is a place in words.
func where(at field.Place) string {
	file, line, column := at.Position()
	return field.Position(file, line, column)
}

// csvName is the name of a sheet without folder and ending, in small letters; of one
// in a workbook its own, of which the plural will do.
func csvName(src Source) string {
	if src.Sheet != "" {
		if name, ok := kindWord(strings.TrimSuffix(strings.ToLower(src.Sheet), "s")); ok {
			return name
		}
		name, _ := kindWord(src.Sheet)
		return name
	}
	name := strings.ToLower(baseName(src.Name))
	return strings.TrimSuffix(strings.TrimSuffix(name, ".csv"), ".tsv")
}

// baseName is the name of a file without its folder.
func baseName(path string) string { return path[strings.LastIndexAny(path, `/\`)+1:] }

// noKind reports a sheet that neither its name nor a column says the kind of.
func (r *reader) noKind(src Source, name string) {
	r.unsure = true
	if src.Sheet != "" {
		r.report.Add(r.report.Start(src.Name), field.UnknownKind, "add a column "+KindColumn+", name the sheet after the kind of its parts, or hide it to leave it out", "sheet %s has no column %s, and its name is no kind of parts", field.Quote(src.Sheet), KindColumn)
		return
	}
	names := append(KindNames(), headName)
	hint := "a CSV file has a column " + KindColumn + ", or is named after the kind of its parts: " + strings.Join(names, ".csv, ") + ".csv with title and currency; gearsearch catalog import reads other headings"
	if near, ok := field.Nearest(name, slices.Values(names)); ok {
		hint = "did you mean " + near + ".csv?"
	}
	r.report.Add(r.report.Start(src.Name), field.UnknownKind, hint, "%s is no kind of parts", field.Quote(baseName(src.Name)))
}

// sheetHead reads the one row of the head.
func (r *reader) sheetHead(sheetName string, sheet *field.Sheet) {
	t := sheetHeadTable()
	t.DecodeHeader(sheet, &r.report)
	rows := 0
	for s := range sheet.Rows() {
		if rows++; rows > 1 {
			r.report.Add(s.Place(), field.GivenTwice, "", "a catalog has one title and one currency: one row is enough")
			break
		}
		r.head(sheetName, t, s)
	}
}

// room reports whether n more parts may be read, and says so once if not.
func (r *reader) room(s field.Section, n int) bool {
	if r.full {
		return false
	}
	if r.parts+n > MaxParts {
		r.full, r.unsure = true, true
		r.report.Add(s.Place(), field.TooLarge, "", "more than %d parts: the rest is not read", MaxParts)
		return false
	}
	r.parts += n
	return true
}

// newIDs prepares to note the ids of the parts of one section.
func (r *reader) newIDs(kind string, g *field.Given, listed, sound bool) idAdder {
	a := idAdder{reader: r, kind: kind, at: g.Place("id"), sound: sound}
	if r.using != nil {
		a.at = r.using.at
	} else if listed {
		for item := range g.Value("id").Items() {
			a.items = append(a.items, item.Place())
		}
	}
	return a
}

// idAdder notes the ids of the parts of one section.
type idAdder struct {
	*reader
	kind   string
	at     field.Place
	items  []field.Place // where ids are a list
	sound  bool          // the section had no problem
	silent bool          // a duplicate was reported already
}

// add notes the id of part i and where it is defined.
func (a *idAdder) add(part *Part, i int) {
	at := a.at
	if i < len(a.items) {
		at = a.items[i]
	}
	part.Pos.File, part.Pos.Line, part.Pos.Column = at.Position()
	if part.ID == "" {
		a.unsure = true
		return
	}
	first, twice := a.ids[part.ID]
	other := ""
	if a.merge != nil {
		if twice, other = a.merge.refuses(part.ID, a.kind, twice); !twice {
			a.ids[part.ID] = at
			return
		}
	}
	if !twice {
		a.ids[part.ID] = at
		return
	}
	if a.sound && !a.silent {
		a.silent = a.items == nil
		if first == at {
			a.report.Add(at, field.DuplicateID, "", "id %s is given twice by this table", field.Quote(part.ID))
			return
		}
		hint := ""
		list := a.listAt(positionOf(first))
		switch file, _, _ := first.Position(); {
		case list != nil && other == "":
			hint = "it is a part of the list " + list.list + ": write [[change]] with its kind and id to change it, or give yours another id"
		case other != "":
			hint = "that is a " + strings.ReplaceAll(other, "_", " ") + ": give one of them another id"
		case file != part.Pos.File:
			hint = "write [[change]] with its kind and id to change it, or take one of them out"
		}
		a.report.Add(at, field.DuplicateID, hint, "id %s is given twice, first at %s", field.Quote(part.ID), where(first))
	}
}

// done resolves references and returns the catalog, or all that is wrong.
func (r *reader) done() (*Catalog, error) {
	r.readAll()
	r.resolve()
	r.convert()
	if err := r.report.Err(); err != nil {
		return nil, err
	}
	if r.catalog.Currency == "" {
		r.catalog.Currency = defaultCurrency
	}
	for _, k := range registry {
		k.sort(r.catalog)
	}
	r.catalog.markCopies()
	return r.catalog, nil
}
