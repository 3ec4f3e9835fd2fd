package vary

import (
	"iter"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// forms are the forms of the answer.
func (v *Answer) forms(a *ask.Answer) ask.Forms {
	return ask.Forms{
		Text:     func() *layout.Text { return v.text(a.System) },
		Document: v.document,
		Table:    v.table,
		Complete: true,
	}
}

// document is the answer as data.
func (v *Answer) document() dataout.Document {
	return dataout.Document{
		Head: append(dataout.Head(v.base.Build.Problem, true),
			dataout.Member{Key: "assumptions", Value: say.Assumptions(v.base.Build.Assumptions())},
			dataout.Member{Key: "tells_more", Value: v.tellsMore()},
			dataout.Member{Key: "base", Value: build(v.base)},
		),
		Lists: []dataout.List{{Key: "rows", Items: v.objects()}},
	}
}

// objects are the rows as data.
func (v *Answer) objects() iter.Seq[dataout.Object] {
	return func(yield func(dataout.Object) bool) {
		c := v.Question.Catalog
		for i, row := range v.rows {
			change := dataout.Object{}
			for _, x := range v.changes[i] {
				change = append(change, dataout.Member{Key: x.Key, Value: x.Value})
			}
			if !yield(dataout.Object{
				{Key: "change", Value: change},
				{Key: "build", Value: build(row.Scored)},
				{Key: "cured", Value: dataout.Checks(row.Cured, c)},
				{Key: "added", Value: dataout.Checks(row.Added, c)},
			}) {
				return
			}
		}
	}
}

// build is a build as data, with what bare numbers tell of it.
func build(s search.Scored) dataout.Object {
	o := dataout.Build(s)
	for _, t := range say.Told() {
		o = append(o, dataout.Member{Key: t.Key, Value: t.Value(s.Build)})
	}
	return o
}

// table is the answer as rows: the build itself, then its variants.
func (v *Answer) table() (header []string, rows [][]any) {
	header = append([]string{"change", "score"}, dataout.PartKeys()...)
	for _, f := range v.base.Build.Problem.Figures() {
		header = append(header, f.Name)
	}
	for _, f := range v.base.Build.Problem.Figures() {
		if f.Corners {
			header = append(header, f.Name+"_best")
		}
	}
	for _, t := range say.Told() {
		header = append(header, t.Key)
	}
	header = append(header, "fails", "cured", "added")
	rows = append(rows, v.line(nil, search.Varied{Scored: v.base}))
	for i, row := range v.rows {
		rows = append(rows, v.line(typed(v.changes[i]), row))
	}
	return header, rows
}

// line is one of the rows.
func (v *Answer) line(change []string, row search.Varied) []any {
	b := row.Build
	cells := []any{change, row.Score}
	ids := dataout.Parts(b).(dataout.Object)
	for _, key := range dataout.PartKeys() {
		cells = append(cells, ids.Get(key))
	}
	for _, f := range v.base.Build.Problem.Figures() {
		cells = append(cells, dataout.Figure(f, b))
	}
	for _, f := range v.base.Build.Problem.Figures() {
		if !f.Corners {
			continue
		}
		value, differs := dataout.Best(f, b)
		if !differs {
			value = dataout.Figure(f, b)
		}
		cells = append(cells, value)
	}
	for _, t := range say.Told() {
		cells = append(cells, t.Value(b))
	}
	fails := b.Rejections(v.Question.Strict)
	return append(cells, checkNames(fails), checkNames(row.Cured), checkNames(row.Added))
}

// typed are the changes of a row as key=value.
func typed(changes []Change) []string {
	var out []string
	for _, c := range changes {
		out = append(out, c.Key+"="+dataout.Cell(c.Value))
	}
	return out
}

// checkNames are the names of checks.
func checkNames(results []constraints.Result) []string {
	var names []string
	for _, r := range results {
		names = append(names, r.Name)
	}
	return names
}
