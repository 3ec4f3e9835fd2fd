package audit

import (
	"cmp"
	"slices"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// Remark is something in a catalog that is allowed and worth a second look.
type Remark struct {
	Code       Code
	Kind       string
	IDs        []string // the parts that it is about: several where a table stands for several
	Key        string   // the key that it is about, "" for the part as a whole
	Quantities []Quantity
	Basis      string      // the source of the remark, or words that say there is none
	At         field.Place // nowhere where the parts were made in memory
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

// remarks places findings, joins equal ones about parts of one table, and sorts them
// by place.
func remarks(c *catalog.Catalog, found []finding) []Remark {
	if len(found) == 0 {
		return nil
	}
	type subject struct {
		at        field.Place
		kind, key string
		code      Code
	}
	places := c.Places()
	index := map[subject][]int{} // of the remarks on it
	var out []Remark
	for _, f := range found {
		s := subject{places.At(f.id, f.key), f.kind, f.key, f.code}
		if s.at.Known() {
			same := slices.IndexFunc(index[s], func(i int) bool { return compareAll(out[i].Quantities, f.quantities) == 0 })
			if same >= 0 {
				r := &out[index[s][same]]
				r.IDs = append(r.IDs, f.id)
				continue
			}
			index[s] = append(index[s], len(out))
		}
		out = append(out, Remark{
			Code: f.code, Kind: f.kind, IDs: []string{f.id}, Key: f.key, Quantities: f.quantities,
			Basis: f.basis, At: s.at, Follows: f.follows,
		})
	}
	slices.SortStableFunc(out, compareRemarks)
	return out
}

// compareRemarks orders remarks by place, in the order in which the files were
// read, by part, and by what is said.
func compareRemarks(a, b Remark) int {
	return cmp.Or(
		a.At.Compare(b.At), cmp.Compare(a.IDs[0], b.IDs[0]), cmp.Compare(a.Code, b.Code), compareAll(a.Quantities, b.Quantities))
}

func compareAll(a, b []Quantity) int { return slices.CompareFunc(a, b, Quantity.compare) }
