package search

import (
	"math/rand/v2"
	"strings"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// TestAlikeEqualsPlain: the builds of a design are those of a ranking of all builds
// that are alike in what tells designs apart, in its order and with its scores.
func TestAlikeEqualsPlain(t *testing.T) {
	n := uint64(*catalogs) / 5
	if testing.Short() {
		n /= 10
	}
	several := 0
	for seed := range n {
		p, ok := randomProblem(t, seed+190_000, randcat.Small())
		if !ok {
			continue
		}
		strict, a := seed%3 == 0, randomApart(rand.New(rand.NewPCG(seed, 17)))
		_, entries := plain(p, strict)
		groups := map[string][]*constraints.Build{}
		for _, e := range entries {
			b := walk.Assemble(p, e.id)
			groups[designOf(b, a)] = append(groups[designOf(b, a)], b)
		}
		for _, want := range groups {
			if len(want) > 1 {
				several++
			}
			of := want[len(want)-1]
			got, err := Alike(t.Context(), of, a, Options{Strict: strict, Workers: 1})
			if err != nil {
				t.Fatal(err)
			}
			if got.Feasible != uint64(len(want)) || got.Len() != len(want) {
				t.Fatalf("seed %d, %s: %d builds of a design, %d counted, want %d", seed, strings.Join(a.Names(), ","), got.Len(), got.Feasible, len(want))
			}
			for s := range got.Builds() {
				if b := want[s.Rank-1]; !same(s.Build, b) || micro(s.Score) != micro(ScoreBuild(b).Score) {
					t.Fatalf("seed %d: No. %d of its design is %s with %v, want %s with %v", seed, s.Rank, s.Build.File().TOML(), s.Score, b.File().TOML(), ScoreBuild(b).Score)
				}
			}
		}
	}
	if several < int(n)/10 {
		t.Errorf("only %d designs of several builds in %d catalogs", several, n)
	}
}
