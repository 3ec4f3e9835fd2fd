package main

import (
	"fmt"
	"iter"
	"strings"

	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// forms are the forms of the answer.
func (s *swapAnswer) forms(a *answer) forms {
	return forms{
		page:     func() *layout.Page { return s.page(a.system) },
		document: s.document,
		table:    s.table,
		complete: s.result.Complete,
	}
}

// document is the answer as data.
func (s *swapAnswer) document() dataout.Document {
	base := newRow(s.base)
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
		Head: append(dataout.Head(s.full, s.result.Complete),
			dataout.Member{Key: "change", Value: s.change},
			dataout.Member{Key: "combinations", Value: s.result.Combinations},
			dataout.Member{Key: "feasible", Value: s.result.Feasible},
			dataout.Member{Key: "rejected", Value: dataout.Rejected(s.result.Rejections())},
			dataout.Member{Key: "base", Value: dataout.Build(s.base)},
		),
		Lists: []dataout.List{{Key: "swaps", Items: list(s.swaps)}, {Key: "broken"}},
	}
	if s.all && s.result.Complete {
		d.Lists[1].Items = list(s.broken)
	}
	return d
}

// object is one swap as data: a build, and what becomes of the one in hand.
func (s *swapAnswer) object(base *row, x search.Swap) dataout.Object {
	p := s.full
	changes := dataout.Object{{Key: "score", Value: x.Score - base.Score}}
	to := newRow(x.Scored)
	for _, m := range measures(p, quantity.Metric) {
		changes = append(changes, dataout.Member{Key: m.key, Value: m.value(to) - m.value(base)})
	}
	return append(dataout.Build(x.Scored),
		dataout.Member{Key: "changes", Value: changes},
		dataout.Member{Key: "price_to_pay", Value: x.Change.Price},
		dataout.Member{Key: "buys", Value: lineObjects(x.Change.Buy)},
		dataout.Member{Key: "leaves", Value: lineObjects(x.Change.Leave)},
		dataout.Member{Key: "breaks", Value: dataout.Checks(x.Breaks, p.Catalog)},
	)
}

func lineObjects(lines []constraints.Line) []dataout.Object {
	out := []dataout.Object{}
	for _, l := range lines {
		out = append(out, dataout.Object{{Key: "slot", Value: l.Slot.String()}, {Key: "id", Value: l.Part.ID}, {Key: "pieces", Value: l.Pieces}, {Key: "price", Value: l.Price}})
	}
	return out
}

// table is the answer as rows: the build in hand, the swaps, the broken ones.
func (s *swapAnswer) table() (header []string, rows [][]any) {
	p := s.full
	compared := measures(p, quantity.Metric)
	header = append([]string{"kind", "rank", "score", "score_change"}, dataout.PartKeys()...)
	for _, m := range compared {
		header = append(header, m.key, m.key+"_change")
	}
	header = append(header, "price_to_pay", "buys", "leaves", "breaks")
	base := newRow(s.base)
	line := func(kind string, x search.Swap) {
		to := newRow(x.Scored)
		cells := []any{kind, nil, x.Score, x.Score - base.Score}
		if x.Rank > 0 {
			cells[1] = x.Rank
		}
		ids := dataout.Parts(x.Build).(dataout.Object)
		for _, key := range dataout.PartKeys() {
			cells = append(cells, ids.Get(key))
		}
		for _, m := range compared {
			cells = append(cells, m.value(to), m.value(to)-m.value(base))
		}
		var breaks []string
		for _, r := range x.Breaks {
			breaks = append(breaks, r.Name)
		}
		rows = append(rows, append(cells, x.Change.Price, lineIDs(x.Change.Buy), lineIDs(x.Change.Leave), strings.Join(breaks, " ")))
	}
	line("base", search.Swap{Scored: s.base, Breaks: s.misses})
	for _, x := range s.swaps {
		line("swap", x)
	}
	if s.all {
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
