package swap

import (
	"fmt"
	"iter"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// forms are the forms of the answer.
func (s *Answer) forms(a *ask.Answer) ask.Forms {
	return ask.Forms{
		Text:     func() *layout.Text { return s.text(a.System) },
		Document: s.document,
		Table:    s.table,
		Complete: s.complete(),
	}
}

// document is the answer as data.
func (s *Answer) document() dataout.Document {
	base := say.NewRow(s.Base)
	list := func(changes []change) iter.Seq[dataout.Object] {
		return func(yield func(dataout.Object) bool) {
			for _, x := range changes {
				if !yield(s.object(base, x)) {
					return
				}
			}
		}
	}
	d := dataout.Document{
		Head: append(dataout.Head(s.Full, s.complete()),
			dataout.Member{Key: "change", Value: s.change()},
			dataout.Member{Key: "in_turn", Value: s.inTurn()},
			dataout.Member{Key: "combinations", Value: s.total() + s.held()},
			dataout.Member{Key: "feasible", Value: s.feasibleWithBase()},
			dataout.Member{Key: "rejected", Value: dataout.Rejected(s.rejections(s.held()))},
			dataout.Member{Key: "base", Value: dataout.Build(s.Base)},
			dataout.Member{Key: "never_fit", Value: s.neverFit()},
		),
		Lists: []dataout.List{{Key: "swaps", Items: list(s.swaps)}, {Key: "broken"}},
	}
	if s.All && s.complete() {
		d.Lists[1].Items = list(s.broken)
	}
	return d
}

// feasibleWithBase counts the build in hand too, where it is in play and passes.
func (s *Answer) feasibleWithBase() uint64 {
	if len(s.misses) == 0 {
		return s.feasible() + s.held()
	}
	return s.feasible()
}

// neverFit counts the changes that can never be put together; nil where they were
// not looked for.
func (s *Answer) neverFit() any {
	if !s.All || !s.complete() {
		return nil
	}
	out := []dataout.Object{}
	for _, r := range s.Rounds {
		for _, m := range r.broken.Misfits {
			out = append(out, dataout.Object{{Key: "change", Value: r.Change}, {Key: "check", Value: m.Check.Name}, {Key: "count", Value: m.Count}})
		}
	}
	return out
}

// object is one swap as data: a build, and what becomes of the one in hand.
func (s *Answer) object(base *say.Row, x change) dataout.Object {
	p := s.Full
	changes := dataout.Object{{Key: "score", Value: x.Score - base.Score}}
	to := say.NewRow(x.Scored)
	for _, m := range say.Measures(p, quantity.Metric) {
		changes = append(changes, dataout.Member{Key: m.Key, Value: m.Value(to) - m.Value(base)})
	}
	return append(dataout.Build(x.Scored),
		dataout.Member{Key: "changes", Value: changes},
		dataout.Member{Key: "price_to_pay", Value: x.Change.Price},
		dataout.Member{Key: "buys", Value: dataout.LineObjects(x.Change.Buy)},
		dataout.Member{Key: "leaves", Value: dataout.LineObjects(x.Change.Leave)},
		dataout.Member{Key: "breaks", Value: dataout.Checks(x.Breaks, p.Catalog)},
		dataout.Member{Key: "adds", Value: names(x.Adds(s.Base.Build, s.Question.Strict))},
		dataout.Member{Key: "cures", Value: names(x.Cures)},
		dataout.Member{Key: "never_fits", Value: neverFits(x)},
		dataout.Member{Key: "changed", Value: x.round.Change},
	)
}

// names are those of checks.
func names(list []constraints.Result) []string {
	out := []string{}
	for _, r := range list {
		out = append(out, r.Name)
	}
	return out
}

// neverFits is the check by which the new parts never go on the others, nil for
// none.
func neverFits(x change) any {
	if x.Misfit == nil {
		return nil
	}
	return x.Misfit.Name
}

// table is the answer as rows: the build in hand, the swaps, the broken ones.
func (s *Answer) table() (header []string, rows [][]any) {
	p := s.Full
	compared := say.Measures(p, quantity.Metric)
	header = append([]string{"kind", "rank", "score", "score_change"}, dataout.PartKeys()...)
	for _, m := range compared {
		header = append(header, m.Key, m.Key+"_change")
	}
	header = append(header, "price_to_pay", "buys", "leaves", "breaks", "adds", "cures", "never_fits", "changed")
	base := say.NewRow(s.Base)
	line := func(kind string, x change) {
		to := say.NewRow(x.Scored)
		cells := []any{kind, nil, x.Score, x.Score - base.Score}
		if x.Rank > 0 {
			cells[1] = x.Rank
		}
		ids := dataout.Parts(x.Build).(dataout.Object)
		for _, key := range dataout.PartKeys() {
			cells = append(cells, ids.Get(key))
		}
		for _, m := range compared {
			cells = append(cells, m.Value(to), m.Value(to)-m.Value(base))
		}
		rows = append(rows, append(cells, x.Change.Price, lineIDs(x.Change.Buy), lineIDs(x.Change.Leave), names(x.Breaks),
			names(x.Adds(s.Base.Build, s.Question.Strict)), names(x.Cures), neverFits(x), x.round.Change))
	}
	line("base", change{search.Swap{Scored: s.Base, Breaks: s.misses}, &Round{}})
	for _, x := range s.swaps {
		line("swap", x)
	}
	if s.All {
		for _, x := range s.broken {
			line("broken", x)
		}
	}
	return header, rows
}

// lineIDs lists parts for a cell: 2*id.
func lineIDs(lines []constraints.Line) []string {
	var out []string
	for _, l := range lines {
		out = append(out, fmt.Sprintf("%d*%s", l.Pieces, l.Part.ID))
	}
	return out
}
