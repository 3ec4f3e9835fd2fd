package search

import (
	"cmp"
	"context"
	"maps"
	"slices"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Measure is a key of a part that nobody gave and that a range stands in for:
// once it is known, builds that are undecided are decided.
type Measure struct {
	constraints.BlankKey
	// Decides is how many: with the key at the low end of its range, and with it
	// at the high end, each of their checks passes or fails, whatever else is not
	// known.
	Decides uint64
}

// compare puts first what decides more, then the lower kind, id and key.
func (m *Measure) compare(o *Measure) int {
	return cmp.Or(cmp.Compare(o.Decides, m.Decides), cmp.Compare(m.Kind, o.Kind), cmp.Compare(m.ID, o.ID), cmp.Compare(m.Key, o.Key))
}

// Measures tells what to measure first.
type Measures struct {
	List []Measure // those that decide a build; first those that decide the most
	// Listed: only the ranked builds were looked at; else every feasible one was.
	Listed bool
}

// What is looked at: some ten microseconds for each build that is undecided, and
// the time of a search for combinations with a range in them.
const (
	MostMeasured    = 200_000
	mostRewalked    = 100_000_000
	fillingsOfBuild = 3 // of a motor two keys, of a pack one
)

// ToMeasure tells of a ranking which keys to measure first: of all feasible
// builds, but of the first builds of the ranking alone, all for 0, where more
// than MostMeasured are undecided, or not counted, or the combinations too many
// to be looked at again. complete is false when ctx ended it early.
func ToMeasure(ctx context.Context, r *Result, first int, o Options) (m *Measures, complete bool) {
	p := r.Problem
	fills := newFills(p)
	listed := len(r.Rejected) == 0 || r.Unknown > MostMeasured || p.Combinations() > mostRewalked
	if first == 0 || first > r.Len() {
		first = r.Len()
	}
	switch {
	case fills.none(), !listed && r.Unknown == 0:
		return &Measures{}, true
	case listed:
		a := newAssessor(p, fills)
		for i := range first {
			if ctx.Err() != nil {
				return nil, false
			}
			a.Visit(walk.Assemble(p, r.ranked[i].id), 0)
		}
		return &Measures{List: measures(a), Listed: true}, true
	}
	pl := walk.NewPlan(p, o.Strict)
	pl.UndecidedOnly, pl.Only = true, fills.concern
	crew := walk.Crew(walk.Workers(o.Workers), func() *assessor { return newAssessor(p, fills) })
	walk.All(ctx, pl, crew, nil)
	if ctx.Err() != nil {
		return nil, false
	}
	return &Measures{List: measures(crew...)}, true
}

// fills are the parts of a problem with one key set to either end of its range.
type fills struct {
	problem   *constraints.Problem
	motors    map[*constraints.Motor][]constraints.FilledMotor
	batteries map[*constraints.Battery][]constraints.FilledBattery
}

func newFills(p *constraints.Problem) *fills {
	f := &fills{p, map[*constraints.Motor][]constraints.FilledMotor{}, map[*constraints.Battery][]constraints.FilledBattery{}}
	for _, m := range p.Motors {
		if list := p.FillMotor(m); list != nil {
			f.motors[m] = list
		}
	}
	for _, b := range p.Batteries {
		if list := p.FillBattery(b); list != nil {
			f.batteries[b] = list
		}
	}
	return f
}

func (f *fills) none() bool { return len(f.motors)+len(f.batteries) == 0 }

// concern reports whether a range stands in for a key of an electrical group.
func (f *fills) concern(c walk.Choices) bool {
	return f.motors[f.problem.Motors[c.Motor]] != nil || f.batteries[f.problem.Batteries[c.Battery]] != nil
}

// assessor is a visitor that counts, key by key, which builds it would decide.
type assessor struct {
	fills  *fills
	checks []*constraints.Check
	counts map[constraints.BlankKey]uint64

	// Of the electrical group at hand.
	battery    *constraints.Battery
	controller *constraints.Controller
	motor      *constraints.Motor
	count      int
	fillings   []filling
	room       [fillingsOfBuild]filling
	open       []*constraints.Check // room for what is undecided
}

// filling is the electrical group at hand with one key at either end.
type filling struct {
	key  constraints.BlankKey
	ends [2]constraints.Build
}

func newAssessor(p *constraints.Problem, f *fills) *assessor {
	a := &assessor{fills: f, checks: p.Checks(), counts: map[constraints.BlankKey]uint64{}}
	for i := range a.room {
		for j := range a.room[i].ends {
			a.room[i].ends[j].Problem = p
		}
	}
	return a
}

// electrify makes the fillings of a build's electrical group.
func (a *assessor) electrify(b *constraints.Build) {
	if a.battery == b.Battery && a.controller == b.Controller && a.motor == b.Motor && a.count == b.Count {
		return
	}
	a.battery, a.controller, a.motor, a.count = b.Battery, b.Controller, b.Motor, b.Count
	a.fillings = a.room[:0]
	next := func(key constraints.BlankKey) *filling {
		a.fillings = a.room[:len(a.fillings)+1]
		t := &a.fillings[len(a.fillings)-1]
		t.key = key
		return t
	}
	for _, f := range a.fills.motors[b.Motor] {
		t := next(f.BlankKey)
		for i, motor := range f.Ends {
			t.ends[i].Electrify(b.Battery, b.Controller, motor, b.Count)
		}
	}
	for _, f := range a.fills.batteries[b.Battery] {
		t := next(f.BlankKey)
		for i, battery := range f.Ends {
			t.ends[i].Electrify(battery, b.Controller, b.Motor, b.Count)
		}
	}
}

func (a *assessor) Visit(b *constraints.Build, _ uint64) {
	if a.electrify(b); len(a.fillings) == 0 {
		return
	}
	a.open = a.open[:0]
	for _, c := range a.checks {
		if !c.Lists(b.Drive) || c.Test(b).Verdict != constraints.Undecided {
			continue
		}
		if !c.Corners {
			return // of what has no range
		}
		a.open = append(a.open, c)
	}
	if len(a.open) == 0 {
		return
	}
	for i := range a.fillings {
		if t := &a.fillings[i]; t.decides(b, a.open) {
			a.counts[t.key]++
		}
	}
}

// decides reports whether some checks are decided with the key at either end, for
// the drive and the wheel of a build.
func (t *filling) decides(b *constraints.Build, open []*constraints.Check) bool {
	for i := range t.ends {
		end := &t.ends[i]
		end.Roll(b.Drive, b.Wheel)
		for _, c := range open {
			if c.Test(end).Verdict == constraints.Undecided {
				return false
			}
		}
	}
	return true
}

// measures are what some visitors counted, first what decides most.
func measures(of ...*assessor) []Measure {
	all := map[constraints.BlankKey]uint64{}
	for _, a := range of {
		for key, n := range a.counts {
			all[key] += n
		}
	}
	var out []Measure
	for key, n := range maps.All(all) {
		out = append(out, Measure{key, n})
	}
	slices.SortFunc(out, func(a, b Measure) int { return a.compare(&b) })
	return out
}
