package plot

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"gearsearch/search/fit"
)

// mostNamed is how many runs or rides have their names: more would stand over each
// other.
const mostNamed = 6

// Fit draws records beside their fit: the speeds of coast-downs over time with the
// fitted curves, the energy of rides over their speed with what is computed for them,
// and below each how far every record is off.
func Fit(s Subject, r *fit.Result) *Figure {
	var charts []*chart
	if len(r.Runs) > 0 {
		charts = append(charts, s.coasting(r)...)
	}
	if len(r.Rides) > 0 {
		charts = append(charts, s.metered(r)...)
	}
	height := figureHeight + 60
	if len(charts) > 2 {
		height += figureHeight - 40
	}
	return &Figure{
		Title: "Records and their fit", Of: s.Name(), Summary: s.fitSummary(r),
		width: figureWidth, height: vg.Length(height), paint: func(c draw.Canvas) { stacked(c, charts) },
	}
}

// fitSummary says what the fit shows.
func (s Subject) fitSummary(r *fit.Result) string {
	speed := s.speed()
	text := fmt.Sprintf("Fitted: rolling resistance %s, drag area %s m².", digits(r.Rolling.Value, 4), digits(r.Drag.Value, 3))
	if n := len(r.Runs); n > 0 {
		text += fmt.Sprintf(" Coast-downs (%d) are off by %s %s, root mean square.", n, digits(r.RunScatter*speed.factor, 2), speed.unit)
	}
	if n := len(r.Rides); n > 0 {
		most := 0.0
		for i := range r.Rides {
			most = math.Max(most, math.Abs(r.Rides[i].Computed/r.Rides[i].Energy-1))
		}
		text += fmt.Sprintf(" Rides (%d) are off by %s %% at most.", n, digits(most*100, 1))
	}
	return text
}

// coasting are the charts of coast-downs: speeds, and how far they are off.
func (s Subject) coasting(r *fit.Result) []*chart {
	speed, second := s.speed(), measure{"s", 1, 1, 0}
	var data, off []point
	var curves []curve
	end, fastest, farthest := 0.0, 0.0, 0.0
	for i := range r.Runs {
		run := &r.Runs[i]
		last := run.Times[len(run.Times)-1] - run.Times[0]
		at := func(t float64) float64 { return run.Coast.Speed(run.Start, t) }
		for j, t := range run.Times {
			t -= run.Times[0]
			data = append(data, point{t, run.Speeds[j] * speed.factor})
			d := (at(t) - run.Speeds[j]) * speed.factor
			off = append(off, point{t, d})
			farthest = math.Max(farthest, math.Abs(d))
			fastest = math.Max(fastest, run.Speeds[j])
		}
		end, fastest = math.Max(end, last), math.Max(fastest, run.Start)
		label := ""
		if i < mostNamed {
			label = fmt.Sprintf("run %d", i+1)
		}
		curves = append(curves, curve{points: scaled(samples(0, last, resolution, at), second, speed), stroke: strokeOf(i), label: label})
	}
	across := axis{"time, s", 0, end * 1.04}
	reach := roundUp(math.Max(farthest*1.1, 0.1))
	return []*chart{
		{x: across, y: axis{"speed, " + speed.unit, 0, roundUp(fastest * 1.08 * speed.factor)}, curves: curves, cloud: data, bare: true},
		{x: across, y: axis{"fitted less recorded, " + speed.unit, -reach, reach}, rules: []rule{{at: 0}}, cloud: off},
	}
}

// metered are the charts of rides: energy, and how far it is off.
func (s Subject) metered(r *fit.Result) []*chart {
	speed, each := s.speed(), s.each()
	var metered, off []mark
	fastest, most, farthest := 0.0, 0.0, 0.0
	for i := range r.Rides {
		ride := &r.Rides[i]
		label := ""
		if i < mostNamed {
			label = fmt.Sprintf("ride %d", i+1)
		}
		x, d := ride.Speed*speed.factor, 100*(ride.Computed/ride.Energy-1)
		metered = append(metered,
			mark{point{x, ride.Energy * each.factor}, disc, strokeOf(0), label},
			mark{point{x, ride.Computed * each.factor}, cross, strokeOf(1), ""})
		off = append(off, mark{point{x, d}, disc, strokeOf(0), label})
		fastest, most = math.Max(fastest, x), math.Max(most, math.Max(ride.Energy, ride.Computed)*each.factor)
		farthest = math.Max(farthest, math.Abs(d))
	}
	across := axis{"mean speed, " + speed.unit, 0, roundUp(fastest * 1.15)}
	reach := roundUp(math.Max(farthest*1.4, 1))
	return []*chart{
		{x: across, y: axis{"energy, " + each.unit + " (disc metered, cross fitted)", 0, roundUp(most * 1.2)}, marks: metered, bare: true},
		{x: across, y: axis{"fitted less metered, %", -reach, reach}, rules: []rule{{at: 0}}, marks: off},
	}
}
