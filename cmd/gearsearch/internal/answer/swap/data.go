package swap

import (
	"fmt"
	"iter"
	"strings"

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
		Complete: s.result.Complete,
	}
}

// document is the answer as data.
func (s *Answer) document() dataout.Document {
	base := say.NewRow(s.Base)
	list := func(swaps []search.Swap) iter.Seq[dataout.Object] {
		return func(yield func(dataout.Object) bool) {
			for _, x := range swaps {
				if !yield(s.object(base, x)) {
					return
				}
			}
		}
	}
	d := dataout.Document{
		Head: append(dataout.Head(s.Full, s.result.Complete),
			dataout.Member{Key: "change", Value: s.Change},
			dataout.Member{Key: "combinations", Value: s.result.Combinations},
			dataout.Member{Key: "feasible", Value: s.result.Feasible},
			dataout.Member{Key: "rejected", Value: dataout.Rejected(s.result.Rejections())},
			dataout.Member{Key: "base", Value: dataout.Build(s.Base)},
		),
		Lists: []dataout.List{{Key: "swaps", Items: list(s.swaps)}, {Key: "broken"}},
	}
	if s.All && s.result.Complete {
		d.Lists[1].Items = list(s.broken)
	}
	return d
}

// object is one swap as data: a build, and what becomes of the one in hand.
func (s *Answer) object(base *say.Row, x search.Swap) dataout.Object {
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
	)
}

// table is the answer as rows: the build in hand, the swaps, the broken ones.
func (s *Answer) table() (header []string, rows [][]any) {
	p := s.Full
	compared := say.Measures(p, quantity.Metric)
	header = append([]string{"kind", "rank", "score", "score_change"}, dataout.PartKeys()...)
	for _, m := range compared {
		header = append(header, m.Key, m.Key+"_change")
	}
	header = append(header, "price_to_pay", "buys", "leaves", "breaks")
	base := say.NewRow(s.Base)
	line := func(kind string, x search.Swap) {
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
		var breaks []string
		for _, r := range x.Breaks {
			breaks = append(breaks, r.Name)
		}
		rows = append(rows, append(cells, x.Change.Price, lineIDs(x.Change.Buy), lineIDs(x.Change.Leave), strings.Join(breaks, " ")))
	}
	line("base", search.Swap{Scored: s.Base, Breaks: s.misses})
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

// lineIDs lists parts for a cell: 2*id id.
func lineIDs(lines []constraints.Line) string {
	var out []string
	for _, l := range lines {
		out = append(out, fmt.Sprintf("%d*%s", l.Pieces, l.Part.ID))
	}
	return strings.Join(out, " ")
}
