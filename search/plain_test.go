package search

import (
	"slices"

	"gearsearch/constraints"
)

// plain is the search without any cleverness: every combination, every check,
// each build made anew. It is the reference that the fast search must equal.
func plain(p *constraints.Problem, strict bool) (Tally, []entry) {
	t := Tally{Rejected: make([]uint64, len(p.Checks()))}
	var entries []entry
	eachBuild(p, func(b *constraints.Build, id uint64) {
		t.Combinations++
		first, unknown := -1, false
		for _, r := range b.Results() {
			if r.Rejects(strict) && first < 0 {
				first = slices.Index(p.Checks(), r.Check)
			}
			unknown = unknown || r.Verdict == constraints.Undecided
		}
		if first >= 0 {
			t.Rejected[first]++
			return
		}
		t.Feasible++
		if unknown {
			t.Unknown++
		}
		entries = append(entries, entry{micro(ScoreBuild(b).Score), micro(b.Price().Total()), id})
	})
	slices.SortFunc(entries, entry.compare)
	return t, entries
}

// eachBuild makes every build of a problem, numbered from 0 in the order that
// breaks ties.
func eachBuild(p *constraints.Problem, visit func(b *constraints.Build, id uint64)) {
	id := uint64(0)
	for _, battery := range p.Batteries {
		for _, controller := range p.Controllers {
			for _, motor := range p.Motors {
				for count := range p.Counts {
					for _, d := range p.Drives {
						for _, w := range p.Wheels {
							b := &constraints.Build{Problem: p}
							b.Electrify(battery, controller, motor, count)
							b.Roll(d, w)
							visit(b, id)
							id++
						}
					}
				}
			}
		}
	}
}
