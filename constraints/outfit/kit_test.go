package outfit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gearsearch/constraints"
	"gearsearch/constraints/outfit/outfittest"
)

var nan = math.NaN()

// The kit of package outfittest.
const hill = outfittest.Hill

func bare() []string { return outfittest.Bare() }

func build(t testing.TB, brief string, changes ...string) *constraints.Build {
	t.Helper()
	return outfittest.Build(t, brief, changes...)
}

// outfitOf completes the kit's build on the hill.
func outfitOf(t testing.TB, changes ...string) *Outfit {
	t.Helper()
	return Complete(build(t, hill, changes...), DefaultWishes())
}

// near fails unless got is within a relative distance of want; NaN is near NaN.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(want) != math.IsNaN(got) || math.Abs(got-want) > tolerance*math.Abs(want) {
		t.Errorf("%s = %.9g, want %.9g", what, got, want)
	}
}

// finds writes what a check finds likewise.
func finds(f Finding) string {
	n := f.Need
	if n == nil {
		return briefly(f.Says)
	}
	text := n.State.String()
	switch n.State {
	case Chosen:
		text += " " + n.Part.ID
	case Open:
		text += " " + briefly(n.Open()...)
	case Misfit, Unsure, Missing:
		for _, x := range n.Turned {
			text += " (" + x.ID + ": " + briefly(x.Why...) + ")"
		}
		text += " " + briefly(n.Buy)
	}
	if f.Inside {
		text += ", may be inside"
	}
	return text
}

// briefly writes statements by their codes, with names and numbers.
func briefly(list ...Statement) string {
	var out []string
	for _, s := range list {
		text := string(s.Code)
		for _, name := range s.Names {
			text += " " + name
		}
		for _, q := range s.Quantities {
			text += fmt.Sprintf(" %.3g", q.SI*q.PerSI)
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}
