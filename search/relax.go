package search

import (
	"cmp"
	"context"
	"slices"

	"gearsearch/constraints"
	"gearsearch/constraints/ease"
	"gearsearch/search/internal/walk"
)

// Opening is the smallest concession with which enough builds are feasible.
type Opening struct {
	Concessions []Given // one, or the two of a pair
	// Cost is the sum of the relative changes of the brief's values.
	Cost float64
	// Build is the build that becomes feasible last as the concession grows,
	// under the brief as it was; of builds that do so together, the best.
	// Relaxed is the same build under the brief as conceded.
	Build   *constraints.Build
	Relaxed *constraints.Build
	// Feasible is how many builds are feasible with another number of motors, of
	// which Build and Relaxed are the best; 0 for other concessions, of which it is
	// not counted.
	Feasible uint64
}

// Given is one key of the brief with its value before and after.
type Given struct {
	ease.Concession
	From, To float64 // SI units
	// Written is the value after in the key's unit, of at most WrittenDigits
	// significant digits; a brief with Written has To. Short is the value with
	// the fewest digits that makes as many builds feasible, but no fewer digits
	// than asked for.
	Written, Short float64
}

// RelaxOptions steer Relax.
type RelaxOptions struct {
	Options     // Top is of no effect
	Builds  int // that must be feasible in the end, at least; 0 means 1
	Digits  int // significant digits of Given.Short, at least; 0 means 4
	// Motors tries other numbers of motors too. The problem must be one that
	// NewProblem made.
	Motors bool
}

// Relaxed is the answer of Relax.
type Relaxed struct {
	// Feasible is how many builds are feasible as the brief stands. Where that
	// is enough, there is nothing to relax and the rest is empty.
	Feasible uint64
	Openings []Opening // cheapest first
	// Helpless are the concessions that alone make too few builds feasible, without
	// those whose checks no build fails.
	Helpless []ease.Concession
	Pairs    bool // no single concession helps, and the opening is a pair
	Complete bool // false when ctx ended the search early: nothing was found
}

// Relax finds, for each target and limit of the brief, the smallest concession with
// which at least as many builds are feasible as asked for, all else held. Its value
// is what the last of these builds reaches, not a step of a search, rounded to
// WrittenDigits towards asking for less. Where no single concession is enough, Relax
// finds the cheapest pair; where both of a pair ease one check, one of them carries
// that check alone. The answer does not depend on the number of workers.
func Relax(ctx context.Context, p *constraints.Problem, o RelaxOptions) *Relaxed {
	r := &Relaxed{}
	if Numberable(p) != nil {
		return r // no time would be enough
	}
	all := ease.Concessions(p)
	var singles [][]ease.Concession
	for _, c := range all {
		singles = append(singles, []ease.Concession{c})
	}
	openings, failing, complete := r.open(ctx, p, singles, o)
	for i, opening := range openings {
		switch {
		case opening != nil:
			r.Openings = append(r.Openings, *opening)
		case slices.ContainsFunc(all[i].Untried, func(check string) bool { return failing[check] }): // it might help
		case slices.ContainsFunc(all[i].Checks, func(check string) bool { return failing[check] }):
			r.Helpless = append(r.Helpless, all[i])
		}
	}
	if complete && o.Motors && r.Feasible < uint64(max(o.Builds, 1)) {
		complete = r.motors(ctx, p, o)
	}
	if complete && len(openings) > 0 && len(r.Openings) == 0 {
		openings, _, complete = r.open(ctx, p, pairsOf(all), o)
		for _, opening := range openings {
			if opening != nil {
				r.Openings, r.Pairs = append(r.Openings, *opening), true
			}
		}
	}
	slices.SortStableFunc(r.Openings, func(a, b Opening) int { return cmp.Compare(a.Cost, b.Cost) })
	if complete && r.Pairs {
		r.Openings = r.Openings[:1]
		complete = r.Openings[0].tighten(ctx, p, o)
	}
	if r.Complete = complete; !complete {
		return &Relaxed{Feasible: r.Feasible}
	}
	return r
}

// pairsOf lists the pairs of concessions.
func pairsOf(all []ease.Concession) [][]ease.Concession {
	var out [][]ease.Concession
	for i, a := range all {
		for _, b := range all[i+1:] {
			out = append(out, []ease.Concession{a, b})
		}
	}
	return out
}

// open finds the cheapest way to give way on each set of concessions, nil where
// there is none. It lists nothing when enough builds are feasible already, and
// when ctx ended it early. failing are the checks that reject some build.
func (r *Relaxed) open(ctx context.Context, p *constraints.Problem, sets [][]ease.Concession, o RelaxOptions) (list []*Opening, failing map[string]bool, complete bool) {
	enough := max(o.Builds, 1)
	// A build that passes at one value may fail again at a further one. So where too
	// few of the builds kept pass together, more are kept.
	for keep := enough; ; keep *= 4 {
		w := newRelaxWalk(p, sets, enough, keep, o.Strict)
		found, complete := w.walk(ctx, o.Options)
		if !complete {
			return nil, nil, false
		}
		if r.Feasible = w.feasible.Load(); r.Feasible >= uint64(enough) {
			return nil, nil, true
		}
		list = nil
		short := false
		for i, set := range sets {
			points := found.kept[i].points
			for _, e := range found.best {
				points = append(points, unmoved(p.Brief, set, e))
			}
			opening := cheapestOpening(p, set, points, enough, o)
			list = append(list, opening)
			short = short || opening == nil && found.kept[i].dropped
		}
		if !short {
			return list, w.failing(), true
		}
	}
}

// cheapestOpening finds the cheapest values of a set of concessions at which
// enough of the builds pass, as a brief can have them; nil where there are none.
func cheapestOpening(p *constraints.Problem, set []ease.Concession, points []point, enough int, o RelaxOptions) *Opening {
	slices.SortFunc(points, point.compare)
	passing := func(values [2]float64) []point {
		brief := concede(p.Brief, set, values)
		return slices.DeleteFunc(slices.Clone(points), func(x point) bool {
			return walk.Assemble(p, x.place.id).Under(brief).Rejected(o.Strict)
		})
	}
	opens := func(values [2]float64) bool { return len(passing(values)) >= enough }
	for _, c := range corners(p.Brief, set, points, enough) {
		if !opens(c.values) {
			continue
		}
		data, ok := writtenFully(p.Brief, set, c.values, opens)
		if !ok {
			continue
		}
		found := passing(data.values)
		last := found[enough-1]
		at := slices.IndexFunc(found, func(x point) bool { return units(x.cost) == units(last.cost) })
		build := walk.Assemble(p, found[at].place.id)
		out := &Opening{
			Cost:    costs(p.Brief, set, data.values),
			Build:   build,
			Relaxed: build.Under(concede(p.Brief, set, data.values)),
		}
		short := writtenShortly(p.Brief, set, data, cmp.Or(o.Digits, defaultDigits), opens)
		for i, concession := range set {
			out.Concessions = append(out.Concessions, Given{
				Concession: concession, From: *concession.Value(p.Brief), To: data.values[i], Written: data.numbers[i], Short: short.numbers[i],
			})
		}
		return out
	}
	return nil
}
