package search

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gearsearch/constraints"
)

// Opening is a concession that opens builds, the smallest that does.
type Opening struct {
	Concessions []Given // one, or the two of a pair
	// Cost is how much is given up, relative to what was asked, added up.
	Cost float64
	// Build is the build that opens last as the concession grows, under the
	// brief as it was; Relaxed is the same under the brief as conceded.
	Build   *constraints.Build
	Relaxed *constraints.Build
}

// Given is one key of the brief with its value before and after, in SI units.
type Given struct {
	constraints.Concession
	From, To float64
}

// RelaxOptions steer Relax.
type RelaxOptions struct {
	Options
	Builds int // that a concession must open, at least; 0 means 1
}

// Relaxed is the answer of Relax.
type Relaxed struct {
	Openings []Opening // cheapest first
	// Helpless are the concessions that open nothing by themselves.
	Helpless []constraints.Concession
	Pairs    bool // no single concession helps, and the openings are pairs
	Complete bool // false when ctx ended the search early
}

// Relax finds, for each target and limit of the brief, the smallest
// concession that opens at least as many builds as asked for, all else held.
// The value is one that a build of the catalog reaches. Where no single
// concession helps it finds the cheapest pair, of concessions that concern
// different checks.
func Relax(ctx context.Context, p *constraints.Problem, o RelaxOptions) *Relaxed {
	r := &Relaxed{Complete: true}
	all := p.Concessions()
	for i, c := range all {
		opening, complete := relax(ctx, p, []constraints.Concession{c}, o)
		if !complete {
			r.Complete = false
			break
		}
		if opening == nil {
			r.Helpless = append(r.Helpless, c)
		} else {
			r.Openings = append(r.Openings, *opening)
		}
		if o.Progress != nil {
			o.Progress(float64(i+1), float64(len(all)))
		}
	}
	if r.Complete && len(r.Openings) == 0 {
		r.pairs(ctx, p, all, o)
	}
	slices.SortStableFunc(r.Openings, func(a, b Opening) int { return cmp.Compare(a.Cost, b.Cost) })
	return r
}

// pairs looks for the cheapest pair.
func (r *Relaxed) pairs(ctx context.Context, p *constraints.Problem, all []constraints.Concession, o RelaxOptions) {
	for i, a := range all {
		for _, b := range all[i+1:] {
			if overlap(a.Checks, b.Checks) {
				continue
			}
			opening, complete := relax(ctx, p, []constraints.Concession{a, b}, o)
			if !complete {
				r.Complete = false
				return
			}
			if opening != nil && (len(r.Openings) == 0 || opening.Cost < r.Openings[0].Cost) {
				r.Openings, r.Pairs = []Opening{*opening}, true
			}
		}
	}
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// relax finds the cheapest way to give way on the named concessions so that
// enough builds open; nil when there is none.
func relax(ctx context.Context, p *constraints.Problem, concessions []constraints.Concession, o RelaxOptions) (*Opening, bool) {
	pl := newPlan(p, o.Strict)
	for i, c := range pl.checks {
		for _, concession := range concessions {
			if slices.Contains(concession.Checks, c.Name) {
				pl.rejects[i] = rejection{}
			}
		}
	}
	enough := max(o.Builds, 1)
	visitors, openers := make([]visitor, workers(o.Workers)), make([]*opener, workers(o.Workers))
	for i := range visitors {
		openers[i] = &opener{problem: p, concessions: concessions, enough: enough, strict: o.Strict}
		visitors[i] = openers[i]
	}
	_, complete := walk(ctx, pl, visitors, nil)
	var found []opened
	for _, v := range openers {
		found = append(found, v.found...)
	}
	found = cheapest(found, enough)
	if !complete || len(found) < enough {
		return nil, complete
	}
	last := found[enough-1]
	opening := &Opening{Cost: last.cost, Build: assemble(p, last.id)}
	brief := p.Brief.Clone()
	for i, c := range concessions {
		g := Given{Concession: c, From: *c.Value(p.Brief)}
		// With one concession the last of enough builds sets it; each of a
		// pair must go as far as any of them needs.
		g.To = last.values[i]
		for _, f := range found {
			g.To = further(c, g.To, f.values[i])
		}
		*c.Value(brief) = g.To
		opening.Concessions = append(opening.Concessions, g)
	}
	opening.Relaxed = opening.Build.Under(brief)
	return opening, true
}

// further is the value that asks for less, of a and b.
func further(c constraints.Concession, a, b float64) float64 {
	if float64(c.Eases)*b > float64(c.Eases)*a {
		return b
	}
	return a
}

// opened is a build that a concession opens.
type opened struct {
	cost   float64
	values []float64
	id     uint64
}

// cheapest sorts and keeps the first n.
func cheapest(list []opened, n int) []opened {
	slices.SortFunc(list, func(a, b opened) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.id, b.id))
	})
	if len(list) > n {
		list = list[:n]
	}
	return list
}

// opener is a visitor that keeps the builds which the least concession opens.
type opener struct {
	problem     *constraints.Problem
	concessions []constraints.Concession
	enough      int
	strict      bool
	found       []opened
}

func (v *opener) visit(b *constraints.Build, id uint64) {
	out := opened{id: id}
	for _, c := range v.concessions {
		value, ok := v.reach(c, b)
		if !ok {
			return
		}
		out.values = append(out.values, value)
		out.cost += cost(*c.Value(v.problem.Brief), value)
	}
	if len(v.found) >= v.enough && out.cost > v.found[len(v.found)-1].cost {
		return
	}
	// The concession may touch other checks than its own: look once more.
	brief := v.problem.Brief.Clone()
	for i, c := range v.concessions {
		*c.Value(brief) = out.values[i]
	}
	if b.Under(brief).Rejected(v.strict) {
		return
	}
	v.found = cheapest(append(v.found, out), v.enough)
}

// reach is the value of a concession at which the build passes: the brief's
// own where it passes already.
func (v *opener) reach(c constraints.Concession, b *constraints.Build) (float64, bool) {
	from := *c.Value(v.problem.Brief)
	passes := true
	for _, r := range b.Results() {
		if slices.Contains(c.Checks, r.Name) && r.Rejects(v.strict) {
			passes = false
		}
	}
	if passes {
		return from, true
	}
	value, ok := c.Reach(b)
	if !ok || math.IsNaN(value) || float64(c.Eases)*value <= float64(c.Eases)*from {
		return 0, false
	}
	return value, true
}

// cost is the change from one value to another, relative to the first; of a
// first value of 0, the change itself.
func cost(from, to float64) float64 {
	if from == 0 {
		return math.Abs(to)
	}
	return math.Abs(to-from) / math.Abs(from)
}
