package search

import (
	"errors"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
)

// TestEachIsStream: the builds are those of Stream, in its order; where they are
// too many none is handed over.
func TestEachIsStream(t *testing.T) {
	p := marketProblem(t, markets[0], randcat.StreetBrief)
	var want, got []string
	name := func(b *constraints.Build) string { return string(b.File().TOML()) }
	counted, err := Stream(t.Context(), p, Options{}, func(s Scored) error {
		want = append(want, name(s.Build))
		return nil
	})
	if err != nil || len(want) == 0 {
		t.Fatal(len(want), err)
	}
	for _, tt := range []struct {
		most  uint64
		there int
	}{{counted.Feasible, len(want)}, {counted.Feasible - 1, 0}} {
		got = nil
		r, err := Each(t.Context(), p, Options{}, tt.most, func(b *constraints.Build) { got = append(got, name(b)) })
		var tooMany *TooManyError
		if len(got) != tt.there || errors.As(err, &tooMany) != (tt.there == 0) || err == nil && r.Feasible != counted.Feasible {
			t.Fatalf("at most %d: %d of %d builds, %v", tt.most, len(got), len(want), err)
		}
		for i := range got {
			if got[i] != want[i] {
				t.Fatalf("build %d is\n%s, streamed\n%s", i, got[i], want[i])
			}
		}
	}
	for _, n := range []int{1, 7, len(want) / 2, len(want) - 1, len(want), len(want) + 1} {
		step := 1
		for (len(want)+step-1)/step > n {
			step *= 2
		}
		got, r, err := Sample(t.Context(), p, Options{}, n, name)
		if err != nil || r.Feasible != counted.Feasible || len(got) != (len(want)+step-1)/step || len(got) > n {
			t.Fatalf("a sample of %d has %d of %d builds, %v", n, len(got), len(want), err)
		}
		for i := range got {
			if got[i] != want[i*step] {
				t.Fatalf("build %d of a sample of %d is\n%s, streamed\n%s", i, n, got[i], want[i*step])
			}
		}
	}
}

// TestSampleOfAMarket: of more combinations than are walked through without a count, up to
// as many builds as are asked for, and more than half of that.
func TestSampleOfAMarket(t *testing.T) {
	if testing.Short() {
		t.Skip("a market of 10⁹ combinations takes a second")
	}
	t.Parallel()
	p := marketProblem(t, markets[2], randcat.StreetBrief)
	const n = 500
	got, r, err := Sample(t.Context(), p, Options{}, n, func(b *constraints.Build) float64 { return b.Price().Known })
	if err != nil || !r.Complete || p.Combinations() <= mostSampled || len(got) > n || len(got) <= n/2 {
		t.Fatalf("%d of %d builds of %g combinations, %v", len(got), r.Feasible, p.Combinations(), err)
	}
}
