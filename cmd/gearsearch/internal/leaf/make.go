package leaf

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Input is what a page is made of.
type Input struct {
	Result  *search.Result
	Near    *search.NearMiss // where nothing is feasible; may be nil
	Relaxed *search.Relaxed  // what to give way on then; may be nil
	Strict  bool
	System  quantity.System
	Made    string         // the date
	Command string         // that makes the page again
	Origin  string         // how it came to be, where that is not by the command; may be ""
	Next    []string       // commands to type next
	Alike   string         // the command that ranks builds, behind which flags say which; may be ""
	Live    bool           // an engine answers what is asked of a build
	Wishes  *search.Wishes // what each target and limit costs; may be nil
}

// MostCards is how many of the first builds get a card.
const MostCards = 10

// cards is how many of the first builds get a card: none of a live table, whose
// builds are opened one by one.
func (in *Input) cards() int {
	if in.Live {
		return 0
	}
	return MostCards
}

// maker makes a document.
type maker struct {
	problem *constraints.Problem
	system  quantity.System
	strict  bool
	figures []constraints.Figure
	names   *namer
	made    string // the date; "" not told
}

func newMaker(p *constraints.Problem, system quantity.System, strict bool) *maker {
	return &maker{problem: p, system: system, strict: strict, figures: constraints.Figures(), names: newNamer(p.Catalog)}
}

// New makes the document of a ranking.
func New(in Input) *Document {
	r := in.Result
	p := r.Problem
	m := newMaker(p, in.System, in.Strict)
	m.made = in.Made
	d := &Document{
		Title: "Shortlist", Made: in.Made, Command: in.Command, Origin: in.Origin, Next: in.Next,
		Combinations: layout.Count(r.Combinations), Feasible: layout.Count(r.Feasible),
		Asked: sentences(p, in.System), Keys: m.keys(),
		Wishes:   m.wishes(in.Wishes),
		Cautions: say.GeneralCautions(p.GeneralCautions(), in.System),
		Apart:    say.Choices(r.Apart),
	}
	if !in.Live { // which does not count at once
		d.Gates = gates(r)
	}
	d.Invented = say.InventedNote(p.Catalog)
	if r.Unknown > 0 {
		d.Undecided = layout.Count(r.Unknown)
	}
	if !r.Complete {
		d.Incomplete = fmt.Sprintf("Interrupted after %s of %s: this is the best so far, without drawings.",
			layout.Count(r.Combinations), say.Combinations(p))
	}
	d.Data = m.data(in.Command)
	var builds []search.Scored
	used := constraints.NewUsed(p)
	for s := range r.Builds() {
		builds = append(builds, s)
		used.Add(s.Build)
	}
	if in.Near != nil {
		used.Add(in.Near.Build)
	}
	d.Assumptions = say.Assumptions(used.Assumptions())
	table, ties := m.table(), tieOrder(builds)
	for _, c := range table {
		d.Columns = append(d.Columns, c.Column)
	}
	for i, s := range builds {
		row := m.row(s, table, i < in.cards())
		row.AlikeBy = alikeBy(in.Alike, s.Build, r.Apart)
		d.Builds = append(d.Builds, row)
		d.Data.Builds = append(d.Data.Builds, m.dataBuild(s, ties[i]))
		if i < in.cards() {
			d.Cards = append(d.Cards, m.card(s, builds[0].Build))
		}
	}
	if !in.Live {
		var list []*constraints.Build
		for _, s := range builds {
			list = append(list, s.Build)
		}
		d.Data.Charts = Charts(list, in.System)
	}
	if len(builds) > 0 {
		d.Weights = weights(builds[0].Scores)
		for _, w := range d.Weights {
			d.Data.Weights = append(d.Data.Weights, DataWeight{w.Name, w.Value})
		}
	}
	if in.Near != nil {
		near := search.ScoreBuild(in.Near.Build)
		d.Nearest = m.card(near, in.Near.Build)
		d.Nearest.Title = "Nearest"
		d.Gives = (&Conceded{Near: in.Near.Build, Relaxed: in.Relaxed, Problem: p, System: in.System}).Node(Dead)
	}
	return d
}

// FieldFigures are the figures of the plane in which all builds are shown: what a
// build costs, and what the brief asks for first.
func FieldFigures(p *constraints.Problem) (x, y constraints.Figure) {
	name := "top_speed_kmh"
	switch {
	case !math.IsNaN(p.Brief.Target.Range):
		name = "range_km"
	case p.Climbs():
		name = "climb_margin_pct"
	}
	x, _ = constraints.FigureNamed("price")
	y, _ = constraints.FigureNamed(name)
	return x, y
}

// weights are the criteria that apply, with a slider that reaches to ten or
// half again what the brief gives them.
func weights(scores []search.CriterionScore) []Weight {
	const usual = 10
	most := float64(usual)
	for _, s := range scores {
		if s.Weight > usual {
			most = max(most, math.Ceil(s.Weight*1.5))
		}
	}
	var out []Weight
	for _, s := range scores {
		out = append(out, Weight{s.Name, s.Meaning, s.Weight, most})
	}
	return out
}

// keys lists the brief key by key, as it was understood.
func (m *maker) keys() []Key {
	var out []Key
	for _, section := range m.problem.Resolved() {
		for _, k := range section.Keys {
			value := ""
			switch v := k.Value.(type) {
			case nil:
				continue
			case float64:
				v, unit := m.system.Value(v, k.Unit)
				if k.Key == "price" && section.Name == "limit" {
					unit = m.problem.Catalog.Currency
				}
				value = strings.TrimSpace(say.Short(v) + " " + unit)
			case []string:
				value = strings.Join(v, ", ")
			case []float64:
				var list []string
				for _, x := range v {
					list = append(list, say.Short(x))
				}
				value = strings.Join(list, ", ")
			default:
				value = fmt.Sprint(v)
			}
			if value != "" {
				out = append(out, Key{section.Name + ", " + say.KeyLabel(k.Key, k.Unit), value})
			}
		}
	}
	return out
}

// gates are the checks in the order in which combinations meet them, with what
// each rejected and what is left after it.
func gates(r *search.Result) []Gate {
	left := r.Combinations
	most := math.Log1p(float64(r.Combinations))
	var out []Gate
	for _, x := range r.Rejections() {
		left -= x.Count
		width := 0.0
		if most > 0 {
			width = 100 * math.Log1p(float64(left)) / most
		}
		out = append(out, Gate{
			Check: x.Check.Name, About: r.Problem.As(x.Check).Subject, Rejected: layout.Count(x.Count), Left: layout.Count(left),
			Width: strconv.FormatFloat(width, 'f', 1, 64), None: x.Count == 0,
		})
	}
	return out
}

// tieOrder is the place of each build in the order that breaks ties: by the ids
// of its parts as bytes, none first, and by the number of motors.
func tieOrder(builds []search.Scored) []int {
	order := make([]int, len(builds))
	for i := range order {
		order[i] = i
	}
	id := func(i int, slot constraints.Slot) string { return builds[i].Build.File().IDs[slot] }
	slices.SortStableFunc(order, func(a, b int) int {
		for _, slot := range constraints.Slots() {
			if by := cmp.Compare(id(a, slot), id(b, slot)); by != 0 {
				return by
			}
			if slot == constraints.SlotMotor {
				if by := cmp.Compare(builds[a].Build.Motors(), builds[b].Build.Motors()); by != 0 {
					return by
				}
			}
		}
		return 0
	})
	places := make([]int, len(builds))
	for place, i := range order {
		places[i] = place
	}
	return places
}

// data is what the script works with, but for the builds.
func (m *maker) data(command string) Data {
	d := Data{Command: command, Figures: []DataFigure{}, Builds: []DataBuild{}, Weights: []DataWeight{}}
	for _, s := range comparedSlots {
		d.Slots = append(d.Slots, SlotName(s))
	}
	for _, f := range m.figures {
		unit, _ := m.system.Show(f.Unit)
		if f.Unit == "price" {
			unit = m.currency()
		}
		d.Figures = append(d.Figures, DataFigure{f.Name, f.Label, unit, int(f.Better)})
	}
	return d
}

// comparedSlots are the rows of parts of builds side by side.
var comparedSlots = []string{"battery", "controller", "motor", "drive", "wheel", "mount", "belt"}

// dataBuild is a build as the script knows it.
func (m *maker) dataBuild(s search.Scored, tie int) DataBuild {
	b := s.Build
	out := DataBuild{Number: s.Rank, Scores: []float64{}, Price: number(b.Price().Total()), Tie: tie}
	for _, c := range s.Scores {
		out.Scores = append(out.Scores, c.Score)
	}
	out.Parts = make([]string, len(comparedSlots))
	for _, p := range append(m.names.chain(b), m.names.part(b, constraints.SlotBelt)) {
		if at := slices.Index(comparedSlots, p.Slot); at >= 0 {
			out.Parts[at] = p.text()
		}
	}
	for i, text := range out.Parts {
		out.Parts[i] = cmp.Or(text, "–")
	}
	for _, f := range m.figures {
		text, _, known := say.Figure(f, b, m.system)
		if !known {
			text = say.Absent(f, b)
		}
		out.Texts = append(out.Texts, text)
		var value *float64
		if known && f.Word == nil {
			value = number(f.Value(b))
		}
		out.Values = append(out.Values, value)
	}
	return out
}

// number is x, nil where it is none.
func number(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

func fixed(x float64, decimals int) string { return layout.Fixed(x, decimals) }

// CardOf is all about one build, which no ranking numbers.
func CardOf(s search.Scored, title string, system quantity.System) *Card {
	m := newMaker(s.Build.Problem, system, false)
	c := m.card(s, s.Build)
	c.Title, c.Assumed = title, say.Assumptions(s.Build.Assumptions())
	return c
}
