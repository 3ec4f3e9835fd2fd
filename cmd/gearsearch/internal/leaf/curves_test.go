package leaf

import (
	"math"
	"testing"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/route"
	"gearsearch/drive"
)

// TestChartsAreThoseOfTheBuilds holds values of curves to package drive: the thrust and
// the load at a speed, in both systems, and the winding's temperature at the end of the
// hill to the figure of it.
func TestChartsAreThoseOfTheBuilds(t *testing.T) {
	c, brief := demo(t, "harbour")
	r := rank(t, c, brief, 4)
	var builds []*constraints.Build
	for s := range r.Builds() {
		builds = append(builds, s.Build)
	}
	for _, x := range []struct {
		system         quantity.System
		speed, force   float64 // of a unit that is shown, in SI
		decimals       float64
		speedU, force2 string
	}{
		{quantity.Metric, 1 / 3.6, 1, 1, "km/h", "N"},
		{quantity.Imperial, 0.44704, 4.4482216152605, 1, "mph", "lbf"},
	} {
		charts := Charts(builds, x.system)
		if len(charts) != 2 {
			t.Fatalf("%d charts", len(charts))
		}
		thrust := charts[0]
		if thrust.X.Unit != x.speedU || thrust.Y.Unit != x.force2 {
			t.Errorf("thrust over %s in %s", thrust.X.Unit, thrust.Y.Unit)
		}
		for i, b := range builds {
			for _, n := range []int{0, 20, len(thrust.Of[i][0]) / 2} {
				v := float64(n) * thrust.Step * x.speed
				want := []float64{math.Max(0, math.Min(b.Board().Thrust(v), b.Board().GripThrust(0))), b.Board().Load(v, 0)}
				for l, newton := range want {
					half := 0.5000001 * math.Pow(10, -float64(thrust.Y.Decimals))
					if got := thrust.Of[i][l][n]; math.Abs(got-newton/x.force) > half {
						t.Errorf("%s of build %d at %v m/s: %v %s, want %v", thrust.Lines[l], i, v, got, x.force2, newton/x.force)
					}
				}
			}
			if x.system == quantity.Metric {
				heat := charts[1].Of[i][0]
				if got := heat[len(heat)-1]; math.Abs(got-b.WindingEnd()) > 0.51*math.Pow(10, -float64(charts[1].Y.Decimals)) {
					t.Errorf("the winding of build %d ends at %v °C, want %v", i, got, b.WindingEnd())
				}
				if length := float64(len(heat)-1) * charts[1].Step; math.Abs(length-brief.Target.ClimbLength) > 1e-6 {
					t.Errorf("the hill is %v m long, want %v", length, brief.Target.ClimbLength)
				}
			}
		}
	}
}

// TestChartsWithoutAHill: nobody asks for heat where the brief has no hill with a length.
func TestChartsWithoutAHill(t *testing.T) {
	c, brief := demo(t, "harbour")
	brief.Target.ClimbLength = math.NaN()
	b := rank(t, c, brief, 1).At(0).Build
	if charts := Charts([]*constraints.Build{b}, quantity.Metric); len(charts) != 1 || charts[0].Lines[0] != "thrust" {
		t.Errorf("%d charts", len(charts))
	}
	if charts := Rides([]*constraints.Build{b}, quantity.Metric); len(charts) != 0 {
		t.Errorf("%d charts without a route", len(charts))
	}
	if charts := Charts(nil, quantity.Metric); len(charts) != 0 {
		t.Errorf("%d charts of no build", len(charts))
	}
}

// TestChartsOfARoute holds the curves along the way of a brief to the ride of package
// drive: the speed of legs, the charge and the warmth at their ends, and where it stalls.
func TestChartsOfARoute(t *testing.T) {
	c, brief := demo(t, "lastmile")
	r := rank(t, c, brief, 2)
	src, _ := catalog.DemoRoute("forest")
	way, err := route.ReadCSV(src, constraints.Surfaces())
	if err != nil {
		t.Fatal(err)
	}
	asking := brief.Clone()
	asking.Way = way
	p, err := constraints.NewProblem(c, asking)
	if err != nil {
		t.Fatal(err)
	}
	var builds []*constraints.Build
	for s := range r.Builds() {
		b, err := p.Find(s.Build.File())
		if err != nil {
			t.Fatal(err)
		}
		builds = append(builds, b)
	}
	charts := Rides(builds, quantity.Metric)
	if len(charts) != 3 {
		t.Fatalf("%d charts", len(charts))
	}
	for i, title := range []string{"Speed on the route", "Charge left on the route, of the usable", "Winding on the route"} {
		if charts[i].Title != title || math.Abs(charts[i].Step*wayParts-way.Length()/1000) > 1e-9 {
			t.Errorf("chart %d is %q in steps of %v km", i, charts[i].Title, charts[i].Step)
		}
	}
	stalls := 0
	for i, b := range builds {
		type end struct{ at, speed, left, winding float64 }
		usable := brief.Limit.Usable
		ends := []end{{0, 0, 100 * (brief.Ride.Start - 1 + usable) / usable, p.Air()}}
		ridden, ok := b.RideRoute(func(x *drive.Passage) {
			ends = append(ends, end{x.Metres, x.Speed * 3.6, 100 * (x.Charge - 1 + usable) / usable, x.Warm.Winding})
		})
		if !ok {
			t.Fatal("no ride")
		}
		for _, c := range charts {
			line := c.Of[i][0]
			if got := float64(len(line)-1) * c.Step * 1000; got > ridden.Metres+1e-6 || got < ridden.Metres-1000*c.Step-1e-6 {
				t.Errorf("%s of build %d ends at %v m, the ride at %v m", c.Title, i, got, ridden.Metres)
			}
		}
		if ridden.Stalled {
			stalls++
		}
		for n := range charts[0].Of[i][0] {
			at, k := float64(n)*charts[0].Step*1000, 1
			for k+1 < len(ends) && ends[k].at < at-1e-6 {
				k++
			}
			share := (at - ends[k-1].at) / (ends[k].at - ends[k-1].at)
			for m, want := range []float64{ends[k].speed, ends[k-1].left + share*(ends[k].left-ends[k-1].left), ends[k-1].winding + share*(ends[k].winding-ends[k-1].winding)} {
				if got := charts[m].Of[i][0][n]; math.Abs(got-want) > 0.0501 {
					t.Fatalf("%s of build %d after %v m: %v, want %v", charts[m].Title, i, at, got, want)
				}
			}
		}
	}
	if stalls == 0 {
		t.Error("no build stalls: nothing is held to the ends of lines")
	}
}
