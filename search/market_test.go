package search

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// TestLanesEqualLoops: on a market of 10⁹ combinations the lanes find what the
// hoisted loops do that test every surviving pair one by one.
func TestLanesEqualLoops(t *testing.T) {
	if testing.Short() {
		t.Skip("the loops take seconds")
	}
	for _, brief := range []string{randcat.PlainStreetBrief, randcat.StreetBrief} {
		p := marketProblem(t, markets[2], brief)
		find := func(least int) (Tally, []entry) {
			pl := walk.NewPlan(p, false)
			pl.Sizes.LaneLeast = least
			collectors := walk.Crew(2, func() *collector { return &collector{scorer: newScorer(p)} })
			tally, complete := walk.All(t.Context(), pl, collectors, nil)
			if !complete {
				t.Fatal("not complete")
			}
			return tally, best(append(collectors[0].entries, collectors[1].entries...), 0)
		}
		want, wantBuilds := find(math.MaxInt)
		got, builds := find(walk.NewPlan(p, false).Sizes.LaneLeast)
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("counts differ from the loops (-loops +lanes):\n%s", d)
		}
		for i := range wantBuilds {
			if builds[i] != wantBuilds[i] {
				t.Fatalf("place %d: %+v, by the loops %+v", i+1, builds[i], wantBuilds[i])
			}
		}
		t.Logf("%.2e combinations, %d feasible", p.Combinations(), got.Feasible)
	}
}

// TestOrderOfPartsDoesNotMatter: a catalog whose parts stand in another order
// gives the same counts, builds and bits, with any number of workers.
func TestOrderOfPartsDoesNotMatter(t *testing.T) {
	tested := 0
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 11))
		text, briefText := randcat.Catalog(r, randcat.Small()), randcat.Brief(r)
		find := func(text string, workers int) (*Result, bool) {
			c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(text)})
			if err != nil {
				t.Fatal(err)
			}
			b, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(briefText)})
			if err != nil {
				return nil, false
			}
			p, err := constraints.NewProblem(c, b)
			if err != nil {
				return nil, false
			}
			result, err := Rank(t.Context(), p, Options{Top: 50, Workers: workers})
			if err != nil {
				t.Fatal(err)
			}
			return result, true
		}
		want, ok := find(text, 1)
		if !ok {
			continue
		}
		tested++
		parts := strings.Split(text, "\n[[")
		head, tables := parts[0], parts[1:]
		r.Shuffle(len(tables), func(i, j int) { tables[i], tables[j] = tables[j], tables[i] })
		shuffled := head
		for _, table := range tables {
			shuffled += "\n[[" + table
		}
		for _, workers := range []int{1, 2, 7} {
			got, ok := find(shuffled, workers)
			if !ok {
				t.Fatalf("seed %d: the shuffled catalog makes no problem", seed)
			}
			if d := cmp.Diff(want.ranked, got.ranked, cmp.AllowUnexported(entry{})); d != "" && len(want.ranked)+len(got.ranked) > 0 {
				t.Fatalf("seed %d, %d workers: builds differ (-as written +shuffled):\n%s", seed, workers, d)
			}
			if d := cmp.Diff(want.Rejected, got.Rejected); d != "" {
				t.Fatalf("seed %d, %d workers: counts differ (-as written +shuffled):\n%s", seed, workers, d)
			}
			for i := range want.ranked {
				if a, b := want.At(i).Build.File().IDs, got.At(i).Build.File().IDs; a != b {
					t.Fatalf("seed %d: place %d is %v, as written %v", seed, i+1, b, a)
				}
			}
		}
	}
	if tested < 100 {
		t.Errorf("only %d catalogs tested", tested)
	}
}
