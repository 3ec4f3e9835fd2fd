package dataout

import (
	"bufio"
	"io"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/search"
)

// demoProblem is the demo's problem with a brief of a few targets.
func demoProblem(tb testing.TB) *constraints.Problem {
	tb.Helper()
	demo, err := catalog.Demo()
	if err != nil {
		tb.Fatal(err)
	}
	src, _ := catalog.DemoBrief("harbour")
	brief, err := constraints.ReadBrief(src)
	if err != nil {
		tb.Fatal(err)
	}
	p, err := constraints.NewProblem(demo, brief)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// BenchmarkBuild writes one build of the demo as a JSON line.
func BenchmarkBuild(b *testing.B) {
	r, err := search.Rank(b.Context(), demoProblem(b), search.Options{Top: 1})
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
	p := demoProblem(b)
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
