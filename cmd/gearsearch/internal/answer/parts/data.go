package parts

import (
	"math"
	"slices"

	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints/outfit"
)

// dataSystem is the system of units in which data is, whatever people are shown.
const dataSystem = quantity.Metric

// document is the answer as data.
func (s *Answer) document() dataout.Document {
	return dataout.Document{
		Head: append(dataout.Head(s.Build.Problem, true),
			dataout.Member{Key: "build", Value: dataout.Build(s.Scored)},
			dataout.Member{Key: "total", Value: dataout.Object{{Key: "known", Value: s.Total.Known}, {Key: "leaves_out", Value: s.leftOut()}}},
			dataout.Member{Key: "settings", Value: dataout.Settings(s.Build)},
			dataout.Member{Key: "sketch", Value: dataout.OrNone(s.sketch())},
			dataout.Member{Key: "assumptions", Value: dataout.OrNone(say.Notes(s.Assumptions(), dataSystem))},
			dataout.Member{Key: "cautions", Value: dataout.OrNone(say.OutfitCautions(s.Outfit, dataSystem))},
		),
		Lists: []dataout.List{
			{Key: "list", Items: dataout.Objects(s.list(), lineObject)},
			{Key: "made", Items: slices.Values(dataout.Makings(s.Makings()))},
			{Key: "needs", Items: dataout.Objects(s.Needs, needObject)},
			{Key: "checks", Items: dataout.Objects(s.Results(), checkObject)},
			{Key: "figures", Items: dataout.Objects(s.Facts(), factObject)},
			{Key: "tools", Items: dataout.Objects(s.Tools(), toolObject)},
		},
	}
}

// leftOut names the lines that the total leaves out.
func (s *Answer) leftOut() []string {
	out := []string{}
	for _, l := range s.list() {
		if math.IsNaN(l.Total) {
			out = append(out, l.Slot)
		}
	}
	return out
}

// listHeader are the keys of a line in order.
var listHeader = []string{"slot", "id", "name", "state", "pieces", "sold_in", "packs", "unit_price", "total", "owned", "link", "note", "priced", "source", "made"}

// cells are the values of a line in the order of listHeader.
func (l listed) cells() []any {
	state, name := outfit.Chosen, l.Name
	if l.need != nil {
		state = l.need.State
	}
	if state != outfit.Chosen {
		name = say.Statement(l.need.Buy, dataSystem)
	}
	return []any{
		l.Slot, dataout.TextOrNil(l.ID), dataout.TextOrNil(name), state.String(), l.Pieces, l.SoldIn, l.Packs,
		l.Unit, l.Total, l.Owned, dataout.TextOrNil(l.Link), dataout.TextOrNil(l.noted(dataSystem)), dataout.TextOrNil(l.Priced), dataout.TextOrNil(l.Source), dataout.TextOrNil(l.Made),
	}
}

func lineObject(l listed) dataout.Object {
	var o dataout.Object
	for i, v := range l.cells() {
		o = append(o, dataout.Member{Key: listHeader[i], Value: v})
	}
	return o
}

// table is the shopping list as rows.
func (s *Answer) table() (header []string, rows [][]any) {
	for _, l := range s.list() {
		rows = append(rows, l.cells())
	}
	return listHeader, rows
}

func needObject(n *outfit.Need) dataout.Object {
	demands := []dataout.Object{}
	for _, d := range n.Demands {
		demands = append(demands, dataout.Object{
			{Key: "key", Value: d.Key},
			{Key: "what", Value: say.Demand(d)},
			{Key: "unit", Value: d.Unit},
			{Key: "least", Value: d.Least * d.PerSI},
			{Key: "most", Value: d.Most * d.PerSI},
			{Key: "open", Value: dataout.TextOrNil(say.Statements(d.Open, dataSystem))},
			{Key: "numbers", Value: dataout.TextOrNil(say.Statements(d.How, dataSystem))},
			{Key: "source", Value: dataout.TextOrNil(d.Source)},
		})
	}
	turned := []dataout.Object{}
	for _, t := range n.Turned {
		turned = append(turned, dataout.Object{{Key: "id", Value: t.ID}, {Key: "why", Value: say.Statements(t.Why, dataSystem)}, {Key: "unsure", Value: t.Unsure}})
	}
	var id any
	if n.Part != nil {
		id = n.Part.ID
	}
	return dataout.Object{
		{Key: "need", Value: n.Line().Slot},
		{Key: "kind", Value: dataout.TextOrNil(n.Kind)},
		{Key: "state", Value: n.State.String()},
		{Key: "id", Value: id},
		{Key: "words", Value: say.Statement(n.Buy, dataSystem)},
		{Key: "pieces", Value: n.Pieces},
		{Key: "price", Value: n.Price()},
		{Key: "notes", Value: dataout.OrNone(say.Notes(n.Notes, dataSystem))},
		{Key: "demands", Value: demands},
		{Key: "turned_away", Value: turned},
	}
}

func checkObject(r outfit.Result) dataout.Object {
	var unit any
	value, limit := math.NaN(), math.NaN()
	if r.Unit != "" {
		unit, value, limit = r.Unit, r.Value*r.PerSI, r.Limit*r.PerSI
	}
	return dataout.Object{
		{Key: "check", Value: r.Name},
		{Key: "verdict", Value: r.Verdict.String()},
		{Key: "caution_only", Value: r.Caution},
		{Key: "value", Value: value},
		{Key: "limit", Value: limit},
		{Key: "unit", Value: unit},
		{Key: "margin_pct", Value: r.MarginPct()},
		{Key: "words", Value: dataout.TextOrNil(say.FindingWords(r.Finding, dataSystem))},
		{Key: "source", Value: r.Source},
	}
}

func factObject(f outfit.Fact) dataout.Object {
	return dataout.Object{
		{Key: "figure", Value: f.Name},
		{Key: "value", Value: f.Value},
		{Key: "unit", Value: f.Unit},
		{Key: "meaning", Value: say.FactWords(f, dataSystem)},
		{Key: "numbers", Value: dataout.TextOrNil(say.Statements(f.How, dataSystem))},
		{Key: "source", Value: f.Source},
	}
}

func toolObject(t outfit.Tool) dataout.Object {
	return dataout.Object{
		{Key: "tool", Value: t.Name},
		{Key: "words", Value: say.Statement(t.Use, dataSystem)},
		{Key: "for", Value: t.For},
		{Key: "notes", Value: dataout.OrNone(say.Notes(t.Notes, dataSystem))},
		{Key: "source", Value: t.Source},
	}
}
