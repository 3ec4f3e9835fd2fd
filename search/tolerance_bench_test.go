package search

import (
	"testing"

	"gearsearch/constraints/kittest"
)

// BenchmarkRobust varies the best 20 builds of a demo brief 2 000 times each.
func BenchmarkRobust(b *testing.B) {
	r, err := Rank(b.Context(), kittest.Demo(b, "harbour"), Options{Top: 20})
	if err != nil || r.Len() != 20 {
		b.Fatalf("%d builds, %v", r.Len(), err)
	}
	for b.Loop() {
		for s := range r.Builds() {
			Robust(b.Context(), s.Build, 2000, 1, false)
		}
	}
}
