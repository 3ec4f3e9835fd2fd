package search

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/constraints/kittest"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// randomProblems puts several random briefs to one random catalog; nil where
// one does not go with it.
func randomProblems(t *testing.T, r *rand.Rand, n int) []*constraints.Problem {
	t.Helper()
	c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(randcat.Catalog(r, randcat.Small()))})
	if err != nil {
		t.Fatal(err)
	}
	var out []*constraints.Problem
	for range n {
		b, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(randcat.Brief(r))})
		if err != nil {
			return nil
		}
		p, err := constraints.NewProblem(c, b)
		if err != nil {
			return nil
		}
		out = append(out, p)
	}
	return out
}

// plainLists are the feasible builds of every problem, by the plain search.
func plainLists(problems []*constraints.Problem, strict bool) (lists [][]entry, tallies []Tally) {
	for _, p := range problems {
		tally, entries := plain(p, strict)
		lists, tallies = append(lists, entries), append(tallies, tally)
	}
	return lists, tallies
}

// plainSet is a set as the definition has it.
type plainSet struct {
	Sum, Worst int64 // 1e-6 points
	Price      int64
	IDs        []uint64
}

// plainSets makes every set from the feasible builds of every problem.
func plainSets(problems []*constraints.Problem, lists [][]entry, slots []constraints.Slot, worst bool) (sets []plainSet) {
	builds := map[uint64]*constraints.Build{}
	byChoice := make([]map[string][]entry, len(problems))
	key := func(b *constraints.Build) string {
		var parts []string
		for _, s := range slots {
			parts = append(parts, b.ID(s))
		}
		if slices.Contains(slots, constraints.SlotMotor) || slices.Contains(slots, constraints.SlotController) {
			parts = append(parts, fmt.Sprint(b.Motors()))
		}
		return strings.Join(parts, "|")
	}
	for i, p := range problems {
		byChoice[i] = map[string][]entry{}
		for _, e := range lists[i] {
			b := walk.Assemble(p, e.id)
			builds[uint64(i)<<60|e.id] = b
			byChoice[i][key(b)] = append(byChoice[i][key(b)], e)
		}
	}
	for k := range byChoice[0] {
		partial := []plainSet{{Worst: math.MaxInt64}}
		for i := range problems {
			var next []plainSet
			for _, s := range partial {
				for _, e := range byChoice[i][k] {
					next = append(next, plainSet{s.Sum + e.score, min(s.Worst, e.score), 0, append(slices.Clone(s.IDs), e.id)})
				}
			}
			partial = next
		}
		for _, s := range partial {
			// Of each part, as many as one of the builds takes at most.
			dearest := map[string]float64{}
			for i, id := range s.IDs {
				for _, l := range builds[uint64(i)<<60|id].Lines() {
					dearest[l.Part.ID] = math.Max(dearest[l.Part.ID], l.Price)
				}
			}
			price := 0.0
			for _, id := range slices.Sorted(maps.Keys(dearest)) {
				price += dearest[id]
			}
			s.Price = micro(price)
			sets = append(sets, s)
		}
	}
	slices.SortFunc(sets, func(a, b plainSet) int {
		byScore := cmp.Compare(b.Sum, a.Sum)
		if worst {
			byScore = cmp.Or(cmp.Compare(b.Worst, a.Worst), byScore)
		}
		return cmp.Or(byScore, cmp.Compare(a.Price, b.Price), slices.Compare(a.IDs, b.IDs))
	})
	return sets
}

// TestShareIsPlain: on random catalogs and briefs the sets are those that come
// first when all are made, with any slots shared, any number of them wanted and
// any number of workers.
func TestShareIsPlain(t *testing.T) {
	seeds := uint64(1500)
	if testing.Short() {
		seeds /= 10
	}
	withSets, cut, tied := 0, 0, 0
	for seed := range seeds {
		r := rand.New(rand.NewPCG(seed, 77))
		problems := randomProblems(t, r, 2+int(seed%5)/4)
		if problems == nil {
			continue
		}
		if seed%7 == 0 { // all builds alike: only the price and the ids decide
			for _, p := range problems {
				for _, c := range Criteria() {
					*c.Weight(&p.Brief.Weights) = 0
				}
			}
		}
		var slots []constraints.Slot
		for _, s := range constraints.Slots() {
			if r.IntN(3) == 0 {
				slots = append(slots, s)
			}
		}
		o := ShareOptions{Options: Options{Top: 1 + r.IntN(6), Workers: []int{1, 2, 7}[seed%3], Strict: seed%5 == 0}, Worst: seed%2 == 0}
		lists, tallies := plainLists(problems, o.Strict)
		want := plainSets(problems, lists, slots, o.Worst)
		got, err := Share(t.Context(), problems, slots, o)
		if err != nil {
			t.Fatal(err)
		}
		if !got.Complete {
			t.Fatalf("seed %d: not complete", seed)
		}
		if d := gocmp.Diff(tallies, got.Tallies); d != "" {
			t.Fatalf("seed %d: counts differ (-plain +share):\n%s", seed, d)
		}
		if len(want) > 0 {
			withSets++
		}
		if len(want) > o.Top {
			if cut++; want[o.Top].Sum == want[o.Top-1].Sum {
				tied++
			}
			want = want[:o.Top]
		}
		if d := gocmp.Diff(namesOfPlain(problems, want), namesOfSets(got.Sets)); d != "" {
			t.Fatalf("seed %d, %v, %+v: sets differ (-plain +share):\n%s", seed, slots, o, d)
		}
	}
	t.Logf("%d problems with sets, %d with more than are wanted, %d with a tie at the end", withSets, cut, tied)
	if short := seeds / 50; uint64(withSets) < short || uint64(cut) < short/2 || tied < int(short/4) {
		t.Errorf("%d problems with sets, %d with more than are wanted, %d with a tie at the end: the test does not test", withSets, cut, tied)
	}
}

// TestShareOfAMarket: likewise on a market, where lanes are long and most of
// them are passed over.
func TestShareOfAMarket(t *testing.T) {
	if testing.Short() {
		t.Skip("a plain search of a market takes seconds")
	}
	problems := []*constraints.Problem{marketProblem(t, markets[0], randcat.PlainStreetBrief), marketProblem(t, markets[0], randcat.StreetBrief)}
	lists, _ := plainLists(problems, false)
	for _, slots := range [][]constraints.Slot{
		{constraints.SlotBattery, constraints.SlotController, constraints.SlotMotor},
		{constraints.SlotBattery},
		{constraints.SlotMotor, constraints.SlotWheel},
		constraints.DriveSlots(),
	} {
		for _, worst := range []bool{false, true} {
			want := plainSets(problems, lists, slots, worst)
			for _, top := range []int{1, 20, 300} {
				got, err := Share(t.Context(), problems, slots, ShareOptions{Options: Options{Top: top}, Worst: worst})
				if err != nil {
					t.Fatal(err)
				}
				if len(want) == 0 {
					t.Errorf("%v: no sets to compare", slots)
				}
				if d := gocmp.Diff(namesOfPlain(problems, want[:min(top, len(want))]), namesOfSets(got.Sets)); d != "" {
					t.Fatalf("%v, worst %t, %d sets: they differ (-plain +share):\n%s", slots, worst, top, d)
				}
			}
		}
	}
}

func namesOfPlain(problems []*constraints.Problem, sets []plainSet) []string {
	var out []string
	for _, s := range sets {
		text := fmt.Sprintf("%d %d", s.Worst, s.Price)
		for i, id := range s.IDs {
			text += " | " + nameOf(walk.Assemble(problems[i], id))
		}
		out = append(out, text)
	}
	return out
}

func namesOfSets(sets []Set) []string {
	var out []string
	for i, s := range sets {
		text := fmt.Sprintf("%d %d", micro(s.Worst), micro(s.Price))
		if s.Rank != i+1 {
			text = fmt.Sprintf("rank %d at %d", s.Rank, i)
		}
		for _, b := range s.Builds {
			text += " | " + nameOf(b.Build)
		}
		out = append(out, text)
	}
	return out
}

// TestShareInterrupted: nothing wrong comes out of a search that was ended.
func TestShareInterrupted(t *testing.T) {
	p := kittest.Demo(t, "harbour")
	q := kittest.Demo(t, "trail")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	got, err := Share(ctx, []*constraints.Problem{p, q}, []constraints.Slot{constraints.SlotBattery}, ShareOptions{Options: Options{Top: 5}})
	if err != nil || got.Complete || len(got.Sets) > 0 {
		t.Fatalf("%+v, %v", got, err)
	}
}
