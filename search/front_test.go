package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gearsearch/constraints"
	"gearsearch/search/internal/randcat"
	"gearsearch/search/internal/walk"
)

// plainFront is the definition, pair by pair.
func plainFront(points []float64, k int) []int {
	var out []int
	n := len(points) / k
	for i := range n {
		beaten := false
		for j := range n {
			some, all := false, true
			for c := range k {
				all = all && points[j*k+c] >= points[i*k+c]
				some = some || points[j*k+c] > points[i*k+c]
			}
			beaten = beaten || all && some
		}
		if !beaten {
			out = append(out, i)
		}
	}
	return out
}

// TestFrontIsTheDefinition: on random sets with many ties, in one to six
// figures, some of them unknown.
func TestFrontIsTheDefinition(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for i := range 600 {
		k, n := 1+i%6, r.IntN(400)
		levels := []float64{2, 5, 1000}[i%3]
		points := make([]float64, n*k)
		for j := range points {
			points[j] = math.Floor(r.Float64()*levels) - levels/2
			if r.IntN(40) == 0 {
				points[j] = math.Inf(-1)
			}
		}
		if d := cmp.Diff(plainFront(points, k), front(points, k)); d != "" {
			t.Fatalf("%d points in %d figures, %v levels: front differs (-plain +fast):\n%s", n, k, levels, d)
		}
	}
}

// TestFrontOfBuilds: the front of a problem is the plain front of its
// feasible builds.
func TestFrontOfBuilds(t *testing.T) {
	var figures []constraints.Figure
	for _, name := range []string{"top_speed_kmh", "price", "range_km"} {
		f, ok := constraints.FigureNamed(name)
		if !ok {
			t.Fatalf("no figure %s", name)
		}
		figures = append(figures, f)
	}
	tested := 0
	for seed := range uint64(120) {
		p, ok := randomProblem(t, seed, randcat.Small())
		if !ok {
			continue
		}
		_, entries := plain(p, false)
		if len(entries) < 3 {
			continue
		}
		tested++
		var points []float64
		for _, e := range entries {
			b := walk.Assemble(p, e.id)
			for _, f := range figures {
				x := f.Value(b)
				if f.Better == constraints.Lesser {
					x = -x
				}
				if math.IsNaN(x) {
					x = math.Inf(-1)
				}
				points = append(points, tenDigits(t, x))
			}
		}
		var want []entry
		for _, i := range plainFront(points, len(figures)) {
			want = append(want, entries[i])
		}
		got, err := Front(t.Context(), p, figures, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got.ranked, cmp.AllowUnexported(entry{})); d != "" {
			t.Fatalf("seed %d: front differs (-plain +fast):\n%s", seed, d)
		}
	}
	if tested < 10 {
		t.Errorf("only %d problems with builds to compare", tested)
	}
}

// tenDigits is a number as it is written in data.
func tenDigits(t *testing.T, x float64) float64 {
	t.Helper()
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 9, 64), 64)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

// TestRoundingBeatsNothing: a build is not beaten by one whose figures are written
// alike.
func TestRoundingBeatsNothing(t *testing.T) {
	figure := func(x float64) constraints.Figure {
		return constraints.Figure{Better: constraints.Lesser, Value: func(*constraints.Build) float64 { return x }}
	}
	for _, x := range []float64{1, 0.1 + 0.2, 57000.3, 1e-7 / 3, 9.9999999999, 123456.789} {
		if a, z := asWritten(figure(x), nil), asWritten(figure(x*(1+3e-16)), nil); a != z {
			t.Errorf("%v: %v and %v differ", x, a, z)
		}
		if a, z := asWritten(figure(x), nil), -tenDigits(t, x); math.Abs(a-z) > 1e-15*math.Abs(z) {
			t.Errorf("%v counts as %v, is written as %v", x, a, z)
		}
	}
}

// BenchmarkFront finds the front of a million random builds.
func BenchmarkFront(b *testing.B) {
	for _, k := range []int{2, 3, 6} {
		b.Run(fmt.Sprintf("figures=%d", k), func(b *testing.B) {
			r := rand.New(rand.NewPCG(1, 1))
			points := make([]float64, 1_000_000*k)
			for i := range points {
				points[i] = r.Float64()
			}
			for b.Loop() {
				front(points, k)
			}
		})
	}
}
