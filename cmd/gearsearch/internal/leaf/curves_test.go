package leaf

import (
	"math"
	"testing"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
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
	if charts := Charts(nil, quantity.Metric); len(charts) != 0 {
		t.Errorf("%d charts of no build", len(charts))
	}
}
