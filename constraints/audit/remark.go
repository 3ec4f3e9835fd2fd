package audit

import (
	"cmp"
	"slices"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// Code says what a remark says, apart from its words.
type Code string

// Remark is something in a catalog that is allowed and worth a second look. It
// prints like a problem: with the place, the line and a hint.
type Remark struct {
	field.Problem
	Code       Code
	Kind       string
	IDs        []string // the parts that it is about: several where a table stands for several
	Key        string   // the key that it is about, "" for the part as a whole
	Quantities []Quantity
	Basis      string // what the remark goes by: a source, or in words that there is none
	// Follows: it is so only because of what other remarks say, and goes away
	// with them.
	Follows bool
}

// finding is a remark on one part, without its place.
type finding struct {
	code          Code
	kind, id, key string
	quantities    []Quantity
	basis         string
	follows       bool
}

// remarks gives findings their places, joins those that say the same of parts
// of one table, and sorts them by place.
func remarks(c *catalog.Catalog, found []finding) []Remark {
	if len(found) == 0 {
		return nil
	}
	type saying struct {
		at              field.Place
		kind, key, text string
	}
	places := c.Places()
	index := map[saying]int{}
	var groups [][]finding
	var at []saying
	for _, f := range found {
		s := saying{places.At(f.id, f.key), f.kind, f.key, text(f.code, f.quantities)}
		if i, ok := index[s]; ok && s.at.Known() {
			groups[i] = append(groups[i], f)
			continue
		}
		index[s] = len(groups)
		groups = append(groups, []finding{f})
		at = append(at, s)
	}
	out := make([]Remark, len(groups))
	for i, g := range groups {
		out[i] = newRemark(g, at[i].at, at[i].text)
	}
	sortRemarks(c, out)
	return out
}

// newRemark is the remark that is made of findings that say the same.
func newRemark(group []finding, at field.Place, text string) Remark {
	f := group[0]
	r := Remark{Code: f.code, Kind: f.kind, Key: f.key, Quantities: f.quantities, Basis: f.basis, Follows: f.follows}
	for _, g := range group {
		r.IDs = append(r.IDs, g.id)
	}
	r.Problem = field.ProblemAt(at, sayings[f.code].hint, r.Kind+" "+field.Few(r.IDs)+": "+text)
	return r
}

// sortRemarks sorts by file, in the order in which they were read, by place in
// it, and by what is said.
func sortRemarks(c *catalog.Catalog, out []Remark) {
	order := map[string]int{}
	for i, f := range c.Files {
		order[f] = i + 1
	}
	slices.SortStableFunc(out, func(a, b Remark) int {
		return cmp.Or(
			cmp.Compare(order[a.File], order[b.File]), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.IDs[0], b.IDs[0]), cmp.Compare(a.Message, b.Message))
	})
}
