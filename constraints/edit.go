package constraints

import (
	"math"
	"slices"
)

// Edit is one change to a problem: what it sets, and which derived parts of the
// problem are made anew. All else stays as it was, such as the references of the
// price and mass scores and, unless the edit renews them, which checks apply.
type Edit struct {
	// set changes a copy of the problem. It replaces lists and maps, which the
	// copy shares with the original, and never changes them.
	set    func(q *Problem)
	renews derived
}

// derived is a set of what a problem derives from its brief and its parts.
type derived uint8

const (
	// conditionsDerived are the air, the grip, the stance and the hill, which follow from the brief.
	conditionsDerived derived = 1 << iota
	// drivesDerived are the drives, which follow from pulleys, belts, mounts and
	// gear drives.
	drivesDerived
	// checksDerived are the checks of the problem that still apply.
	checksDerived
)

// With is the problem with edits, made one after the other. The problem itself
// stays as it is.
func (p *Problem) With(edits ...Edit) *Problem {
	q := *p
	for _, e := range edits {
		e.set(&q)
		q.renew(e.renews)
	}
	return &q
}

// renew derives anew.
func (p *Problem) renew(what derived) {
	if what&conditionsDerived != 0 {
		p.conditions()
	}
	if what&drivesDerived != 0 {
		p.makeDrives()
	}
	if what&checksDerived != 0 {
		p.checks = only(p.checks, func(c *Check) bool { return c.Applies(p) })
	}
}

// Demoting lets more checks, by name, only caution and never reject.
func Demoting(checks ...string) Edit {
	return Edit{set: func(q *Problem) {
		demoted := map[string]bool{}
		for name := range q.demoted {
			demoted[name] = true
		}
		for _, name := range checks {
			demoted[name] = true
		}
		q.demoted = demoted
	}}
}

// Without leaves out some checks, by name: they do not apply.
func Without(checks ...string) Edit {
	return Edit{set: func(q *Problem) {
		q.checks = only(q.checks, func(c *Check) bool { return !slices.Contains(checks, c.Name) })
	}}
}

// Unceiled takes the brief's ceiling of electrical rpm away: the controllers' own
// holds.
func Unceiled() Edit {
	return Edit{renews: checksDerived, set: func(q *Problem) {
		brief := *q.Brief
		brief.Limit.ERPMCeiling = math.NaN()
		q.Brief = &brief
		q.Controllers = mapped(q.Controllers, func(c Controller) *Controller {
			c.Ceiling = c.ERPMCeiling
			return &c
		})
	}}
}

// Briefed puts another brief in place, as Build.Under says. The parts in play stay
// prepared under the brief before.
func Briefed(brief *Brief) Edit {
	return Edit{renews: conditionsDerived, set: func(q *Problem) {
		q.Brief = brief
		q.PriceReference = orElse(brief.Limit.Price, q.PriceReference)
		q.MassReference = orElse(brief.Limit.Mass, q.MassReference)
	}}
}

// Unslipping lets the driven wheels hold any force: tyres never slip, and no axle
// lifts. An edit that derives the conditions anew undoes it.
func Unslipping() Edit {
	return Edit{set: func(q *Problem) { q.Grip = math.Inf(1) }}
}

// riding changes who rides, how, and where, in a copy of the brief.
func riding(change func(brief *Brief)) Edit {
	return Edit{renews: conditionsDerived, set: func(q *Problem) {
		brief := *q.Brief
		change(&brief)
		q.Brief = &brief
	}}
}

// checkedBy puts other checks in place.
func checkedBy(checks []*Check) Edit {
	return Edit{set: func(q *Problem) { q.checks = checks }}
}

// only is a copy of the list with the items that keep accepts.
func only[T any](list []T, keep func(T) bool) []T {
	var out []T
	for _, x := range list {
		if keep(x) {
			out = append(out, x)
		}
	}
	return out
}

// mapped is a list of changed copies.
func mapped[T any](list []*T, change func(T) *T) []*T {
	out := make([]*T, len(list))
	for i, x := range list {
		out[i] = change(*x)
	}
	return out
}
