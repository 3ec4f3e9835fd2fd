package main

import (
	"math"
	"slices"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
)

// nearest adds the build that comes nearest where none is feasible.
func (r *rankPage) nearest(p *layout.Page) {
	p.Heading("The nearest build")
	p.Table(partsTable(r.near.Build, r.system))
	p.Heading("What it misses")
	p.Table(checksTable(r.near.Misses, r.result.Problem, r.system))
}

// fewConcessions is how many concessions a ranking without a build shows.
const fewConcessions = 3

// concessions adds the cheapest concessions where nothing is feasible.
func (r *rankPage) concessions(p *layout.Page) {
	list := r.relaxed.Openings[:min(fewConcessions, len(r.relaxed.Openings))]
	switch {
	case r.relaxed.Pairs:
		p.Heading("No single concession opens a build; the cheapest pair is")
	case len(list) == 1:
		p.Heading("One concession opens a build, all else held")
	default:
		p.Heading("Each of these opens a build by itself, all else held")
	}
	r.relaxed.openings(p, list, r.system)
}

// concede adds what to do where none is feasible: to see every concession, or
// to let the checks that the nearest build misses only caution, where all of
// them are a matter of more or less.
func (r *rankPage) concede(p *layout.Page, same string) {
	demote := slices.Clone(r.result.Problem.Brief.Limit.Demote)
	measured := r.near != nil
	if measured {
		for _, miss := range r.near.Misses {
			measured = measured && !math.IsNaN(miss.MarginPct(miss.Outcome))
			demote = append(demote, miss.Name)
		}
	}
	next := []string{"gearsearch relax" + same}
	if r.relaxed != nil {
		next = append([]string{"gearsearch rank" + same + settings(&r.relaxed.Openings[0])}, next...)
	}
	p.Verbatim(next...)
	if !measured {
		p.Text("Else avoid fewer parts, or add parts to the catalog.")
		return
	}
	p.Text("Or see what there is with the nearest build's misses as mere cautions:")
	p.Verbatim("gearsearch rank" + same + " --set limit.demote=" + strings.Join(demote, ","))
}
