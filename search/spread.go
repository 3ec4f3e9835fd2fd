package search

import (
	"context"
	"math"
	"slices"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

// Spread is what the builds that pass all but one wish would allow of it: for each
// the value of the wish, SI, at which it just passes.
type Spread struct {
	Values   []float64
	Looked   uint64 // builds that pass all but the wish and were looked at; of some no value may be known
	Complete bool
}

// SpreadOf looks at about n of the builds that are feasible without a wish. A wish
// whose value no formula tells for a build, and one that moves builds, has no
// Values. Builds of which it is not known are left out.
func SpreadOf(ctx context.Context, p *constraints.Problem, w ease.Wish, n uint64, o Options) (*Spread, error) {
	if w.Moves {
		return &Spread{Complete: true}, nil
	}
	type bound struct {
		check *constraints.Check
		at    func(*constraints.Build) float64
	}
	var bounds []bound
	for _, c := range p.Checks() {
		e, ok := c.EasedBy(w.Key, p.Brief)
		switch {
		case !ok || e.Aside || p.Demoted(c):
			continue
		case e.At == nil:
			return &Spread{Complete: true}, nil
		case o.Strict && e.Strictly != nil:
			e.At = e.Strictly
		}
		bounds = append(bounds, bound{c, e.At})
	}
	worst := math.Min
	if w.Eases > 0 {
		worst = math.Max
	}
	out := &Spread{}
	r, err := Sample(ctx, p.With(ease.Dropping(w)), o, n, func(b *constraints.Build) {
		if slices.ContainsFunc(w.Floors, func(c *constraints.Check) bool { return c != nil && b.RejectedBy(c, o.Strict) }) {
			return // whatever the wish
		}
		out.Looked++
		value, some := 0.0, false
		for _, x := range bounds {
			if !x.check.Lists(b.Drive) {
				continue
			}
			switch v := x.at(x.check.Rules(b, o.Strict)); {
			case !some:
				value, some = v, true
			default:
				value = worst(value, v)
			}
		}
		if some && !math.IsNaN(value) && !math.IsInf(value, 0) {
			out.Values = append(out.Values, value)
		}
	})
	if err != nil {
		return nil, err
	}
	out.Complete = r.Complete
	return out, nil
}
