package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// spread is how sure parameters are.
type spread struct {
	scatter    [kinds]float64
	told       [kinds]bool // by the residuals; else assumed
	memory     float64
	covariance *mat.SymDense // of the parameters; nil where they are not told
	freedom    []float64     // degrees of freedom of each parameter
}

// tellingRides is how many rides beyond what they tell of the unknowns tell their own
// scatter.
const tellingRides = 3

// spread judges the residuals at some parameters, which were weighed by a scatter, and
// gives the scatter that they have.
func (m *model) spread(x []float64, weighed [kinds]float64) (spread, [kinds]float64) {
	n := m.normal(x, weighed)
	s := spread{scatter: weighed, memory: m.memory(x)}
	inverse, ok := inverted(n.total())
	if !ok {
		return s, weighed
	}
	// The share of the parameters that each kind tells is the trace of its hat matrix.
	var free [kinds]float64
	for k := range kinds {
		var hat mat.Dense
		hat.Mul(inverse, n.square[k])
		free[k] = float64(n.count[k]) - mat.Trace(&hat)
		scatter := weighed[k] * math.Sqrt(n.sum[k]/math.Max(free[k], 1))
		switch {
		case n.count[k] == 0:
			continue
		case k == rides && free[k] < tellingRides-1e-6:
			scatter, free[k] = math.Max(scatter, AssumedScatter), math.Inf(1)
		default:
			s.told[k] = true
		}
		s.scatter[k] = math.Max(scatter, leastScatter)
	}
	s.cover(n, inverse, weighed, free)
	return s, s.scatter
}

// cover finds the covariance of the parameters and their degrees of freedom: each kind
// adds H⁻¹ JᵀJ H⁻¹ times its own variance.
func (s *spread) cover(n *normal, inverse *mat.SymDense, weighed, free [kinds]float64) {
	size := len(n.gradient)
	s.covariance, s.freedom = mat.NewSymDense(size, nil), make([]float64, size)
	var doubts [kinds]*mat.SymDense
	for k := range kinds {
		ratio := s.scatter[k] / weighed[k]
		variance := ratio * ratio
		if k == runs {
			longer := (1 + s.memory) / (1 - s.memory)
			variance *= longer
			free[k] /= longer
		}
		doubts[k] = mat.NewSymDense(size, nil)
		var half, whole mat.Dense
		half.Mul(inverse, n.square[k])
		whole.Mul(&half, inverse)
		for i := range size {
			for j := range i + 1 {
				doubts[k].SetSym(i, j, whole.At(i, j)*variance)
			}
		}
		s.covariance.AddSym(s.covariance, doubts[k])
	}
	for i := range size { // Welch and Satterthwaite
		all, over := s.covariance.At(i, i), 0.0
		for k := range kinds {
			if part := doubts[k].At(i, i); n.count[k] > 0 && part > 0 {
				over += part * part / math.Max(free[k], 1)
			}
		}
		s.freedom[i] = math.Inf(1)
		if over > 0 {
			s.freedom[i] = all * all / over
		}
	}
}

// memory is the correlation of the residuals of runs from one sample to the next, 0
// where it is not above what chance gives in one case of forty, 2/√n.
func (m *model) memory(x []float64) float64 {
	var squares, products, last float64
	count, left := 0, 0
	run := 0
	m.rows(x, [kinds]float64{1, 1}, func(k kind, r *row) {
		if k != runs {
			return
		}
		first := left == 0
		if first {
			left = len(m.rec.Runs[run].Times)
			run++
		}
		left--
		squares += r.residual * r.residual
		if !first {
			products += r.residual * last
			count++
		}
		last = r.residual
	})
	const most = 0.98
	r := products / squares
	if !(r > 2/math.Sqrt(float64(count))) { // NaN of residuals of 0
		return 0
	}
	return math.Min(r, most)
}

// confidence of the intervals.
const confidence = 0.95

// reach is the half width of the interval of a parameter, in its scale; +Inf where it
// is not told.
func (s *spread) reach(i int) float64 {
	if s.covariance == nil {
		return math.Inf(1)
	}
	quantile := distuv.UnitNormal.Quantile
	if !math.IsInf(s.freedom[i], 1) {
		quantile = distuv.StudentsT{Sigma: 1, Nu: s.freedom[i]}.Quantile
	}
	return quantile((1+confidence)/2) * math.Sqrt(s.covariance.At(i, i))
}

// result is what the parameters and their spread say.
func (m *model) result(x []float64, s spread) *Result {
	r := &Result{
		Correlation: math.NaN(), Slope: math.NaN(), RunScatter: math.NaN(), RideScatter: math.NaN(),
		ScatterTold: s.told[rides], Memory: s.memory,
	}
	for u := range unknowns {
		e := r.Estimate(u)
		e.Value = m.value(u, x)
		if i := m.at[u]; i >= 0 {
			reach := s.reach(i) * m.scales[i]
			if u == Rolling && len(m.rec.Runs) > 0 && m.slope < 0 {
				reach = math.Hypot(reach, AssumedSlope)
			}
			e.Low, e.High = e.Value-reach, e.Value+reach
		}
	}
	if a, b := m.at[Rolling], m.at[Drag]; a >= 0 && b >= 0 {
		r.Correlation = 1
		if s.covariance != nil {
			r.Correlation = s.covariance.At(a, b) / math.Sqrt(s.covariance.At(a, a)*s.covariance.At(b, b))
		}
	}
	if m.slope >= 0 {
		r.Slope = x[m.slope] * slopeScale
	}
	for i, run := range m.rec.Runs {
		f := FittedRun{Run: run, Start: x[m.starts+i] * startScale, Coast: m.coast(i, x)}
		sum := 0.0
		for j, t := range run.Times {
			off := f.Coast.Speed(f.Start, t-run.Times[0]) - run.Speeds[j]
			sum += off * off
		}
		f.Residual = math.Sqrt(sum / float64(len(run.Times)))
		r.Runs = append(r.Runs, f)
		r.RunScatter = s.scatter[runs]
	}
	for i, ride := range m.rec.Rides {
		r.Rides = append(r.Rides, FittedRide{ride, m.energy(i, r.Rolling.Value, r.Drag.Value)})
		r.RideScatter = s.scatter[rides]
	}
	return r
}
