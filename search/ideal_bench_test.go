package search

import (
	"testing"

	"gearsearch/constraints/kittest"
)

// BenchmarkIdeal finds the ideals of the demo catalog's seven frames.
func BenchmarkIdeal(b *testing.B) {
	p := kittest.Demo(b, "harbour")
	for b.Loop() {
		if frames, complete := Ideal(b.Context(), p, Bounds{}, Options{}); !complete || len(frames) == 0 {
			b.Fatalf("%d frames, complete %v", len(frames), complete)
		}
	}
}
