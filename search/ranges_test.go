package search

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"

	"github.com/google/go-cmp/cmp"
)

// rangedProblems are the problem of a random catalog with tables of ranges, and that of
// the same written part by part; ok is false where brief and catalog do not go together.
func rangedProblems(t *testing.T, seed uint64) (tables, parts *constraints.Problem, ok bool) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 9))
	s := randcat.Small()
	s.Motors, s.Batteries, s.Wheels = 2, 1, 2
	text, briefText := randcat.Catalog(r, s), randcat.Brief(r)
	ranged, single := randcat.Ranged(r)
	brief, err := constraints.ReadBrief(field.Source{Name: "brief.toml", Data: []byte(briefText)})
	if err != nil {
		return nil, nil, false
	}
	problem := func(more string) *constraints.Problem {
		c, err := catalog.Read(field.Source{Name: "catalog.toml", Data: []byte(text + more)})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		p, err := constraints.NewProblem(c, brief)
		if err != nil {
			return nil
		}
		return p
	}
	tables, parts = problem(ranged), problem(single)
	return tables, parts, tables != nil && parts != nil
}

// TestRangesArePartByPart: a catalog with ranges gives the counts, the builds and the
// scores of the same catalog written part by part, in its order and to the bit, and
// those of the plain search.
func TestRangesArePartByPart(t *testing.T) {
	n := uint64(400)
	if testing.Short() {
		n /= 10
	}
	problems, feasible := 0, uint64(0)
	for seed := range n {
		tables, parts, ok := rangedProblems(t, seed)
		if !ok {
			continue
		}
		problems++
		want, err := Rank(t.Context(), parts, Options{})
		if err != nil {
			t.Fatal(err)
		}
		got, err := Rank(t.Context(), tables, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want.Tally, got.Tally); d != "" {
			t.Fatalf("seed %d: counts differ (-parts +ranges):\n%s", seed, d)
		}
		feasible += got.Feasible
		if d := cmp.Diff(want.ranked, got.ranked, cmp.AllowUnexported(entry{})); d != "" {
			t.Fatalf("seed %d: builds differ (-parts +ranges):\n%s", seed, d)
		}
		for i := range min(5, len(got.ranked)) {
			a, b := want.At(i), got.At(i)
			if d := cmp.Diff(partIDs(a.Build), partIDs(b.Build)); a.Score != b.Score || d != "" {
				t.Fatalf("seed %d: build %d scores %v, part by part %v (-parts +ranges):\n%s", seed, i, b.Score, a.Score, d)
			}
		}
		if got.Combinations < 20_000 {
			tally, entries := plain(tables, false)
			if d := cmp.Diff(tally, got.Tally); d != "" {
				t.Fatalf("seed %d: counts differ from the plain search (-plain +fast):\n%s", seed, d)
			}
			if d := cmp.Diff(entries, got.ranked, cmp.AllowUnexported(entry{})); d != "" && len(entries) > 0 {
				t.Fatalf("seed %d: builds differ from the plain search (-plain +fast):\n%s", seed, d)
			}
		}
	}
	if problems < int(n)/2 || feasible == 0 {
		t.Errorf("%d of %d random catalogs make a problem, with %d feasible builds: the test does not test", problems, n, feasible)
	}
}

// partIDs are the ids of a build's parts, with its number of motors.
func partIDs(b *constraints.Build) []string {
	ids := []string{fmt.Sprint(b.Motors())}
	for _, slot := range constraints.Slots() {
		id := ""
		if p := b.Part(slot); p != nil {
			id = p.ID
		}
		ids = append(ids, id)
	}
	return ids
}
