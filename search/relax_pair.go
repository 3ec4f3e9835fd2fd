package search

import (
	"context"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

// tighten takes back what is not needed of either of a pair while the other goes as far
// as it does. The two values may come from two builds, each of which needs its own of the
// one beside its own of the other: where the one goes further, as a slower climb does for
// the torque on it, a build may need less of the other. It is false when ctx ended it
// early.
func (o *Opening) tighten(ctx context.Context, p *constraints.Problem, options RelaxOptions) (complete bool) {
	pair := []ease.Concession{o.Concessions[0].Concession, o.Concessions[1].Concession}
	if max(options.Builds, 1) == 1 && !overlap(pair[0].Checks, pair[1].Checks) {
		return true // both are the values of one build, each of checks of its own
	}
	for i := len(pair) - 1; i >= 0; i-- {
		values := o.values()
		brief := concede(p.Brief, pair, values)
		*pair[i].Value(brief) = o.Concessions[i].From
		list, _, complete := (&Relaxed{}).open(ctx, conceding(p, brief), [][]ease.Concession{pair[i : i+1]}, options)
		if !complete {
			return false
		}
		if len(list) == 0 || list[0] == nil {
			continue
		}
		values[i] = list[0].Concessions[0].To
		cost := costs(p.Brief, pair, values)
		if units(cost) >= units(o.Cost) {
			continue
		}
		o.Concessions[i], o.Cost = list[0].Concessions[0], cost
		o.Build, o.Relaxed = list[0].Build.Under(p.Brief), list[0].Build.Under(concede(p.Brief, pair, values))
		if !o.shorten(ctx, p, pair, options) {
			return false
		}
	}
	return true
}

// values are those that the brief gives way to.
func (o *Opening) values() (values [2]float64) {
	for i, g := range o.Concessions {
		values[i] = g.To
	}
	return values
}

// shorten sees that the short values open as many builds together as they do each beside
// the full one of the other, and makes them the full ones where they do not.
func (o *Opening) shorten(ctx context.Context, p *constraints.Problem, pair []ease.Concession, options RelaxOptions) (complete bool) {
	var values [2]float64
	ok := true
	for i, g := range o.Concessions {
		if values[i] = g.To; ok && g.Short != g.Written {
			values[i], ok = pair[i].Read(g.Short)
		}
	}
	if ok {
		found, err := Rank(ctx, conceding(p, concede(p.Brief, pair, values)), Options{Top: 1, Workers: options.Workers, Strict: options.Strict})
		if err != nil || !found.Complete {
			return false
		}
		ok = found.Feasible >= uint64(max(options.Builds, 1))
	}
	for i := range o.Concessions {
		if !ok {
			o.Concessions[i].Short = o.Concessions[i].Written
		}
	}
	return true
}

// conceding is the problem under a brief that gives way on some values. Of its parts only
// the controllers, which may have the brief's ceiling, are prepared by one of these.
func conceding(p *constraints.Problem, brief *constraints.Brief) *constraints.Problem {
	var list []*catalog.Controller
	for _, c := range p.Controllers {
		list = append(list, c.Controller)
	}
	return p.With(constraints.Briefed(brief), constraints.OtherControllers(list))
}
