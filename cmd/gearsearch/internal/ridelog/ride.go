package ridelog

import (
	"math"

	"gearsearch/search/fit"
)

// What a ride is summed up by: common practice, no published source.
const (
	riding     = 2   // m/s: faster than a push
	longGap    = 10  // s without a row, and more than …
	manySteps  = 5   // … so many usual steps from row to row
	cellLength = 100 // m: over so much of the way heights are averaged
	steep      = 0.05
	leastRide  = 500 // m
	varied     = 0.35
)

// rider sums up a ride.
type rider struct {
	reader        *reader
	metres        float64
	seconds       float64 // moving
	joules        float64
	speeds        float64 // ∫ v dt while it moves
	squares       float64 // ∫ v² dt
	stops         int
	moving        bool
	most          float64 // A, the greatest current
	height, count float64 // of the cell in hand
	cell          float64 // m of the way at which it ends
	heights       int     // cells
	first, last   float64 // m, heights of cells
	ascent        float64 // m on steep cells
}

// take hands a row, in the order of times, to all that goes by rows.
func (r *reader) take(s sample, fresh bool) {
	was := r.last
	broken := fresh || r.unbegun
	for q := range quantities { // what a row does not say is as it was
		if q != Speed && q != Direction && math.IsNaN(s.of[q]) && !broken {
			s.of[q] = was.of[q]
		}
	}
	v := s.of[Speed]
	dt := s.time() - was.time()
	if !broken {
		switch {
		case r.step == 0:
			r.step = dt
		case dt > longGap && dt > manySteps*r.step:
			r.note(Gaps, s.line, dt)
			broken = true
		default:
			r.step += (dt - r.step) / 16
		}
	}
	way := math.NaN()
	if r.columns[Distance].at >= 0 && !broken {
		way = r.counted(&s, &was, Distance)
	}
	if r.columns[Speed].at < 0 {
		v = r.speed
		if !broken {
			v = way / dt
		}
	}
	v = math.Abs(v)
	if math.IsNaN(v) {
		r.unbegun = broken
		return
	}
	r.coast.add(s.time(), v, s.of[Current], s.of[Direction], s.line, broken)
	r.ride.add(&s, &was, dt, v, way, broken)
	r.last, r.speed, r.unbegun = s, v, false
}

// counted is by how much a counter has risen. One that begins anew has risen by what
// it shows.
func (r *reader) counted(s, was *sample, q Quantity) float64 {
	rise := s.of[q] - was.of[q]
	switch {
	case math.IsNaN(rise):
		return 0
	case rise < 0 && s.of[q] >= 0 && s.of[q] < was.of[q]/2:
		r.note(CounterReset, s.line, 0)
		return s.of[q]
	case rise < 0 && q != Energy: // energy may come back
		return 0
	}
	return rise
}

// add sums up a row, way metres after the one before; NaN: as the speeds have it.
func (r *rider) add(s, was *sample, dt, v, way float64, broken bool) {
	switch {
	case v > riding:
		r.moving = true
	case v < standing && r.moving:
		r.moving = false
		r.stops++
	}
	if amps := math.Abs(s.of[Current]); amps > r.most {
		r.most = amps
	}
	if broken {
		return
	}
	mean := (v + r.reader.speed) / 2
	if math.IsNaN(way) {
		way = mean * dt
	}
	r.metres += way
	r.joules += r.reader.energy(s, was, dt)
	if mean > standing {
		r.seconds += dt
		r.speeds += mean * dt
		r.squares += mean * mean * dt
	}
	r.climb(s.of[Height])
}

// energy is what the pack has given from one row to the next, J.
func (r *reader) energy(s, was *sample, dt float64) float64 {
	has := func(q Quantity) bool { return r.columns[q].at >= 0 }
	switch {
	case has(Energy) && has(Returned):
		return r.counted(s, was, Energy) - r.counted(s, was, Returned)
	case has(Energy):
		return r.counted(s, was, Energy)
	case has(Power):
		return known((s.of[Power] + was.of[Power]) / 2 * dt)
	case has(Volts) && has(Current):
		return known((s.of[Volts]*s.of[Current] + was.of[Volts]*was.of[Current]) / 2 * dt)
	}
	return 0
}

// known is x, 0 where it is not known.
func known(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// metered reports whether energy can be told.
func (r *reader) metered() bool {
	has := func(q Quantity) bool { return r.columns[q].at >= 0 }
	return has(Energy) || has(Power) || has(Volts) && has(Current)
}

// climb follows the heights, cell by cell of the way.
func (r *rider) climb(height float64) {
	if math.IsNaN(height) {
		return
	}
	r.height += height
	r.count++
	if r.metres < r.cell {
		return
	}
	mean := r.height / r.count
	if r.heights == 0 {
		r.first = mean
	} else if rise := mean - r.last; rise >= steep*cellLength {
		r.ascent += rise
	}
	r.last = mean
	r.heights++
	r.height, r.count = 0, 0
	r.cell = r.metres + cellLength
}

// ride is the ride as fits take it.
func (r *rider) sum() (fit.Ride, Travel) {
	t := Travel{Metres: r.metres, Seconds: r.seconds, Joules: r.joules, Stops: r.stops, Heights: r.heights > 1, ByMeter: r.reader.columns[Energy].at >= 0}
	out := fit.Ride{Speed: r.metres / r.seconds, Energy: r.joules / r.metres, Stops: float64(r.stops) / r.metres, Ascent: math.NaN()}
	mean := r.speeds / r.seconds
	t.Spread = math.Sqrt(math.Max(0, r.squares/r.seconds-mean*mean))
	if t.Heights {
		rise := r.last - r.first
		out.Rise = rise / r.metres
		out.Ascent = math.Max(0, r.ascent-math.Max(0, rise)) / r.metres
	}
	return out, t
}
