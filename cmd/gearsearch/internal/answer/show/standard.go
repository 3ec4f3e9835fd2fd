package show

import (
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// perMilli is mm in a metre.
const perMilli = 1e3

// Standard makes the answer one of lists of standards: of all, or of what is in those
// named, with the condition where there is one.
func (s *Answer) Standard(names []string, conditioned bool) error {
	s.all = len(names) == 0
	if s.all {
		if conditioned {
			return outcome.Usage("as in gearsearch catalog show --standard belts/xl --where 'teeth > 60'", "--where picks parts of a list: name one")
		}
		s.lists = catalog.Standards()
	}
	var ofParts []string
	for _, name := range names {
		list, ok := catalog.StandardNamed(name)
		if !ok {
			return outcome.Usage(listHint(name), "there is no list %s", say.Shown(name))
		}
		s.lists = append(s.lists, list)
		if list.Kind == "" && conditioned {
			return outcome.Usage("", "--where goes by the keys of parts, and %s has sizes", name)
		}
	}
	for _, list := range s.lists {
		if list.Kind != "" {
			ofParts = append(ofParts, list.Name)
			s.Kinds = append(s.Kinds, list.Kind)
		}
	}
	s.Catalog = &catalog.Catalog{}
	if ofParts == nil {
		return nil
	}
	slices.Sort(ofParts)
	var err error
	if s.Catalog, err = catalog.ReadStandards(slices.Compact(ofParts)...); err != nil {
		return err
	}
	if s.all {
		return nil
	}
	return s.Narrow(conditioned)
}

// listHint is a hint at the list that a word may have meant.
func listHint(word string) string {
	var names []string
	for _, l := range catalog.Standards() {
		names = append(names, l.Name)
	}
	if near, ok := field.Nearest(strings.ToLower(word), slices.Values(names)); ok {
		return "did you mean " + near + "?"
	}
	return "the lists are " + strings.Join(names, ", ")
}

// giveStandard writes lists of standards.
func (s *Answer) giveStandard(d *ask.Desk, a *ask.Answer) error {
	if s.all {
		return d.Give(a, ask.Forms{Text: s.listsText, Document: s.listsDocument, Table: s.listsTable, Complete: true})
	}
	sizes := slices.ContainsFunc(s.lists, func(l catalog.Standard) bool { return l.Sizes != nil })
	if a.Format == ask.FormatCSV && sizes {
		if len(s.Kinds) > 0 {
			return outcome.Usage("name them in two runs", "CSV holds one kind of rows, and these are sizes and parts")
		}
		return d.Give(a, ask.Forms{Table: s.sizesTable, Complete: true})
	}
	return s.giveParts(d, a, ask.Forms{Text: s.namedText, Document: s.namedDocument, Table: s.table, Complete: true})
}

// partsOf is how many parts a list has.
func (s *Answer) partsOf(name string) int {
	for _, u := range s.Catalog.Uses {
		if u.List == name {
			return u.Parts
		}
	}
	return 0
}

// listsText lists the lists.
func (s *Answer) listsText() *layout.Text {
	out := &layout.Text{}
	t := &layout.Table{Columns: []layout.Column{{Title: "list"}, {Title: "parts", Right: true}, {Title: "meaning", Wrap: true, Least: say.ProseWidth}, {Title: "standard", Wrap: true, Least: say.ProseWidth}}}
	for _, l := range s.lists {
		n := ""
		if l.Kind != "" {
			n = layout.Count(uint64(s.partsOf(l.Name)))
		}
		t.Add(l.Name, n, l.Meaning, l.Standard)
	}
	out.Heading("Lists of standards, without makers and prices")
	out.Table(t)
	out.Paragraph("gearsearch catalog show --standard LIST lists what is in one. A catalog has the parts of a list by a line at its top: use = [\"" + catalog.StandardNames()[0] + "\"]. A list of sizes has none.")
	return out
}

// namedText is what is in the lists named.
func (s *Answer) namedText() *layout.Text {
	out := &layout.Text{}
	if len(s.Kinds) > 0 {
		out = s.text()
	}
	var parts []string
	for _, l := range s.lists {
		if l.Kind != "" {
			parts = append(parts, l.Name)
			continue
		}
		t := &layout.Table{Columns: []layout.Column{{Title: "size"}, {Title: "diameter mm", Right: true}, {Title: "length mm", Right: true}}}
		for _, size := range l.Sizes {
			t.Add(size.Name, field.FormatNumber(size.Diameter*perMilli), field.FormatNumber(size.Length*perMilli))
		}
		out.Heading(l.Name + ": " + say.Counted(uint64(len(l.Sizes)), "size", "sizes"))
		out.Table(t)
	}
	out.Heading("Standards")
	var items []string
	for _, l := range s.lists {
		items = append(items, l.Name+": "+l.Basis+".")
	}
	out.List(items)
	if parts != nil {
		out.Paragraph("In a catalog: use = " + field.TOML(parts) + ". They have no price: [[change]] gives one, to a part or to a family.")
	}
	return out
}

func (s *Answer) listsDocument() dataout.Document {
	return dataout.Document{Head: dataout.Object{{Key: "schema", Value: 1}}, Lists: []dataout.List{{Key: "lists", Items: dataout.Objects(s.lists, s.listObject)}}}
}

func (s *Answer) listObject(l catalog.Standard) dataout.Object {
	o := dataout.Object{{Key: "list", Value: l.Name}, {Key: "kind", Value: dataout.TextOrNil(l.Kind)}, {Key: "parts", Value: nil}, {Key: "meaning", Value: l.Meaning}, {Key: "standard", Value: l.Standard}, {Key: "basis", Value: l.Basis}}
	if l.Kind != "" {
		o[2].Value = s.partsOf(l.Name)
	}
	return o
}

func (s *Answer) namedDocument() dataout.Document {
	var sizes []catalog.Size
	for _, l := range s.lists {
		sizes = append(sizes, l.Sizes...)
	}
	size := func(c catalog.Size) dataout.Object {
		return dataout.Object{{Key: "size", Value: c.Name}, {Key: "diameter_mm", Value: c.Diameter * perMilli}, {Key: "length_mm", Value: c.Length * perMilli}}
	}
	return dataout.Document{
		Head: dataout.Object{{Key: "schema", Value: 1}, {Key: "where", Value: dataout.TextOrNil(s.Where)}},
		Lists: []dataout.List{
			{Key: "lists", Items: dataout.Objects(s.lists, s.listObject)},
			{Key: "parts", Items: dataout.Objects(s.entries, entryObject)},
			{Key: "sizes", Items: dataout.Objects(sizes, size)},
		},
	}
}

func (s *Answer) listsTable() (header []string, rows [][]any) {
	for _, l := range s.lists {
		var n any
		if l.Kind != "" {
			n = s.partsOf(l.Name)
		}
		rows = append(rows, []any{l.Name, dataout.TextOrNil(l.Kind), n, l.Meaning, l.Standard, l.Basis})
	}
	return []string{"list", "kind", "parts", "meaning", "standard", "basis"}, rows
}

func (s *Answer) sizesTable() (header []string, rows [][]any) {
	for _, l := range s.lists {
		for _, size := range l.Sizes {
			rows = append(rows, []any{size.Name, size.Diameter * perMilli, size.Length * perMilli})
		}
	}
	return []string{"size", "diameter_mm", "length_mm"}, rows
}
