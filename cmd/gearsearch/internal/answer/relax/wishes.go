package relax

import (
	"strings"

	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// wishTable adds what each wish costs.
func wishTable(out *layout.Text, wishes *search.Wishes, problem *constraints.Problem, system quantity.System) {
	t := &layout.Table{Columns: []layout.Column{
		{Title: "without"}, {Title: "asked", Right: true}, {Title: "more builds feasible", Right: true}, {Title: "key", Extra: true},
	}}
	var none []string
	for _, w := range wishes.Each {
		name, asked := say.Wish(w.Wish, problem, system)
		if w.More == 0 {
			none = append(none, name)
			continue
		}
		t.Add(name, asked, layout.Whole(w.More), w.Key)
	}
	out.Heading("What each target and limit costs, dropped alone")
	if len(t.Rows) > 0 {
		out.Table(t)
	}
	if len(none) > 0 {
		out.Paragraph("No more builds without: " + strings.Join(none, ", ") + ".")
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

// wishRows are the wishes as rows of the table of concessions.
func (r *Answer) wishRows() [][]any {
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
