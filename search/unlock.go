package search

import (
	"context"
	"math/bits"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// choicesOf are the choices of a build that can be freed, in the order of its
// parts. The number of motors is held.
var choicesOf = [...]constraints.Scope{
	constraints.OnBattery, constraints.OnController, constraints.OnMotor, constraints.OnDrive, constraints.OnWheel,
}

// Unlock lists the sets of further choices which, freed too, let some change of
// base pass every check, in a problem that constraints.Free made of it and in
// which none does: of the fewest choices, in the order of the parts. More is not
// always better: what is freed has the parts that keep and avoid leave, which may
// not be the build's own. complete is false when ctx ended it early.
func Unlock(ctx context.Context, p *constraints.Problem, base *constraints.Build, freed []constraints.Slot, o Options) (sets []constraints.Scope, complete bool) {
	touched, whole := constraints.Scope(0), 0
	for _, slot := range freed {
		touched |= constraints.ScopeOf(slot)
		if !slot.Always() {
			whole++
		}
	}
	var stuck []constraints.Scope // what each check reads that rejects base
	for _, r := range base.Results() {
		if r.Rejects(o.Strict) {
			stuck = append(stuck, r.Check.Scope(base.Problem))
		}
	}
	var further []constraints.Scope
	for _, c := range choicesOf {
		if touched&c == 0 || c == constraints.OnDrive && whole < len(constraints.DriveSlots()) {
			further = append(further, c)
		}
	}
	for n := 1; n <= len(further); n++ {
		for mask := uint(1); mask < 1<<len(further); mask++ {
			if bits.OnesCount(mask) != n {
				continue
			}
			set := constraints.Scope(0)
			for i, c := range further {
				if mask>>i&1 != 0 {
					set |= c
				}
			}
			// A check that reads nothing of what is freed rejects every change.
			if slices.ContainsFunc(stuck, func(s constraints.Scope) bool { return s&(touched|set) == 0 }) {
				continue
			}
			some, complete := changes(ctx, constraints.FreeMore(p, base, set), base, o)
			if !complete {
				return nil, false
			}
			if some {
				sets = append(sets, set)
			}
		}
		if len(sets) > 0 {
			break
		}
	}
	return sets, true
}

// changes reports whether another build than base is feasible.
func changes(ctx context.Context, q *constraints.Problem, base *constraints.Build, o Options) (some, complete bool) {
	r, err := RankOnly(ctx, q, Options{Top: 2, Workers: o.Workers, Strict: o.Strict})
	if err != nil || !r.Complete {
		return false, false
	}
	for _, e := range r.ranked {
		if !same(walk.Assemble(q, e.id), base) {
			return true, true
		}
	}
	return false, true
}
