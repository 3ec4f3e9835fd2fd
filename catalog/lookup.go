package catalog

import (
	"iter"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// common is a pointer to any kind of part.
type common interface{ Common() *Part }

// ByID finds a part by its id among parts sorted by id, as the kinds of a
// Catalog are.
func ByID[T common](parts []T, id string) (part T, ok bool) {
	i, ok := slices.BinarySearchFunc(parts, id, func(p T, id string) int { return compareIDs(p.Common().ID, id) })
	if !ok {
		return part, false
	}
	return parts[i], true
}

// IDs yields the ids of parts in order.
func IDs[T common](parts []T) iter.Seq[string] {
	return func(yield func(string) bool) {
		for _, p := range parts {
			if !yield(p.Common().ID) {
				return
			}
		}
	}
}

// compareIDs orders ids as bytes.
func compareIDs(a, b string) int { return strings.Compare(a, b) }

// Kinds describes every kind of parts, in the order of the catalog format.
func Kinds() []KindInfo {
	var out []KindInfo
	for _, k := range registry {
		out = append(out, k.info())
	}
	return out
}

// KindNames lists the names of the kinds in the same order.
func KindNames() []string {
	names := make([]string, len(registry))
	for i, k := range registry {
		names[i] = k.info().Name
	}
	return names
}

func kindNamed(name string) (kind, bool) {
	for _, k := range registry {
		if k.info().Name == name {
			return k, true
		}
	}
	return nil, false
}

// KindCount is the number of parts of one kind.
type KindCount struct {
	Kind string
	N    int
}

// Count is the number of parts of each kind, in the order of the catalog
// format: every kind that builds are made of, and of sprockets, chains and the kinds
// of accessories those that the catalog has any of. Built-in profiles do not count.
func (c *Catalog) Count() []KindCount {
	var out []KindCount
	for _, k := range registry {
		if in, n := k.info(), k.count(c); n > 0 || !in.Accessory && !in.Instead {
			out = append(out, KindCount{in.Name, n})
		}
	}
	return out
}

// Parts yields every part with the name of its kind: kinds in the order of the
// catalog format, parts by id.
func (c *Catalog) Parts() iter.Seq2[string, *Part] {
	return func(yield func(string, *Part) bool) {
		for _, k := range registry {
			name := k.info().Name
			for p := range k.parts(c) {
				if !yield(name, p) {
					return
				}
			}
		}
	}
}

// Find finds a part by its id, whatever its kind. Built-in profiles are not
// parts of the catalog.
func (c *Catalog) Find(id string) (kindName string, part *Part, ok bool) {
	for name, p := range c.Parts() {
		if p.ID == id {
			return name, p, true
		}
	}
	return "", nil, false
}

// Values yields the keys of the part with that kind and id, with the values
// that it has for them in the keys' units; nil where a key is absent. It
// yields nothing if there is no such part.
func (c *Catalog) Values(kindName, id string) iter.Seq2[*field.Info, any] {
	for e := range c.Entries(kindName) {
		if e.Part.ID == id {
			return e.Values()
		}
	}
	return func(func(*field.Info, any) bool) {}
}

// Entry is one part with the keys of its kind.
type Entry struct {
	Kind string
	Part *Part

	catalog *Catalog
	kind    kind
	index   int
}

// Values yields the keys of the part's kind with the values that it has for
// them in the keys' units, as it was written; nil where a key is absent.
func (e Entry) Values() iter.Seq2[*field.Info, any] { return e.kind.values(e.catalog, e.index) }

// Value is what the part has for one key, as Values gives it. in is nil if
// its kind has no such key.
func (e Entry) Value(key string) (in *field.Info, value any) {
	if in = e.kind.field(key); in != nil {
		value = e.kind.value(e.catalog, e.index, key)
	}
	return in, value
}

// Entries yields the parts of the named kinds, or of every kind if none is
// named: kinds in the order of the catalog format, parts by id. Names of no
// kind are passed over.
func (c *Catalog) Entries(kinds ...string) iter.Seq[Entry] {
	return func(yield func(Entry) bool) {
		for _, k := range registry {
			name := k.info().Name
			if len(kinds) > 0 && !slices.Contains(kinds, name) {
				continue
			}
			i := 0
			for p := range k.parts(c) {
				if !yield(Entry{name, p, c, k, i}) {
					return
				}
				i++
			}
		}
	}
}

// Profile finds a tooth profile by its id: one of the catalog's own, or a
// built-in one.
func (c *Catalog) Profile(id string) (p *Profile, ok bool) {
	if p, ok := ByID(c.Profiles, id); ok {
		return p, true
	}
	for _, p := range c.builtIn {
		if p.ID == id {
			return p, true
		}
	}
	return nil, false
}
