package search

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Candidate is one part of a slot with the feasible builds that have it.
type Candidate struct {
	ID    string // of a drive: its parts' ids, joined by " + "
	Tally        // of the combinations that have the part
	Best  *Scored
	// Figures are the best values that feasible builds with the part reach,
	// each figure on its own; see TargetFigures.
	Figures []float64
	// Spans are the least and the greatest values among its feasible builds.
	Reduction Span
	Wheel     Span // m, diameter
	Volts     Span // V, nominal, of the pack
	// Furthest is, for a part in no feasible build, the last check in order
	// that rejects any of its combinations: the best of them get that far. Nil
	// for a part in a feasible build.
	Furthest *constraints.Check
	// Unchosen is why no drive chooses a belt, which then is part of no
	// combination; nil for all other parts.
	Unchosen *constraints.UnchosenBelt
}

// Span is a least and a greatest value; Low > High where there is none.
type Span struct{ Low, High float64 }

func newSpan() Span { return Span{math.Inf(1), math.Inf(-1)} }

func (s *Span) include(x float64) { s.Low, s.High = math.Min(s.Low, x), math.Max(s.High, x) }

func (s *Span) merge(o Span) { s.Low, s.High = math.Min(s.Low, o.Low), math.Max(s.High, o.High) }

// TargetFigures are the figures that the brief aims at, and the price.
func TargetFigures(p *constraints.Problem) []constraints.Figure {
	t := p.Brief.Target
	var out []constraints.Figure
	for _, want := range []struct {
		name string
		set  bool
	}{
		{"top_speed_kmh", !math.IsNaN(t.TopSpeed)},
		{"climb_margin_pct", !math.IsNaN(t.ClimbGrade)},
		{"hill_torque_nm", !math.IsNaN(t.HillTorque)},
		{"launch_s", !math.IsNaN(t.LaunchTime)},
		{"range_km", !math.IsNaN(t.Range)},
		{"mass_kg", !math.IsNaN(p.Brief.Limit.Mass)},
		{"price", true},
	} {
		if f, ok := constraints.FigureNamed(want.name); ok && want.set {
			out = append(out, f)
		}
	}
	return out
}

// surveyor is a visitor that gathers the feasible builds of a candidate.
type surveyor struct {
	top
	figures []constraints.Figure
	best    []float64
	spans   [3]Span
}

func newSurveyor(s *scorer, figures []constraints.Figure) *surveyor {
	v := &surveyor{top: top{scorer: s, n: 1}, figures: figures, spans: [3]Span{newSpan(), newSpan(), newSpan()}}
	for range figures {
		v.best = append(v.best, math.NaN())
	}
	return v
}

func (v *surveyor) Visit(b *constraints.Build, id uint64) {
	v.top.Visit(b, id)
	for i, f := range v.figures {
		v.best[i] = better(f, v.best[i], f.Value(b))
	}
	v.spans[0].include(b.Drive.Reduction)
	v.spans[1].include(b.Wheel.Diameter)
	v.spans[2].include(b.Battery.Pack.Nominal)
}

func (v *surveyor) merge(o *surveyor) {
	v.entries = append(v.entries, o.entries...)
	for i, f := range v.figures {
		v.best[i] = better(f, v.best[i], o.best[i])
	}
	for i := range v.spans {
		v.spans[i].merge(o.spans[i])
	}
}

// better is the better of two values of a figure; NaN is worse than any.
func better(f constraints.Figure, a, b float64) float64 {
	if math.IsNaN(a) || float64(f.Better)*b > float64(f.Better)*a {
		return b
	}
	return a
}

// survey searches a problem for the builds of a candidate, scored as s scores.
func survey(ctx context.Context, p *constraints.Problem, s *scorer, figures []constraints.Figure, o Options) (Candidate, bool) {
	surveyors := walk.Crew(walk.Workers(o.Workers), func() *surveyor { return newSurveyor(s, figures) })
	t, complete := walk.All(ctx, walk.NewPlan(p, o.Strict), surveyors, nil)
	all := surveyors[0]
	for _, v := range surveyors[1:] {
		all.merge(v)
	}
	c := Candidate{Tally: t, Figures: all.best, Reduction: all.spans[0], Wheel: all.spans[1], Volts: all.spans[2]}
	if ranked := best(all.entries, 1); len(ranked) > 0 {
		scored := s.scored(walk.Assemble(p, ranked[0].id))
		c.Best = &scored
	} else {
		for i, count := range t.Rejected {
			if count > 0 {
				c.Furthest = p.Checks()[i]
			}
		}
	}
	return c, complete
}

// Shortlist finds, for each part of a slot in play, the feasible builds that
// have it: the part of the best build first; then the parts in no feasible
// build, those first that get furthest. Builds are scored as Rank scores them.
// A belt counts where it is the chosen one; belts that no drive chooses follow
// all others. complete is false when ctx ended the search early: then the parts
// not yet looked at are missing. The error is as from Rank, and a TooManyError
// for more parts than are listed.
func Shortlist(ctx context.Context, p *constraints.Problem, slot constraints.Slot, o Options) (list []Candidate, complete bool, err error) {
	list, complete, err = shortlist(ctx, p, slotIDs(p, slot), func(id string) *constraints.Problem {
		return p.With(constraints.Keeping(slot, func(other string) bool { return other == id }))
	}, o)
	if slot == constraints.SlotBelt && complete && err == nil {
		list = append(list, unchosen(p)...)
	}
	return list, complete, err
}

// unchosen lists the belts that no drive uses, first those that come closest, then by
// id.
func unchosen(p *constraints.Problem) []Candidate {
	var list []Candidate
	for _, u := range p.UnchosenBelts() {
		c := Candidate{
			ID: u.Belt.ID, Tally: Tally{Rejected: make([]uint64, len(p.Checks()))},
			Reduction: newSpan(), Wheel: newSpan(), Volts: newSpan(), Unchosen: &u,
		}
		for range TargetFigures(p) {
			c.Figures = append(c.Figures, math.NaN())
		}
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(a, b Candidate) int {
		return cmp.Or(cmp.Compare(b.Unchosen.Why, a.Unchosen.Why), cmp.Compare(a.ID, b.ID))
	})
	return list
}

// ShortlistDrives is Shortlist for whole drives: a pair of pulleys with its
// mount, or a gear drive.
func ShortlistDrives(ctx context.Context, p *constraints.Problem, o Options) (list []Candidate, complete bool, err error) {
	byName := map[string]*constraints.Drive{}
	var names []string
	for _, d := range p.Drives {
		byName[d.Name()] = d
		names = append(names, d.Name())
	}
	return shortlist(ctx, p, names, func(name string) *constraints.Problem {
		return p.With(constraints.Only(byName[name]))
	}, o)
}

func shortlist(ctx context.Context, p *constraints.Problem, names []string, restrict func(string) *constraints.Problem, o Options) (list []Candidate, complete bool, err error) {
	if err := Numberable(p); err != nil {
		return nil, false, err
	}
	if len(names) > MostListed {
		return nil, false, &TooManyError{fmt.Sprintf("%d parts are more than a shortlist looks at, %d", len(names), MostListed)}
	}
	s, figures := newScorer(p), TargetFigures(p)
	done := 0.0
	for _, name := range names {
		q := restrict(name)
		c, complete := survey(ctx, q, s, figures, o)
		if !complete {
			return rankCandidates(p, list), false, nil
		}
		c.ID = name
		list = append(list, c)
		if done += q.Combinations(); o.Progress != nil {
			o.Progress(done, p.Combinations())
		}
	}
	return rankCandidates(p, list), true, nil
}

// rankCandidates sorts by the best build, then by how far the best combination
// gets, then by id.
func rankCandidates(p *constraints.Problem, list []Candidate) []Candidate {
	slices.SortStableFunc(list, func(a, b Candidate) int {
		switch {
		case a.Best != nil && b.Best != nil:
			return cmp.Or(
				cmp.Compare(micro(b.Best.Score), micro(a.Best.Score)),
				cmp.Compare(micro(a.Best.Build.Price().Total()), micro(b.Best.Build.Price().Total())),
				cmp.Compare(a.ID, b.ID))
		case a.Best != nil:
			return -1
		case b.Best != nil:
			return 1
		}
		return cmp.Or(
			cmp.Compare(slices.Index(p.Checks(), b.Furthest), slices.Index(p.Checks(), a.Furthest)),
			cmp.Compare(a.ID, b.ID))
	})
	return list
}

// slotIDs lists the ids of the parts in play in a slot, sorted.
func slotIDs(p *constraints.Problem, slot constraints.Slot) []string {
	seen := map[string]bool{}
	add := func(id string) {
		if id != "" {
			seen[id] = true
		}
	}
	switch slot {
	case constraints.SlotBattery:
		for _, b := range p.Batteries {
			add(b.ID)
		}
	case constraints.SlotController:
		for _, c := range p.Controllers {
			add(c.ID)
		}
	case constraints.SlotMotor:
		for _, m := range p.Motors {
			add(m.ID)
		}
	case constraints.SlotWheel:
		for _, w := range p.Wheels {
			add(w.ID)
		}
	default:
		for _, d := range p.Drives {
			add(d.ID(slot))
		}
	}
	ids := make([]string, 0, len(seen))
	for id := range seen {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}
