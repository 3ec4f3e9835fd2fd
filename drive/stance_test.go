package drive_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/optimize"
	"pgregory.net/rapid"

	"gearsearch/drive"
)

// usual is a person of 1.75 m with bent knees on a deck of 850 mm between axles.
var usual = drive.Stance{RearShare: 0.6, Lean: 0.2, AxleMin: 0.1, Height: 950.0 / 850}

func TestHoldByHand(t *testing.T) {
	for _, tt := range []struct {
		name     string
		stance   drive.Stance
		motors   int
		friction float64
		crr      float64
		drive    float64
		by       drive.Limit
		brake    float64
		why      string
	}{
		// j = 1.117647: κ_p(0.4) = 0.5/j + 0.018; κ_b = 0.8 (0.8 − 0.018 j)/(1 + 0.8 j).
		{"asphalt", usual, 2, 0.8, 0.018, 0.46537, drive.Lift, 0.32939, "the front axle would lift before the tyres slip"},
		// μ (1 − f) = 0.36, and the rear share at which both meet, 0.9 − j (0.36 − 0.08) = 0.587.
		{"grass", usual, 2, 0.4, 0.08, 0.36, drive.Grip, 0.4 * (0.8 - 0.08*usual.Height) / (1 + 0.4*usual.Height), "slips as the front axle keeps its tenth"},
		// a* = 0.9 − j (0.09 − 0.02) = 0.822 is farther back than 0.8: 0.1 (0.8 − 0.02 j)/(1 − 0.1 j).
		{"wet leaves", usual, 2, 0.1, 0.02, 0.1 * (0.8 - 0.02*usual.Height) / (1 - 0.1*usual.Height), drive.Grip, 0.1 * (0.8 - 0.02*usual.Height) / (1 + 0.1*usual.Height), "slips with all the weight there is at the rear"},
		{"one motor", usual, 1, 0.8, 0.018, 0.36, drive.Grip, 0.4 * (0.8 - 0.018*usual.Height) / (1 + 0.4*usual.Height), "one of two rear wheels: half the friction"},
		{"four motors", usual, 4, 0.8, 0.018, 0.5/usual.Height + 0.018, drive.Lift, 0.7/usual.Height - 0.018, "both axles, and neither may lift"},
		{"four motors on grass", usual, 4, 0.4, 0.08, 0.4, drive.Grip, 0.4, "both axles slip at the friction"},
		{"all weight in front", drive.Stance{RearShare: 0.1, Lean: 0, AxleMin: 0, Height: 1}, 2, 0.8, 0.2, 0, drive.Grip, 0, "rolling resistance takes the rear axle's weight away"},
	} {
		got := tt.stance.Hold(tt.motors, tt.friction, tt.crr)
		within(t, tt.name+", driving: "+tt.why, got.Drive, tt.drive, 0.5e-5)
		within(t, tt.name+", braking", got.Brake, tt.brake, 0.5e-5)
		if got.By != tt.by {
			t.Errorf("%s: held by %v, want %v: %s", tt.name, got.By, tt.by, tt.why)
		}
	}
}

// TestHoldIsTheBestStance puts axle loads from a balance of moments to gonum's
// optimiser, which looks for the stance with the most thrust or braking.
func TestHoldIsTheBestStance(t *testing.T) {
	seen := map[drive.Limit]int{}
	rapid.Check(t, func(t *rapid.T) {
		real := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		s := drive.Stance{
			RearShare: real(0.1, 0.9, "rear share"), Lean: real(0, 0.4, "lean"), AxleMin: real(0, 0.3, "axle min"),
			Height: real(0.15, 3.75, "height"),
		}
		motors := rapid.SampledFrom([]int{1, 2}).Draw(t, "motors")
		friction, crr := real(0.05, 1.2, "friction"), real(0, 0.15, "crr")
		driven := friction * float64(motors) / 2
		low, high := max(0, s.RearShare-s.Lean), min(1, s.RearShare+s.Lean)
		if driven*s.Height > 0.95 || crr*s.Height > low {
			t.Skip("a board so short and high tips over on any ground that grips")
		}
		got := s.Hold(motors, friction, crr)
		seen[got.By]++

		// Axle loads in weights, of a net force forward at the height of the centre
		// of mass: moments around the front axle's contact give the rear's.
		rear := func(a, force float64) float64 { return a + s.Height*(force-crr) }
		// holds is the most force below which nothing slips or lifts, by bisection.
		holds := func(a, sign float64) float64 {
			ok := func(f float64) bool {
				r := rear(a, sign*f)
				return f <= driven*r && (sign < 0 || 1-r >= s.AxleMin)
			}
			from, to := 0.0, 20.0
			if !ok(from) || ok(to) {
				return 0
			}
			for range 80 {
				if mid := (from + to) / 2; ok(mid) {
					from = mid
				} else {
					to = mid
				}
			}
			return from
		}
		best := func(sign float64) float64 {
			at := func(x float64) float64 { return low + (high-low)*(1-math.Cos(x))/2 }
			most := 0.0
			for _, start := range []float64{0.05, 0.8, 1.6, 2.4, 3.1} {
				r, err := optimize.Minimize(optimize.Problem{Func: func(x []float64) float64 { return -holds(at(x[0]), sign) }},
					[]float64{start}, nil, &optimize.NelderMead{})
				if err == nil {
					most = max(most, -r.F)
				}
			}
			return most
		}
		if want := best(+1); math.Abs(got.Drive-want) > 1e-6 {
			t.Fatalf("holds %.9g driving, the best stance %.9g: %+v, μ %g, crr %g, %d motors", got.Drive, want, s, friction, crr, motors)
		}
		if want := best(-1); math.Abs(got.Brake-want) > 1e-6 {
			t.Fatalf("holds %.9g braking, the best stance %.9g: %+v, μ %g, crr %g, %d motors", got.Brake, want, s, friction, crr, motors)
		}
	})
	if !testing.Short() && (seen[drive.Grip] < 3 || seen[drive.Lift] < 3) {
		t.Errorf("limits seen: %v", seen)
	}
}
