package leaf

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"gearsearch/constraints"
	"gearsearch/search"
)

// TestOrderOfTheScript ranks the builds of a page by its data in the way of its
// script, under random weights, and holds that to the search's own ranking.
func TestOrderOfTheScript(t *testing.T) {
	c, brief := demo(t, "harbour")
	brief.Keep[constraints.SlotMotor] = []string{"ov-63m-180", "hd-63-160"}
	brief.Keep[constraints.SlotController] = []string{"tv-d60", "tv-s50"}
	first := rank(t, c, brief, 0)
	d := New(Input{Result: first})
	numbers := map[string]int{}
	for s := range first.Builds() {
		numbers[fmt.Sprint(s.Build.File().IDs, s.Build.Motors())] = s.Rank
	}
	if len(d.Data.Builds) < 100 {
		t.Fatalf("only %d builds", len(d.Data.Builds))
	}
	rapid.Check(t, func(t *rapid.T) {
		other := brief.Clone()
		weights := make([]float64, len(d.Data.Weights))
		for i, w := range d.Data.Weights {
			weights[i] = rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 10), rapid.Map(rapid.IntRange(0, 100), func(n int) float64 { return float64(n) / 10 })).Draw(t, w.Name)
			if err := other.Set("weights."+w.Name, strconv.FormatFloat(weights[i], 'g', -1, 64), "test"); err != nil {
				t.Fatal(err)
			}
		}
		p, err := constraints.NewProblem(c, other)
		if err != nil {
			t.Fatal(err)
		}
		want, err := search.Rank(context.Background(), p, search.Options{})
		if err != nil {
			t.Fatal(err)
		}
		got := byScript(d.Data, weights)
		for s := range want.Builds() {
			if n := numbers[fmt.Sprint(s.Build.File().IDs, s.Build.Motors())]; n != got[s.Rank-1] {
				t.Fatalf("with %v place %d is No. %d, the search has No. %d", weights, s.Rank, got[s.Rank-1], n)
			}
		}
	})
}

// byScript is what the page's script does: its order of the builds' numbers.
func byScript(d Data, weights []float64) []int {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	type place struct {
		score, price float64
		tie, number  int
	}
	micro := func(x float64) float64 { return math.Floor(x*1e6 + 0.5) } // Math.round
	var places []place
	for _, b := range d.Builds {
		p := place{0, math.Inf(1), b.Tie, b.Number}
		if total != 0 {
			for i, w := range weights {
				if w != 0 {
					p.score += float64(w * b.Scores[i])
				}
			}
			p.score = micro(float64(100*p.score) / total)
		}
		if b.Price != nil {
			p.price = micro(*b.Price)
		}
		places = append(places, p)
	}
	slices.SortFunc(places, func(a, b place) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.price, b.price), cmp.Compare(a.tie, b.tie))
	})
	var out []int
	for _, p := range places {
		out = append(out, p.number)
	}
	return out
}
