package webengine

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// grid is rows of a spreadsheet as parts of a kind.
type grid struct {
	Kind    string          `json:"kind"`  // "" where nothing tells it
	Kinds   []string        `json:"kinds"` // that it may be, likeliest first
	Head    bool            `json:"head"`  // there are headings
	Above   int             `json:"above"` // rows above the headings, which are left out
	Columns []column        `json:"columns"`
	Drafts  []catalog.Draft `json:"drafts"`
	More    int             `json:"more"` // rows that are not taken

	Parts []kindRows `json:"parts,omitempty"` // rows that say their kinds, by kind; then the grid has no columns and no drafts
}

// kindRows is the rows of a grid that name one kind.
type kindRows struct {
	Said string `json:"said"` // as the rows name it
	Kind string `json:"kind"` // that it is taken for, "" where nothing tells
	Text string `json:"text"` // the rows below their headings, as CSV
}

// column is a column of a grid and the key that it is taken for.
type column struct {
	Title string `json:"title"`
	Key   string `json:"key"` // "": it is left out
	Unit  string `json:"unit,omitempty"`
	Why   string `json:"why,omitempty"` // it is left out
}

// mostRows is how many rows become parts that are edited one by one. A larger table
// is a file.
const mostRows = 500

// readGrid matches the columns of rows of a spreadsheet to the keys of a kind. Rows that say
// their kinds it parts by them, unless they are such a part.
func readGrid(r *request) (*grid, error) {
	data := []byte(r.Text)
	if r.File != nil {
		data = r.File.Data
	}
	if len(data) > field.MaxSize {
		return nil, field.Problems{{Message: fmt.Sprintf("the table is larger than %d MB", field.MaxSize>>20), Hint: "take it in pieces"}}
	}
	g, more := catalog.ReadGrid(data)
	if len(g) == 0 {
		return nil, field.Problems{{Message: "there is nothing in this table", Hint: "copy the row with the headings and the rows below it"}}
	}
	if !r.Part {
		if out := parted(g, more); out != nil {
			return out, nil
		}
	}
	m := catalog.MatchGrid(g, r.Kind, r.Order)
	for i, key := range r.Columns {
		m.Take(g, i, key)
	}
	out := &grid{Kind: m.Kind, Kinds: some(m.Kinds), Head: m.Head >= 0, Above: max(m.Head, 0), Columns: []column{}, Drafts: m.Drafts, More: more}
	if n := len(m.Drafts); n > mostRows {
		out.Drafts, out.More = m.Drafts[:mostRows], more+n-mostRows
	}
	if out.Drafts == nil {
		out.Drafts = []catalog.Draft{}
	}
	stand(out.Drafts, r.Slot)
	k, known := catalog.KindNamed(m.Kind)
	for _, c := range m.Columns {
		x := column{Title: c.Title, Key: c.Key, Unit: c.Unit}
		if known && c.Key == "" {
			x.Why = leftOut(k, c)
		}
		out.Columns = append(out.Columns, x)
	}
	return out, nil
}

// parted is rows that say their kinds by those, nil where they do not.
func parted(g catalog.Grid, more int) *grid {
	if n := len(g) - mostRows - 1; n > 0 {
		g, more = g[:len(g)-n], more+n
	}
	above, list := g.ByKind()
	if list == nil {
		return nil
	}
	out := &grid{Kinds: []string{}, Head: true, Above: above, Columns: []column{}, Drafts: []catalog.Draft{}, More: more}
	for _, k := range list {
		var b bytes.Buffer
		_ = csv.NewWriter(&b).WriteAll(k.Grid) // to memory
		out.Parts = append(out.Parts, kindRows{k.Said, k.Kind, b.String()})
	}
	return out
}

// stand has drafts say what parts of the slot say that they are for, such as the side of
// a pulley, where they say nothing else.
func stand(drafts []catalog.Draft, slot string) {
	s, ok := constraints.SlotNamed(slot)
	if !ok {
		return
	}
	for _, d := range drafts {
		for key, word := range s.Says() {
			if slices.Contains(s.Kinds(), d.Kind) && d.Cells[key] == "" {
				d.Cells[key] = word
			}
		}
	}
}

// leftOut says why a column is left out.
func leftOut(k catalog.KindInfo, c catalog.Column) string {
	switch {
	case c.Twice:
		return "a column before it is taken for the same key"
	case c.Title == "":
		return "it has no heading"
	}
	return "no key of a " + strings.ReplaceAll(k.Name, "_", " ") + " is called that, or none in this unit"
}
