package catalog

import (
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// A catalog may use lists of standards: their parts are read as if they stood in the
// file. All that is said of one stands at the name of its list there.

// useKey is the key that names the lists which a catalog uses.
const useKey = "use"

// Used is a list that a catalog uses.
type Used struct {
	List, Kind string
	Parts      int
	Pos        Position
}

// uses is what a reader knows of lists.
type uses struct {
	read   map[usedBy]bool
	names  map[field.Place]string // of the lists, by where they are named
	now    named                  // the list being read; zero: none is
	places map[*Part]named        // the lists of parts that changes name
}

// named is where a list is named, and a place in the list itself.
type named struct{ at, within field.Place }

// usedBy is a list and the one of the catalogs being merged that uses it.
type usedBy struct {
	list    string
	catalog int
}

// useField is the key of the lists that a catalog uses.
func useField() field.Field[head] {
	return field.Field[head]{
		Key: useKey, Filled: true, Once: true, Default: "none", Meaning: "lists of standards whose parts it has, such as \"belts/htd-5m\"; gearsearch catalog show --standard lists them",
		Texts: func(h *head) *[]string { return &h.use },
	}
}

// use reads lists that a file names.
func (r *reader) use(given field.Value, names []string) {
	i := 0
	for item := range given.Parts() {
		if i == len(names) {
			break
		}
		r.useOne(names[i], item.Place())
		i++
	}
}

// useOne reads a list, once for all files that name it.
func (r *reader) useOne(name string, at field.Place) {
	list, ok := StandardNamed(name)
	if !ok || list.Kind == "" {
		r.unsure = true
		r.noList(list, name, at)
		return
	}
	by := usedBy{list: name}
	if r.merge != nil {
		by.catalog = r.merge.now
	}
	if r.uses.read[by] {
		return
	}
	if r.uses.read == nil {
		r.uses.read, r.uses.names = map[usedBy]bool{}, map[field.Place]string{}
	}
	r.uses.read[by], r.uses.names[at] = true, name
	k, _ := kindNamed(list.Kind)
	before := k.count(r.catalog)
	for s := range field.Parse(Source{Name: name, Data: []byte(list.tables)}, &r.report, list.Kind).Root().Value(list.Kind).Sections() {
		r.uses.now = named{at, s.Place()}
		k.read(r, s)
	}
	r.uses.now = named{}
	r.catalog.Uses = append(r.catalog.Uses, Used{name, list.Kind, k.count(r.catalog) - before, positionOf(at)})
}

// noList reports what is no list of parts.
func (r *reader) noList(list Standard, name string, at field.Place) {
	if list.Sizes != nil {
		r.report.Add(at, field.UnknownID, "write them into your own: gearsearch catalog show --standard "+name+" lists them", "the list %s has sizes, which are no parts", field.Quote(name))
		return
	}
	names := StandardNames(true)
	hint := "the lists are " + strings.Join(names, ", ")
	if near, ok := field.Nearest(name, slices.Values(names)); ok {
		hint = "did you mean " + near + "?"
	}
	r.report.Add(at, field.UnknownID, hint, "there is no list %s", field.Quote(name))
}

// listed is the list that a part comes from, by the place at which its id is defined.
func (r *reader) listed(at field.Place) (name string, ok bool) {
	name, ok = r.uses.names[at]
	return name, ok
}

// of is the list that a part being read, or one that changes name, comes from.
func (u *uses) of(p *Part) named {
	if u.now.at.Known() {
		return u.now
	}
	return u.places[p]
}

// keep notes the list of a part, for what is changed of it later.
func (u *uses) keep(p *Part) {
	if !u.now.at.Known() {
		return
	}
	if u.places == nil {
		u.places = map[*Part]named{}
	}
	u.places[p] = u.now
}
