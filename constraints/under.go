package constraints

// Under makes the build anew under another brief, which must set the same
// targets and limits as the problem's own, to other values.
func (b *Build) Under(brief *Brief) *Build {
	p := *b.Problem
	p.Brief = brief
	p.Counts, p.Shares = nil, nil
	p.conditions()
	out := &Build{Problem: &p}
	out.Electrify(p.battery(b.Battery.Battery), p.controller(b.Controller.Controller), b.Motor, b.Count)
	out.Roll(b.Drive, p.wheel(b.Wheel.Wheel))
	return out
}

// Rejected reports whether a check rejects the build; strict counts what is
// undecided as a failure.
func (b *Build) Rejected(strict bool) bool {
	p := b.Problem
	for _, c := range p.checks {
		if c.Lists(b.Drive) && (Result{c, c.Test(b), p.Demoted(c)}).Rejects(strict) {
			return true
		}
	}
	return false
}
