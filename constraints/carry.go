package constraints

import (
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// A build file that carries its parts carries the brief too: the sections of a brief
// stand in it beside [build], and it is read as a brief.

// carriedBeside are the sections of such a file that are not of its brief.
func carriedBeside() []string { return []string{"build", "parts"} }

// Carrying is the build file of the build that carries its brief and the parts of those
// ids, with what they refer to.
func (b *Build) Carrying(ids ...string) []byte {
	return slices.Concat(b.File().TOML(), b.Problem.Brief.Carried(), b.Problem.Catalog.Carried(ids...))
}

// Carried is the brief as a build file carries it: what is other than without a brief.
// What it keeps and avoids is left out, since parts to choose from are not carried, and
// so is the name of a way to ride, which is a file of its own.
func (b *Brief) Carried() []byte {
	var out strings.Builder
	plain := DefaultBrief().Values()
	for i, s := range b.Values() {
		if s.Name == "keep" || s.Name == "avoid" {
			continue
		}
		header := false
		for j, k := range s.Keys {
			if k.Value == nil || k.Key == "route" {
				continue
			}
			text := field.TOML(k.Value)
			if was := plain[i].Keys[j].Value; was != nil && field.TOML(was) == text {
				continue
			}
			if !header {
				out.WriteString("\n[" + s.Name + "]\n")
				header = true
			}
			out.WriteString(k.Key + " = " + text + "\n")
		}
	}
	return []byte(out.String())
}

// sectionsOf are the sections of a brief that a document may have: those of a build file
// that carries its parts besides.
func sectionsOf(root field.Section) []string {
	names := sectionNames()
	if isCarrier(root) {
		names = append(slices.Clone(names), carriedBeside()...)
	}
	return names
}

// isCarrier reports whether a document is a build file that carries its parts.
func isCarrier(root field.Section) bool {
	for _, name := range carriedBeside() {
		if root.Value(name).Kind() == field.KindAbsent {
			return false
		}
	}
	return true
}
