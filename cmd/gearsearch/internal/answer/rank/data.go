package rank

import (
	"context"
	"io"
	"iter"
	"math/rand/v2"
	"slices"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Answer is the answer of rank.
type Answer struct {
	*Manner
	Question  *ask.Question
	result    *search.Result
	listed    []search.Scored // in the order to show; nil: as ranked
	stable    *search.Stability
	top       int                       // how many are listed; 0: all
	varied    map[int]search.Robustness // by rank
	shortened bool                      // what is added was interrupted
	measures  *search.Measures          // nil: not looked for, or interrupted
	whole     bool                      // a text has everything, not the first page alone
	topGiven  bool                      // how many are listed is the user's wish
}

// firstBuilds is how many builds stability counts wins of.
const firstBuilds = 10

// add finds what the manner adds to a ranking of which top builds are listed,
// all for 0.
func (r *Answer) add(ctx context.Context, top int, progress func(done, total float64)) error {
	r.top = top
	if r.Tolerance {
		r.listed = slices.Collect(r.builds())
	}
	o := search.Options{Strict: r.Question.Strict, Progress: progress}
	if r.Stability && r.result.Complete && r.result.Len() > 0 {
		var complete bool
		var err error
		r.stable, complete, err = search.Stable(ctx, r.result, firstBuilds, r.Draws, rand.New(rand.NewPCG(ask.Seed, 0)), o)
		if err != nil {
			return err
		}
		if !complete {
			r.stable, r.shortened = nil, true
		}
	}
	if r.Tolerance {
		r.vary(ctx, o)
		if r.Robust && !r.shortened {
			slices.SortStableFunc(r.listed, func(a, b search.Scored) int {
				switch x, y := r.varied[a.Rank].Share, r.varied[b.Rank].Share; {
				case x > y:
					return -1
				case x < y:
					return 1
				}
				return 0
			})
		}
	}
	return nil
}

// vary varies the ranked builds, on all processors.
func (r *Answer) vary(ctx context.Context, o search.Options) {
	builds := make([]*constraints.Build, len(r.listed))
	for i, s := range r.listed {
		builds[i] = s.Build
	}
	found := search.RobustEach(ctx, builds, r.Draws, ask.Seed, o)
	r.varied = map[int]search.Robustness{}
	for i, x := range found {
		if x.Draws > 0 {
			r.varied[r.listed[i].Rank] = x
		}
	}
	r.shortened = r.shortened || len(r.varied) < len(r.listed)
}

// measure finds what to measure first, where the format says it.
func (r *Answer) measure(ctx context.Context, f ask.Format) {
	if f == ask.FormatCSV || !r.result.Complete || r.shortened {
		return
	}
	result := *r.result
	if r.Uncounted {
		result.Rejected = nil
	}
	m, complete := search.ToMeasure(ctx, &result, r.top, search.Options{Strict: r.Question.Strict})
	if !complete {
		r.shortened = true
	}
	r.measures = m
}

// complete reports whether nothing was interrupted.
func (r *Answer) complete() bool { return r.result.Complete && !r.shortened }

// builds are the ranked builds in the order to show.
func (r *Answer) builds() iter.Seq[search.Scored] {
	if r.listed != nil {
		return slices.Values(r.listed)
	}
	return func(yield func(search.Scored) bool) {
		for s := range r.result.Builds() {
			if r.top > 0 && s.Rank > r.top || !yield(s) {
				return
			}
		}
	}
}

// document is the answer as data: that of a plain ranking, and what the manner
// adds.
func (r *Answer) document() dataout.Document {
	result := *r.result
	if r.Uncounted {
		result.Rejected = make([]uint64, len(result.Problem.Checks()))
	}
	head := dataout.Summary(&result, dataout.Used(result.Problem, r.builds()), r.measures)
	for i := range head {
		switch head[i].Key {
		case "complete":
			head[i].Value = r.complete()
		case "feasible", "unknown", "rejected":
			if r.Uncounted {
				head[i].Value = nil
			}
		}
	}
	if r.Front != nil {
		names := []string{}
		for _, f := range r.Front {
			names = append(names, f.Name)
		}
		head = append(head, dataout.Member{Key: "front", Value: names}, dataout.Member{Key: "front_size", Value: r.result.FrontSize})
	}
	if r.Stability {
		head = append(head, dataout.Member{Key: "stability", Value: r.stabilityObject()})
	}
	if r.Tolerance {
		order := "score"
		if r.Robust {
			order = "robust"
		}
		head = append(head, dataout.Member{Key: "tolerance", Value: dataout.Object{{Key: "draws", Value: r.Draws}, {Key: "by", Value: order}}})
	}
	builds := dataout.Builds(r.builds(), r.Apart)
	return dataout.Document{Head: head, Lists: []dataout.List{{Key: "builds", Items: func(yield func(dataout.Object) bool) {
		for o := range builds {
			if rank, ok := o.Get("rank").(int); ok && r.Tolerance {
				o = append(o, dataout.Member{Key: "tolerance", Value: r.robustness(rank)})
			}
			if !yield(o) {
				return
			}
		}
	}}}}
}

// robustness is the tolerance of a build as data; nil where it is not known.
func (r *Answer) robustness(rank int) any {
	if x, ok := r.varied[rank]; ok {
		return dataout.Robustness(x)
	}
	return nil
}

// writeCSV writes the builds as rows.
func (r *Answer) writeCSV(w io.Writer) error {
	more := dataout.Standing(r.Apart)
	if r.stable != nil {
		more = append(more, dataout.Column{Name: "win_share", Cell: func(s search.Scored) any {
			if s.Rank > len(r.stable.Wins) {
				return nil
			}
			return r.stable.Wins[s.Rank-1]
		}})
	}
	if r.Tolerance {
		more = append(more, r.toleranceColumns()...)
	}
	return dataout.WriteBuilds(w, r.result.Problem, r.builds(), more...)
}

// stabilityObject is how firmly the first build stands, as data; nil where
// there is none or the look was interrupted.
func (r *Answer) stabilityObject() any {
	if r.stable == nil {
		return nil
	}
	ranges := []dataout.Object{}
	for _, w := range r.stable.Ranges {
		ranges = append(ranges, dataout.Object{
			{Key: "criterion", Value: w.Name},
			{Key: "weight", Value: w.Weight},
			{Key: "low", Value: w.Low},
			{Key: "high", Value: w.High},
			{Key: "below", Value: dataout.Parts(w.Below)},
			{Key: "above", Value: dataout.Parts(w.Above)},
		})
	}
	return dataout.Object{{Key: "draws", Value: r.stable.Draws}, {Key: "ranges", Value: ranges}, {Key: "wins", Value: r.stable.Wins}}
}

// toleranceColumns are the columns of CSV about tolerances.
func (r *Answer) toleranceColumns() []dataout.Column {
	columns := []dataout.Column{{Name: "share", Cell: func(s search.Scored) any {
		if x, ok := r.varied[s.Rank]; ok {
			return x.Share
		}
		return nil
	}}}
	for _, f := range spreading(r.result.Problem) {
		for _, q := range []struct {
			name string
			of   func(x search.FigureSpread) float64
		}{
			{"p5", func(x search.FigureSpread) float64 { return x.Low }},
			{"p50", func(x search.FigureSpread) float64 { return x.Middle }},
			{"p95", func(x search.FigureSpread) float64 { return x.High }},
		} {
			columns = append(columns, dataout.Column{Name: f.Name + "_" + q.name, Cell: func(s search.Scored) any {
				if x, ok := dataout.Spread(r.varied[s.Rank], f.Name); ok {
					return q.of(x)
				}
				return nil
			}})
		}
	}
	return columns
}

// spreading are the figures that the brief aims at and that vary with parts
// and riders: price and the board's own mass do not.
func spreading(p *constraints.Problem) []constraints.Figure {
	return slices.DeleteFunc(search.TargetFigures(p), func(f constraints.Figure) bool { return f.Name == "price" || f.Name == "mass_kg" })
}
