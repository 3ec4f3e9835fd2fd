package catalog

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// Plan is what the headings of a sheet are taken for.
type Plan struct {
	Source  Source // in UTF-8
	Kind    string // of all rows; "" where a column says it
	Columns []Planned
	Changed bool // the file was not in UTF-8

	reading field.Reading
	head    int // where the headings begin in the file
}

// Planned is a column of a sheet with a heading.
type Planned struct {
	Title  string
	Place  string // its letters
	Target field.Target
	By     PlannedBy
	Cells  int      // that are not empty
	May    []string // keys that it may be meant for, where By is Unsure or Strange

	at field.Place
}

// PlannedBy is how a column got its key.
type PlannedBy uint8

// How a column got its key. Those from Unsure on have none.
const (
	ByKey    PlannedBy = iota // its heading is the key
	ByMemory                  // the file remembers it
	ByTold                    // it was told
	ByWords                   // its heading is what people call the key
	ByNobody                  // it is empty, and left out
	Unsure                    // its heading may be meant for several, or for the key of another column
	Strange                   // its heading is meant for none
)

// PlanSheet matches the headings of a sheet to keys: first as told, by heading, then as
// the file remembers them, then by their words. kindName is the kind of all rows, ""
// where the file tells. The error is what is wrong with the file, or with what is told.
func PlanSheet(src Source, kindName string, told map[string]field.Target) (*Plan, error) {
	p := planner{reader: newReader(), told: told, plan: &Plan{Kind: kindName}}
	data := asUTF8(src.Data)
	p.plan.Changed = len(src.Data) > 0 && (len(data) == 0 || !bytes.HasSuffix(src.Data, data))
	if !p.plan.Changed {
		data = src.Data // with its byte order mark
	}
	p.plan.Source = Source{Name: src.Name, Data: data, Sheet: src.Sheet}
	p.begin()
	if p.sheet.Header().Damaged() {
		return nil, p.report.Err()
	}
	p.columns()
	p.kinds()
	p.cells()
	for i := range p.plan.Columns {
		p.match(i)
	}
	p.conflicts()
	p.unheard()
	return p.plan, p.report.Err()
}

// planner makes a plan.
type planner struct {
	*reader
	plan  *Plan
	told  map[string]field.Target
	sheet *field.Sheet
	used  []map[string]bool // kinds that have something in a column
}

// begin finds the headings and reads the sheet below them.
func (p *planner) begin() {
	data := p.plan.Source.Data
	var before field.Report
	memory, _ := field.ParseSheet(p.plan.Source, nil, &before).Remembered()
	if p.plan.Kind == "" {
		p.plan.Kind = memory.Kind
	}
	g, _ := ReadGrid(data)
	p.plan.reading = field.Reading{Comma: field.SheetComma(data), Above: headingsAt(g), Remembered: memory}
	p.sheet = field.ParseSheet(p.plan.Source, &p.plan.reading, &p.report)
	p.plan.head, _ = p.sheet.Header().Place().Span()
}

// headingsAt is how many rows stand above the headings: those that end with the row
// that remembers, or those before the row with most headings that mean something.
func headingsAt(g Grid) int {
	at, best := 0, 0
	for i, row := range g[:min(len(g), headRows)] {
		if field.IsMemory(row) {
			return i + 1
		}
		if n := meaningful(row); n > best {
			at, best = i, n
		}
	}
	return at
}

// meaningful is how many cells of a row are headings of some kind; 0 where one is a
// number.
func meaningful(row []string) int {
	n := 0
	for _, cell := range row {
		heading := field.HeadingName(cell)
		switch {
		case field.IsNumber(strings.Replace(heading, ",", ".", 1)):
			return 0
		case heading == "":
		case isKey(heading), kindHeading(heading), slices.ContainsFunc(registry, func(k kind) bool { return len(field.Headings(k.info().Fields, heading)) > 0 }):
			n++
		}
	}
	return n
}

// kindHeading reports whether people call the column of kinds so.
func kindHeading(heading string) bool {
	switch strings.ToLower(heading) {
	case KindColumn, "type", "part", "part type", "part kind", "kind of part", "category", "component":
		return true
	}
	return false
}

// columns notes the headings and what is settled of them.
func (p *planner) columns() {
	for e := range p.sheet.Header().Entries() {
		c := Planned{Title: field.HeadingName(e.Key()), Place: e.At.ColumnName(), By: Strange, at: e.At}
		if t, ok := p.told[c.Title]; ok {
			c.Target, c.By = t, ByTold
		} else if t, ok := p.plan.reading.Keys[c.Title]; ok {
			c.Target, c.By = t, ByMemory
		} else if isKey(c.Title) {
			c.Target, c.By = field.Target{Keys: []string{c.Title}}, ByKey
		}
		for _, key := range c.Target.Keys {
			if !isKey(key) {
				hint := ""
				if near, ok := field.Nearest(key, slices.Values(allKeys())); ok {
					hint = "did you mean " + near + "?"
				}
				p.report.Add(e.At, field.UnknownKey, hint, "heading %s is taken for %s, which is no key", field.Quote(c.Title), field.Quote(key))
			}
		}
		p.plan.Columns = append(p.plan.Columns, c)
	}
}

// kindColumn is the column that says the kinds of the rows, -1 for none.
func (p *planner) kindColumn() int {
	return slices.IndexFunc(p.plan.Columns, func(c Planned) bool { return slices.Contains(c.Target.Keys, KindColumn) })
}

// kinds finds what says the kinds of the rows: a column, whose heading may be
// another word where most of its cells name kinds; what is told; the name of the
// file; or else the headings, where they are of one kind alone.
func (p *planner) kinds() {
	if p.kindColumn() >= 0 {
		p.plan.Kind = ""
		return
	}
	for i := range p.plan.Columns {
		if c := &p.plan.Columns[i]; c.By == Strange && kindHeading(c.Title) && p.namesKinds(c.Title) {
			c.Target, c.By = field.Target{Keys: []string{KindColumn}}, ByWords
			p.plan.Kind = ""
			return
		}
	}
	if _, ok := kindNamed(p.plan.Kind); ok {
		return
	}
	if name := csvName(p.plan.Source); p.plan.Kind == "" {
		if _, ok := kindNamed(name); ok {
			p.plan.Kind = name
			return
		}
		var titles []string
		for _, c := range p.plan.Columns {
			titles = append(titles, c.Title)
		}
		if kinds, score := kindsOf(titles, ""); len(kinds) == 1 && score >= 1 {
			p.plan.Kind = kinds[0]
			return
		}
		p.report.Add(p.sheet.Header().Place(), field.UnknownKind, "add a column "+KindColumn+", or say it of all rows, as in --kind motor", "nothing says what kinds of parts these are")
		return
	}
	p.strangeKind(p.sheet.Header().Place(), p.plan.Kind)
}

// namesKinds reports whether most cells below a heading name kinds of parts.
func (p *planner) namesKinds(title string) bool {
	named, all := 0, 0
	for row := range p.sheet.Rows() {
		for e := range row.Entries() {
			if field.HeadingName(e.Key()) != title {
				continue
			}
			all++
			if _, ok := kindWord(e.Value.String()); ok {
				named++
			}
		}
	}
	return 2*named > all
}

// cells notes which kinds have something in which column.
func (p *planner) cells() {
	p.used = make([]map[string]bool, len(p.plan.Columns))
	for i := range p.used {
		p.used[i] = map[string]bool{}
	}
	column, of := map[string]int{}, p.kindColumn()
	for i, c := range p.plan.Columns {
		column[c.Title] = i
	}
	for row := range p.sheet.Rows() {
		name := p.plan.Kind
		if of >= 0 {
			name = ""
			for e := range row.Entries() {
				if column[field.HeadingName(e.Key())] == of {
					name, _ = kindWord(e.Value.String())
				}
			}
		}
		for e := range row.Entries() {
			i := column[field.HeadingName(e.Key())]
			p.plan.Columns[i].Cells++
			if name != "" {
				p.used[i][name] = true
			}
		}
	}
}

// match matches a heading that is not settled by its words, for each kind that has
// something below it.
func (p *planner) match(i int) {
	c := &p.plan.Columns[i]
	if c.By != Strange {
		return
	}
	if c.Cells == 0 {
		c.By = ByNobody
		return
	}
	found, unit, clear := false, "", true
	for _, name := range KindNames() {
		if !p.used[i][name] {
			continue
		}
		k, _ := KindNamed(name)
		targets := field.Headings(k.Fields, c.Title)
		for n, t := range targets {
			if found && t.Unit != unit || n > 0 {
				clear = false
			}
			found, unit = true, t.Unit
			if !slices.Contains(c.May, t.Keys[0]) {
				c.May = append(c.May, t.Keys[0])
			}
		}
	}
	switch {
	case !found:
		c.May = nearestKeys(c.Title, nil)
	case !clear:
		c.By = Unsure
	default:
		c.Target, c.By, c.May = field.Target{Keys: c.May, Unit: unit}, ByWords, nil
	}
}

// keyOf is the key that a column has in rows of a kind, "" for none.
func (p *planner) keyOf(i int, k kind) string {
	for _, key := range p.plan.Columns[i].Target.Keys {
		if k.field(key) != nil {
			return key
		}
	}
	return ""
}

// conflicts makes columns unsure that are taken by their words for one key of a kind.
func (p *planner) conflicts() {
	var unsure []int
	for _, k := range registry {
		taken := map[string]int{}
		for i := range p.plan.Columns {
			key := p.keyOf(i, k)
			if key == "" || !p.used[i][k.info().Name] {
				continue
			}
			j, twice := taken[key]
			taken[key] = i
			if !twice {
				continue
			}
			for _, n := range []int{i, j} {
				if p.plan.Columns[n].By == ByWords {
					p.plan.Columns[n].May = []string{key}
					unsure = append(unsure, n)
				}
			}
		}
	}
	for _, i := range unsure {
		p.plan.Columns[i].By, p.plan.Columns[i].Target = Unsure, field.Target{}
	}
}

// unheard reports the columns without a key, and what is told of headings that there
// are not.
func (p *planner) unheard() {
	for _, c := range p.plan.Columns {
		tell := "tell it with --map " + field.Quote(c.Title+"=KEY") + ", or leave it out with --map " + field.Quote(c.Title+"="+field.LeftOut)
		may := strings.Join(c.May, " or ")
		switch {
		case c.By == Unsure && len(c.May) == 1:
			p.report.Add(c.at, field.GivenTwice, tell, "heading %s may be meant for %s, and so may another", field.Quote(c.Title), may)
		case c.By == Unsure:
			p.report.Add(c.at, field.UnknownKey, tell, "heading %s may be meant for %s", field.Quote(c.Title), may)
		case c.By == Strange && may != "":
			p.report.Add(c.at, field.UnknownKey, "the nearest key is "+may+"; "+tell, "heading %s is no key", field.Quote(c.Title))
		case c.By == Strange:
			p.report.Add(c.at, field.UnknownKey, tell, "heading %s is no key", field.Quote(c.Title))
		}
	}
	for heading := range p.told {
		if !slices.ContainsFunc(p.plan.Columns, func(c Planned) bool { return c.Title == heading }) {
			hint := ""
			var titles []string
			for _, c := range p.plan.Columns {
				titles = append(titles, c.Title)
			}
			if near, ok := field.Nearest(heading, slices.Values(titles)); ok {
				hint = "did you mean " + field.Quote(near) + "?"
			}
			p.report.Add(p.sheet.Header().Place(), field.UnknownKey, hint, "no column has the heading %s", field.Quote(heading))
		}
	}
}

// remembered is what has to be remembered so that the sheet reads as planned.
func (p *Plan) remembered() field.Remembered {
	m := field.Remembered{Keys: map[string]field.Target{}}
	if p.Kind != csvName(p.Source) {
		m.Kind = p.Kind
	}
	for _, c := range p.Columns {
		if len(c.Target.Keys) == 1 && c.Target.Keys[0] == c.Title && c.Target.Unit == "" {
			continue
		}
		m.Keys[c.Title] = c.Target
	}
	return m
}

// Plain reports whether the sheet reads without a row that remembers.
func (p *Plan) Plain() bool {
	m := p.remembered()
	return len(m.Keys) == 0 && m.Kind == "" && p.reading.Above == 0
}

// Remembering is the file with a row above its headings that remembers the plan, in
// place of one that is there. All else of it stays.
func (p *Plan) Remembering() []byte {
	var titles []string
	for _, c := range p.Columns {
		titles = append(titles, c.Title)
	}
	data := p.Source.Data
	newline := "\n"
	if bytes.Contains(data, []byte("\r\n")) {
		newline = "\r\n"
	}
	row := field.MemoryText(p.remembered().Row(titles, p.width()), p.reading.Comma) + newline
	from, to := p.head, p.head
	if at, end, ok := field.MemoryRow(data); ok {
		from, to = at, end
	}
	return slices.Concat(data[:from], []byte(row), data[to:])
}

// width is how many cells the row of the headings has, those without a heading included.
func (p *Plan) width() int {
	r := csv.NewReader(bytes.NewReader(p.Source.Data[p.head:]))
	r.Comma, r.FieldsPerRecord = p.reading.Comma, -1
	record, _ := r.Read() // it has been read before
	return max(len(record), len(p.Columns))
}

// ReadPlanned reads the parts of sheets as planned, without looking up what they refer
// to. What is wrong is returned as field.Problems.
func ReadPlanned(plans []*Plan) (*Catalog, error) {
	r := newReader()
	for _, p := range plans {
		as := p.reading
		as.Remembered = p.remembered()
		as.Kind = p.Kind
		r.catalog.Files = append(r.catalog.Files, p.Source.Name)
		r.sheet(p.Source, &as)
	}
	r.convert()
	err := r.report.Err()
	for _, k := range registry {
		k.sort(r.catalog)
	}
	return r.catalog, err
}

// Named reports whether no column has ids, so that they are made of the names.
func (p *Plan) Named() bool {
	return !slices.ContainsFunc(p.Columns, func(c Planned) bool { return slices.Contains(c.Target.Keys, "id") })
}

// HeadingsOf is what is told of the headings that a sheet has.
func HeadingsOf(src Source, told map[string]field.Target) map[string]field.Target {
	out := map[string]field.Target{}
	g, _ := ReadGrid(src.Data)
	for _, row := range g[:min(len(g), headRows)] {
		for _, cell := range row {
			if t, ok := told[field.HeadingName(cell)]; ok {
				out[field.HeadingName(cell)] = t
			}
		}
	}
	return out
}
