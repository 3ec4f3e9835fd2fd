package fit

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"gearsearch/constraints"
)

// normal is the sum of squares at some parameters, half its gradient Jᵀr, and JᵀJ of
// each kind of record.
type normal struct {
	sum      [kinds]float64
	count    [kinds]int
	gradient []float64
	square   [kinds]*mat.SymDense
}

func (m *model) normal(x []float64, scatter [kinds]float64) *normal {
	size := len(m.scales)
	n := &normal{gradient: make([]float64, size)}
	for k := range n.square {
		n.square[k] = mat.NewSymDense(size, nil)
	}
	m.rows(x, scatter, func(k kind, r *row) {
		n.sum[k] += r.residual * r.residual
		n.count[k]++
		for a, i := range r.params {
			if i < 0 {
				continue
			}
			n.gradient[i] += r.slopes[a] * r.residual
			for b, j := range r.params[:a+1] {
				if j >= 0 {
					n.square[k].SetSym(i, j, n.square[k].At(i, j)+r.slopes[a]*r.slopes[b])
				}
			}
		}
	})
	return n
}

// total is JᵀJ of all records.
func (n *normal) total() *mat.SymDense {
	out := mat.NewSymDense(len(n.gradient), nil)
	out.AddSym(n.square[runs], n.square[rides])
	return out
}

// solve finds the parameters of least squares, from some on.
func (m *model) solve(x []float64, scatter [kinds]float64) ([]float64, error) {
	// What optimize asks for at one place comes of one pass over the records.
	var at []float64
	var last *normal
	normalAt := func(x []float64) *normal {
		if last == nil || !equal(at, x) {
			at, last = append(at[:0], x...), m.normal(x, scatter)
		}
		return last
	}
	p := optimize.Problem{
		Func: func(x []float64) float64 {
			n := normalAt(x)
			if sum := n.sum[runs] + n.sum[rides]; !math.IsNaN(sum) {
				return sum
			}
			return math.Inf(1)
		},
		Grad: func(grad, x []float64) {
			for i, g := range normalAt(x).gradient {
				grad[i] = 2 * g
			}
		},
		Hess: func(hess *mat.SymDense, x []float64) {
			hess.ScaleSym(2, normalAt(x).total())
		},
	}
	// A line search that can go no further ends with an error at the minimum too: what
	// it reached is judged by the step that is left.
	settings := &optimize.Settings{MajorIterations: 200, FuncEvaluations: 5000, GradientThreshold: 1e-13, Converger: optimize.NeverTerminate{}}
	r, err := optimize.Minimize(p, x, settings, &optimize.Newton{})
	if r == nil {
		return nil, err
	}
	if m.settled(r.X, scatter) {
		return r.X, nil
	}
	return nil, &Refusal{Code: Unsettled}
}

// settled reports whether the Gauss-Newton step that is left is small against the
// standard errors, or against the scales of the parameters.
func (m *model) settled(x []float64, scatter [kinds]float64) bool {
	const small = 1e-3
	n := m.normal(x, scatter)
	inverse, ok := inverted(n.total())
	if !ok {
		return true // flat: nothing is told, which its intervals say
	}
	size := len(x)
	var step mat.VecDense
	step.MulVec(inverse, mat.NewVecDense(size, n.gradient))
	variance := (n.sum[runs] + n.sum[rides]) / float64(max(1, n.count[runs]+n.count[rides]-size))
	for i := range size {
		if !(math.Abs(step.AtVec(i)) <= max(small*math.Sqrt(variance*inverse.At(i, i)), 1e-9)) {
			return false
		}
	}
	return true
}

// inverted is the inverse of a symmetric matrix; ok is false where it is as good as
// singular.
func inverted(a *mat.SymDense) (*mat.SymDense, bool) {
	const worst = 1e14
	var c mat.Cholesky
	if !c.Factorize(a) || c.Cond() > worst {
		return nil, false
	}
	var out mat.SymDense
	if err := c.InverseTo(&out); err != nil {
		return nil, false
	}
	return &out, true
}

func equal(a, b []float64) bool {
	for i := range b {
		if a[i] != b[i] {
			return false
		}
	}
	return len(a) == len(b)
}

// How scatters begin: what a record of speeds and a meter may have.
const (
	firstScatter = 0.1  // m/s
	leastScatter = 1e-5 // m/s and share, of records without any
	mostRounds   = 20
)

// fitCorner fits one corner of the build: it solves, weighs each kind of record by the
// scatter that is left, and solves again.
func fitCorner(ctx context.Context, b *constraints.Build, rec *Records) (*Result, error) {
	m := newModel(b, rec)
	x := m.start()
	scatter := [kinds]float64{firstScatter, AssumedScatter}
	var s spread
	for range mostRounds {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		var err error
		if x, err = m.solve(x, scatter); err != nil {
			return nil, err
		}
		before := scatter
		s, scatter = m.spread(x, scatter)
		if near(before[runs], scatter[runs]) && near(before[rides], scatter[rides]) || len(rec.Runs) == 0 || len(rec.Rides) == 0 {
			break // one kind alone weighs itself
		}
	}
	return m.result(x, s), nil
}

// near reports whether two scatters are alike.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-3*math.Max(a, b) }
