// Package show answers catalog show: kinds of parts, or the parts that fulfil a
// condition.
package show

import (
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Narrow reports an unknown kind, and reads the condition where there is one.
func (s *Answer) Narrow(conditioned bool) (err error) {
	for _, kind := range s.Kinds {
		if !slices.Contains(catalog.KindNames(), kind) {
			return outcome.Usage(kindHint(kind), "the catalog has no kind of parts %s", say.Shown(kind))
		}
	}
	if !conditioned {
		return nil
	}
	if s.filter, err = catalog.ParseFilter(s.Where, s.Kinds...); err != nil {
		return whereFault(err, s.Kinds)
	}
	return nil
}

// Give writes the parts or kinds, and says what that means for the exit code.
func (s *Answer) Give(d *ask.Desk, a *ask.Answer) error {
	if s.lists != nil {
		return s.giveStandard(d, a)
	}
	if len(s.Kinds) == 0 && s.filter == nil {
		return d.Give(a, ask.Forms{Text: s.kindsText, Document: s.kindsDocument, Table: s.kindsTable, Complete: true})
	}
	return s.giveParts(d, a, ask.Forms{Text: s.text, Document: s.document, Table: s.table, Complete: true})
}

// giveParts writes the parts of the kinds that fulfil the condition.
func (s *Answer) giveParts(d *ask.Desk, a *ask.Answer, forms ask.Forms) error {
	for e := range s.Catalog.Entries(s.Kinds...) {
		if s.filter == nil || s.filter.Match(e) {
			s.entries = append(s.entries, e)
		}
	}
	if kinds := s.found(); len(kinds) > 1 && a.Format == ask.FormatCSV {
		return outcome.Usage("name one, as in gearsearch catalog show "+kinds[0], "CSV holds one kind of parts, and these are %s", strings.Join(kinds, ", "))
	}
	if err := d.Give(a, forms); err != nil {
		return err
	}
	if len(s.entries) == 0 && s.filter != nil {
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
	if wrong.Code == field.UnknownKey && wrong.Hint == "" && len(kinds) == 1 {
		wrong.Hint = "the keys of " + kinds[0] + " are " + strings.Join(keysOf(kinds[0]), ", ")
	}
	wrong.By = "--where"
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

// Answer is parts of a catalog as they are written out.
type Answer struct {
	Catalog *catalog.Catalog
	Kinds   []string // asked for; empty: all
	Where   string
	filter  *catalog.Filter // nil: all
	entries []catalog.Entry
	System  quantity.System
	Width   int // of the terminal

	lists []catalog.Standard // in place of a catalog of somebody's; nil: not asked for
	all   bool               // … all of them, and not what is in them
}

// found lists the kinds of the parts found.
func (s *Answer) found() []string {
	var out []string
	for _, e := range s.entries {
		if !slices.Contains(out, e.Kind) {
			out = append(out, e.Kind)
		}
	}
	return out
}

// of yields the parts found of a kind.
func (s *Answer) of(kind string) iter.Seq[catalog.Entry] {
	return func(yield func(catalog.Entry) bool) {
		for _, e := range s.entries {
			if e.Kind == kind && !yield(e) {
				return
			}
		}
	}
}

// text is the parts as people read them: a table for each kind.
func (s *Answer) text() *layout.Text {
	out := &layout.Text{}
	kinds := s.found()
	if len(kinds) == 0 {
		text := "No part"
		if len(s.Kinds) > 0 {
			text = "No " + strings.Join(s.Kinds, ", no ")
		}
		if s.Where != "" {
			text += " with " + s.Where
		}
		out.Heading(text)
		return out
	}
	for _, kind := range kinds {
		n := 0
		for range s.of(kind) {
			n++
		}
		text := fmt.Sprintf("%s: %s", kind, say.Counted(uint64(n), "part", "parts"))
		if s.Where != "" {
			text += " with " + s.Where
		}
		out.Heading(text)
		t, keys := s.kindTable(kind)
		for _, block := range blocks(t, s.Width) {
			out.Table(block)
		}
		for _, text := range s.ranged(kind) {
			out.Paragraph(text)
		}
		out.Paragraph("Keys for --where: " + strings.Join(keys, ", ") + ".")
	}
	return out
}

// ranged say of the parts found of a kind which of them a range makes.
func (s *Answer) ranged(kind string) []string {
	counts := map[string]int{} // by family
	var first []*catalog.Part
	for e := range s.of(kind) {
		if e.Part.Ranges() == nil {
			continue
		}
		if counts[e.Part.Family]++; counts[e.Part.Family] == 1 {
			first = append(first, e.Part)
		}
	}
	var out []string
	for _, p := range first {
		n := counts[p.Family]
		out = append(out, fmt.Sprintf("%s of %s: %s.", say.Counted(uint64(n), "part", "parts"), p.Family, strings.Join(p.Ranges(), ", ")))
	}
	return out
}

// kindTable is the parts found of a kind, with the keys that one of them has.
func (s *Answer) kindTable(kind string) (t *layout.Table, keys []string) {
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
func (s *Answer) keyColumn(in *field.Info) layout.Column {
	unit, _ := s.System.Show(in.Unit)
	if in.Key == "price" {
		unit = s.Catalog.Currency
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

// cell is a value as a table shows it.
func (s *Answer) cell(in *field.Info, v any) string {
	switch v := v.(type) {
	case float64:
		if unit, factor := s.System.Show(in.Unit); factor != 1 {
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

// document is the parts as data: the keys that each gives.
func (s *Answer) document() dataout.Document {
	return dataout.Document{
		Head:  s.head(),
		Lists: []dataout.List{{Key: "parts", Items: dataout.Objects(s.entries, entryObject)}},
	}
}

func (s *Answer) head() dataout.Object {
	return dataout.Object{
		{Key: "schema", Value: 1}, {Key: "catalog", Value: dataout.Catalog(s.Catalog)}, {Key: "where", Value: dataout.TextOrNil(s.Where)},
	}
}

func entryObject(e catalog.Entry) dataout.Object {
	o := dataout.Object{{Key: "kind", Value: e.Kind}}
	for in, v := range e.Values() {
		if v != nil {
			o = append(o, dataout.Member{Key: in.Key, Value: v})
		}
	}
	if ranges := e.Part.Ranges(); ranges != nil {
		o = append(o, dataout.Member{Key: "family", Value: e.Part.Family}, dataout.Member{Key: "ranges", Value: ranges})
	}
	return o
}

// table is the parts of the one kind found, as a catalog file has them: where there is
// no condition, a table with ranges in one row.
func (s *Answer) table() (header []string, rows [][]any) {
	kind := ""
	switch found := s.found(); {
	case len(found) > 0:
		kind = found[0]
	case len(s.Kinds) > 0:
		kind = s.Kinds[0]
	}
	header = keysOf(kind)
	write := func(values iter.Seq2[*field.Info, any]) {
		var row []any
		for _, v := range values {
			row = append(row, catalogCell(v))
		}
		rows = append(rows, row)
	}
	if s.filter == nil {
		for values := range s.Catalog.Rows(kind) {
			write(values)
		}
		return header, rows
	}
	for e := range s.of(kind) {
		write(e.Values())
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

// catalogCell is a value as a catalog's CSV file has it, so that it reads back.
func catalogCell(v any) any {
	if v == nil {
		return nil
	}
	return dataout.Written(field.Cell(v))
}

// kindsText lists the kinds.
func (s *Answer) kindsText() *layout.Text {
	out := &layout.Text{}
	t := &layout.Table{Columns: []layout.Column{{Title: "kind"}, {Title: "parts", Right: true}, {Title: "meaning", Wrap: true, Least: say.ProseWidth}}}
	header := "Kinds of parts"
	if s.Catalog.Title != "" {
		header += " in " + s.Catalog.Title
	}
	for _, row := range s.kindRows() {
		t.Add(row.name, layout.Count(uint64(row.n)), row.meaning)
	}
	out.Heading(header)
	out.Table(t)
	out.Paragraph("gearsearch catalog show KIND lists the parts of a kind, gearsearch catalog schema --reference the keys of all.")
	return out
}

type kindRow struct {
	name    string
	n       int
	meaning string
}

func (s *Answer) kindRows() []kindRow {
	counts := map[string]int{}
	for _, k := range s.Catalog.Count() {
		counts[k.Kind] = k.N
	}
	var out []kindRow
	for _, k := range catalog.Kinds() {
		out = append(out, kindRow{k.Name, counts[k.Name], k.Meaning})
	}
	return out
}

func (s *Answer) kindsDocument() dataout.Document {
	object := func(r kindRow) dataout.Object {
		return dataout.Object{{Key: "kind", Value: r.name}, {Key: "parts", Value: r.n}, {Key: "meaning", Value: r.meaning}}
	}
	return dataout.Document{Head: s.head(), Lists: []dataout.List{{Key: "kinds", Items: dataout.Objects(s.kindRows(), object)}}}
}

func (s *Answer) kindsTable() (header []string, rows [][]any) {
	for _, r := range s.kindRows() {
		rows = append(rows, []any{r.name, r.n, r.meaning})
	}
	return []string{"kind", "parts", "meaning"}, rows
}
