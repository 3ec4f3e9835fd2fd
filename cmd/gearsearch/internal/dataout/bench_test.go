package dataout

import (
	"io"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/search"
)

// BenchmarkBuild writes one build of the demo as a JSON line: what an export of
// every feasible build repeats.
func BenchmarkBuild(b *testing.B) {
	demo, err := catalog.Demo()
	if err != nil {
		b.Fatal(err)
	}
	src, _ := catalog.DemoBrief("harbour")
	brief, err := constraints.ReadBrief(src)
	if err != nil {
		b.Fatal(err)
	}
	p, err := constraints.NewProblem(demo, brief)
	if err != nil {
		b.Fatal(err)
	}
	r, err := search.Rank(b.Context(), p, search.Options{Top: 1})
	if err != nil {
		b.Fatal(err)
	}
	lines := NewLines(io.Discard)
	b.ReportAllocs()
	for b.Loop() {
		if err := lines.Build(r.At(0)); err != nil {
			b.Fatal(err)
		}
	}
}
