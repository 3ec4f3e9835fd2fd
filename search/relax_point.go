package search

import (
	"cmp"
	"math"
	"slices"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
)

// point is how far one or two concessions must go for one build.
type point struct {
	cost   float64
	values [2]float64 // one for each concession; the second is 0 where there is only one
	place  entry      // of the build, under the brief as conceded
}

// costUnit is the difference in cost below which two points cost the same.
const costUnit = 1e-9

// units is a cost in whole units.
func units(cost float64) float64 { return math.Round(cost / costUnit) }

// compare puts the cheaper first, then the better build.
func (a point) compare(b point) int {
	return cmp.Or(cmp.Compare(units(a.cost), units(b.cost)), a.place.compare(b.place))
}

// concede is the brief with some values of a set of concessions.
func concede(brief *constraints.Brief, set []ease.Concession, values [2]float64) *constraints.Brief {
	out := *brief
	for i, c := range set {
		*c.Value(&out) = values[i]
	}
	return &out
}

// costs is the cost of values of a set of concessions.
func costs(brief *constraints.Brief, set []ease.Concession, values [2]float64) float64 {
	sum := 0.0
	for i, c := range set {
		sum += c.Cost(*c.Value(brief), values[i])
	}
	return sum
}

// unmoved is the point of a build that is feasible as the brief stands.
func unmoved(brief *constraints.Brief, set []ease.Concession, e entry) point {
	p := point{place: e}
	for i, c := range set {
		p.values[i] = *c.Value(brief)
	}
	return p
}

// kept is the points of one attempt that may be needed.
type kept struct {
	points  []point
	most    float64 // what a point that may be needed costs at most; 0: anything
	tidyAt  int     // how many points are worth tidying
	dropped bool    // some were too dear
}

// bound is what a further point may cost.
func (k *kept) bound() float64 {
	if k.most == 0 {
		return math.Inf(1)
	}
	return k.most
}

// tidy drops the points that cannot be needed once there are enough. Of single
// concessions, and where one build is enough, only the cheapest are needed. Of
// pairs, those that cost more than the cheapest take together are not.
func (k *kept) tidy(brief *constraints.Brief, set []ease.Concession, enough int) {
	slices.SortFunc(k.points, point.compare)
	if len(k.points) >= enough {
		values := k.points[0].values
		for _, p := range k.points[:enough] {
			for i := range set {
				values[i] = set[i].Furthest(values[i], p.values[i])
			}
		}
		k.dropped = true
		k.most = costs(brief, set, values) + costUnit
		if len(set) == 1 || enough == 1 {
			k.points = k.points[:enough]
		} else {
			k.points = slices.DeleteFunc(k.points, func(p point) bool { return p.cost > k.most })
		}
	}
	k.tidyAt = max(enough, 2*len(k.points))
}

// corner is values of a set of concessions at which enough builds should pass.
type corner struct {
	cost   float64
	values [2]float64
}

// corners are the values among which the cheapest must be at which enough
// builds pass. The first concession goes as far as some build needs; the second
// goes as far as it must so that enough of the builds pass that need no more of
// the first. The cheapest corners come first.
func corners(brief *constraints.Brief, set []ease.Concession, points []point, enough int) []corner {
	further := func(i int, a, b point) int {
		if i == len(set) {
			return 0
		}
		return set[i].Eases * cmp.Compare(a.values[i], b.values[i])
	}
	points = slices.Clone(points)
	slices.SortFunc(points, func(a, b point) int { return cmp.Or(further(0, a, b), a.compare(b)) })
	var out []corner
	var least []point // enough of the points so far, by what they take of the second
	for _, p := range points {
		at, _ := slices.BinarySearchFunc(least, p, func(a, b point) int { return further(1, a, b) })
		least = slices.Insert(least, at, p)
		if len(least) < enough {
			continue
		}
		least = least[:enough]
		c := corner{values: [2]float64{p.values[0], least[enough-1].values[1]}}
		c.cost = costs(brief, set, c.values)
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b corner) int { return cmp.Compare(units(a.cost), units(b.cost)) })
	return out
}
