package say

import "gearsearch/catalog/field"

// Carries says that parts or brief are those that a build file has in it.
func Carries(file string, parts, brief bool) string {
	what := "parts and brief are"
	switch {
	case !brief:
		what = "parts are"
	case !parts:
		what = "the brief is"
	}
	if what == "the brief is" {
		return what + " the one that " + Shown(file) + " carries"
	}
	return what + " those that " + Shown(file) + " carries"
}

// CarriedOther says that the catalog counts where parts differ from those that a build
// file carries.
func CarriedOther(file string, ids []string) string {
	return "--catalog counts where it differs from what " + Shown(file) + " carries: " + field.Few(ids) + "; gearsearch catalog diff tells in what"
}

// WayLeft says that a build file does not carry the way to ride.
func WayLeft(file string) string {
	return Shown(file) + " does not carry the way of the brief, which is a file of its own: name it with --route"
}
