package search

import (
	"math"

	"gonum.org/v1/gonum/optimize"
)

// interval is a closed range of one variable.
type interval struct{ low, high float64 }

// at is the point at a share of the way from low to high.
func (i interval) at(share float64) float64 {
	return math.Min(i.low+share*(i.high-i.low), i.high)
}

// has reports whether the range contains a value.
func (i interval) has(x float64) bool { return x >= i.low && x <= i.high }

// The effort of maximise.
const (
	optimumStarts = 3   // inner points to start from, for each variable
	optimumEvals  = 400 // evaluations for each start and for each polish
	optimumPolish = 2   // times to start again from the best
)

// maximise finds the greatest value of f in a box. f may have corners and
// steps, but is a number everywhere. The box is mapped to all of space by a
// sine, so that Nelder and Mead's simplex never leaves it; it starts from
// several inner points and then again from the best. The same f gives the same
// answer. A box has up to five variables.
func maximise(f func(x []float64) float64, box []interval) (best []float64, value float64) {
	into := func(u []float64) []float64 {
		x := make([]float64, len(u))
		for i := range u {
			x[i] = box[i].at((1 + math.Sin(u[i])) / 2)
		}
		return x
	}
	problem := optimize.Problem{Func: func(u []float64) float64 { return -f(into(u)) }}
	at := make([]float64, len(box)) // the middle
	value = f(into(at))
	try := func(u []float64, size float64) {
		settings := &optimize.Settings{FuncEvaluations: optimumEvals, Converger: &optimize.FunctionConverge{Absolute: 1e-12, Iterations: 60}}
		r, _ := optimize.Minimize(problem, u, settings, &optimize.NelderMead{SimplexSize: size})
		// Where the search ends in an error, the best so far counts.
		if r != nil && r.X != nil && -r.F > value {
			value, at = -r.F, append([]float64(nil), r.X...)
		}
	}
	for n := range optimumStarts * len(box) {
		u := make([]float64, len(box))
		for i := range u {
			u[i] = math.Asin(2*halton(n+1, primes[i]) - 1)
		}
		try(u, 0.5)
	}
	for range optimumPolish {
		try(at, 0.05)
	}
	return into(at), value
}

// maximiseSome is maximise over some of the variables, the others held where
// they are.
func maximiseSome(f func(x []float64) float64, at []float64, box []interval, free []int) []float64 {
	with := func(u []float64) []float64 {
		x := append([]float64(nil), at...)
		for i, n := range free {
			x[n] = u[i]
		}
		return x
	}
	var some []interval
	for _, n := range free {
		some = append(some, box[n])
	}
	best, _ := maximise(func(u []float64) float64 { return f(with(u)) }, some)
	return with(best)
}

var primes = []int{2, 3, 5, 7, 11}

// halton is the n-th number of the Halton sequence of a base, in (0, 1): well
// spread points without chance (J. H. Halton, 1960).
func halton(n, base int) float64 {
	share, out := 1.0, 0.0
	for ; n > 0; n /= base {
		share /= float64(base)
		out += share * float64(n%base)
	}
	return out
}
