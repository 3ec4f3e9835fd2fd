package leaf

import (
	"cmp"
	"math"
	"strconv"
	"strings"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// cell makes the cell of a column for a build.
type cell func(b *constraints.Build, results map[string]constraints.Result) Cell

// column is a column with how its cells are made.
type column struct {
	Column
	cell cell
}

// figureColumn shows a figure; the checks on it speak for its sign.
func (m *maker) figureColumn(title, name, about string, wide bool) column {
	f, _ := constraints.FigureNamed(name)
	checks := constraints.ChecksOn(name)
	_, unit := m.system.Value(0, f.Unit)
	if f.Unit == "price" {
		unit = m.currency()
	}
	return column{
		Column{title, unit, about, name, f.Better == constraints.Greater, wide},
		func(b *constraints.Build, results map[string]constraints.Result) Cell {
			x := f.Value(b)
			if math.IsNaN(x) {
				return Cell{Text: say.AbsentSign(f, b), Wide: wide}
			}
			return Cell{Text: say.Ends(f, b, m.system), Sign: worst(results, checks...), Sort: sortable(x), Wide: wide}
		},
	}
}

// currency is the currency as it stands over a column.
func (m *maker) currency() string { return Currency(m.problem.Catalog) }

// Currency is the currency of a catalog as it stands over a column, with a mark
// where prices of the demo are in it.
func Currency(c *catalog.Catalog) string {
	if say.InventedNote(c) != "" {
		return c.Currency + ", " + say.Invented
	}
	return c.Currency
}

// marginColumn shows by how much a check is passed.
func marginColumn(title, check, about string, wide bool) column {
	return column{
		Column{title, "% spare", about, check, true, wide},
		func(_ *constraints.Build, results map[string]constraints.Result) Cell {
			r, ok := results[check]
			if !ok {
				return Cell{Text: "–", Wide: wide}
			}
			pct := say.Margin(r)
			switch sign := say.Sign(r); {
			case math.IsNaN(pct) && sign == say.NoSign:
				return Cell{Text: say.NoneSign, Wide: wide}
			case math.IsNaN(pct):
				return Cell{Sign: sign, Wide: wide}
			}
			return Cell{Text: layout.Fixed(pct, 0), Sign: say.Sign(r), Sort: sortable(pct), Wide: wide}
		},
	}
}

// table are the columns of the table of builds.
func (m *maker) table() []column {
	p := m.problem
	out := []column{m.figureColumn("speed", "top_speed_kmh", "top speed on the flat", false)}
	if p.Climbs() {
		out = append(out, marginColumn("climb", "climb", "thrust to spare on the climb", true))
	}
	if p.HasCeiling() {
		out = append(out, marginColumn("rpm", "erpm", "electrical rpm below the limit", true))
	}
	if p.Climbs() {
		out = append(out, marginColumn("heat", "heat", "motor current to spare on the climb", true))
	}
	out = append(out, m.figureColumn("range", "range_km", "distance on a charge", false))
	if p.HasRoute() {
		out = append(out, m.figureColumn("left", "route_left_pct", "charge left after the route", false))
	}
	if !math.IsNaN(p.Brief.Target.LaunchTime) {
		out = append(out, m.figureColumn("launch", "launch_s", "time to the launch speed", true))
	}
	return append(out,
		m.figureColumn("price", "price", "all parts of the build", false),
		m.figureColumn("mass", "mass_kg", "the board without its rider", true),
		m.figureColumn("ratio", "reduction", "motor turns per wheel turn", true),
	)
}

// row is a build as a row of a table with these columns.
func (m *maker) row(s search.Scored, table []column, hasCard bool) Build {
	b := s.Build
	results := map[string]constraints.Result{}
	out := Build{Number: s.Rank, Score: layout.Fixed(s.Score, 1), Chain: m.names.chain(b), HasCard: hasCard, Alike: say.Alike(s.StandsFor)}
	least := math.Inf(1)
	list := b.Results()
	out.Marks = marks(list)
	for _, r := range list {
		results[r.Name] = r
		if value, limit, unit := say.Outcome(r, m.problem, m.system); limit != "" {
			out.Limits = append(out.Limits, strings.TrimSpace(r.Shown().Subject+": "+cmp.Or(value, say.OpenSign)+", must be "+limit+" "+unit))
		}
		sign := say.Sign(r)
		switch sign {
		case say.OpenSign:
			out.Watch = append(out.Watch, r.Shown().Subject+" not decided")
		case say.FailSign:
			out.Watch = append(out.Watch, r.Shown().Subject+" beyond its limit, a caution only")
		}
		if pct := say.Margin(r); pct < least && r.Verdict == constraints.Pass {
			least = pct
			out.Tight, out.Sign = r.Shown().Subject+" "+signed(pct), sign
		}
	}
	for _, c := range table {
		out.Cells = append(out.Cells, c.cell(b, results))
	}
	var find []string
	for _, p := range out.Chain {
		find = append(find, p.text())
	}
	for _, l := range b.Lines() {
		find = append(find, l.Part.ID, l.Part.Name)
	}
	out.Find = strings.ToLower(strings.Join(find, " "))
	return out
}

// worst is the gravest sign of some checks.
func worst(results map[string]constraints.Result, names ...string) string {
	gravity := []string{say.NoSign, say.ThinSign, say.OpenSign, say.FailSign}
	at := 0
	for _, name := range names {
		if r, ok := results[name]; ok {
			for i, sign := range gravity {
				if say.Sign(r) == sign {
					at = max(at, i)
				}
			}
		}
	}
	return gravity[at]
}

// sortable is a number that a script reads back.
func sortable(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// differs says which parts a build does not share with another, "" for none: those that
// a row names, else those that it does not.
func (m *maker) differs(b, first *constraints.Build) string {
	if list := chainDiffers(m.names.chain(b), m.names.chain(first)); len(list) > 0 {
		return strings.Join(list, ", ")
	}
	var list []string
	for _, slot := range constraints.Slots() {
		if b.ID(slot) != first.ID(slot) && b.ID(slot) != "" {
			list = append(list, SlotName(slot.Called(b.Drive.Chained()))+" "+m.names.part(b, slot).text())
		}
	}
	return strings.Join(list, ", ")
}

// chainDiffers is what one chain of parts has other than another.
func chainDiffers(own, other []Part) (list []string) {
	in := func(chain []Part, slot string) string {
		for _, p := range chain {
			if p.Slot == slot {
				return p.text()
			}
		}
		return ""
	}
	for _, p := range own {
		if text := p.text(); text != in(other, p.Slot) {
			list = append(list, p.Slot+" "+text)
		}
	}
	for _, p := range other {
		if in(own, p.Slot) == "" {
			list = append(list, "no "+p.Slot)
		}
	}
	return list
}
