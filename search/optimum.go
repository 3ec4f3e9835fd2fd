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
	m := newMaximiser(f, box)
	for n := range optimumStarts * len(box) {
		u := make([]float64, len(box))
		for i := range u {
			u[i] = math.Asin(2*halton(n+1, primes[i]) - 1)
		}
		m.try(u, 0.5)
	}
	for range optimumPolish {
		m.try(m.at, 0.05)
	}
	return m.into(m.at), m.value
}

// maximiser is a search for the greatest value of f in a box, which a sine maps
// to all of space.
type maximiser struct {
	f     func(x []float64) float64
	box   []interval
	at    []float64 // in all of space, the best so far
	value float64   // there
}

// newMaximiser begins in the middle.
func newMaximiser(f func(x []float64) float64, box []interval) *maximiser {
	m := &maximiser{f: f, box: box, at: make([]float64, len(box))}
	m.value = f(m.into(m.at))
	return m
}

// into is the point of the box that a point stands for.
func (m *maximiser) into(u []float64) []float64 {
	x := make([]float64, len(u))
	for i := range u {
		x[i] = m.box[i].at((1 + math.Sin(u[i])) / 2)
	}
	return x
}

// see evaluates f at one point.
func (m *maximiser) see(u []float64) {
	if value := m.f(m.into(u)); value > m.value {
		m.value, m.at = value, append([]float64(nil), u...)
	}
}

// try climbs from a point with a simplex of some size.
func (m *maximiser) try(u []float64, size float64) {
	problem := optimize.Problem{Func: func(u []float64) float64 { return -m.f(m.into(u)) }}
	settings := &optimize.Settings{FuncEvaluations: optimumEvals, Converger: &optimize.FunctionConverge{Absolute: 1e-12, Iterations: 60}}
	r, _ := optimize.Minimize(problem, u, settings, &optimize.NelderMead{SimplexSize: size})
	// Where the search ends in an error, the best so far counts.
	if r != nil && r.X != nil && -r.F > m.value {
		m.value, m.at = -r.F, append([]float64(nil), r.X...)
	}
}

// maximiseSome is maximise over some of the variables; the others stay where
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
