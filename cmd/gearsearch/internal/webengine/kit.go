package webengine

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// kit is a build with its parts: two files that open together, on the page and in the
// program.
type kit struct {
	Files []saved `json:"files"`
}

// kitParts is the name of the file with the parts of a build.
const kitParts = "build-parts.toml"

// kit is the files of a build and of the parts that it is made of, with what those
// refer to.
func (e *Engine) kit(r *request) (*kit, error) {
	s, err := e.find(r)
	if err != nil {
		return nil, err
	}
	c := s.Build.Problem.Catalog
	wanted := map[string]bool{}
	for _, l := range s.Build.Lines() {
		wanted[l.Part.ID] = true
	}
	for e := range c.Entries() {
		if !wanted[e.Part.ID] {
			continue
		}
		for _, key := range []string{"cell", "profile"} {
			if _, v := e.Value(key); v != nil {
				wanted[fmt.Sprint(v)] = true
			}
		}
	}
	var drafts []catalog.Draft
	for e := range c.Entries() {
		if wanted[e.Part.ID] {
			drafts = append(drafts, draftOf(e, wanted))
		}
	}
	head := field.Source{Name: "head.toml", Data: []byte("schema = 1\ncurrency = " + field.TOML(c.Currency) + "\n")}
	list, parts := catalog.CheckDrafts(kitParts, drafts, head)
	for _, x := range list {
		if len(x.Wrong) > 0 {
			return nil, fmt.Errorf("%s: %s", x.ID, x.Wrong[0].Problem.Message)
		}
	}
	file := s.Build.File()
	file.From = constraints.From{Catalog: []string{kitParts}}
	return &kit{[]saved{{"build.toml", string(file.TOML())}, {kitParts, string(parts.Data)}}}, nil
}

// draftOf is a part of a catalog as a draft, which names no parts but those wanted.
func draftOf(e catalog.Entry, wanted map[string]bool) catalog.Draft {
	d := catalog.Draft{Kind: e.Kind, Cells: map[string]string{}}
	for in, v := range e.Values() {
		if list, ok := v.([]string); ok && in.ID { // the parts that it fits
			list = slices.DeleteFunc(slices.Clone(list), func(id string) bool { return !wanted[id] })
			d.Cells[in.Key] = strings.Join(list, ", ")
		} else if v != nil {
			d.Cells[in.Key] = catalog.CellText(v)
		}
	}
	return d
}
