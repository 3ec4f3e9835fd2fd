package leaf

import (
	"context"
	"fmt"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// firstBuilds is how many builds the first screen lists.
const firstBuilds = 10

// First is what a page shows before its engine runs: a demo brief in words, and
// the builds that answer it. title is the id of its heading.
func First(ctx context.Context, brief, title string) (*Node, error) {
	c, err := catalog.Demo()
	if err != nil {
		return nil, err
	}
	src, ok := catalog.DemoBrief(brief)
	if !ok {
		return nil, fmt.Errorf("the demo has no brief %s", brief)
	}
	b, err := constraints.ReadBrief(src)
	if err != nil {
		return nil, err
	}
	p, err := constraints.NewProblem(c, b)
	if err != nil {
		return nil, err
	}
	r, err := search.Rank(ctx, p, search.Options{Top: firstBuilds, Apart: search.ApartByMotor()})
	if err != nil {
		return nil, err
	}
	if !r.Complete {
		return nil, ctx.Err()
	}
	d := New(Input{Result: r, System: quantity.Metric, Live: true})
	return el("",
		el("h1", id(title), text("What must the board do?")),
		el("p", class("lead"), text("This is the demo’s question, and its answer. The engine is on its way; then every blank can be changed.")),
		el("div", class("prose"), each(d.Asked, func(_ int, s string) inside { return el("p", text(s)) })),
		el("p", class("headline"), el("b", text(say.Counted(r.Feasible, "build does it", "builds do it"))), text(" of "+layout.Counted(float64(r.Combinations), "combination", "combinations")+".")),
		el("p", text(d.Invented)),
		d.Table(Dead)), nil
}

// EveryCaution is what holds for every board, in words.
func EveryCaution() *Node {
	return el("", each(say.GeneralCautions(constraints.EveryBoard(), quantity.Metric), func(_ int, s string) inside { return el("li", text(s)) }))
}
