package plot

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/route"
	"gearsearch/drive"
)

// demoRoute is an embedded way.
func demoRoute(t testing.TB, name string) *route.Route {
	t.Helper()
	src, ok := catalog.DemoRoute(name)
	if !ok {
		t.Fatalf("no route %s", name)
	}
	way, err := route.ReadCSV(src, constraints.Surfaces())
	if err != nil {
		t.Fatal(err)
	}
	return way
}

// onRoute is a build whose brief has an embedded way as well.
func onRoute(t testing.TB, s Subject, name string, change ...func(b *constraints.Brief)) Subject {
	t.Helper()
	return onWay(t, s, demoRoute(t, name), change...)
}

func onWay(t testing.TB, s Subject, way *route.Route, change ...func(b *constraints.Brief)) Subject {
	t.Helper()
	brief := s.Build.Problem.Brief.Clone()
	brief.Way = way
	for _, f := range change {
		f(brief)
	}
	b, err := problemOf(t, brief).Find(s.Build.File())
	if err != nil {
		t.Fatal(err)
	}
	return Subject{b, s.System}
}

// slopes is a way of legs of 25 m with these rises.
func slopes(rises ...float64) *route.Route {
	way := &route.Route{Name: "slopes", Height: 100}
	for _, up := range rises {
		way.Legs = append(way.Legs, route.Leg{Length: route.Grid, Rise: up, Speed: math.NaN()})
	}
	return way
}

// repeated is a number so many times.
func repeated(x float64, n int) []float64 { return slices.Repeat([]float64{x}, n) }

// panel is a part of a drawing of charts over each other: what stands from the name of
// its y axis to that of the next.
func panel(d *drawing, name, next string) *drawing {
	top, bottom := math.Inf(1), math.Inf(1)
	for _, e := range d.texts {
		if strings.HasPrefix(e.text, name) {
			top = e.y
		}
		if next != "" && strings.HasPrefix(e.text, next) {
			bottom = e.y
		}
	}
	out := &drawing{}
	for _, e := range d.texts {
		if e.y >= top && e.y < bottom {
			out.texts = append(out.texts, e)
		}
	}
	for _, p := range d.paths {
		if len(p.points) > 0 && p.points[0][1] >= top && p.points[0][1] < bottom {
			out.paths = append(out.paths, p)
		}
	}
	return out
}

// upScale is the map from the frame to the data along a y axis, by the ticks nearest to
// its labels.
func upScale(t testing.TB, d *drawing) func(float64) float64 {
	t.Helper()
	var at, value []float64
	for _, e := range d.texts {
		var x float64
		if _, err := fmt.Sscan(strings.ReplaceAll(e.text, "\u202f", ""), &x); err != nil || e.size != tickSize {
			continue
		}
		for _, p := range d.paths {
			if len(p.points) == 2 && p.points[0][1] == p.points[1][1] && math.Abs(p.points[0][0]-p.points[1][0]) == 4 && math.Abs(p.points[0][1]-e.y+0.35*tickSize) < 2 {
				at, value = append(at, p.points[0][1]), append(value, x)
			}
		}
	}
	if len(at) < 2 {
		t.Fatalf("%d ticks", len(at))
	}
	last := len(at) - 1
	per := (value[last] - value[0]) / (at[last] - at[0])
	return func(y float64) float64 { return value[0] + (y-at[0])*per }
}

// between is the height of a line at x, from the piece that is there.
func between(points [][2]float64, x float64) float64 {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if a[0] <= x && x <= b[0] && a[0] < b[0] {
			return a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
		}
	}
	return math.NaN()
}

// TestRouteIsTheModels holds every panel in the middle of every leg to the ride of
// package drive.
func TestRouteIsTheModels(t *testing.T) {
	for _, tt := range []struct{ brief, way string }{{"harbour", "harbour"}, {"lastmile", "forest"}, {"trail", "forest"}} {
		r, err := rank(tt.brief, 1)
		if err != nil {
			t.Fatal(err)
		}
		s := onRoute(t, Subject{Build: r.At(0).Build}, tt.way)
		f, err := Route(s)
		if err != nil {
			t.Fatal(err)
		}
		d := read(t, f.Inline())
		what := tt.brief + " on " + tt.way
		lowest := panel(d, "winding, ", "")
		bottom := slices.MaxFunc(lowest.texts, func(a, b textElement) int { return int(a.y - b.y) }).y // the name of the axis
		ticks := 0.0
		for _, e := range lowest.texts {
			if e.y < bottom {
				ticks = max(ticks, e.y)
			}
		}
		x := scaleOf(t, lowest, false, func(e textElement) bool { return e.y == ticks })
		curve := func(name, next string, k stroke) [][2]float64 {
			p := panel(d, name, next)
			return p.points(k, x, upScale(t, p))
		}
		speeds := curve("speed, ", "charge left", strokeOf(0))
		charges := curve("charge left", "winding, ", strokeOf(0))
		up := panel(d, "winding, ", "")
		up.texts = slices.DeleteFunc(up.texts, func(e textElement) bool { return e.y == ticks })
		windings := up.points(strokeOf(0), x, upScale(t, up))
		brief := s.Build.Problem.Brief
		left := func(charge float64) float64 { return 100 * (charge - 1 + brief.Limit.Usable) / brief.Limit.Usable }
		before, warm, from, legs := left(brief.Ride.Start), s.Build.Problem.Air(), 0.0, 0
		end, ok := s.Build.RideRoute(func(p *drive.Passage) {
			legs++
			middle := (from + p.Metres) / 2000
			for name, pair := range map[string][2]float64{
				"speed":   {between(speeds, middle), p.Speed * 3.6},
				"charge":  {between(charges, middle), (before + left(p.Charge)) / 2},
				"winding": {between(windings, middle), (warm + p.Warm.Winding) / 2},
			} {
				slack := 0.15 // of the unit: some hundredths of a pixel, and what a stop takes
				if !(math.Abs(pair[0]-pair[1]) <= slack) {
					t.Errorf("%s: the %s after %.3f km is drawn at %.3f, want %.3f", what, name, middle, pair[0], pair[1])
				}
			}
			before, warm, from = left(p.Charge), p.Warm.Winding, p.Metres
		})
		if !ok || legs < 200 {
			t.Fatalf("%s: %d legs", what, legs)
		}
		last := speeds[len(speeds)-1]
		if want := end.Metres / 1000; math.Abs(last[0]-want) > 0.02 {
			t.Errorf("%s: the speed ends at %.3f km, want %.3f", what, last[0], want)
		}
		if stalls := d.has("stalls at " + Subject{}.measure("km", 1e-3).text(end.Metres)); stalls != end.Stalled {
			t.Errorf("%s: it stalls: %t, the drawing says %t", what, end.Stalled, stalls)
		}
	}
}

// TestRouteTellsTheRide: what there is to say of a ride is in the drawing or in its
// words.
func TestRouteTellsTheRide(t *testing.T) {
	r, err := rank("trail", 1)
	if err != nil {
		t.Fatal(err)
	}
	s := Subject{Build: r.At(0).Build}
	full := func(b *constraints.Brief) { b.Ride.Start = 1 }
	none := func(b *constraints.Brief) {}
	unheld := "the motors do not hold it"
	for _, tt := range []struct {
		why     string
		way     *route.Route
		change  func(b *constraints.Brief)
		drawn   []string
		undrawn []string
		says    []string
	}{
		{why: "a full pack takes nothing downhill", way: slopes(repeated(-2, 20)...), change: full, drawn: []string{unheld}, says: []string{"Downhill the motors do not hold it on "}},
		{why: "flat", way: slopes(repeated(0, 20)...), change: none, undrawn: []string{unheld, "stop", "stalls at", "wanted"}, says: []string{"It keeps the wanted speed.", "The motors hold it down every slope.", "the reserve is 10 %"}},
		{why: "a wall after a while", way: slopes(append(repeated(0, 8), repeated(30, 4)...)...), change: none, drawn: []string{"stalls at 0.2 km"}, says: []string{"The board stalls after 0.2 km of 0.3 km, where the lines end."}},
		{why: "a wall at the start", way: slopes(repeated(30, 4)...), change: none, drawn: []string{"stalls at 0.0 km", "height, m"}, undrawn: []string{"speed", "charge", "winding"}, says: []string{"stalls at the start"}},
		{why: "slower than wanted", way: slopes(repeated(5, 40)...), change: func(b *constraints.Brief) { b.Target.Cruise = 45 / 3.6 }, drawn: []string{"wanted", "ridden"}, says: []string{"It is slower than wanted on 1 000 m, slowest with "}},
	} {
		f, err := Route(onWay(t, s, tt.way, tt.change))
		if err != nil {
			t.Errorf("%s: %v", tt.why, err)
			continue
		}
		d := read(t, f.Inline())
		for _, want := range tt.drawn {
			if !d.has(want) {
				t.Errorf("%s: it does not show %q", tt.why, want)
			}
		}
		for _, none := range tt.undrawn {
			if slices.ContainsFunc(d.texts, func(e textElement) bool {
				return e.text == none || strings.HasPrefix(e.text, none+",")
			}) {
				t.Errorf("%s: it shows %q", tt.why, none)
			}
		}
		for _, want := range tt.says {
			if !strings.Contains(strings.ReplaceAll(f.Summary, "\u202f", " "), want) {
				t.Errorf("%s: it says %q, want %q", tt.why, f.Summary, want)
			}
		}
	}
}

// TestRouteLacks: without a way, and without what a ride takes of the pack, the error
// names it; without the motor's mass there is no line of the winding.
func TestRouteLacks(t *testing.T) {
	r, err := rank("harbour", 1)
	if err != nil {
		t.Fatal(err)
	}
	s := Subject{Build: r.At(0).Build}
	if _, err := Route(s); !errors.Is(err, ErrNoRoute) {
		t.Errorf("no way: %v", err)
	}
	for _, tt := range []struct {
		lacks string
		blank func(b *constraints.Build)
		want  error
	}{
		{"capacity_ah", func(b *constraints.Build) { b.Battery.Pack.Capacity = 0 }, ErrRideCapacity},
		{"cutoff_v", func(b *constraints.Build) { b.Battery.Pack.Cutoff = 0 }, ErrRideCutoff},
	} {
		rides := onRoute(t, s, "harbour")
		tt.blank(rides.Build)
		if _, err := Route(rides); !errors.Is(err, tt.want) || !strings.Contains(err.Error(), tt.lacks) {
			t.Errorf("without %s: %v", tt.lacks, err)
		}
	}
	rides := onRoute(t, s, "harbour")
	m := *rides.Build.Motor.Motor
	m.Mass, m.CanDiameter, m.CanLength = math.NaN(), math.NaN(), math.NaN()
	rides.Build.Motor.Motor = &m
	f, err := Route(rides)
	if err != nil {
		t.Fatal(err)
	}
	if d := read(t, f.Inline()); d.has("winding") || !strings.Contains(f.Summary, "The windings' temperature is not known: that takes the motor's mass_g") {
		t.Errorf("without the motor's mass it says %q", f.Summary)
	}
}

// TestRouteIsClear: on both embedded ways no text is out of the frame, covers another
// or has something run through it.
func TestRouteIsClear(t *testing.T) {
	for _, src := range catalog.DemoBriefs() {
		_, subjects := firstBuilds(t, catalog.DemoBriefName(src))
		for i, s := range subjects {
			for _, way := range catalog.DemoRoutes() {
				for _, system := range []quantity.System{quantity.Metric, quantity.Imperial} {
					s.System = system
					what := fmt.Sprintf("build %d of %s on %s in units %d", i, catalog.DemoBriefName(src), catalog.DemoRouteName(way), system)
					whole, err := Route(onRoute(t, s, catalog.DemoRouteName(way)))
					if err != nil {
						t.Errorf("%s: %v", what, err)
						continue
					}
					for _, f := range []*Figure{whole, whole.Within(360), whole.Within(narrowest)} {
						d := inFrame(t, what, f)
						for _, name := range crossed(t, d) {
							t.Errorf("%s: something runs through %q", what, name)
						}
						for _, pair := range covering(d) {
							t.Errorf("%s: %q and %q cover each other", what, pair[0], pair[1])
						}
					}
				}
			}
		}
		if testing.Short() {
			return
		}
	}
}

// TestLongRouteIsSmall: of the longest way no more is drawn than can be seen, and none
// of its peaks is lost.
func TestLongRouteIsSmall(t *testing.T) {
	var points []point
	for i := range 40_000 {
		y := float64(i % 7)
		switch i {
		case 12_345:
			y = 99
		case 23_456:
			y = -99
		case 30_000:
			y = math.NaN()
		}
		points = append(points, point{float64(i), y})
	}
	kept := inColumns(points, 40_000.0/columns)
	if len(kept) > 5*columns {
		t.Errorf("%d of %d points are kept", len(kept), len(points))
	}
	for _, i := range []int{0, 12_345, 23_456, 39_999} {
		if !slices.Contains(kept, points[i]) {
			t.Errorf("point %d is lost", i)
		}
	}
	if !slices.ContainsFunc(kept, func(p point) bool { return p.x == 30_000 && math.IsNaN(p.y) }) {
		t.Error("a gap is lost")
	}
	if !slices.IsSortedFunc(kept, func(a, b point) int { return int(a.x - b.x) }) {
		t.Error("the points have lost their order")
	}
}
