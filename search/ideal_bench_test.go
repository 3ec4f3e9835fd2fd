package search

import "testing"

// BenchmarkIdeal finds the ideals of the demo catalog's seven frames.
func BenchmarkIdeal(b *testing.B) {
	p := demoProblem(b, "harbour")
	for b.Loop() {
		if frames, complete := Ideal(b.Context(), p, Bounds{}, Options{}); !complete || len(frames) == 0 {
			b.Fatalf("%d frames, complete %v", len(frames), complete)
		}
	}
}
