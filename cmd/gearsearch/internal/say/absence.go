package say

import "gearsearch/constraints"

// A cell has UnknownSign for a figure that is not known, and NoneSign for one that
// the build does not have or that nobody asked for.
const (
	UnknownSign = "?"
	NoneSign    = "–"
)

// Absent says why a figure of a build has no value, "" where it has one: it is
// not asked for, the build has no such thing or never comes to it, or data is
// missing.
func Absent(f constraints.Figure, b *constraints.Build) string {
	switch f.Absence(b) {
	case constraints.Present:
		return ""
	case constraints.NotAsked:
		return "not asked"
	case constraints.NotReached:
		return "not reached"
	case constraints.NotThere:
		switch f.Name {
		case "erpm_speed_limit_kmh":
			return "no ceiling"
		case "top_speed_limited_by":
			return "does not move off"
		}
		return ofChain("no belt here", b.Drive.Chained())
	}
	return "unknown"
}

// AbsentSign is Absent for a cell of a table.
func AbsentSign(f constraints.Figure, b *constraints.Build) string {
	switch f.Absence(b) {
	case constraints.Present:
		return ""
	case constraints.NotKnown:
		return UnknownSign
	}
	return NoneSign
}
