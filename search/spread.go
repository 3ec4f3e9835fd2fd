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

// SpreadOf looks at up to n of the builds that are feasible without a wish. A wish
// whose value no formula tells for a build, and one that moves builds, has no
// Values. Builds of which it is not known are left out.
func SpreadOf(ctx context.Context, p *constraints.Problem, w ease.Wish, n int, o Options) (*Spread, error) {
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
	values, r, err := Sample(ctx, p.With(ease.Dropping(w)), o, n, func(b *constraints.Build) spreadValue {
		if slices.ContainsFunc(w.Floors, func(c *constraints.Check) bool { return c != nil && b.RejectedBy(c, o.Strict) }) {
			return spreadValue{} // whatever the wish
		}
		value, some := math.NaN(), false
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
		return spreadValue{true, value}
	})
	if err != nil {
		return nil, err
	}
	out := &Spread{Complete: r.Complete}
	for _, v := range values {
		if !v.opens {
			continue
		}
		out.Looked++
		if !math.IsNaN(v.value) && !math.IsInf(v.value, 0) {
			out.Values = append(out.Values, v.value)
		}
	}
	return out, nil
}

// spreadValue is what SpreadOf takes of a build.
type spreadValue struct {
	opens bool    // it passes all but the wish
	value float64 // of the wish, at which it just passes; NaN: not known
}
