package search

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// wish is a part that the catalog lacks.
type wish[T any] struct {
	part       *T
	like       *T
	difference float64
}

// nearest is the wish for a part, with the real part that it differs least
// from.
func nearest[T any](part *T, real []*T, difference func(a, b *T) float64) wish[T] {
	w := wish[T]{part: part, difference: math.Inf(1)}
	for _, r := range real {
		if d := difference(part, r); d < w.difference {
			w.like, w.difference = r, d
		}
	}
	return w
}

// trial holds the parts to try in one slot, the most similar first.
type trial struct {
	slot       constraints.Slot
	n          int
	batch      int // how many are tried first
	drives     int // that each makes with what is there
	difference func(i int) float64
	with       func(from, to int) constraints.Edit // puts those parts in the slot
	index      func(b *constraints.Build) int      // of the build's part
	tell       func(i int, b *constraints.Build) Missing
}

// newTrial makes a trial of the wishes for a slot. A wish that equals a real
// part is dropped.
func newTrial[T any](
	slot constraints.Slot, drives int, wishes []wish[T], with func(parts []*T) constraints.Edit,
	of func(b *constraints.Build) *T, common func(*T) *catalog.Part, tell func(w wish[T], b *constraints.Build) []Fact,
) trial {
	wishes = slices.DeleteFunc(wishes, func(w wish[T]) bool { return w.difference < costUnit })
	slices.SortStableFunc(wishes, func(a, b wish[T]) int { return cmp.Compare(units(a.difference), units(b.difference)) })
	at := make(map[*T]int, len(wishes))
	for i, w := range wishes {
		at[w.part] = i
	}
	return trial{
		slot: slot, n: len(wishes), batch: firstBatch, drives: drives,
		difference: func(i int) float64 { return wishes[i].difference },
		with: func(from, to int) constraints.Edit {
			var parts []*T
			for _, w := range wishes[from:to] {
				parts = append(parts, w.part)
			}
			return with(parts)
		},
		index: func(b *constraints.Build) int { return at[of(b)] },
		tell: func(i int, b *constraints.Build) Missing {
			w := wishes[i]
			part := common(w.part)
			return Missing{
				Slot: slot, Like: common(w.like).ID, Difference: w.difference, Facts: tell(w, b), Price: part.Price, Mass: part.Mass,
			}
		},
	}
}

// Parts are tried in batches, each a few times as large as the batch before it,
// so that a part that differs little is found before many are tried.
const (
	firstBatch  = 32
	batchGrowth = 4
	mostInBatch = 512
	mostDrives  = 200_000 // of a batch, roughly: some hundred bytes each
)

// search looks for the part that differs least and makes a build feasible.
func (t trial) search(ctx context.Context, p *constraints.Problem, o Options) (m *Missing, complete bool) {
	s := newScorer(p)
	batch := t.batch
	for from := 0; from < t.n; {
		to := min(from+max(1, min(batch, mostDrives/max(t.drives, 1))), t.n)
		for to < t.n && units(t.difference(to)) == units(t.difference(to-1)) {
			to++
		}
		q := p.With(t.with(from, to))
		q = q.With(constraints.Only(slices.DeleteFunc(slices.Clone(q.Drives), func(d *constraints.Drive) bool { return impossible(q, d) })...))
		if Numberable(q) != nil {
			return nil, false
		}
		// The slow checks are put to builds that pass the rest.
		pl := walk.NewPlan(q, o.Strict)
		slow := pl.Slow()
		var names []string
		for _, i := range slow {
			names = append(names, pl.Checks[i].Name)
		}
		quick := q.With(constraints.Without(names...))
		finders := walk.Crew(walk.Workers(o.Workers), func() *finder { return &finder{plan: pl, slow: slow, trial: t, scorer: s} })
		if _, complete := walk.All(ctx, walk.NewPlan(quick, o.Strict), finders, nil); !complete {
			return nil, false
		}
		best := finders[0]
		for _, f := range finders[1:] {
			best.consider(f.at)
		}
		if best.at.found {
			b := walk.Assemble(q, best.at.place.id)
			m := t.tell(t.index(b), b)
			m.Build = s.scored(b)
			if t.slot == constraints.SlotBattery { // it may cost and weigh what its cells do
				m.Price, m.Mass = b.Battery.Price.Total(), b.Battery.Mass.Total()
			}
			return &m, true
		}
		from, batch = to, min(batch*batchGrowth, mostInBatch)
	}
	return nil, true
}

// impossible reports whether a check that reads the drive alone rejects it.
func impossible(p *constraints.Problem, d *constraints.Drive) bool {
	b := &constraints.Build{Problem: p, Drive: d}
	for _, c := range p.Checks() {
		if c.Scope(p) == constraints.OnDrive && c.Lists(d) && !p.Demoted(c) && c.Test(b).Verdict == constraints.Fail {
			return true
		}
	}
	return false
}

// finder is a visitor that keeps the build whose part differs least, and the best of
// those that differ alike.
type finder struct {
	plan   *walk.Plan
	slow   []uint8 // checks that the build has not passed
	trial  trial
	scorer *scorer
	at     spot
}

// spot is a build with the difference of its part.
type spot struct {
	found      bool
	difference float64 // in units
	place      entry
}

func (f *finder) Visit(b *constraints.Build, id uint64) {
	d := units(f.trial.difference(f.trial.index(b)))
	if f.at.found && d > f.at.difference || f.plan.Reject(b, f.slow) {
		return
	}
	f.consider(spot{true, d, newEntry(f.scorer, b, id)})
}

// consider takes a spot that comes before the one at hand.
func (f *finder) consider(s spot) {
	if s.found && (!f.at.found || cmp.Or(cmp.Compare(s.difference, f.at.difference), s.place.compare(f.at.place)) < 0) {
		f.at = s
	}
}
