package fit

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/drive"
)

// model computes what the records should be.
//
// Its parameters are the unknowns that are fitted, the slope where runs go both ways,
// and the speed at which each run begins, each divided by its scale.
type model struct {
	rec    *Records
	board  drive.Board // of a corner, its pack without resistance: energies are at the terminals
	held   [unknowns]float64
	at     [unknowns]int // place of an unknown among the parameters, -1: held
	slope  int           // place of the slope, -1: none
	starts int           // place of the first run's start
	scales []float64     // of the parameters
	rides  []drive.Ride
	volts  float64
	factor float64
}

// scales are what the unknowns, a slope and a start are about.
const (
	rollingScale = 0.02
	dragScale    = 0.5 // m²
	slopeScale   = 0.01
	startScale   = 10 // m/s
)

func newModel(b *constraints.Build, rec *Records) *model {
	m := &model{rec: rec, board: *b.Board(), slope: -1, volts: b.Battery.Pack.Nominal, factor: b.Problem.Brief.Limit.RideFactor}
	e := *m.board.Electrical
	e.Pack.Resistance = 0
	m.board.Electrical = &e
	m.held = [unknowns]float64{m.board.Crr, m.board.DragArea}
	for u, scale := range [unknowns]float64{rollingScale, dragScale} {
		m.at[u] = -1
		if rec.Only == nil || *rec.Only == Unknown(u) {
			m.at[u] = len(m.scales)
			m.scales = append(m.scales, scale)
		}
	}
	if rec.bothWays() {
		m.slope = len(m.scales)
		m.scales = append(m.scales, slopeScale)
	}
	m.starts = len(m.scales)
	for range rec.Runs {
		m.scales = append(m.scales, startScale)
	}
	for _, r := range rec.Rides {
		ride := b.Journey()
		ride.Speed = r.Speed
		if !math.IsNaN(r.Stops) {
			ride.Stops = r.Stops
		}
		if !math.IsNaN(r.Ascent) {
			ride.Ascent = r.Ascent
		}
		m.rides = append(m.rides, ride)
	}
	return m
}

// bothWays reports whether runs go out and back.
func (rec *Records) bothWays() bool {
	var out, back bool
	for i := range rec.Runs {
		out = out || rec.Runs[i].Direction == Out
		back = back || rec.Runs[i].Direction == Back
	}
	return out && back
}

// start are the parameters to begin with: the brief's, a level road, and each run's
// first speed.
func (m *model) start() []float64 {
	x := make([]float64, len(m.scales))
	for u, i := range m.at {
		if i >= 0 {
			x[i] = m.held[u] / m.scales[i]
		}
	}
	for i := range m.rec.Runs {
		x[m.starts+i] = m.rec.Runs[i].Speeds[0] / startScale
	}
	return x
}

// value is an unknown at some parameters.
func (m *model) value(u Unknown, x []float64) float64 {
	if i := m.at[u]; i >= 0 {
		return x[i] * m.scales[i]
	}
	return m.held[u]
}

// coast is how run i rolls out at some parameters.
func (m *model) coast(i int, x []float64) drive.Coast {
	weight := m.board.Mass * drive.Gravity
	c := drive.Coast{
		Mass:   m.board.Mass,
		Steady: m.value(Rolling, x) * weight,
		Drag:   m.value(Drag, x) * m.board.AirDensity / 2,
	}
	if !m.rec.Freewheel {
		c.Steady += m.board.IdleDrag()
	}
	if m.slope >= 0 {
		c.Steady += float64(m.rec.Runs[i].Direction) * x[m.slope] * slopeScale * weight
	}
	return c
}

// energy is what ride i takes in J/m with a pair of unknowns; NaN where the motor's
// resistance is not known. The net rise is a slope of all of the way.
func (m *model) energy(i int, rolling, dragArea float64) float64 {
	b := m.board
	b.Crr, b.DragArea = rolling+m.rec.Rides[i].Rise, dragArea
	r, ok := b.Ride(m.rides[i], m.volts)
	if !ok {
		return math.NaN()
	}
	return r.EnergyPerMetre * m.factor
}

// row is one residual, in units of its kind's scatter, and where its derivatives are
// other than 0.
type row struct {
	residual float64
	slopes   [4]float64 // by parameter of at
	params   [4]int     // -1: none
}

// rows hands each residual of the parameters to a function: computed less recorded,
// divided by the scatter of its kind. Runs come first, in order.
func (m *model) rows(x []float64, scatter [kinds]float64, each func(k kind, r *row)) {
	var out row
	weight := m.board.Mass * drive.Gravity
	for i := range m.rec.Runs {
		run := &m.rec.Runs[i]
		c := m.coast(i, x)
		out.params = [4]int{m.at[Rolling], m.at[Drag], -1, m.starts + i}
		if run.Direction != Untold {
			out.params[2] = m.slope
		}
		begin := x[m.starts+i] * startScale
		for j, t := range run.Times {
			v, rise := c.SpeedAndRise(begin, t-run.Times[0])
			out.residual = (v - run.Speeds[j]) / scatter[runs]
			out.slopes = [4]float64{
				rise.Steady * weight * rollingScale / scatter[runs],
				rise.Drag * m.board.AirDensity / 2 * dragScale / scatter[runs],
				rise.Steady * float64(run.Direction) * weight * slopeScale / scatter[runs],
				rise.Start * startScale / scatter[runs],
			}
			each(runs, &out)
		}
	}
	// Relative steps, of the scales: central differences of smooth functions.
	const step = 1e-4
	for i := range m.rec.Rides {
		metered := m.rec.Rides[i].Energy * scatter[rides]
		rolling, area := m.value(Rolling, x), m.value(Drag, x)
		out.params = [4]int{m.at[Rolling], m.at[Drag], -1, -1}
		out.residual = (m.energy(i, rolling, area) - m.rec.Rides[i].Energy) / metered
		out.slopes = [4]float64{
			(m.energy(i, rolling+step*rollingScale, area) - m.energy(i, rolling-step*rollingScale, area)) / (2 * step * metered),
			(m.energy(i, rolling, area+step*dragScale) - m.energy(i, rolling, area-step*dragScale)) / (2 * step * metered),
		}
		each(rides, &out)
	}
}

// kind is a kind of record.
type kind uint8

const (
	runs kind = iota
	rides
	kinds
)
