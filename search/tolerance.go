package search

import (
	"context"
	"iter"
	"math"
	"math/rand/v2"
	"slices"
	"sync/atomic"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r1"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distmv"
	"gonum.org/v1/gonum/stat/samplemv"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Robustness is what becomes of a build when parts, riders and ground stray within the
// brief's tolerances.
type Robustness struct {
	Draws   int
	Share   float64 // of the draws in which nothing rejects the build
	Checks  []CheckShare
	Figures []FigureSpread
}

// CheckShare is the share of the draws in which a check passes.
type CheckShare struct {
	*constraints.Check
	Share float64
}

// FigureSpread is the spread of a figure over the draws in which it can be
// computed; NaN where it never can.
type FigureSpread struct {
	constraints.Figure
	Low, Middle, High float64 // the 5 %, 50 % and 95 % quantiles, each the value of a draw
	Known             float64 // share of the draws in which it can be computed
}

// quantiles of a FigureSpread.
const (
	lowQuantile    = 0.05
	middleQuantile = 0.50
	highQuantile   = 0.95
)

// variations draws how specimens of a build differ: a Latin hypercube, each
// quantity uniform within its tolerance, so that few draws cover each well.
// The same source gives the same draws.
func variations(t constraints.Tolerance, draws int, source rand.Source) iter.Seq[constraints.Variation] {
	widths := []float64{t.KV, t.Mass, t.Rolling, t.Drag, t.PackResistance, t.Efficiency, t.Wheel, t.Stance, t.Grip, t.Wind}
	bounds := make([]r1.Interval, len(widths))
	for i := range bounds {
		bounds[i] = r1.Interval{Min: -1, Max: 1}
	}
	batch := mat.NewDense(draws, len(widths), nil)
	samplemv.LatinHypercube{Q: distmv.NewUniform(bounds, source), Src: source}.Sample(batch)
	return func(yield func(constraints.Variation) bool) {
		for i := range draws {
			x := batch.RawRowView(i)
			v := constraints.Variation{
				KV: x[0] * widths[0], Mass: x[1] * widths[1], Rolling: x[2] * widths[2], Drag: x[3] * widths[3],
				PackResistance: x[4] * widths[4], Efficiency: x[5] * widths[5], Wheel: x[6] * widths[6],
				Stance: x[7] * widths[7], Grip: x[8] * widths[8], Wind: x[9] * widths[9],
			}
			if !yield(v) {
				return
			}
		}
	}
}

// Robust varies a build within the tolerances of its brief, draws times, at
// least once and at most MostDraws times. The same seed gives the same answer,
// and the same draws to every build. When ctx ends before all is drawn, the
// answer has 0 draws.
func Robust(ctx context.Context, b *constraints.Build, draws int, seed uint64, strict bool) Robustness {
	draws = min(max(draws, 1), MostDraws)
	out := Robustness{Draws: draws}
	figures := numeric(b.Problem.Figures())
	values := make([][]float64, len(figures))
	for i := range values {
		values[i] = make([]float64, 0, draws)
	}
	var passes []float64
	for v := range variations(b.Problem.Brief.Vary, draws, rand.NewPCG(seed, 0)) {
		if ctx.Err() != nil {
			return Robustness{}
		}
		specimen := b.Varied(v)
		results := specimen.Results()
		if passes == nil {
			passes = make([]float64, len(results))
			for _, r := range results {
				out.Checks = append(out.Checks, CheckShare{Check: r.Check})
			}
		}
		rejected := false
		for i, r := range results {
			if r.Verdict == constraints.Pass {
				passes[i]++
			}
			rejected = rejected || r.Rejects(strict)
		}
		if !rejected {
			out.Share++
		}
		for i, f := range figures {
			if x := f.Value(specimen); !math.IsNaN(x) {
				values[i] = append(values[i], x)
			}
		}
	}
	out.Share /= float64(draws)
	for i := range out.Checks {
		out.Checks[i].Share = passes[i] / float64(draws)
	}
	for i, f := range figures {
		out.Figures = append(out.Figures, spread(f, values[i], draws))
	}
	return out
}

// heldDraws is how many draws are held at once, each of some hundred bytes.
const heldDraws = 4 * MostDraws

// RobustEach varies several builds as Robust does one. Those that ctx leaves no
// time for have 0 draws.
func RobustEach(ctx context.Context, builds []*constraints.Build, draws int, seed uint64, o Options) []Robustness {
	draws = min(max(draws, 1), MostDraws)
	found := make([]Robustness, len(builds))
	var done atomic.Uint64 // builds
	defer walk.Report(&done, float64(len(builds)), o.Progress)()
	walk.Each(ctx, min(walk.Workers(o.Workers), heldDraws/draws), len(builds), func(i int) {
		found[i] = Robust(ctx, builds[i], draws, seed, o.Strict)
		done.Add(1)
	})
	return found
}

// numeric leaves out the figures that are words.
func numeric(figures []constraints.Figure) []constraints.Figure {
	return slices.DeleteFunc(figures, func(f constraints.Figure) bool { return f.Word != nil })
}

func spread(f constraints.Figure, values []float64, draws int) FigureSpread {
	nan := math.NaN()
	s := FigureSpread{Figure: f, Low: nan, Middle: nan, High: nan, Known: float64(len(values)) / float64(draws)}
	if len(values) > 0 {
		slices.Sort(values)
		s.Low = stat.Quantile(lowQuantile, stat.Empirical, values, nil)
		s.Middle = stat.Quantile(middleQuantile, stat.Empirical, values, nil)
		s.High = stat.Quantile(highQuantile, stat.Empirical, values, nil)
	}
	return s
}
