package drive_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"gearsearch/drive"
)

// above holds a rise above the air to another, to a millionth of it.
func above(t reporter, what string, got, want float64) {
	t.Helper()
	within(t, what+" above the air", got, want, 1e-6*math.Abs(want)+1e-9)
}

// anyHeating draws a motor on a hill.
func anyHeating(t *rapid.T) (drive.Thermal, drive.Heating) {
	real := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	thermal, ok := drive.ThermalOf(real(0.1, 3, "mass"), orZero(t, 0.04, 0.12, "diameter"), orZero(t, 0.03, 0.12, "length"), real(0.5, 15, "speed"))
	if !ok {
		t.Fatal("a motor whose mass is known has no thermal model")
	}
	return thermal, drive.Heating{
		Resistance: real(0.005, 0.3, "resistance"), Current: real(0, 80, "current"), Iron: real(0, 80, "iron"),
		Air: real(-10, 40, "air"), Seconds: real(1, 2000, "seconds"),
	}
}

// TestHeatByMarching holds the closed form to classic Runge-Kutta steps of the two
// equations.
func TestHeatByMarching(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thermal, h := anyHeating(t)
		winding, rest := h.Air, h.Air
		slope := func(w, r float64) (dw, dr float64) {
			copper := h.Resistance * (1 + 0.00393*(w-20)) * h.Current * h.Current
			flow := (w - r) / thermal.Inner
			return (copper - flow) / thermal.Winding, (h.Iron + flow - (r-h.Air)/thermal.Outer) / thermal.Rest
		}
		const steps = 4000
		dt := h.Seconds / steps
		for range steps {
			w1, r1 := slope(winding, rest)
			w2, r2 := slope(winding+dt/2*w1, rest+dt/2*r1)
			w3, r3 := slope(winding+dt/2*w2, rest+dt/2*r2)
			w4, r4 := slope(winding+dt*w3, rest+dt*r3)
			winding += dt / 6 * (w1 + 2*w2 + 2*w3 + w4)
			rest += dt / 6 * (r1 + 2*r2 + 2*r3 + r4)
		}
		got, gotRest := thermal.After(h)
		if !(winding < drive.HottestKnown) {
			if got < drive.HottestKnown*(1-1e-6) {
				t.Fatalf("winding %g °C, want %g", got, winding)
			}
			return
		}
		above(t, "winding", got-h.Air, winding-h.Air)
		above(t, "rest", gotRest-h.Air, rest-h.Air)
	})
}

// TestHeatByMatrixExponential holds it to gonum's exponential of the matrix, the
// heat let in as a third state that stays 1.
func TestHeatByMatrixExponential(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		thermal, h := anyHeating(t)
		squared := h.Resistance * h.Current * h.Current
		a := mat.NewDense(3, 3, []float64{
			(squared*0.00393 - 1/thermal.Inner) / thermal.Winding, 1 / (thermal.Inner * thermal.Winding), squared * (1 + 0.00393*(h.Air-20)) / thermal.Winding,
			1 / (thermal.Inner * thermal.Rest), -(1/thermal.Inner + 1/thermal.Outer) / thermal.Rest, h.Iron / thermal.Rest,
			0, 0, 0,
		})
		a.Scale(h.Seconds, a)
		var all mat.Dense
		all.Exp(a)
		got, rest := thermal.After(h)
		if want := h.Air + all.At(0, 2); want < drive.HottestKnown {
			above(t, "winding", got-h.Air, want-h.Air)
			above(t, "rest", rest-h.Air, all.At(1, 2))
		} else if got < drive.HottestKnown*(1-1e-6) {
			t.Fatalf("winding %g °C, want %g", got, want)
		}
	})
}

func TestHeatByHand(t *testing.T) {
	// A winding that gives its heat to nothing warms by I²R t/C: 0.05 × 400 × 10 / 61.6.
	lone := drive.Thermal{Winding: 61.6, Rest: 1e12, Inner: 1e9, Outer: 1}
	got, _ := lone.After(drive.Heating{Resistance: 0.05, Current: 20, Air: 20, Seconds: 10})
	// Copper: e^{α P t/C} − 1 over α.
	near(t, "adiabatic", got-20, math.Expm1(0.00393*20*10/61.6)/0.00393, 1e-6)
	// After a long time heat flows through both resistances: 2 W of iron, no current.
	steady := drive.Thermal{Winding: 60, Rest: 400, Inner: 0.5, Outer: 1.5}
	winding, rest := steady.After(drive.Heating{Iron: 2, Air: 25, Seconds: 1e6})
	near(t, "steady rest", rest, 28, 1e-9)
	near(t, "steady winding", winding, 28, 1e-9)
	// Copper that heats faster than the heat leaves runs away.
	if hot, _ := steady.After(drive.Heating{Resistance: 0.1, Current: 200, Air: 25, Seconds: 1e4}); hot != drive.HottestKnown {
		t.Errorf("runs away to %g °C, want %d at most", hot, drive.HottestKnown)
	}
	// 1 kg: 0.16 × 385, 0.84 × 470 J/K and 0.45 K/W; a can of 1.2 diameters of that mass.
	m, _ := drive.ThermalOf(1, 0, 0, 4)
	near(t, "winding", m.Winding, 61.6, 1e-12)
	near(t, "rest", m.Rest, 394.8, 1e-12)
	near(t, "inner", m.Inner, 0.45, 1e-12)
	d := math.Cbrt(4 / (math.Pi * 3600 * 1.2))
	near(t, "outer", m.Outer, 1/((20+14*2)*(math.Pi*d*1.2*d+math.Pi*d*d/2)), 1e-12)
	// The can alone gives the mass: 3600 × π/4 × 0.06² × 0.07.
	c, _ := drive.ThermalOf(0, 0.06, 0.07, 4)
	near(t, "winding by the can", c.Winding, 3600*math.Pi/4*0.06*0.06*0.07*61.6, 1e-12)
	if _, ok := drive.ThermalOf(0, 0.06, 0, 4); ok {
		t.Error("a motor of which neither mass nor can is known has a thermal model")
	}
}

// TestHeatWindow: inside the window the windings stay below the limit, outside they
// do not, at the places where it ends and at random ones.
func TestHeatWindow(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			thermal, h := anyHeating(t)
			h.Resistance = b.Motor.Resistance
			v, force := rapid.Float64Range(1, 8).Draw(t, "v"), rapid.Float64Range(10, 400).Draw(t, "force")
			limit := rapid.Float64Range(30, 300).Draw(t, "limit")
			greatest := orZero(t, 20, 400, "greatest")
			w := b.HeatWindow(&thermal, h, thermal.CoolCurrent(h, limit), v, force, b.Efficiency, limit, greatest)
			excess := func(turn float64) float64 {
				h.Current = force/(float64(b.Motors)*b.K*b.Efficiency*turn) + b.NoLoad
				h.Iron = b.K * v * turn * b.NoLoad
				hot, _ := thermal.After(h)
				return hot - limit
			}
			switch {
			case w.Empty():
				seen["empty"]++
			case math.IsInf(w.High, 1):
				seen["open"]++
			default:
				seen["closed"]++
			}
			for range 4 {
				turn := math.Exp(rapid.Float64Range(math.Log(2), math.Log(400)).Draw(t, "log turn"))
				if greatest > 0 && turn > greatest {
					continue
				}
				inside := turn >= w.Low && turn <= w.High
				if x := excess(turn); math.Abs(x) > 1e-4 && inside != (x < 0) {
					t.Fatalf("turn %g in [%g, %g]: %v, and %g K above the limit: %s", turn, w.Low, w.High, inside, x, describe(&b))
				}
			}
			if !w.Empty() && w.Low < 1e5 && limit > h.Air {
				if x := excess(w.Low); math.Abs(x) > 1e-3 {
					t.Fatalf("at the low end %g, %g K above the limit: %s", w.Low, x, describe(&b))
				}
			}
		}
	})
	if !testing.Short() && (seen["empty"] < 20 || seen["open"] < 20 || seen["closed"] < 20) {
		t.Errorf("windows seen: %v", seen)
	}
}
