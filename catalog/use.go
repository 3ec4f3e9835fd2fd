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
	List  string
	Parts int
	Pos   Position
}

// named is a list that a file names.
type named struct {
	list    string
	catalog int         // of those being merged
	at      field.Place // where it is named
	within  field.Place // in the list itself
	pos     Position    // of at
}

// useField is the key of the lists that a catalog uses.
func useField() field.Field[head] {
	return field.Field[head]{
		Key: useKey, Filled: true, Once: true, Default: "none",
		Meaning: "lists of standards whose parts it has, such as \"belts/htd-5m\"; gearsearch catalog show --standard lists them",
		Texts:   func(h *head) *[]string { return &h.use },
	}
}

// use reads lists that a file names.
func (r *reader) use(given field.Value, names []string) {
	for item := range given.Parts() {
		if len(names) == 0 {
			break
		}
		r.useOne(names[0], item.Place())
		names = names[1:]
	}
}

// useOne reads a list, once for all files that name it.
func (r *reader) useOne(name string, at field.Place) {
	src, ok := standardSource(name)
	if !ok {
		r.unsure = true
		r.noList(name, at)
		return
	}
	of := &named{list: name, at: at, pos: positionOf(at)}
	if r.merge != nil {
		of.catalog = r.merge.now
	}
	for _, u := range r.uses {
		if u.list == name && u.catalog == of.catalog {
			return
		}
	}
	root := field.Parse(src, &r.report, KindNames()...).Root()
	of.within = root.Place()
	r.uses = append(r.uses, of)
	before := r.parts
	r.using = of
	r.tables(root)
	r.using = nil
	r.catalog.Uses = append(r.catalog.Uses, Used{name, r.parts - before, of.pos})
}

// noList reports what is no list of parts.
func (r *reader) noList(name string, at field.Place) {
	if name == cellSizes {
		r.report.Add(at, field.UnknownID, "write them into your own: gearsearch catalog show --standard "+name+" lists them", "the list %s has sizes, which are no parts", field.Quote(name))
		return
	}
	names := StandardNames()
	hint := "the lists are " + strings.Join(names, ", ")
	if near, ok := field.Nearest(name, slices.Values(names)); ok {
		hint = "did you mean " + near + "?"
	}
	r.report.Add(at, field.UnknownID, hint, "there is no list %s", field.Quote(name))
}

// listAt is the list that is named at a place; nil for none.
func (r *reader) listAt(pos Position) *named {
	for _, u := range r.uses {
		if u.pos == pos {
			return u
		}
	}
	return nil
}
