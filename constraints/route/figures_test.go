package route

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

func TestProfile(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		why, text string
		want      Profile
	}{
		{
			"up, along and down, over three surfaces", "distance_m,height_m,speed_kmh,surface,stop\n0,10,,,\n50,10,18,gravel,\n150,22,,,1\n400,22,36,asphalt,\n500,17,,,x\n",
			Profile{
				Length: 500, Climb: 12, Descent: 5, Start: 10, End: 17, Lowest: Spot{0, 10}, Highest: Spot{150, 22},
				Up: Steep{50, 100, 0.12}, Down: Steep{400, 100, -0.05}, Stops: 2,
				Surfaces: []Surface{{"gravel", 350}, {"asphalt", 100}, {"", 50}}, Slowest: 5, Fastest: 10, Free: 50,
			},
		},
		{
			"the steepest stretch lies across two slopes", "distance_m,height_m\n0,0\n40,4\n100,10.6\n140,10.6\n", // 4 + 6.6 of the first 100 m
			Profile{
				Length: 140, Climb: 10.6, Start: 0, End: 10.6, Lowest: Spot{0, 0}, Highest: Spot{100, 10.6},
				Up: Steep{0, 100, 0.106}, Down: Steep{40, 100, 0.066}, Surfaces: []Surface{{"", 140}}, Slowest: nan, Fastest: nan, Free: 140,
			},
		},
		{
			"a way shorter than the stretch", "distance_m,height_m\n0,5\n40,3\n",
			Profile{
				Length: 40, Descent: 2, Start: 5, End: 3, Lowest: Spot{40, 3}, Highest: Spot{0, 5},
				Up: Steep{0, 40, -0.05}, Down: Steep{0, 40, -0.05}, Surfaces: []Surface{{"", 40}}, Slowest: nan, Fastest: nan, Free: 40,
			},
		},
	} {
		way, err := read(c.text)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(&c.want, way.Profile(), cmpopts.EquateNaNs(), cmpopts.EquateApprox(0, 1e-9)); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.why, d)
		}
	}
}

// TestSteepest: no stretch is steeper than the steepest, wherever it begins, and one is as
// steep.
func TestSteepest(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		way := drawRoute(r)
		p := way.Profile()
		height := func(m float64) float64 {
			h := way.Height
			for _, l := range way.Legs {
				if m <= l.Length {
					return h + l.Rise*m/l.Length
				}
				m, h = m-l.Length, h+l.Rise
			}
			return h
		}
		grade := func(from float64) float64 { return (height(from+p.Up.Length) - height(from)) / p.Up.Length }
		const steps = 200
		for i := range steps + 1 {
			g := grade((p.Length - p.Up.Length) * float64(i) / steps)
			if hair := 1e-6 * (1 + math.Abs(g)); g > p.Up.Grade+hair || g < p.Down.Grade-hair {
				r.Fatalf("from %d/%d the way goes at %v, and from %v to %v at the most", i, steps, g, p.Down.Grade, p.Up.Grade)
			}
		}
		for _, s := range []Steep{p.Up, p.Down} {
			if g := grade(s.From); math.Abs(g-s.Grade) > 1e-6*(1+math.Abs(g)) {
				r.Fatalf("from %v the way goes at %v, not %v", s.From, g, s.Grade)
			}
		}
	})
}
