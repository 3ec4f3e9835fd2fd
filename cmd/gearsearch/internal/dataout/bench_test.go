package dataout

import (
	"bufio"
	"io"
	"testing"

	"gearsearch/constraints/kittest"
	"gearsearch/search"
)

// BenchmarkBuild writes one build of the demo as a JSON line.
func BenchmarkBuild(b *testing.B) {
	r, err := search.Rank(b.Context(), kittest.Demo(b, "harbour"), search.Options{Top: 1})
	if err != nil {
		b.Fatal(err)
	}
	s := r.At(0)
	lines := NewLines(io.Discard)
	b.ReportAllocs()
	for b.Loop() {
		if err := lines.Build(s); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLines writes every feasible build of the demo as a JSON line, the
// search included.
func BenchmarkLines(b *testing.B) {
	p := kittest.Demo(b, "harbour")
	b.ReportAllocs()
	builds := uint64(0)
	for b.Loop() {
		out := bufio.NewWriterSize(io.Discard, 1<<16)
		r, err := search.Stream(b.Context(), p, search.Options{}, NewLines(out).Build)
		if err != nil {
			b.Fatal(err)
		}
		builds += r.Feasible
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(builds), "ns/build")
	b.ReportMetric(float64(builds)/float64(b.N), "builds")
}
