package search

import (
	"cmp"
	"context"
	"math"
	"slices"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// looked is what a plain look at one build says.
type looked struct {
	build    *constraints.Build
	first    int // index of the first check that rejects it, −1: none does
	unknown  bool
	place    entry
	figures  []float64
	measures [3]float64 // reduction, wheel diameter and pack volts
}

// lookAtAll looks at every build of a problem.
func lookAtAll(p *constraints.Problem, strict bool) []looked {
	var out []looked
	figures := TargetFigures(p)
	eachBuild(p, func(b *constraints.Build, id uint64) {
		l := looked{build: b, first: -1, place: entry{micro(ScoreBuild(b).Score), micro(b.Price().Total()), id}}
		for _, r := range b.Results() {
			if r.Rejects(strict) && l.first < 0 {
				l.first = slices.Index(p.Checks(), r.Check)
			}
			l.unknown = l.unknown || r.Verdict == constraints.Undecided
		}
		for _, f := range figures {
			l.figures = append(l.figures, f.Value(b))
		}
		l.measures = [3]float64{b.Drive.Reduction, b.Wheel.Diameter, b.Battery.Pack.Nominal}
		out = append(out, l)
	})
	return out
}

// candidateOf is what the builds of one part say of it.
func candidateOf(p *constraints.Problem, id string, builds []looked) Candidate {
	c := Candidate{ID: id, Tally: Tally{Rejected: make([]uint64, len(p.Checks()))}}
	c.Reduction, c.Wheel, c.Volts = newSpan(), newSpan(), newSpan()
	figures := TargetFigures(p)
	for range figures {
		c.Figures = append(c.Figures, math.NaN())
	}
	var best *looked
	furthest := -1
	for i := range builds {
		l := &builds[i]
		c.Combinations++
		if l.first >= 0 {
			c.Rejected[l.first]++
			furthest = max(furthest, l.first)
			continue
		}
		c.Feasible++
		if l.unknown {
			c.Unknown++
		}
		if best == nil || l.place.compare(best.place) < 0 {
			best = l
		}
		for j, x := range l.figures {
			switch old := c.Figures[j]; {
			case math.IsNaN(old), figures[j].Better == constraints.Greater && x > old, figures[j].Better == constraints.Lesser && x < old:
				c.Figures[j] = x
			}
		}
		for j, span := range []*Span{&c.Reduction, &c.Wheel, &c.Volts} {
			span.Low, span.High = min(span.Low, l.measures[j]), max(span.High, l.measures[j])
		}
	}
	if best != nil {
		scored := ScoreBuild(best.build)
		c.Best = &scored
	} else if furthest >= 0 {
		c.Furthest = p.Checks()[furthest]
	}
	return c
}

// candidates compares two lists of candidates: their best builds by parts and
// score, all else by value.
var candidates = gocmp.Options{
	gocmp.AllowUnexported(catalog.Part{}),
	cmpopts.EquateNaNs(), cmpopts.EquateEmpty(),
	gocmp.Comparer(func(a, b *Scored) bool {
		return a == nil && b == nil || a != nil && b != nil && a.Score == b.Score && same(a.Build, b.Build)
	}),
	gocmp.Comparer(func(a, b *constraints.Check) bool { return a == b }),
}

// TestShortlistIsPlain: counts, best build, best figures, spans, the furthest
// check and the order are those of a plain look at every build of each part;
// and the counts of a slot's parts, and of the builds without one, add up.
func TestShortlistIsPlain(t *testing.T) {
	t.Parallel()
	n := uint64(100)
	if testing.Short() {
		n = 40
	}
	opening, closed := 0, 0
	for seed := range n {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		strict := seed%4 == 0
		all := lookAtAll(p, strict)
		whole := candidateOf(p, "", all).Tally
		lists := map[string]func(o Options) ([]Candidate, bool, error){
			"drive": func(o Options) ([]Candidate, bool, error) { return ShortlistDrives(t.Context(), p, o) },
		}
		names := map[string]func(b *constraints.Build) string{
			"drive": func(b *constraints.Build) string { return b.Drive.Name() },
		}
		for _, slot := range constraints.Slots() {
			lists[slot.String()] = func(o Options) ([]Candidate, bool, error) { return Shortlist(t.Context(), p, slot, o) }
			names[slot.String()] = func(b *constraints.Build) string { return b.ID(slot) }
		}
		for slot, list := range lists {
			of := map[string][]looked{}
			for _, l := range all {
				id := names[slot](l.build)
				of[id] = append(of[id], l)
			}
			var want []Candidate
			sum := candidateOf(p, "", of[""]).Tally
			for id, builds := range of {
				if id != "" {
					c := candidateOf(p, id, builds)
					want = append(want, c)
					if opening++; c.Best == nil {
						closed++
					}
				}
			}
			slices.SortFunc(want, func(a, b Candidate) int {
				rank := func(c Candidate) (none bool, score, price int64, furthest int) {
					if c.Best == nil {
						return true, 0, 0, slices.Index(p.Checks(), c.Furthest)
					}
					return false, micro(c.Best.Score), micro(c.Best.Build.Price().Total()), 0
				}
				noneA, scoreA, priceA, furthestA := rank(a)
				noneB, scoreB, priceB, furthestB := rank(b)
				if noneA != noneB {
					return worksFirst(noneB, noneA)
				}
				return cmp.Or(cmp.Compare(scoreB, scoreA), cmp.Compare(priceA, priceB), cmp.Compare(furthestB, furthestA), cmp.Compare(a.ID, b.ID))
			})
			if slot == constraints.SlotBelt.String() {
				want = append(want, unchosen(p)...)
			}
			got, complete, _ := list(Options{Strict: strict, Workers: 1 + int(seed%3)})
			if !complete {
				t.Fatalf("seed %d: not complete", seed)
			}
			if d := gocmp.Diff(want, got, candidates); d != "" {
				t.Fatalf("seed %d: shortlist of %s differs (-plain +fast):\n%s", seed, slot, d)
			}
			for i := range got {
				sum.Add(&got[i].Tally)
			}
			if d := gocmp.Diff(whole, sum); d != "" {
				t.Fatalf("seed %d: the parts of %s do not add up to the whole (-want +got):\n%s", seed, slot, d)
			}
		}
	}
	if opening < 500 || closed == 0 || closed == opening {
		t.Errorf("%d candidates, %d open nothing: the test does not test", opening, closed)
	}
}

// TestTargetFigures: the figures that the brief aims at, and always the price.
func TestTargetFigures(t *testing.T) {
	tests := []struct {
		brief string
		want  []string
	}{
		{"", []string{"price"}},
		{"[target]\ntop_speed_kmh = 30\nhill_torque_nm = 20\n", []string{"top_speed_kmh", "hill_torque_nm", "price"}},
		{
			"[target]\nclimb_grade_pct = 10\nlaunch_speed_kmh = 10\nlaunch_s = 3\nrange_km = 10\n[limit]\nmass_kg = 12\n",
			[]string{"climb_margin_pct", "launch_s", "range_km", "mass_kg", "price"},
		},
		{"[target]\nlaunch_speed_kmh = 10\ntop_speed_max_kmh = 50\n", []string{"price"}},
	}
	for _, test := range tests {
		var got []string
		for _, f := range TargetFigures(textProblem(t, oneBuild, test.brief)) {
			got = append(got, f.Name)
			if f.Better == constraints.Neither {
				t.Errorf("%s has no better direction", f.Name)
			}
		}
		if d := gocmp.Diff(test.want, got); d != "" {
			t.Errorf("brief %q: figures differ (-want +got):\n%s", test.brief, d)
		}
	}
}

// TestShortlistInterrupted: parts not looked at are missing, and it says so; a
// slot that no build has is an empty list.
func TestShortlistInterrupted(t *testing.T) {
	p := textProblem(t, oneBuild, "")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if list, complete, _ := Shortlist(ctx, p, constraints.SlotMotor, Options{}); complete || len(list) > 0 {
		t.Errorf("complete %v, %d parts", complete, len(list))
	}
	if list, complete, _ := Shortlist(t.Context(), p, constraints.SlotMount, Options{}); !complete || len(list) > 0 {
		t.Errorf("complete %v, %d mounts", complete, len(list))
	}
	last := 0.0
	list, _, _ := Shortlist(t.Context(), p, constraints.SlotGearDrive, Options{Progress: func(done, total float64) { last = done / total }})
	if len(list) != 1 || last != 1 {
		t.Errorf("%d drives, progress %v", len(list), last)
	}
}
