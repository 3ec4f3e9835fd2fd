package leaf

import (
	"strconv"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// like says how many more builds are of the design of a row: live it is what unfolds
// them, dead it names the command that lists them, where there is one.
func (b *Build) like(m Manner) inside {
	switch {
	case b.Alike == "":
		return nil
	case m == Live:
		return el("button", typeButton, class("quiet like"), attr{"aria-expanded", "false"}, text(b.Alike), said(" No. "+strconv.Itoa(b.Number)))
	case b.AlikeBy != "":
		return el("details", class("like"), el("summary", text(b.Alike)),
			el("p", text("Ranked among themselves by: "), el("code", text(b.AlikeBy))))
	}
	return el("span", class("soft"), text(b.Alike))
}

// alikeBy is the command that lists the builds of the design of one, "" where flags
// cannot say what they are alike in: that they have no part in a slot.
func alikeBy(command string, b *constraints.Build, a search.Apart) string {
	if command == "" || a.None() {
		return ""
	}
	out := command + " --apart none"
	for _, slot := range constraints.Slots() {
		switch {
		case !a.By(slot):
		case !slot.Always():
			return ""
		default:
			out += " --keep " + say.Typed(slot.String()+"="+b.ID(slot))
		}
	}
	if a.Motors() && len(b.Problem.Counts) > 1 {
		out += " --set board.motors=" + strconv.Itoa(b.Motors())
	}
	return out
}

// Alike is the builds of one design in the order of a ranking, each by what it has
// other than the one that stands for them, which is left out.
func Alike(r *search.Result, of *constraints.Build, system quantity.System) *Node {
	m := newMaker(of.Problem, system, false)
	table := m.table()
	rows := all{}
	for s := range r.Builds() {
		if s.Rank > 1 {
			rows = append(rows, m.variant(s, of, table))
		}
	}
	return el("table", class("variants"),
		el("thead", el("tr", el("th", scopeCol, said("all about it")), el("th", scopeCol, text("score")),
			each(table, func(_ int, c column) inside {
				return el("th", scopeCol, roomy(c.Wide, ""), text(c.Title), when(c.Unit != "", text(" "), el("small", text(c.Unit))))
			}))),
		rows)
}

// variant is a build in the list of its design.
func (m *maker) variant(s search.Scored, of *constraints.Build, table []column) *Node {
	results := map[string]constraints.Result{}
	for _, r := range s.Build.Results() {
		results[r.Name] = r
	}
	return el("tbody",
		el("tr", class("made-of"),
			el("td", attr{"rowspan", "2"}, el("button", typeButton, class("look"))),
			el("th", attr{"scope", "rowgroup"}, attr{"colspan", strconv.Itoa(len(table) + 1)}, text(m.differs(s.Build, of)))),
		el("tr", class("numbers"), el("td", text(layout.Fixed(s.Score, 1))),
			each(table, func(_ int, c column) inside {
				x := c.cell(s.Build, results)
				return el("td", roomy(c.Wide, ""), text(x.Text), sign(x.Sign))
			})))
}
