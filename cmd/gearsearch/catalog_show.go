package main

import (
	"errors"
	"fmt"
	"iter"
	"math"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
)

func (p *program) catalogShowCommand() *cli.Command {
	return &cli.Command{
		Name:      "show",
		ArgsUsage: "[KIND…]",
		Usage:     "list kinds of parts, or the parts of a kind that fulfil a condition",
		UsageText: `gearsearch catalog show
gearsearch catalog show motor
gearsearch catalog show motor --where 'kv > 150 and shaft_mm = 8'
gearsearch catalog show --where 'not owned' --catalog my-board/parts.toml
gearsearch catalog show wheel -o wheel.csv`,
		Description: `A condition has keys as catalog files have them, a comparison (= != < <= > >=, and ~ for "contains") and a value in the key's unit; and, or, not and parentheses join conditions. unknown(resistance_mohm) picks what does not give a key; kind is a key too. What a part does not say is neither more nor less than anything.

Only columns that one of the parts has are shown. CSV of one kind reads back as a catalog file.

Exit code: 0 answered, 1 no part fulfils the condition, 2 wrong usage, 3 wrong catalog, 4 a file could not be read or written.`,
		Flags: append([]cli.Flag{
			ask.CatalogFlag(),
			&cli.StringFlag{Name: "where", Category: ask.ThemeAnswer, Usage: "`CONDITION` list only parts that fulfil it", DefaultText: "all"},
		}, ask.OutputFlags()...),
		Action: p.catalogShow,
	}
}

// catalogShow answers with kinds or with parts.
func (p *program) catalogShow(c *cli.Context) error {
	a, err := p.Answer(c)
	if err != nil {
		return err
	}
	s := &showAnswer{kinds: c.Args().Slice(), where: c.String("where"), system: a.System, width: math.MaxInt}
	if a.Format == ask.FormatTable {
		s.width = a.Style().Width
	}
	for _, kind := range s.kinds {
		if !slices.Contains(catalog.KindNames(), kind) {
			return outcome.Usage(kindHint(kind), "the catalog has no kind of parts %s", say.Shown(kind))
		}
	}
	var filter *catalog.Filter
	if c.IsSet("where") {
		if filter, err = catalog.ParseFilter(s.where, s.kinds...); err != nil {
			return whereFault(err, s.kinds)
		}
	}
	if len(c.StringSlice("catalog")) == 0 {
		p.Note("demo parts, all invented: name your own with --catalog")
	}
	if s.catalog, err = p.Catalog(c.Context, c.StringSlice("catalog")); err != nil {
		return err
	}
	if len(s.kinds) == 0 && filter == nil {
		return p.Give(a, ask.Forms{Page: s.kindsPage, Document: s.kindsDocument, Table: s.kindsTable, Complete: true})
	}
	for e := range s.catalog.Entries(s.kinds...) {
		if filter == nil || filter.Match(e) {
			s.entries = append(s.entries, e)
		}
	}
	if kinds := s.found(); len(kinds) > 1 && a.Format == ask.FormatCSV {
		return outcome.Usage("name one, as in gearsearch catalog show "+kinds[0], "CSV holds one kind of parts, and these are %s", strings.Join(kinds, ", "))
	}
	if err := p.Give(a, ask.Forms{Page: s.page, Document: s.document, Table: s.table, Complete: true}); err != nil {
		return err
	}
	if len(s.entries) == 0 && filter != nil {
		return outcome.ErrInfeasible
	}
	return nil
}

// whereFault is wrong usage: what is wrong with the text of a condition, with
// its place in it.
func whereFault(err error, kinds []string) error {
	var problem *field.Problem
	if !errors.As(err, &problem) {
		return err
	}
	wrong := *problem
	if strings.HasPrefix(wrong.Message, "no key ") && wrong.Hint == "" && len(kinds) == 1 {
		wrong.Hint = "the keys of " + kinds[0] + " are " + strings.Join(keysOf(kinds[0]), ", ")
	}
	wrong.Message = "--where: " + wrong.Message
	return &outcome.UsageError{Problems: field.Problems{wrong}}
}

// kindHint is a hint at the kind that a word may have meant.
func kindHint(word string) string {
	names := catalog.KindNames()
	if near, ok := field.Nearest(strings.TrimSuffix(strings.ToLower(word), "s"), slices.Values(names)); ok {
		return "did you mean " + near + "?"
	}
	return "the kinds are " + strings.Join(names, ", ")
}

// showAnswer is parts of a catalog as they are written out.
type showAnswer struct {
	catalog *catalog.Catalog
	kinds   []string // asked for; empty: all
	where   string
	entries []catalog.Entry
	system  quantity.System
	width   int // of the page
}

// found lists the kinds of the parts found.
func (s *showAnswer) found() []string {
	var out []string
	for _, e := range s.entries {
		if !slices.Contains(out, e.Kind) {
			out = append(out, e.Kind)
		}
	}
	return out
}

// of yields the parts found of a kind.
func (s *showAnswer) of(kind string) iter.Seq[catalog.Entry] {
	return func(yield func(catalog.Entry) bool) {
		for _, e := range s.entries {
			if e.Kind == kind && !yield(e) {
				return
			}
		}
	}
}

// Page is the parts as people read them: a table for each kind.
func (s *showAnswer) page() *layout.Page {
	p := &layout.Page{}
	kinds := s.found()
	if len(kinds) == 0 {
		text := "No part"
		if len(s.kinds) > 0 {
			text = "No " + strings.Join(s.kinds, ", no ")
		}
		if s.where != "" {
			text += " with " + s.where
		}
		p.Heading(text)
		return p
	}
	for _, kind := range kinds {
		n := 0
		for range s.of(kind) {
			n++
		}
		text := fmt.Sprintf("%s: %s", kind, say.Counted(uint64(n), "part", "parts"))
		if s.where != "" {
			text += " with " + s.where
		}
		p.Heading(text)
		t, keys := s.kindTable(kind)
		for _, block := range blocks(t, s.width) {
			p.Table(block)
		}
		p.Text("Keys for --where: " + strings.Join(keys, ", ") + ".")
	}
	return p
}

// kindTable is the parts found of a kind, with the keys that one of them has.
func (s *showAnswer) kindTable(kind string) (t *layout.Table, keys []string) {
	t = &layout.Table{}
	var shows []bool
	for e := range s.of(kind) {
		i := 0
		for in, v := range e.Values() {
			if len(shows) <= i {
				shows = append(shows, false)
			}
			shows[i] = shows[i] || v != nil && (in.Type != field.TypeWhole || fmt.Sprint(v) != in.Default)
			i++
		}
	}
	for e := range s.of(kind) {
		var row []string
		i := -1
		for in, v := range e.Values() {
			if i++; !shows[i] {
				continue
			}
			if len(t.Rows) == 0 {
				t.Columns = append(t.Columns, s.keyColumn(in))
				keys = append(keys, in.Key)
			}
			row = append(row, s.cell(in, v))
		}
		t.Add(row...)
	}
	return t, keys
}

// keyColumn is the column of a key: its name and unit.
func (s *showAnswer) keyColumn(in *field.Info) layout.Column {
	unit, _ := s.system.Show(in.Unit)
	if in.Key == "price" {
		unit = s.catalog.Currency
	}
	col := layout.Column{Title: quantity.Label(in.Key, in.Unit)}
	if unit != "" && !strings.HasSuffix(col.Title, " "+unit) {
		col.Title += " " + unit
	}
	switch in.Type {
	case field.TypeNumber, field.TypeWhole:
		col.Right = true
	case field.TypeText:
		col.Wrap, col.Least = true, say.ProseWidth
	}
	return col
}

// blocks cuts a table that is too wide into some that are not, each with the
// first column, which names the rows.
func blocks(t *layout.Table, width int) []*layout.Table {
	const (
		gap  = 2  // columns between two columns of a table
		most = 28 // of a text, which is wrapped
	)
	wide := func(i int) int {
		w := layout.Width(t.Columns[i].Title)
		for _, row := range t.Rows {
			w = max(w, layout.Width(row[i].Text))
		}
		if t.Columns[i].Wrap {
			w = min(w, most)
		}
		return w
	}
	var out []*layout.Table
	room := 0
	for i := 1; i < len(t.Columns); i++ {
		if w := wide(i) + gap; len(out) > 0 && w <= room {
			room -= w
		} else {
			out = append(out, column(&layout.Table{Rows: make([][]layout.Cell, len(t.Rows))}, t, 0))
			room = width - wide(0) - w
		}
		column(out[len(out)-1], t, i)
	}
	return out
}

// column adds a column of a table to another.
func column(to, from *layout.Table, i int) *layout.Table {
	to.Columns = append(to.Columns, from.Columns[i])
	for r, row := range from.Rows {
		to.Rows[r] = append(to.Rows[r], row[i])
	}
	return to
}

// Cell is a value as a table shows it.
func (s *showAnswer) cell(in *field.Info, v any) string {
	switch v := v.(type) {
	case float64:
		if unit, factor := s.system.Show(in.Unit); factor != 1 {
			return layout.Fixed(v*factor, quantity.Decimals(unit))
		}
		return field.FormatNumber(v)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case []string:
		return strings.Join(v, ", ")
	case nil:
		return ""
	}
	return fmt.Sprint(v)
}

// Document is the parts as data: the keys that each gives.
func (s *showAnswer) document() dataout.Document {
	return dataout.Document{
		Head:  s.head(),
		Lists: []dataout.List{{Key: "parts", Items: dataout.Objects(s.entries, entryObject)}},
	}
}

func (s *showAnswer) head() dataout.Object {
	return dataout.Object{
		{Key: "schema", Value: 1}, {Key: "catalog", Value: dataout.Catalog(s.catalog)}, {Key: "where", Value: dataout.TextOrNil(s.where)},
	}
}

func entryObject(e catalog.Entry) dataout.Object {
	o := dataout.Object{{Key: "kind", Value: e.Kind}}
	for in, v := range e.Values() {
		if v != nil {
			o = append(o, dataout.Member{Key: in.Key, Value: v})
		}
	}
	return o
}

// Table is the parts of the one kind found, as a catalog file has them.
func (s *showAnswer) table() (header []string, rows [][]any) {
	kind := ""
	switch found := s.found(); {
	case len(found) > 0:
		kind = found[0]
	case len(s.kinds) > 0:
		kind = s.kinds[0]
	}
	header = keysOf(kind)
	for e := range s.of(kind) {
		var row []any
		for _, v := range e.Values() {
			row = append(row, catalogCell(v))
		}
		rows = append(rows, row)
	}
	return header, rows
}

// keysOf lists the keys of a kind in the order of the catalog format.
func keysOf(kind string) []string {
	var out []string
	for _, k := range catalog.Kinds() {
		for i := range k.Fields {
			if k.Name == kind {
				out = append(out, k.Fields[i].Key)
			}
		}
	}
	return out
}

// catalogCell is a value such that it reads back from a catalog file.
func catalogCell(v any) any {
	if _, ok := v.(string); v == nil || ok {
		return v // texts are made harmless as all are
	}
	return field.Cell(v)
}

// kindsPage lists the kinds.
func (s *showAnswer) kindsPage() *layout.Page {
	p := &layout.Page{}
	t := &layout.Table{Columns: []layout.Column{{Title: "kind"}, {Title: "parts", Right: true}, {Title: "which is", Wrap: true, Least: say.ProseWidth}}}
	header := "Kinds of parts"
	if s.catalog.Title != "" {
		header += " in " + s.catalog.Title
	}
	for _, row := range s.kindRows() {
		t.Add(row.name, layout.Count(uint64(row.n)), row.meaning)
	}
	p.Heading(header)
	p.Table(t)
	p.Text("gearsearch catalog show KIND lists the parts of a kind, gearsearch catalog schema --reference the keys of all.")
	return p
}

type kindRow struct {
	name    string
	n       int
	meaning string
}

func (s *showAnswer) kindRows() []kindRow {
	counts := map[string]int{}
	for _, k := range s.catalog.Count() {
		counts[k.Kind] = k.N
	}
	var out []kindRow
	for _, k := range catalog.Kinds() {
		out = append(out, kindRow{k.Name, counts[k.Name], k.Meaning})
	}
	return out
}

func (s *showAnswer) kindsDocument() dataout.Document {
	object := func(r kindRow) dataout.Object {
		return dataout.Object{{Key: "kind", Value: r.name}, {Key: "parts", Value: r.n}, {Key: "meaning", Value: r.meaning}}
	}
	return dataout.Document{Head: s.head(), Lists: []dataout.List{{Key: "kinds", Items: dataout.Objects(s.kindRows(), object)}}}
}

func (s *showAnswer) kindsTable() (header []string, rows [][]any) {
	for _, r := range s.kindRows() {
		rows = append(rows, []any{r.name, r.n, r.meaning})
	}
	return []string{"kind", "parts", "meaning"}, rows
}
