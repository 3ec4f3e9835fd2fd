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

// Unlock is for a problem that constraints.Free made of a build and in which no
// change passes every check. It lists the smallest sets of further choices that let
// one pass when they are freed too, in the order of the parts. More is not always
// better: what is freed has the parts that keep and avoid leave, which may not be the
// build's own. complete is false when ctx ended it early.
func Unlock(ctx context.Context, p *constraints.Problem, base *constraints.Build, freed constraints.Freed, o Options) (sets []constraints.Scope, complete bool) {
	touched, further := touching(freed)
	var stuck []constraints.Scope // what each check reads that rejects base
	for _, r := range base.Results() {
		if r.Rejects(o.Strict) {
			stuck = append(stuck, r.Check.Scope(base.Problem))
		}
	}
	for n := 1; n <= len(further) && len(sets) == 0; n++ {
		for _, set := range setsOf(further, n) {
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
	}
	return sets, true
}

// touching are the choices that freed slots belong to, and the choices of which
// more can be freed.
func touching(freed constraints.Freed) (touched constraints.Scope, further []constraints.Scope) {
	touched = freed.Scope()
	ofDrive := 0
	for _, slot := range freed.Slots {
		if !slot.Always() {
			ofDrive++
		}
	}
	for _, c := range choicesOf {
		if touched&c == 0 || c == constraints.OnDrive && ofDrive < len(constraints.DriveSlots()) {
			further = append(further, c)
		}
	}
	return touched, further
}

// setsOf are the sets of n of the choices, in the order of the choices.
func setsOf(choices []constraints.Scope, n int) []constraints.Scope {
	var out []constraints.Scope
	for mask := range uint(1) << len(choices) {
		if bits.OnesCount(mask) != n {
			continue
		}
		set := constraints.Scope(0)
		for i, c := range choices {
			if mask>>i&1 != 0 {
				set |= c
			}
		}
		out = append(out, set)
	}
	return out
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
