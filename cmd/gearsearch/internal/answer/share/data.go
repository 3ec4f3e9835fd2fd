package share

import (
	"slices"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints"
	"gearsearch/search"
)

// forms are the forms of the answer.
func (s *Answer) forms(a *ask.Answer) ask.Forms {
	return ask.Forms{
		Text:     func() *layout.Text { return s.text(a.System) },
		Document: s.document,
		Table:    s.table,
		Complete: s.result.Complete,
	}
}

// document is the answer as data.
func (s *Answer) document() dataout.Document {
	order := "mean"
	if s.Worst {
		order = "worst"
	}
	head := dataout.Head(s.result.Problems[0], s.result.Complete)
	briefs := []dataout.Object{}
	for i, p := range s.result.Problems {
		summary := dataout.Summary(&search.Result{Problem: p, Tally: s.result.Tallies[i], Complete: s.result.Complete}, s.used(i), nil)
		brief := dataout.Object{{Key: "name", Value: s.Names[i]}}
		for _, m := range summary {
			if m.Key != "schema" && m.Key != "catalog" && m.Key != "complete" && m.Key != "measure" && m.Key != "apart" {
				brief = append(brief, m)
			}
		}
		briefs = append(briefs, brief)
	}
	d := dataout.Document{}
	for _, m := range head {
		if m.Key == "brief" {
			m = dataout.Member{Key: "briefs", Value: briefs}
		}
		d.Head = append(d.Head, m)
	}
	d.Head = append(d.Head,
		dataout.Member{Key: "share", Value: s.Words},
		dataout.Member{Key: "order", Value: order},
	)
	d.Lists = []dataout.List{{Key: "sets", Items: func(yield func(dataout.Object) bool) {
		for i := range s.result.Sets {
			if !yield(s.object(&s.result.Sets[i])) {
				return
			}
		}
	}}}
	return d
}

// object is a set as data.
func (s *Answer) object(set *search.Set) dataout.Object {
	builds, changes := []dataout.Object{}, []dataout.Object{}
	for i, b := range set.Builds {
		builds = append(builds, append(dataout.Object{{Key: "for", Value: s.Names[i]}}, dataout.Build(b)...))
	}
	for _, step := range s.steps() {
		c := set.Builds[step[0]].Build.ChangeTo(set.Builds[step[1]].Build)
		changes = append(changes, dataout.Object{
			{Key: "from", Value: s.Names[step[0]]},
			{Key: "to", Value: s.Names[step[1]]},
			{Key: "off", Value: pieceObjects(c.Leave)},
			{Key: "on", Value: pieceObjects(c.Buy)},
		})
	}
	return dataout.Object{
		{Key: "rank", Value: set.Rank},
		{Key: "mean", Value: set.Mean},
		{Key: "worst", Value: set.Worst},
		{Key: "price", Value: set.Price},
		{Key: "lines", Value: dataout.LineObjects(set.Lines)},
		{Key: "changes", Value: changes},
		{Key: "builds", Value: builds},
	}
}

// pieceObjects are lines without their prices.
func pieceObjects(lines []constraints.Line) []dataout.Object {
	out := []dataout.Object{}
	for _, l := range lines {
		out = append(out, dataout.Object{{Key: "slot", Value: l.Slot.String()}, {Key: "id", Value: l.Part.ID}, {Key: "pieces", Value: l.Pieces}})
	}
	return out
}

// figures are the figures of the builds: those of a route where a brief has one.
func (s *Answer) figures() []constraints.Figure {
	for i := range s.result.Sets {
		for _, b := range s.result.Sets[i].Builds {
			if b.Build.Problem.HasRoute() {
				return b.Build.Problem.Figures()
			}
		}
	}
	return slices.DeleteFunc(constraints.Figures(), constraints.Figure.Routed)
}

// table is the answer as rows: a build of a set in each.
func (s *Answer) table() (header []string, rows [][]any) {
	header = append([]string{"set", "mean", "worst", "set_price", "for", "score"}, dataout.PartKeys()...)
	figures := s.figures()
	for _, f := range figures {
		header = append(header, f.Name)
	}
	for i := range s.result.Sets {
		set := &s.result.Sets[i]
		for brief, b := range set.Builds {
			cells := []any{set.Rank, set.Mean, set.Worst, set.Price, s.Names[brief], b.Score}
			ids := dataout.Parts(b.Build).(dataout.Object)
			for _, key := range dataout.PartKeys() {
				cells = append(cells, ids.Get(key))
			}
			for _, f := range figures {
				cells = append(cells, dataout.Figure(f, b.Build))
			}
			rows = append(rows, cells)
		}
	}
	return header, rows
}
