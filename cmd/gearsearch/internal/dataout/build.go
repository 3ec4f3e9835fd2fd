package dataout

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// schema is the version of the JSON documents.
const schema = 1

// builder makes objects of builds.
type builder struct {
	figures []constraints.Figure
	blank   bool // CSV has columns for the best corner
	apart   bool // builds are the best of designs, and say what they stand for
}

func newBuilder(p *constraints.Problem) builder { return builder{figures: p.Figures()} }

// build is a scored build. Its rank is null where there is no ranking.
func (m builder) build(s search.Scored) Object {
	scores := Object{}
	for _, c := range s.Scores {
		scores = append(scores, Member{c.Name, c.Score})
	}
	out := Object{{"rank", rank(s)}, {"score", s.Score}}
	if m.apart {
		out = append(out, Member{"stands_for", standsFor(s)})
	}
	return append(out,
		Member{"parts", parts(s.Build)},
		Member{"figures", m.values(s.Build)},
		Member{"figures_best", m.bests(s.Build)},
		Member{"scores", scores},
		Member{"checks", checks(s.Build)},
		Member{"cautions", some(say.CautionsOf(s.Build, quantity.Metric))},
	)
}

// standsFor is how many feasible builds are of a build's design; nil where that was
// not counted.
func standsFor(s search.Scored) any {
	if s.StandsFor == 0 {
		return nil
	}
	return s.StandsFor
}

func rank(s search.Scored) any {
	if s.Rank == 0 {
		return nil
	}
	return s.Rank
}

// some is a list that is written as [] when it is empty.
func some(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}

// partOrder is the order of the slots in data out.
var partOrder = [...]constraints.Slot{
	constraints.SlotBattery, constraints.SlotController, constraints.SlotMotor, constraints.SlotMotorPulley, constraints.SlotWheelPulley,
	constraints.SlotBelt, constraints.SlotMount, constraints.SlotGearDrive, constraints.SlotWheel,
}

// counted reports whether the number of pieces stands behind the id of a slot's
// part, under the slot's name in the plural.
func counted(slot constraints.Slot) bool {
	return slot == constraints.SlotController || slot == constraints.SlotMotor
}

// parts are the ids of a build, with the numbers of controllers and motors.
func parts(b *constraints.Build) Object {
	var out Object
	for _, slot := range partOrder {
		var id any
		if text := b.ID(slot); text != "" {
			id = text
		}
		out = append(out, Member{slot.String(), id})
		if counted(slot) {
			out = append(out, Member{slot.String() + "s", b.Pieces(slot)})
		}
	}
	return out
}

func (m builder) values(b *constraints.Build) Object {
	out := make(Object, 0, len(m.figures))
	for _, f := range m.figures {
		out = append(out, Member{f.Name, Figure(f, b)})
	}
	return out
}

// bests are the figures of the best corner that differ.
func (m builder) bests(b *constraints.Build) Object {
	out := Object{}
	for _, f := range m.figures {
		if value, differs := Best(f, b); differs {
			out = append(out, Member{f.Name, value})
		}
	}
	return out
}

// Best is the value of a figure of the best corner, as Figure has it; differs is
// false where it is that of the worst.
func Best(f constraints.Figure, b *constraints.Build) (value any, differs bool) {
	x, word, differs := f.Best(b)
	switch {
	case !differs || f.Word != nil && word == "":
		return nil, differs
	case f.Word != nil:
		return word, true
	}
	return x, true
}

// Figure is the value of a figure: a number or a word, nil for no word. Known
// tells whether it is there.
func Figure(f constraints.Figure, b *constraints.Build) any {
	if f.Word == nil {
		return f.Value(b)
	}
	if word := f.Word(b); word != "" {
		return word
	}
	return nil
}

// Known reports whether the value of a figure is there.
func Known(value any) bool {
	x, number := value.(float64)
	return value != nil && !(number && math.IsNaN(x))
}

func checks(b *constraints.Build) []Object { return Checks(b.Results(), b.Problem.Catalog) }

// Checks are outcomes of checks.
func Checks(results []constraints.Result, c *catalog.Catalog) []Object {
	out := []Object{}
	for _, r := range results {
		out = append(out, Object{
			{"name", r.Name},
			{"verdict", r.Verdict.String()},
			{"value", r.Value * r.Shown().PerSI},
			{"limit", r.Limit * r.Shown().PerSI},
			{"unit", unit(r.Shown().Unit, c)},
			{"margin_pct", r.MarginPct(r.Outcome)},
		})
	}
	return out
}

// unit is a unit in words: the currency for a price, nil for none.
func unit(name string, c *catalog.Catalog) any {
	switch name {
	case "":
		return nil
	case "price":
		return c.Currency
	}
	return name
}

// Why lists each figure of a build with its formula, the formula with the
// build's numbers put in, and where it comes from.
func Why(b *constraints.Build) []Object {
	out := []Object{}
	for _, f := range b.Problem.Figures() {
		value, numbers := Figure(f, b), any(nil)
		if Known(value) {
			numbers = say.Put(f, b)
		}
		out = append(out, Object{
			{"figure", f.Name},
			{"value", value},
			{"unit", unit(f.Unit, b.Problem.Catalog)},
			{"meaning", f.Of(b).Meaning},
			{"formula", f.Formula},
			{"numbers", numbers},
			{"source", f.Source},
		})
	}
	return out
}

// WhyScores lists each criterion that applies with its formula, and the same
// with the build's numbers put in or what is missing; a score is the value held
// between 0 and 1.
func WhyScores(s search.Scored) []Object {
	out := []Object{}
	for _, c := range s.Scores {
		out = append(out, Object{
			{"criterion", c.Name},
			{"score", c.Score},
			{"weight", c.Weight},
			{"meaning", c.Meaning},
			{"formula", c.Formula},
			{"numbers", say.Numbers(c.Put(c.Ruling(s.Build)))},
		})
	}
	return out
}

// Brief is a brief as it was understood, every default filled in.
func Brief(p *constraints.Problem) Object {
	out := Object{}
	for _, section := range p.Resolved() {
		keys := Object{}
		for _, k := range section.Keys {
			keys = append(keys, Member{k.Key, k.Value})
		}
		out = append(out, Member{section.Name, keys})
	}
	return out
}

// Catalog tells which catalog was read and how many parts of each kind it has.
func Catalog(c *catalog.Catalog) Object {
	counts := Object{}
	for _, k := range c.Count() {
		counts = append(counts, Member{k.Kind, k.N})
	}
	return Object{
		{"files", some(c.Files)},
		{"currency", c.Currency},
		{"parts", counts},
	}
}
