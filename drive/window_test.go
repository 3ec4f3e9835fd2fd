package drive

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestWindowsHoldTheirGearings: a gearing is in a window exactly when the board
// with it gives the force, takes the power or the current, on either side of
// both ends.
func TestWindowsHoldTheirGearings(t *testing.T) {
	open, shut := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, label) }
		m := Motor{
			KV: draw("kv", 50, 300), PolePairs: 7, Resistance: draw("ohm", 0.01, 0.2),
			NoLoadCurrent: rapid.SampledFrom([]float64{0, 0.3, 1.5}).Draw(t, "no load"),
			PeakCurrent:   draw("peak", 20, 100), MaxPower: rapid.SampledFrom([]float64{0, 800, 2500}).Draw(t, "power"),
		}
		c := Controller{MotorCurrent: draw("motor current", 20, 100), BatteryCurrent: draw("battery current", 10, 60), MaxDuty: 0.95, Efficiency: 0.97}
		p := Pack{Volts: draw("volts", 24, 60), Cutoff: 20, Resistance: rapid.SampledFrom([]float64{0, 0.05, 0.2}).Draw(t, "pack"), Discharge: 80}
		e := Couple(m, rapid.SampledFrom([]int{1, 2, 4}).Draw(t, "motors"), c, p, 60)
		v, force, efficiency := draw("speed", 0.5, 20), draw("force", 5, 600), draw("efficiency", 0.8, 1)
		watts, amps := draw("watts", 50, 3000), draw("amps", 1, 80)

		board := Board{Electrical: &e, Efficiency: efficiency, Radius: 1}
		at := func(turn float64) *Board { board.Reduction = turn; return &board }
		for name, test := range map[string]struct {
			window Window
			holds  func(turn float64) bool
		}{
			"thrust":  {e.ThrustWindow(v, force, efficiency), func(turn float64) bool { return at(turn).Thrust(v) >= force }},
			"current": {e.CurrentWindow(force, efficiency, amps), func(turn float64) bool { return at(turn).MotorCurrentFor(force) <= amps }},
			"power": {e.PowerWindow(v, force, efficiency, watts), func(turn float64) bool {
				return e.drawn(at(turn).MotorCurrentFor(force), e.K*v*turn) <= watts
			}},
		} {
			const near = 1e-6
			w := test.window
			if w.Empty() {
				shut++
				for turn := 1.0; turn < 3000; turn *= 1.02 {
					if test.holds(turn) {
						t.Fatalf("%s: window is empty, but %v is in it", name, turn)
					}
				}
				continue
			}
			open++
			check := func(turn float64, want bool) {
				if turn > 0 && !math.IsInf(turn, 1) && test.holds(turn) != want {
					t.Fatalf("%s: window %v, but at %v it is %v", name, w, turn, !want)
				}
			}
			check(w.Low*(1-near), false)
			check(w.High*(1+near), false)
			if w.High > w.Low*(1+4*near) {
				check(w.Low*(1+near), true)
				check(w.High*(1-near), true)
				check(math.Sqrt(w.Low*math.Min(w.High, 1e4*w.Low)), true)
			}
		}
	})
	if (open == 0 || shut == 0) && !testing.Short() {
		t.Errorf("%d open and %d empty windows: the test does not test both", open, shut)
	}
}

func BenchmarkWindows(b *testing.B) {
	e := Couple(Motor{KV: 150, PolePairs: 7, Resistance: 0.04, NoLoadCurrent: 1, PeakCurrent: 60, MaxPower: 2000}, 2,
		Controller{MotorCurrent: 60, BatteryCurrent: 30, MaxDuty: 0.95, Efficiency: 0.97}, Pack{Volts: 43, Cutoff: 36, Resistance: 0.06, Discharge: 60}, 60)
	for b.Loop() {
		e.ThrustWindow(10, 60, 0.96)
	}
}
