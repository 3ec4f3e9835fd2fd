package constraints

import (
	"cmp"
	"math"
	"slices"
)

// Wish is a target or limit of a brief that can be dropped: asked for no more,
// all else held.
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
	Checks []string // that reject no more when it is dropped
	// Floors are what a build must pass all the same, by Checks; nil: nothing.
	Floors []*Check
	// Moves tells that builds behave otherwise without the wish, so that checks
	// beside Checks may have another verdict, either way: those of Dropping.
	Moves bool
}

// Wishes lists the targets and limits of the brief, defaults among them, in the
// order of its keys. Left out are those that concern no check that rejects, and
// limits of 0, which ask for nothing.
func (p *Problem) Wishes() []Wish {
	var out []Wish
	for _, k := range briefNumbers() {
		w := Wish{Key: k.Path(), Unit: k.Unit, PerSI: k.Per, Value: *k.at(p.Brief)}
		w.waives(p.Brief)
		nothing := w.Value == 0 && !k.Asks
		if len(w.Checks) == 0 || math.IsNaN(w.Value) || nothing || !w.Moves && !p.rejectsBy(w.Checks) {
			continue
		}
		out = append(out, w)
	}
	return out
}

// waives sets what the checks say of the wish.
func (w *Wish) waives(b *Brief) {
	for _, check := range registry {
		e, ok := check.eased(w.Key, b)
		switch {
		case !ok || e.Try != nil:
			continue
		case e.Aside:
			w.Moves = true
			continue
		}
		w.Checks = append(w.Checks, check.Name)
		w.Unit = cmp.Or(w.Unit, e.Unit)
		w.Floors = append(w.Floors, e.Floor)
	}
}

// rejectsBy reports whether one of the checks applies and rejects.
func (p *Problem) rejectsBy(names []string) bool {
	return slices.ContainsFunc(p.checks, func(c *Check) bool { return slices.Contains(names, c.Name) && !p.Demoted(c) })
}
