package catalog

import (
	"cmp"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// Remark is something in a catalog that is allowed and worth a second look. It
// prints like a problem: with the place, the line and a hint.
type Remark struct {
	field.Problem
	Kind  string
	IDs   []string // the parts that it is about: several where a table stands for several
	Key   string   // the key that it is about, "" for the part as a whole
	Basis string   // what the remark goes by: a source, or in words that there is none
	// Follows: it is so only because of what other remarks say, and goes away
	// with them.
	Follows bool
}

// remark is a remark without its place.
type remark struct {
	kind, id, key string
	text, hint    string
	basis         string
	follows       bool
}

// remarks gives remarks their places, joins those that say the same of parts
// of one table, and sorts them by place.
func (c *Catalog) remarks(found []remark) []Remark {
	if len(found) == 0 {
		return nil
	}
	type saying struct {
		at        field.Place
		key, text string
	}
	marks := c.places()
	index := map[saying]int{}
	var groups [][]remark
	var places []field.Place
	for _, r := range found {
		at := marks[r.id].place(r.key)
		s := saying{at, r.kind + " " + r.key, r.text}
		if i, ok := index[s]; ok && at.Known() {
			groups[i] = append(groups[i], r)
			continue
		}
		index[s] = len(groups)
		groups = append(groups, []remark{r})
		places = append(places, at)
	}
	out := make([]Remark, len(groups))
	for i, g := range groups {
		out[i] = newRemark(g, places[i])
	}
	c.sortRemarks(out)
	return out
}

// newRemark is the remark that is made of each of a group.
func newRemark(group []remark, at field.Place) Remark {
	r := group[0]
	out := Remark{Kind: r.kind, Key: r.key, Basis: r.basis, Follows: r.follows}
	for _, g := range group {
		out.IDs = append(out.IDs, g.id)
	}
	out.Problem = field.ProblemAt(at, r.hint, r.kind+" "+few(out.IDs)+": "+r.text)
	return out
}

// few are ids in a message: the first three, and how many more.
func few(ids []string) string {
	const most = 3
	if len(ids) <= most {
		return strings.Join(ids, ", ")
	}
	return strings.Join(ids[:most], ", ") + " and " + field.FormatNumber(float64(len(ids)-most)) + " more"
}

// sortRemarks sorts by file, in the order in which they were read, by place in
// it, and by what is said.
func (c *Catalog) sortRemarks(out []Remark) {
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

// mark is where a part stands in its file.
type mark struct {
	given  field.Given
	member int // of the parts that the table stands for
}

// mark notes where a part stands.
func (r *reader) mark(id string, given field.Given, member int) {
	if r.marks != nil {
		r.marks[id] = mark{given, member}
	}
}

// places reads the catalog's files again and this time notes where each part
// stands. It costs nothing to read a catalog that nobody asks about, and the
// places of a large one would take more memory than its parts. A catalog that
// was made in memory has no places.
func (c *Catalog) places() map[string]mark {
	r := newReader()
	r.marks = map[string]mark{}
	for _, src := range c.sources {
		r.file(src)
	}
	return r.marks
}

// place is where the part gives a key; where it gives it not, the part's own
// place.
func (m mark) place(key string) field.Place {
	at := m.given.Section().Place()
	for _, k := range []string{"id", key} {
		v := m.given.Value(k)
		if v.Kind() == field.KindAbsent {
			continue
		}
		at = v.Place()
		if in := m.given.Info(k); in != nil && in.Family && v.Kind() == field.KindList {
			i := 0
			for item := range v.Items() {
				if i == m.member {
					at = item.Place()
				}
				i++
			}
		}
	}
	return at
}
