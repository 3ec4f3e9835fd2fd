package catalog

import (
	"maps"
	"slices"

	"gearsearch/catalog/field"
)

// wants are the references of parts to parts, to be resolved when all files
// are read.
type wants struct {
	profiles []want[*Profile]
	cells    []want[*Cell]
	motors   []want[string]
	wheels   []want[string]
}

// want is one reference: its place, and where the part goes.
type want[T any] struct {
	at field.Place
	to *T
}

// wantProfile notes the profile of a pulley or belt, which is a placeholder.
func (r *reader) wantProfile(at field.Place, to **Profile) {
	if *to != nil {
		r.wants.profiles = append(r.wants.profiles, want[*Profile]{at, to})
	}
}

// wantIDs notes the ids that a key lists.
func wantIDs(list *[]want[string], v field.Value, ids []string) {
	i := 0
	for item := range v.Parts() {
		if i < len(ids) {
			*list = append(*list, want[string]{item.Place(), &ids[i]})
		}
		i++
	}
}

// resolve puts parts in the place of placeholders and reports references to
// no part. The catalog's own profiles are known by now.
func (r *reader) resolve() {
	for _, p := range r.catalog.Profiles {
		if p.ID != "" {
			r.profiles[p.ID] = p
		}
	}
	for _, w := range r.wants.profiles {
		if p, ok := r.profiles[(*w.to).ID]; ok {
			*w.to = p
		} else {
			r.stranger(w.at, "profile", (*w.to).ID, slices.Collect(maps.Keys(r.profiles)))
		}
	}
	cells := byID(r.catalog.Cells)
	for _, w := range r.wants.cells {
		if c, ok := cells[(*w.to).ID]; ok {
			*w.to = c
		} else {
			r.stranger(w.at, "cell", (*w.to).ID, slices.Collect(maps.Keys(cells)))
		}
	}
	resolveIDs(r, r.wants.motors, "motor", r.catalog.Motors)
	resolveIDs(r, r.wants.wheels, "wheel", r.catalog.Wheels)
}

// resolveIDs reports the ids in wants that no part of the kind has.
func resolveIDs[T common](r *reader, wants []want[string], kind string, parts []T) {
	if len(wants) == 0 {
		return
	}
	known := byID(parts)
	for _, w := range wants {
		if _, ok := known[*w.to]; !ok {
			r.stranger(w.at, kind, *w.to, slices.Collect(maps.Keys(known)))
		}
	}
}

// stranger reports a reference to no part. Where something could not be read,
// the part may be there, and nothing is said.
func (r *reader) stranger(at field.Place, kind, id string, known []string) {
	if r.unsure {
		return
	}
	hint := ""
	if r.report.Hinting() {
		slices.Sort(known)
		if near, ok := field.Nearest(id, slices.Values(known)); ok {
			hint = "did you mean " + near + "?"
		} else if kind == "profile" {
			hint = "profiles: " + join(known)
		}
	}
	r.report.Add(at, hint, "no %s %s in the catalog", kind, field.Quote(id))
}

// byID indexes parts by id.
func byID[T common](parts []T) map[string]T {
	index := make(map[string]T, len(parts))
	for _, p := range parts {
		index[p.Common().ID] = p
	}
	return index
}
