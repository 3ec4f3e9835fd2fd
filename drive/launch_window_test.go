package drive_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestLaunchWindow: with every gearing of the window the board gets there in time, a little
// beyond its ends it does not, or barely, where some get there well in time; and where the
// window is empty no gearing of a close row gets there in much less time.
func TestLaunchWindow(t *testing.T) {
	open, shut := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b, top := movingBoard(t)
			if b.Crr == 0 && b.DragArea == 0 {
				continue
			}
			to := top * rapid.Float64Range(0.1, 1.2).Draw(t, "share")
			fastest := math.Inf(1)
			seconds := func(turn float64) float64 {
				try := b
				try.Reduction = turn * b.Radius
				if s, ok := try.LaunchTime(to, math.Inf(1)); ok {
					return s
				}
				return math.Inf(1)
			}
			for turn := 1.0; turn < 1000; turn *= 1.05 {
				fastest = math.Min(fastest, seconds(turn))
			}
			if math.IsInf(fastest, 1) {
				continue
			}
			most := fastest * rapid.Float64Range(0.9, 3).Draw(t, "limit")
			w := b.LaunchWindow(to, most)
			if w.Empty() {
				shut++
				if fastest < most*0.9 {
					t.Fatalf("to %g m/s in %g s: no window, but it takes %g s: %s", to, most, fastest, describe(&b))
				}
				continue
			}
			open++
			for i := range 21 {
				turn := w.Low * math.Pow(w.High/w.Low, float64(i)/20)
				if s := seconds(turn); !(s <= most*(1+1e-9)) {
					t.Fatalf("to %g m/s in %g s: window %v, but %g s at %g: %s", to, most, w, s, turn, describe(&b))
				}
			}
			for _, turn := range []float64{w.Low * 0.99, w.High * 1.01} {
				if s := seconds(turn); s < most*(1-4e-3) && fastest < most*0.95 {
					t.Fatalf("to %g m/s in %g s: window %v, but %g s at %g: %s", to, most, w, s, turn, describe(&b))
				}
			}
		}
	})
	if open == 0 || shut == 0 {
		t.Errorf("%d windows open, %d shut", open, shut)
	}
}

// TestLaunchTimeIsConvex: in the logarithm of the gearing, which LaunchWindow rests on. The
// time is that of quadrature from the plainest form of the limits.
func TestLaunchTimeIsConvex(t *testing.T) {
	bent := 0
	rapid.Check(t, func(t *rapid.T) {
		b, top := movingBoard(t)
		to := top * rapid.Float64Range(0.1, 0.9).Draw(t, "share")
		step := rapid.Float64Range(0.01, 0.7).Draw(t, "step")
		var s [3]float64
		for i, by := range []float64{-step, 0, step} {
			at := b
			at.Reduction *= math.Exp(by)
			if _, ok := at.LaunchTime(to, math.Inf(1)); !ok {
				return
			}
			s[i] = numericLaunch(&at, to)
		}
		if s[1] > (s[0]+s[2])/2*(1+1e-6) {
			t.Fatalf("to %g m/s: %v s at gearings of %g to either side: %s", to, s, math.Exp(step), describe(&b))
		}
		if s[1] < (s[0]+s[2])/2*0.99 {
			bent++
		}
	})
	if bent == 0 {
		t.Error("no time changes with the gearing")
	}
}

// TestLaunchWindowWithoutLoad: of a board that nothing holds back no gearing is said to be
// sure, though many are.
func TestLaunchWindowWithoutLoad(t *testing.T) {
	b := street()
	if w := b.LaunchWindow(5, 60); w.Empty() {
		t.Fatal("the board does not get to 5 m/s in a minute")
	}
	b.Crr, b.DragArea = 0, 0
	if w := b.LaunchWindow(5, 60); !w.Empty() {
		t.Errorf("without a load: %v", w)
	}
}
