package constraints

import (
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
)

// section is a section of a brief: the keys that go into one part of it.
type section struct {
	name  string
	table *field.Table[Brief]
}

// newSection makes a section of the fields of a part of a brief.
func newSection[T any](name string, fields []field.Field[T], part func(b *Brief) *T) section {
	return section{name, field.NewTable("["+name+"]", field.Lift(fields, part))}
}

// briefSections is every section of a brief, in order.
var briefSections = acquainted([]section{
	newSection("rider", riderFields(), func(b *Brief) *Rider { return &b.Rider }),
	newSection("board", boardFields(), func(b *Brief) *Board { return &b.Board }),
	newSection("ground", groundFields(), func(b *Brief) *Ground { return &b.Ground }),
	newSection("target", targetFields(), func(b *Brief) *Target { return &b.Target }),
	newSection("limit", limitFields(), func(b *Brief) *Limits { return &b.Limit }),
	newSection("ride", rideFields(), func(b *Brief) *Journey { return &b.Ride }),
	newSection("weights", weightFields(), func(b *Brief) *Weights { return &b.Weights }),
	newSection("tolerance", toleranceFields(), func(b *Brief) *Tolerance { return &b.Vary }),
	newSection("keep", slotFields("ids of parts, or of families of them, to choose from: "), func(b *Brief) *[slotCount][]string { return &b.Keep }),
	newSection("avoid", slotFields("ids of parts, or of families of them, to leave out: "), func(b *Brief) *[slotCount][]string { return &b.Avoid }),
})

// acquainted makes the sections know each other's keys, for hints at keys that
// stand in the wrong one.
func acquainted(sections []section) []section {
	for _, s := range sections {
		s.table.Elsewhere = func(key string) string { return elsewhere(sections, s.name, key) }
	}
	return sections
}

// elsewhere says in which other section a key belongs, by its own name or by another
// that people use; "" for none. Weights and tolerances count where no other section
// has it.
func elsewhere(sections []section, in, key string) string {
	var paths, lesser []string
	for _, s := range sections {
		name, ok := s.table.Meant(key)
		switch path := s.name + "." + name; {
		case !ok || s.name == in || s.name == "keep" || s.name == "avoid":
		case s.name == "weights" || s.name == "tolerance":
			lesser = append(lesser, path)
		default:
			paths = append(paths, path)
		}
	}
	if len(paths) == 0 {
		paths = lesser
	}
	if len(paths) == 0 {
		return ""
	}
	return "did you mean " + strings.Join(paths, " or ") + "?"
}

// sectionNames lists the sections of a brief, in order.
func sectionNames() []string {
	names := make([]string, len(briefSections))
	for i, s := range briefSections {
		names[i] = s.name
	}
	return names
}

// keyTable is the table that has a key, "section.key", and the key's name in it; nil
// where briefs have no such section.
func keyTable(key string) (t *field.Table[Brief], name string) {
	in, name, _ := strings.Cut(key, ".")
	for _, s := range briefSections {
		if s.name == in {
			return s.table, name
		}
	}
	return nil, name
}

// BriefKey is a key of a brief and its section.
type BriefKey struct {
	Section string
	field.Info
}

// Path is the key with its section: section.key.
func (k BriefKey) Path() string { return k.Section + "." + k.Key }

// ShownIn is the unit that the key's value is shown in, "" for a bare number or
// none; "price" stands for the currency.
func (k BriefKey) ShownIn() string {
	switch k.Kind {
	case &unit.Money:
		return "price"
	case &unit.Teeth:
		return "teeth"
	}
	return k.Unit
}

// BriefKeys lists every key of a brief, in order.
func BriefKeys() []BriefKey {
	var out []BriefKey
	for _, s := range briefSections {
		for _, info := range s.table.Infos() {
			out = append(out, BriefKey{s.name, info})
		}
	}
	return out
}

// BriefKeyAt is the key of a path; ok is false if a brief has none such.
func BriefKeyAt(path string) (k BriefKey, ok bool) {
	t, name := keyTable(path)
	if t == nil {
		return k, false
	}
	in, ok := t.Info(name)
	if !ok {
		return k, false
	}
	section, _, _ := strings.Cut(path, ".")
	return BriefKey{section, *in}, true
}

// BriefNumber is a key of a brief that holds a number, with its place.
type BriefNumber struct {
	BriefKey
	At func(b *Brief) *float64 // where a brief holds it, SI
}

// BriefNumbers lists the keys that hold one number, in order.
func BriefNumbers() []BriefNumber {
	var out []BriefNumber
	for _, s := range briefSections {
		for in, at := range s.table.Numbers() {
			out = append(out, BriefNumber{BriefKey{s.name, *in}, at})
		}
	}
	return out
}
