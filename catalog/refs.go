package catalog

import (
	"iter"
	"maps"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// wants are the references of parts to parts, to be resolved when all files
// are read.
type wants struct {
	profiles []want[*Profile]
	shapes   []shape
	cells    []want[*Cell]
	motors   []want[string]
	wheels   []want[string]
}

// want is one reference: its place, and where the part goes.
type want[T any] struct {
	at field.Place
	to *T
}

// shape is a profile that must be a chain's, or a belt's.
type shape struct {
	want[*Profile]
	chained    bool
	kind, twin string // of the part that has it, and of one that may have the other
}

// wantProfile notes the profile of a part, which is a placeholder.
func (r *reader) wantProfile(g field.Given, to **Profile, chained bool, kind, twin string) {
	if *to != nil {
		w := want[*Profile]{g.Place("profile"), to}
		r.wants.profiles = append(r.wants.profiles, w)
		r.wants.shapes = append(r.wants.shapes, shape{w, chained, kind, twin})
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
		if old := r.profiles[p.ID]; p.ID != "" && (old == nil || !old.BuiltIn) {
			r.profiles[p.ID] = p
		}
	}
	resolveParts(r, r.wants.profiles, "profile", r.profiles)
	r.misshapen()
	resolveParts(r, r.wants.cells, "cell", byID(r.catalog.Cells))
	resolveIDs(r, r.wants.motors, "motor", byID(r.catalog.Motors))
	resolveIDs(r, r.wants.wheels, "wheel", byID(r.catalog.Wheels))
}

// misshapen reports the profiles of chains on pulleys and belts, and those of belts on
// sprockets and chains.
func (r *reader) misshapen() {
	for _, s := range r.wants.shapes {
		p := *s.to
		if r.profiles[p.ID] != p || p.Chained() == s.chained {
			continue // no profile, which is reported, or the right one
		}
		of, hint := "belt", ", or name a chain: "+strings.Join(chainNames(), ", ")
		if p.Chained() {
			of, hint = "chain", ""
		}
		r.report.Add(s.at, field.Contradiction, "write [["+s.twin+"]] in place of [["+s.kind+"]]"+hint, "profile %s is a %s's, and this is a %s", field.Quote(p.ID), of, s.kind)
	}
}

// resolveParts puts the parts of a kind in the place of placeholders.
func resolveParts[T common](r *reader, wants []want[T], kind string, parts map[string]T) {
	s := strangers{reader: r, kind: kind, known: maps.Keys(parts)}
	for _, w := range wants {
		id := (*w.to).Common().ID
		if p, ok := parts[id]; ok {
			*w.to = p
		} else {
			s.report(w.at, id)
		}
	}
}

// resolveIDs reports the ids in wants that no part of the kind has.
func resolveIDs[T common](r *reader, wants []want[string], kind string, parts map[string]T) {
	s := strangers{reader: r, kind: kind, known: maps.Keys(parts)}
	for _, w := range wants {
		if _, ok := parts[*w.to]; !ok {
			s.report(w.at, *w.to)
		}
	}
}

// strangers reports references to no part of a kind.
type strangers struct {
	*reader
	kind   string
	known  iter.Seq[string]
	sorted []string // the same in order, once it is needed
}

// report reports one reference. Where something could not be read, the part
// may be there, and nothing is said.
func (s *strangers) report(at field.Place, id string) {
	if s.unsure {
		return
	}
	hint := ""
	if s.reader.report.Hinting() {
		if s.sorted == nil {
			s.sorted = slices.Sorted(s.known)
		}
		_, taken := s.ids[id]
		switch near, ok := field.Nearest(id, slices.Values(s.sorted)); {
		case taken:
			hint = "that is a part of another kind"
		case ok:
			hint = "did you mean " + near + "?"
		case s.kind == "profile":
			hint = "profiles: " + strings.Join(s.sorted, " ")
		}
	}
	s.reader.report.Add(at, field.UnknownID, hint, "no %s %s in the catalog", s.kind, field.Quote(id))
}

// byID indexes parts by id.
func byID[T common](parts []T) map[string]T {
	index := make(map[string]T, len(parts))
	for _, p := range parts {
		index[p.Common().ID] = p
	}
	return index
}
