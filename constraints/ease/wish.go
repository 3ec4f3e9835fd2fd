package ease

import (
	"math"
	"slices"

	"gearsearch/constraints"
)

// Wish is a target or limit of a brief that can be dropped, with all else held.
//
// A key that a brief may leave out is dropped as if the brief left it out: with
// a climb grade go all the checks of the climb, and with a top speed the check
// of the electrical rpm where the rule holds that at the target. A key with a
// default that the checks cannot do without is dropped to what nature leaves:
// the headroom to 0, since the ceiling of a controller is no wish, and the
// ground clearance to 0, since nothing runs below the ground. Without the teeth
// in mesh and the heat factor their checks reject nothing more.
type Wish struct {
	Key    string // section.key
	Unit   string // of the key; "price" stands for the currency
	PerSI  float64
	Value  float64  // as the brief has it, SI
	Eases  int      // +1: a greater value asks for less, −1: a lower one; 0: neither
	Checks []string // that reject no more when it is dropped
	// Floors are what a build must pass all the same, by Checks; nil: nothing.
	Floors []*constraints.Check
	// Moves tells that builds behave otherwise without the wish, so that checks
	// beside Checks may have another verdict, either way: those of Dropping.
	Moves bool
}

// Wishes lists the targets and limits of the brief, defaults among them, in the order
// of its keys. Left out are wishes that bear on no check that rejects, and limits of
// 0, which ask for nothing.
func Wishes(p *constraints.Problem) []Wish {
	var out []Wish
	for _, k := range constraints.BriefNumbers() {
		w := Wish{Key: k.Path(), Unit: k.ShownIn(), PerSI: k.Per, Value: *k.At(p.Brief), Eases: k.Eases}
		w.waives(p.Brief)
		nothing := w.Value == 0 && !k.Asks
		if len(w.Checks) == 0 || math.IsNaN(w.Value) || nothing || !w.Moves && !rejectsBy(p, w.Checks) {
			continue
		}
		out = append(out, w)
	}
	return out
}

// waives sets what the checks say of the wish.
func (w *Wish) waives(b *constraints.Brief) {
	for _, check := range constraints.Registry() {
		e, ok := check.EasedBy(w.Key, b)
		switch {
		case !ok || e.Try != constraints.ByFormula:
			continue
		case e.Aside:
			w.Moves = true
			continue
		}
		w.Checks = append(w.Checks, check.Name)
		w.Floors = append(w.Floors, e.Floor)
	}
}

// rejectsBy reports whether one of the checks applies and rejects.
func rejectsBy(p *constraints.Problem, names []string) bool {
	return slices.ContainsFunc(p.Checks(), func(c *constraints.Check) bool { return slices.Contains(names, c.Name) && !p.Demoted(c) })
}

// Dropping drops a wish. One that moves builds is the brief's rpm ceiling: without
// it the controllers' own hold.
func Dropping(w Wish) constraints.Edit {
	if w.Moves {
		return constraints.Unceiled()
	}
	return constraints.Without(w.Checks...)
}
