package constraints

// Under makes the build anew under another brief, which must try the same
// numbers of motors, set the same targets and limits and demote the same
// checks as the problem's own: only values may differ. What the build's
// battery, controller or wheel was varied or tuned to is lost.
func (b *Build) Under(brief *Brief) *Build {
	p := b.Problem.With(Briefed(brief))
	out := &Build{Problem: p}
	out.Electrify(p.battery(b.Battery.Battery), p.controller(b.Controller.Controller), b.Motor, b.Count)
	out.Roll(b.Drive, p.wheel(b.Wheel.Wheel))
	return out
}

// Rejected reports whether a check rejects the build; strict counts what is
// undecided as a failure.
func (b *Build) Rejected(strict bool) bool {
	for _, c := range b.Problem.checks {
		if b.RejectedBy(c, strict) {
			return true
		}
	}
	return false
}

// RejectedBy reports whether one check that applies rejects the build.
func (b *Build) RejectedBy(c *Check, strict bool) bool {
	return c.Lists(b.Drive) && !b.Problem.Demoted(c) && Result{Check: c, Outcome: c.Test(b)}.Rejects(strict)
}
