package main

import (
	"context"
	"strings"
	"time"

	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/words"
	"gearsearch/constraints"
	"gearsearch/search"
)

// without counts what each wish costs, with a progress bar.
func (p *program) without(ctx context.Context, problem *constraints.Problem, strict bool) *search.Wishes {
	bar := p.bar()
	defer bar.stop()
	return search.WithoutEach(ctx, problem, search.Options{Strict: strict, Progress: bar.progress()})
}

// wishTable adds what each wish costs.
func wishTable(p *layout.Page, wishes *search.Wishes, problem *constraints.Problem, system quantity.System) {
	t := &layout.Table{Columns: []layout.Column{
		{Title: "without"}, {Title: "asked", Right: true}, {Title: "more builds feasible", Right: true}, {Title: "key", Extra: true},
	}}
	var none []string
	for _, w := range wishes.Each {
		name, asked := words.Wish(w.Wish, problem, system)
		if w.More == 0 {
			none = append(none, name)
			continue
		}
		t.Add(name, asked, layout.Whole(w.More), w.Key)
	}
	p.Heading("What each target and limit costs, dropped alone")
	if len(t.Rows) > 0 {
		p.Table(t)
	}
	if len(none) > 0 {
		p.Text("No build more without: " + strings.Join(none, ", ") + ".")
	}
}

// wishObjects are the wishes as data.
func wishObjects(wishes *search.Wishes, unit func(name string) any) func(yield func(dataout.Object) bool) {
	return func(yield func(dataout.Object) bool) {
		for _, w := range wishes.Each {
			if !yield(dataout.Object{
				{Key: "key", Value: w.Key}, {Key: "value", Value: w.Value * w.PerSI}, {Key: "unit", Value: unit(w.Unit)}, {Key: "without", Value: w.More},
			}) {
				return
			}
		}
	}
}

// What counting the price of wishes takes, in nanoseconds: for each combination
// whose parts fit, for each where a launch or a torque is asked for, which are
// computed one by one, and for each build that gets as far as that. Measured on
// the demo catalog and on markets of up to a billion combinations.
const (
	nanosFitting  = 25
	nanosExact    = 100
	nanosComputed = 2000
)

// withoutTime is about how long it takes to count the price of wishes after a
// search.
func withoutTime(r *search.Result) time.Duration {
	fitting, computed, each := float64(r.Feasible), float64(r.Feasible), float64(nanosFitting)
	for _, x := range r.Rejections() {
		switch x.Check.Name {
		case "bore", "profile", "hub", "belt", "voltage":
			continue
		case "launch", "hill-torque":
			each = nanosExact
			computed += float64(x.Count)
		}
		fitting += float64(x.Count)
	}
	nanos := each * fitting
	if each == nanosExact {
		nanos += nanosComputed * computed
	}
	return time.Duration(nanos)
}

// fewWishes is how many wishes a ranking names.
const fewWishes = 3

// quickWithout is how long a ranking counts the price of wishes by itself at
// the most, as estimated; a count that takes mostWithout on a busy machine ends
// without an answer.
const (
	quickWithout = time.Second
	mostWithout  = 3 * time.Second
)

// quickWishes are what each wish costs, for a ranking; nil where that takes
// long.
func quickWishes(ctx context.Context, result *search.Result, strict bool) *search.Wishes {
	if !result.Complete || withoutTime(result) > quickWithout {
		return nil
	}
	ctx, cancel := context.WithTimeout(ctx, mostWithout)
	defer cancel()
	if w := search.WithoutEach(ctx, result.Problem, search.Options{Strict: strict}); w.Complete {
		return w
	}
	return nil
}

// dearest adds the dearest wishes to a ranking.
func (r *rankPage) dearest(p *layout.Page) {
	if r.wishes == nil {
		return
	}
	var list []string
	for i, w := range r.wishes.Dearest(fewWishes) {
		name, asked := words.Wish(w.Wish, r.result.Problem, r.system)
		more := layout.Whole(w.More)
		if i == 0 {
			more += " more " + plural(uint64(w.More), "build", "builds")
		}
		list = append(list, more+" without "+strings.ReplaceAll(name, " ", nbsp)+nbsp+asked)
	}
	switch len(list) {
	case 0:
	case 1:
		p.Text("The one wish that costs builds by itself: " + list[0] + ".")
	default:
		p.Text("The dearest wishes, each dropped alone: " + strings.Join(list, ", ") + ".")
	}
}

// wishRows are the wishes as rows of the table of concessions.
func (r *relaxAnswer) wishRows() [][]any {
	var rows [][]any
	for _, w := range r.wishes.Each {
		row := make([]any, 0, 7+len(dataout.PartKeys()))
		row = append(row, nil, nil, w.Key, w.Value*w.PerSI, nil, r.unit(w.Unit))
		for range dataout.PartKeys() {
			row = append(row, nil)
		}
		rows = append(rows, append(row, w.More))
	}
	return rows
}
