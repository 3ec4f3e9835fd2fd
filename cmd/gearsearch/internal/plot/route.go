package plot

import (
	"errors"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"gearsearch/cmd/gearsearch/internal/trace"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// ErrNoRoute says that a figure cannot be drawn since the brief has no way to ride.
var ErrNoRoute = errors.New("the brief has no route: set ride.route")

// Errors of a ride that is not known: which data are lacking.
var (
	ErrRideCapacity = errors.New("the ride cannot be computed: it takes the battery's capacity_ah, or its cell")
	ErrRideCutoff   = errors.New("the ride cannot be computed: it takes the battery's cutoff_v, or its cell")
)

// routePanel is the height of a panel of a ride.
const routePanel = 132

// unheldStroke lies along the way where the motors do not hold the board.
var unheldStroke = stroke{hues[1], nil, 4.5}

// wantedStroke is the speed that is wanted.
var wantedStroke = stroke{hues[1], dashes[1], 1.2}

// ride is a build on the way of its brief, as it is drawn.
type ride struct {
	Subject
	trace.Ridden
	km, m, kmh, celsius measure
}

// Route draws the ride over the brief's way: its height, the speed that is wanted and
// the one that is ridden, the charge that is left and the winding's temperature. Where
// the board stalls the lines end.
func Route(s Subject) (*Figure, error) {
	r, err := newRide(s)
	if err != nil {
		return nil, err
	}
	charts := []*chart{r.heights()}
	if len(r.Legs) > 0 {
		charts = append(charts, r.speeds(), r.charges())
		if !math.IsNaN(r.Winding) {
			charts = append(charts, r.windings())
		}
	}
	for i, c := range charts {
		c.bare = i < len(charts)-1
		c.x = axis{"distance, " + r.km.unit, 0, r.km.of(r.Way.Length()) * 1.02}
		if r.Stalled && i > 0 {
			c.rules = append(c.rules, rule{at: r.km.of(r.Metres), vertical: true})
		}
	}
	of := s.drawn()
	if r.AtBest {
		of = "best of what is not known: " + s.Name()
	}
	return &Figure{
		Title: "Ride over the route", Of: of, Summary: r.summary(),
		width: figureWidth, height: routePanel*vg.Length(len(charts)) + yStrip + 6,
		paint: func(c draw.Canvas) { stacked(c, charts) },
	}, nil
}

// Ride rides the brief's way. The error says what is lacking for it.
func Ride(b *constraints.Build) (trace.Ridden, error) {
	ridden, ok := trace.Ride(b)
	switch {
	case ok:
		return ridden, nil
	case !b.Problem.HasRoute():
		return ridden, ErrNoRoute
	case b.Battery.Pack.Capacity == 0:
		return ridden, ErrRideCapacity
	}
	return ridden, ErrRideCutoff
}

// newRide rides the way of a figure.
func newRide(s Subject) (*ride, error) {
	ridden, err := Ride(s.Build)
	if err != nil {
		return nil, err
	}
	return &ride{s, ridden, s.measure("km", 1e-3), s.measure("m", 1), s.speed(), s.measure("°C", 1)}, nil
}

// heights is the height of the way, with stops, and with where the motors do not hold
// the board. All of the way is drawn.
func (r *ride) heights() *chart {
	line := []point{}
	for s := range r.Way.Spots() {
		line = append(line, point{s.At, s.Height})
	}
	unheld := r.line(func(l *trace.Leg) (from, to float64) {
		if !l.Unheld {
			return math.NaN(), math.NaN()
		}
		return l.Height - l.Rise, l.Height
	})
	c := &chart{y: axis{label: "height, " + r.m.unit}, curves: []curve{
		{points: r.thinned(unheld, r.m), stroke: unheldStroke, label: "the motors do not hold it"},
		{points: r.thinned(line, r.m), stroke: stroke{ink, nil, 1.4}},
	}}
	if !(r.Unheld > 0) {
		c.curves = c.curves[1:]
	}
	c.y.min, c.y.max = r.room(line)
	c.marks, c.curves = r.stops(c.curves)
	if r.Stalled {
		at := point{r.km.of(r.Metres), r.m.of(r.height())}
		c.marks = append(c.marks, mark{at, cross, strokeOf(1), "stalls at " + r.km.text(r.Metres)})
	}
	return c
}

// height is the height in m at which the ride ends.
func (r *ride) height() float64 {
	if n := len(r.Legs); n > 0 {
		return r.Legs[n-1].Height
	}
	return r.Way.Height
}

// room are the ends of the axis of heights, with room for names above.
func (r *ride) room(line []point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range line {
		low, high = math.Min(low, r.m.of(p.y)), math.Max(high, r.m.of(p.y))
	}
	const least = 10 // m, so that a flat way looks flat
	span := math.Max(high-low, least*r.m.factor)
	return low - 0.15*span, high + 0.45*span
}

// mostStopMarks is up to how many stops each have a mark.
const mostStopMarks = 60

// stops are the marks of stops on the way, and the curves with their name.
func (r *ride) stops(curves []curve) ([]mark, []curve) {
	var marks []mark
	named := curve{label: "stops", hidden: true}
	for i := range r.Legs {
		if l := &r.Legs[i]; l.Stop {
			at := point{r.km.of(l.To), r.m.of(l.Height)}
			marks = append(marks, mark{at, tick, stroke{colour: ink}, ""})
			named.points = append(named.points, at)
		}
	}
	if len(marks) == 0 || len(marks) > mostStopMarks {
		return nil, curves
	}
	if len(marks) == 1 {
		named.label = "stop"
	}
	return marks, append(curves, named)
}

// speeds are the wanted speed and the ridden one.
func (r *ride) speeds() *chart {
	wanted := r.line(func(l *trace.Leg) (from, to float64) { return l.Wanted, l.Wanted })
	ridden := r.line(func(l *trace.Leg) (from, to float64) { return l.Speed, l.Speed })
	c := &chart{
		y: axis{"speed, " + r.kmh.unit, 0, roundUp(highest(wanted) * 1.45 * r.kmh.factor)},
		curves: []curve{
			{points: r.thinned(wanted, r.kmh), stroke: wantedStroke, label: "wanted"},
			{points: r.thinned(ridden, r.kmh), stroke: strokeOf(0), label: "ridden"},
		},
	}
	slow := r.slowest()
	if slow == nil {
		c.curves = c.curves[1:]
		c.curves[0].label = "wanted and ridden"
		return c
	}
	c.marks = []mark{{point{r.km.of((slow.From + slow.To) / 2), r.kmh.of(slow.Speed)}, disc, stroke{colour: ink}, r.kmh.text(slow.Speed)}}
	return c
}

// charges is the charge that is left, with the reserve.
func (r *ride) charges() *chart {
	left := r.from(r.Start, func(l *trace.Leg) float64 { return l.Left })
	left = append(left, point{r.Metres, r.Left})
	share := measure{"%", 100, 1, 0}
	reserve := r.Build.Problem.Brief.Limit.Reserve
	c := &chart{
		y:      axis{"charge left, % of the usable", 0, 100},
		curves: []curve{{points: r.thinned(left, share), stroke: strokeOf(0)}},
		rules:  []rule{{at: share.of(reserve), label: "reserve: " + digits(share.of(reserve), 1) + " %"}},
		marks:  []mark{{point{r.km.of(r.Metres), share.of(r.Left)}, disc, stroke{colour: ink}, share.text(r.Left)}},
	}
	if r.Left < 0 {
		c.y.min = -roundUp(-share.of(r.Left))
	}
	return c
}

// windings is the winding's temperature, with its limit and how far its rise may be
// off.
func (r *ride) windings() *chart {
	limit := r.Build.Problem.Brief.Limit.WindingMax
	off := func(share float64) []point {
		return r.thinned(r.from(r.Air, func(l *trace.Leg) float64 { return r.Air + float64((1+share)*(l.Winding-r.Air)) }), r.celsius)
	}
	c := &chart{
		y: axis{label: "winding, " + r.celsius.unit + " (good to ± 40 % of its rise)"},
		curves: []curve{
			{points: off(0), stroke: strokeOf(0)},
			{points: off(heatDoubt), stroke: doubts},
			{points: off(-heatDoubt), stroke: doubts},
		},
		rules: []rule{{at: r.celsius.of(limit), label: "limit: " + heatLimit(limit, r.celsius)}},
	}
	at, hot := r.hottest()
	c.marks = []mark{{point{r.km.of(at), r.celsius.of(hot)}, disc, stroke{colour: ink}, heatText(hot, r.celsius)}}
	most := math.Max(limit, math.Min(r.Air+(1+heatDoubt)*(hot-r.Air), drive.HottestKnown))
	c.y.max = roundUp(r.celsius.of(most) * 1.15)
	if cold := r.celsius.of(r.Air); cold < 0 {
		c.y.min = -roundUp(-cold)
	}
	return c
}

// line are the points of something that each leg has at its start and at its end.
func (r *ride) line(ends func(l *trace.Leg) (from, to float64)) []point {
	var out []point
	for i := range r.Legs {
		l := &r.Legs[i]
		from, to := ends(l)
		out = append(out, point{l.From, from}, point{l.To, to})
	}
	return out
}

// from are the points of something that goes on from leg to leg.
func (r *ride) from(start float64, end func(l *trace.Leg) float64) []point {
	out := []point{{0, start}}
	for i := range r.Legs {
		out = append(out, point{r.Legs[i].To, end(&r.Legs[i])})
	}
	return out
}
