package search

import (
	"testing"

	"gearsearch/constraints/kittest"
)

// BenchmarkWants looks for what is missing where nothing of the demo catalog is
// feasible.
func BenchmarkWants(b *testing.B) {
	for _, bench := range []struct {
		name, brief string
		changes     []string
	}{
		{name: "dear", brief: "harbour", changes: []string{"limit.price=100"}},
		{name: "far", brief: "harbour", changes: []string{"target.range_km=300"}},
		{name: "fast", brief: "trail", changes: []string{"target.top_speed_kmh=70"}},
		{name: "steep", brief: "harbour", changes: []string{"target.climb_grade_pct=60"}},
	} {
		b.Run(bench.name, func(b *testing.B) {
			p := kittest.Demo(b, bench.brief, bench.changes...)
			for b.Loop() {
				w := Wants(b.Context(), p, Options{Strict: true})
				if !w.Complete {
					b.Fatal("not complete")
				}
			}
		})
	}
}
