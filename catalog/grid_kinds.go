package catalog

import (
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// KindRows is the rows of a grid that name one kind, below their headings.
type KindRows struct {
	Said string // as the rows name it; "" where they name none
	Kind string // that they most likely mean; "" where nothing tells
	Grid Grid
}

// ByKind parts a grid in which a column says the kind of each row: a grid for each kind,
// without that column and without those that are empty there, in the order in which the
// kinds come. It is nil where no column says it. above is how many rows stand above the
// headings.
func (g Grid) ByKind() (above int, list []KindRows) {
	above = headingsAt(g)
	at := g.kindColumn(above)
	if at < 0 {
		return 0, nil
	}
	currency := ""
	for _, row := range g[above+1:] {
		said := strings.ToLower(cellAt(row, at))
		if said == headName { // the row of the title and the currency
			currency = cellAt(row, slices.IndexFunc(g[above], func(title string) bool { return strings.EqualFold(field.HeadingName(title), "currency") }))
			continue
		}
		kind := ""
		if said != "" {
			kind, _ = likelyKind(said)
		}
		i := slices.IndexFunc(list, func(k KindRows) bool { return k.Kind == kind && (kind != "" || k.Said == said) })
		if i < 0 {
			i = len(list)
			list = append(list, KindRows{said, kind, Grid{g[above]}})
		}
		list[i].Grid = append(list[i].Grid, row)
	}
	for i := range list {
		list[i].narrow(at, currency)
	}
	return above, list
}

// kindColumn is the column that says the kinds of the rows below the headings, -1 for
// none: one called kind, or what people call it where most of its cells name kinds.
func (g Grid) kindColumn(above int) int {
	if above >= len(g) {
		return -1
	}
	for i, title := range g[above] {
		name := strings.ToLower(field.HeadingName(title))
		if !kindHeading(name) {
			continue
		}
		named, all := 0, 0
		for _, row := range g[above+1:] {
			if word := cellAt(row, i); word != "" {
				all++
				if namesKind(word) {
					named++
				}
			}
		}
		if 2*named > all || name == KindColumn && all > 0 {
			return i
		}
	}
	return -1
}

// namesKind reports whether a word is a kind or what people call one.
func namesKind(word string) bool {
	if _, ok := kindWord(word); ok {
		return true
	}
	word = strings.TrimSuffix(strings.ToLower(word), "s")
	_, called := otherKinds()[word]
	_, kind := kindWord(word)
	return called || kind
}

// narrow leaves out the column of the kinds and those without a cell, and says the
// currency of prices where the sheet does.
func (k *KindRows) narrow(kinds int, currency string) {
	info, _ := KindNamed(k.Kind)
	var columns []int
	for i := range k.Grid[0] {
		if i != kinds && slices.ContainsFunc(k.Grid[1:], func(row []string) bool { return cellAt(row, i) != "" }) {
			columns = append(columns, i)
		}
	}
	for n, row := range k.Grid {
		var cells []string
		for _, i := range columns {
			cell := cellAt(row, i)
			if key, in, _ := field.Heading(info.Fields, cell); n == 0 && key == "price" && in == "" && currency != "" {
				cell += " " + currency
			}
			cells = append(cells, cell)
		}
		k.Grid[n] = cells
	}
}

// cellAt is a cell of a row, "" where the row has none there.
func cellAt(row []string, i int) string {
	if i < 0 || i >= len(row) {
		return ""
	}
	return strings.TrimSpace(row[i])
}
