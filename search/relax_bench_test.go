package search

import (
	"fmt"
	"strings"
	"testing"

	"gearsearch/constraints/kittest"
	"gearsearch/search/internal/randcat"
)

// BenchmarkRelax relaxes demo briefs of which one target, or two, ask for what
// no build does. The first takes all single concessions, the second all pairs.
func BenchmarkRelax(b *testing.B) {
	for _, bench := range []struct {
		name    string
		changes []string
		pairs   bool
	}{
		{name: "dear", changes: []string{"limit.price=100"}},
		{name: "fast", changes: []string{"target.top_speed_max_kmh=150", "target.top_speed_kmh=120"}},
		{name: "steep", changes: []string{"target.climb_grade_pct=60"}},
		{name: "far", changes: []string{"target.range_km=300"}},
		{name: "quick", changes: []string{"target.launch_s=0.3"}},
		{name: "dear and far", changes: []string{"limit.price=100", "target.range_km=300"}, pairs: true},
		{name: "steep and quick", changes: []string{"target.climb_grade_pct=60", "target.launch_s=0.3"}, pairs: true},
	} {
		b.Run(bench.name, func(b *testing.B) {
			p := kittest.Demo(b, "harbour", bench.changes...)
			for b.Loop() {
				r := Relax(b.Context(), p, RelaxOptions{Options: Options{Strict: true}})
				if !r.Complete || r.Pairs != bench.pairs || len(r.Openings) == 0 {
					b.Fatalf("complete %v, pairs %v, %d openings", r.Complete, r.Pairs, len(r.Openings))
				}
			}
		})
	}
}

// BenchmarkRelaxMarket relaxes the price limit of markets in which everything
// costs more.
func BenchmarkRelaxMarket(b *testing.B) {
	for _, m := range markets[:3] {
		b.Run(fmt.Sprintf("combinations=%.1e", m.Combinations()), func(b *testing.B) {
			p := marketProblem(b, m, strings.Replace(randcat.PlainStreetBrief, "price = 1400", "price = 100", 1))
			for b.Loop() {
				if r := Relax(b.Context(), p, RelaxOptions{}); !r.Complete || len(r.Openings) == 0 {
					b.Fatalf("complete %t, %d openings", r.Complete, len(r.Openings))
				}
			}
		})
	}
}
