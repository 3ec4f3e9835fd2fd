package plot

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg/draw"

	"gearsearch/cmd/gearsearch/internal/trace"
	"gearsearch/drive"
)

// slowest is the lowest cruise speed drawn, m/s: near standstill the current
// that a motor takes without load counts for ever more per distance.
const slowest = 5 / 3.6

// ErrNoCruise says that a figure cannot be drawn since the build does not cruise as
// the brief asks.
var ErrNoCruise = errors.New("this build does not hold the cruise speed of the brief")

// Cruise draws the energy per distance and the range against the cruise speed,
// from a pack at nominal volts.
func Cruise(s Subject) (*Figure, error) {
	b := s.Build
	target := b.Problem.Brief.Target
	speed := s.speed()
	top, _ := b.TopSpeed()
	if top <= slowest {
		return nil, errStands
	}
	e := energy{name: "cruise speed", measure: speed, low: slowest, high: top, at: target.Cruise, use: func(v float64) float64 {
		ride := b.Journey()
		ride.Speed = v
		return s.consumption(ride)
	}}
	if math.IsNaN(e.use(slowest)) {
		return nil, ErrCruise
	}
	e.told = target.Cruise <= top && !math.IsNaN(e.use(target.Cruise))
	charts, summary := e.charts(s)
	if e.told {
		summary = fmt.Sprintf("At %s it takes %s, stops, ascent and wind included.", speed.text(target.Cruise), s.each().text(e.use(target.Cruise))) + summary
	} else {
		summary = fmt.Sprintf("The cruise speed of %s is not reached.", speed.text(target.Cruise)) + summary
	}
	return s.spent("Energy and range against cruise speed", summary, charts), nil
}

// mostStops is up to how many stops per m are drawn, unless the brief has more: one
// for each 100 m, as in dense traffic.
const mostStops = 0.01

// Stops draws the energy per distance and the range at the brief's cruise speed
// against the number of stops.
func Stops(s Subject) (*Figure, error) {
	b := s.Build
	per := s.measure("/km", 1000)
	ride := b.Journey()
	e := energy{name: "stops", measure: per, high: math.Max(mostStops, 1.5*ride.Stops), at: ride.Stops, told: true, use: func(stops float64) float64 {
		varied := ride
		varied.Stops = stops
		return s.consumption(varied)
	}}
	if !b.OutrunsCruise() || math.IsNaN(e.use(0)) {
		return nil, ErrNoCruise
	}
	e.told = !math.IsNaN(e.use(e.at))
	charts, ranges := e.charts(s)
	summary := fmt.Sprintf("At %s without a stop it takes %s", s.speed().text(ride.Speed), s.each().text(e.use(0)))
	if e.told {
		summary += fmt.Sprintf(", with %s stops%s %s", digits(e.at*per.factor, 1), per.unit, s.each().text(e.use(e.at)))
		if gain := (e.use(e.at+0.001) - e.use(e.at)) / 0.001; !math.IsNaN(gain) {
			summary += fmt.Sprintf("; each stop takes %s Wh", digits(gain/3600, 2))
		}
	}
	return s.spent("Energy and range against stops", summary+"."+ranges, charts), nil
}

// energy is the energy per distance over something that a ride has more or less of,
// in SI.
type energy struct {
	name      string
	measure   measure
	low, high float64
	at        float64                 // what the brief asks for
	told      bool                    // there the energy is known
	use       func(x float64) float64 // J/m
}

// each is the energy per distance.
func (s Subject) each() measure { return s.measure("Wh/km", 1/3.6) }

// charts are the energy and, where what the pack holds is known, the range below it,
// with what is to be said of the range.
func (e *energy) charts(s Subject) (charts []*chart, summary string) {
	b, target := s.Build, s.Build.Problem.Brief.Target
	each, far := s.each(), s.measure("km", 0.001)
	usable := b.Energy() * b.Problem.Brief.Limit.Usable * b.Problem.Cold.Capacity
	reach := func(x float64) float64 { return usable / e.use(x) }
	use, distance := samples(e.low, e.high, resolution, e.use), samples(e.low, e.high, resolution, reach)
	across := axis{e.name + ", " + e.measure.unit, 0, e.high * 1.04 * e.measure.factor}
	mark := func(y float64, m measure) []mark {
		if !e.told {
			return nil
		}
		return []mark{{point{e.at * e.measure.factor, y * m.factor}, disc, stroke{colour: ink}, m.text(y)}}
	}
	upper := &chart{
		x:      across,
		y:      axis{"energy, " + each.unit, 0, roundUp(highest(use) * each.factor * 1.05)},
		curves: []curve{{points: scaled(use, e.measure, each), stroke: strokeOf(0), label: "energy per distance"}},
		marks:  mark(e.use(e.at), each),
	}
	if math.IsNaN(usable) {
		return []*chart{upper}, ""
	}
	upper.bare = true
	lower := &chart{
		x:      across,
		y:      axis{"range, " + far.unit, 0, roundUp(math.Max(highest(distance), orZero(target.Range)) * far.factor * 1.05)},
		curves: []curve{{points: scaled(distance, e.measure, far), stroke: strokeOf(1), label: "range"}},
		marks:  mark(reach(e.at), far),
	}
	if e.told {
		summary = fmt.Sprintf(" The usable energy gives %s.", far.text(reach(e.at)))
	}
	if !math.IsNaN(target.Range) {
		lower.rules = []rule{{at: target.Range * far.factor, label: "asked for: " + far.text(target.Range)}}
		summary += fmt.Sprintf(" The brief asks for %s.", far.text(target.Range))
	}
	return []*chart{upper, lower}, summary
}

// spent is a figure of energy and range.
func (s Subject) spent(title, summary string, charts []*chart) *Figure {
	return &Figure{
		Title: title, Of: s.drawn(), Summary: s.corner() + summary,
		width: figureWidth, height: figureHeight + 60, paint: func(c draw.Canvas) { stacked(c, charts) },
	}
}

// consumption is the energy per distance of a ride, J/m; NaN where its speed cannot
// be held.
func (s Subject) consumption(ride drive.Ride) float64 {
	b := s.Build
	r, ok := b.Board().Ride(ride, b.Battery.Pack.Nominal)
	if !ok || !s.holds(ride.Speed, ride.Wind) {
		return math.NaN()
	}
	return r.EnergyPerMetre * b.Problem.Brief.Limit.RideFactor
}

// holds reports whether the thrust holds a speed in m/s against a wind: of the best
// corner where it is not known.
func (s Subject) holds(v, wind float64) bool {
	b := s.Build
	if wind == 0 {
		return true
	}
	if !b.ThrustKnown() {
		b = b.Best()
	}
	return drive.AtLeast(trace.OnRoad(b.Board(), v), b.Board().Load(v+wind, 0))
}

// stacked draws charts over each other, their x axes in line.
func stacked(into draw.Canvas, charts []*chart) {
	plots := make([][]*plot.Plot, len(charts))
	for i, c := range charts {
		plots[i] = []*plot.Plot{c.plot()}
	}
	tiles := draw.Tiles{Cols: 1, Rows: len(charts), PadTop: yStrip, PadY: yStrip + 6, PadLeft: margin, PadRight: margin, PadBottom: 1}
	for i, row := range plot.Align(plots, tiles, into) {
		charts[i].over(row[0])
		plots[i][0].Draw(row[0])
	}
}

// highest is the greatest y that is a number.
func highest(points []point) float64 {
	most := 0.0
	for _, p := range points {
		if p.y > most {
			most = p.y
		}
	}
	return most
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
