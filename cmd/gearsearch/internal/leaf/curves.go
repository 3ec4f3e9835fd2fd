package leaf

import (
	"math"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/trace"
	"gearsearch/constraints"
)

// Chart is curves of several builds that can be laid over one another: values at steps
// of one x.
type Chart struct {
	Title string        `json:"title"`
	X     Axis          `json:"x"`
	Y     Axis          `json:"y"`
	Step  float64       `json:"step"`  // of x, in its unit; the first value is at 0
	Lines []string      `json:"lines"` // what each build has: the first is drawn strong
	Of    [][][]float64 `json:"of"`    // by build and line; null where a build has none, short where it ends
}

// Axis is what an axis shows.
type Axis struct {
	Name     string `json:"name"`
	Unit     string `json:"unit"`
	Decimals int    `json:"decimals"` // that a value is read with
}

// Charts are the curves of builds of one problem: thrust and load over speed, and the
// heat of their motors along the hill of the brief; none where no build has any.
func Charts(builds []*constraints.Build, system quantity.System) []Chart {
	return drawable(thrusts(builds, system), heats(builds, system))
}

// drawable are the charts that some build has a curve in.
func drawable(charts ...Chart) []Chart {
	out := []Chart{}
	for _, c := range charts {
		if c.Of != nil {
			out = append(out, c)
		}
	}
	return out
}

// The steps of curves, in the unit that is shown.
const (
	speedSteps  = 0.5
	metresParts = 50
	wayParts    = 120
)

// measured are the numbers of a curve: in the unit that is shown, and how they go from
// SI to it.
type measured struct {
	Axis
	factor, zero float64
}

func newMeasured(system quantity.System, name, metric string, perSI float64) measured {
	zero, unit := system.Value(0, metric)
	one, _ := system.Value(1, metric)
	return measured{Axis{name, unit, quantity.Decimals(unit)}, perSI * (one - zero), zero}
}

// of is a value as it is read: with its decimals and no more.
func (m *measured) of(si float64) float64 {
	scale := math.Pow(10, float64(m.Decimals))
	return math.Round((si*m.factor+m.zero)*scale) / scale
}

// thrusts is what pushes each build and what the flat takes, at the charge that the
// brief asks for.
func thrusts(builds []*constraints.Build, system quantity.System) Chart {
	x, y := newMeasured(system, "speed", "km/h", 3.6), newMeasured(system, "force", "N", 1)
	c := Chart{Title: "Thrust and load on the flat", X: x.Axis, Y: y.Axis, Step: speedSteps, Lines: []string{"thrust", "load on the flat"}}
	for i, b := range builds {
		if !b.ThrustKnown() {
			continue
		}
		board := b.Board()
		end := trace.End(board, b.Battery.Pack.Volts, b.Problem.Brief.Target.ClimbSpeed)
		c.add(len(builds), i, end*x.factor, func(at float64) []float64 {
			v := at / x.factor
			return []float64{y.of(math.Max(0, trace.OnRoad(board, v))), y.of(board.Load(v, 0))}
		})
	}
	return c
}

// heats is how warm the windings of each build get along the hill, from cold.
func heats(builds []*constraints.Build, system quantity.System) Chart {
	x, y := newMeasured(system, "way up the hill", "m", 1), newMeasured(system, "temperature", "°C", 1)
	c := Chart{Title: "Heat of a motor on the hill", X: x.Axis, Y: y.Axis, Lines: []string{"winding"}}
	for i, b := range builds {
		w, ok := trace.Hill(b)
		if !ok {
			continue
		}
		length := b.Problem.Brief.Target.ClimbLength * x.factor
		c.Step = length / metresParts
		c.add(len(builds), i, length, func(at float64) []float64 {
			hot := w.Winding(math.Min(at, length) / x.factor)
			if math.IsNaN(hot) {
				return nil
			}
			return []float64{y.of(hot)}
		})
	}
	return c
}

// Rides is how fast each build is on the way of the brief, what is left of its charge
// and how warm its windings get, up to where it stalls; none where no build has any.
func Rides(builds []*constraints.Build, system quantity.System) []Chart {
	x := newMeasured(system, "distance", "km", 0.001)
	speed, share, celsius := newMeasured(system, "speed", "km/h", 3.6), newMeasured(system, "charge left", "%", 100), newMeasured(system, "temperature", "°C", 1)
	charts := []Chart{
		{Title: "Speed on the route", Y: speed.Axis, Lines: []string{"ridden"}},
		{Title: "Charge left on the route, of the usable", Y: share.Axis, Lines: []string{"charge"}},
		{Title: "Winding on the route", Y: celsius.Axis, Lines: []string{"winding"}},
	}
	values := []func(l *trace.Leg, left, winding float64) float64{
		func(l *trace.Leg, _, _ float64) float64 { return speed.of(l.Speed) },
		func(_ *trace.Leg, left, _ float64) float64 { return share.of(left) },
		func(_ *trace.Leg, _, winding float64) float64 { return celsius.of(winding) },
	}
	for i, b := range builds {
		w, ok := trace.Ride(b)
		if !ok {
			continue
		}
		length := w.Way.Length() * x.factor
		for n := range charts {
			c := &charts[n]
			c.X, c.Step = x.Axis, length/wayParts
			if n == 2 && math.IsNaN(w.Winding) {
				continue
			}
			c.add(len(builds), i, length, func(at float64) []float64 {
				l, left, winding := w.At(math.Min(at, length) / x.factor)
				if l == nil {
					return nil
				}
				y := values[n](l, left, winding)
				if math.IsNaN(y) {
					return nil
				}
				return []float64{y}
			})
		}
	}
	return drawable(charts...)
}

// add adds the curves of the build at i of n, up to an end; values are nil from where
// there are none.
func (c *Chart) add(n, i int, end float64, values func(x float64) []float64) {
	if c.Of == nil {
		c.Of = make([][][]float64, n)
	}
	lines := make([][]float64, len(c.Lines))
	const hair = 1e-9
	for k := 0; float64(k)*c.Step <= end*(1+hair); k++ {
		v := values(float64(k) * c.Step)
		if v == nil {
			break
		}
		for l := range lines {
			lines[l] = append(lines[l], v[l])
		}
	}
	c.Of[i] = lines
}

// laid is the place of the curves of builds side by side.
func laid() *Node { return el("div", class("laid")) }
