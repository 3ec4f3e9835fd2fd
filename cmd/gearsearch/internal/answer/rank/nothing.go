package rank

import (
	"context"
	"math"
	"slices"
	"strings"
	"time"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// nearest adds the build that comes nearest where none is feasible.
func (r *text) nearest(out *layout.Text) {
	out.Heading("The nearest build")
	out.Table(say.PartsTable(r.near.Build, r.system))
	out.Heading("What it misses")
	out.Table(say.ChecksTable(r.near.Misses, r.result.Problem, r.system))
	say.DecidedText(out, r.near.Misses, r.result.Problem)
	if r.slips != nil {
		out.Paragraph(say.Slip(r.slips, r.result.Problem, r.system))
	}
}

// fewConcessions is how many concessions a ranking without a build shows.
const fewConcessions = 3

// concessions adds the cheapest concessions where nothing is feasible.
func (r *text) concessions(out *layout.Text) {
	list := r.relaxed.Openings[:min(fewConcessions, len(r.relaxed.Openings))]
	switch {
	case r.relaxed.Pairs:
		out.Heading("No single concession makes a build feasible; the cheapest pair does")
	case len(list) == 1:
		out.Heading("One concession makes a build feasible, all else held")
	default:
		out.Heading("Each of these alone makes a build feasible, all else held")
	}
	say.OpeningTable(out, list, 1, r.result.Problem.Catalog.Currency, r.system)
}

// concede adds what to do where nothing is feasible: see every concession or, where
// all the checks that the nearest build misses have a limit, demote them.
func (r *text) concede(out *layout.Text, same string) {
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
		next = append([]string{"gearsearch rank" + same + say.Settings(&r.relaxed.Openings[0])}, next...)
	}
	out.Verbatim(next...)
	if !measured {
		out.Paragraph("Else avoid fewer parts, or add parts to the catalog.")
		return
	}
	out.Paragraph("Or rank the builds that miss the same limits, each miss only a caution:")
	out.Verbatim("gearsearch rank" + same + " --set limit.demote=" + strings.Join(demote, ","))
}

// The time to look for concessions, in microseconds for each combination counted
// under a check: none where no concession helps, little where whole stretches are
// decided at once, more where each build is tried at a slower climb, launch or
// cruise. Measured on the demo catalog and on one of which all parts fit.
const (
	microsDecided = 0.15
	microsEach    = 25.0
)

// A ranking without a build looks for concessions by itself where that should
// take quickRelax at the most. Pairs may take longer, which only a search can
// tell: then it ends without an answer.
const (
	quickRelax = time.Second
	mostRelax  = 3 * time.Second
)

// relaxTime is about how long it takes to look for single concessions after a
// search.
func relaxTime(r *search.Result) time.Duration {
	micros := 0.0
	for _, x := range r.Rejections() {
		switch {
		case len(x.Check.Eased) == 0:
		case x.Check.Tried():
			micros += microsEach * float64(x.Count)
		default:
			micros += microsDecided * float64(x.Count)
		}
	}
	return time.Duration(micros * float64(time.Microsecond))
}

// quickSlips is the build that only grip keeps from the climb, for a ranking
// without a build; nil where grip is not the reason or it takes long to tell.
func quickSlips(ctx context.Context, d *ask.Desk, q *ask.Question, result *search.Result) *constraints.Build {
	ctx, cancel := d.Within(ctx, mostRelax)
	defer cancel()
	b, _ := search.Slips(ctx, result.Problem, search.Options{Strict: q.Strict})
	return b
}

// cheapConcessions are the cheapest concessions for a ranking without a
// build; nil where they may take long.
func cheapConcessions(ctx context.Context, d *ask.Desk, q *ask.Question, result *search.Result) *search.Relaxed {
	if result.Rejected == nil || relaxTime(result) > quickRelax {
		return nil
	}
	ctx, cancel := d.Within(ctx, mostRelax)
	defer cancel()
	r := search.Relax(ctx, result.Problem, search.RelaxOptions{Options: search.Options{Strict: q.Strict}, Digits: say.ConcededDigits, Motors: true})
	if !r.Complete || len(r.Openings) == 0 {
		return nil
	}
	return r
}
