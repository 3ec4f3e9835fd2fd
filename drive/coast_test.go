package drive_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gearsearch/drive"
)

// slowed integrates m dv/dt = −(C + D v |v|) by Runge and Kutta's fourth order in
// steps of a hundredth of a second or less, until the board stands.
func slowed(c *drive.Coast, v0, t float64) float64 {
	steps := int(math.Ceil(t*100)) + 1
	h := t / float64(steps)
	f := func(v float64) float64 { return -(c.Steady + c.Drag*v*math.Abs(v)) / c.Mass }
	v := v0
	for range steps {
		k1 := f(v)
		k2 := f(v + h/2*k1)
		k3 := f(v + h/2*k2)
		k4 := f(v + h*k3)
		if v += h / 6 * (k1 + 2*k2 + 2*k3 + k4); v <= 0 {
			return 0
		}
	}
	return v
}

func TestCoastAgainstSteps(t *testing.T) {
	for _, c := range []struct {
		why   string
		coast drive.Coast
		v0    float64
		ends  bool
	}{
		{"a board on asphalt", drive.Coast{Mass: 85, Steady: 15, Drag: 0.306}, 10, true},
		{"nothing rolls hard", drive.Coast{Mass: 85, Steady: 0, Drag: 0.306}, 10, false},
		{"nearly nothing", drive.Coast{Mass: 85, Steady: 1e-9, Drag: 0.306}, 10, true},
		{"no air", drive.Coast{Mass: 85, Steady: 15, Drag: 0}, 10, true},
		{"nearly no air", drive.Coast{Mass: 85, Steady: 15, Drag: 1e-9}, 10, true},
		{"neither", drive.Coast{Mass: 85}, 10, false},
		{"air that drives it a little", drive.Coast{Mass: 85, Steady: 15, Drag: -0.05}, 10, true},
		{"a slope that drives it, fast", drive.Coast{Mass: 85, Steady: -8, Drag: 0.306}, 12, false},
		{"a slope that drives it, from rest", drive.Coast{Mass: 85, Steady: -8, Drag: 0.306}, 0, false},
		{"a slope that drives it, and no air", drive.Coast{Mass: 85, Steady: -8}, 3, false},
	} {
		for _, seconds := range []float64{0, 0.5, 5, 20, 55, 400} {
			got, want := c.coast.Speed(c.v0, seconds), slowed(&c.coast, c.v0, seconds)
			// Near standstill the last step of the other overshoots.
			if math.Abs(got-want) > 1e-8+1e-7*want && want > 0.01 {
				t.Errorf("%s: %.12g m/s after %g s, by steps %.12g", c.why, got, seconds, want)
			}
		}
		end := c.coast.Duration(c.v0)
		if c.ends == math.IsInf(end, 1) {
			t.Errorf("%s: it stands after %g s", c.why, end)
		}
		if !math.IsInf(end, 1) {
			if v := c.coast.Speed(c.v0, end*(1-1e-9)); !(v >= 0 && v < 1e-6) {
				t.Errorf("%s: %g m/s just before it stands", c.why, v)
			}
			for _, later := range []float64{1, 1 + 1e-9, 2, 10} {
				if v := c.coast.Speed(c.v0, end*later); v != 0 {
					t.Errorf("%s: %g m/s at %g of the time to standstill", c.why, v, later)
				}
			}
		}
	}
}

// TestCoastLosesItsEnergy: what a coast loses of ½mv² is what C and D take over the
// way, and its derivatives are those of small steps.
func TestCoastLosesItsEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		real := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		c := drive.Coast{Mass: real(40, 200, "mass"), Steady: orZero(t, 1e-6, 60, "steady") - orZero(t, 1e-6, 20, "slope"), Drag: orZero(t, 1e-9, 1, "drag")}
		v0 := real(0.5, 25, "v0")
		end := min(c.Duration(v0), 300) * real(0.05, 0.95, "share")
		const steps = 4000 // Simpson's rule over u, t = end u²: close together where drag is strong
		lost := 0.0
		for i := 0; i <= steps; i++ {
			u := float64(i) / steps
			v := c.Speed(v0, end*u*u)
			weight := [2]float64{2, 4}[i%2]
			if i == 0 || i == steps {
				weight = 1
			}
			lost += weight * v * (c.Steady + c.Drag*v*v) * 2 * u
		}
		lost *= end / steps / 3
		v, rise := c.SpeedAndRise(v0, end)
		if v != c.Speed(v0, end) {
			t.Fatalf("%g and %g m/s", v, c.Speed(v0, end))
		}
		if want := c.Mass * (v0*v0 - v*v) / 2; math.Abs(lost-want) > 1e-7*(c.Mass*v0*v0/2+math.Abs(want)) {
			t.Errorf("%+v from %g m/s for %g s: %.12g J lost of %.12g", c, v0, end, lost, want)
		}
		for _, by := range []struct {
			what string
			got  float64
			step float64
			at   func(h float64) float64
		}{
			{"start", rise.Start, 1e-4, func(h float64) float64 { return c.Speed(v0+h, end) }},
			{"steady", rise.Steady, 1e-4, func(h float64) float64 { d := c; d.Steady += h; return d.Speed(v0, end) }},
			{"drag", rise.Drag, 1e-6, func(h float64) float64 { d := c; d.Drag += h; return d.Speed(v0, end) }},
		} {
			want := (by.at(by.step) - by.at(-by.step)) / (2 * by.step)
			if math.Abs(by.got-want) > 1e-5*math.Abs(want)+1e-4 {
				t.Errorf("%s: %g, by small steps %g: %+v from %g for %g s", by.what, by.got, want, c, v0, end)
			}
		}
	})
}

// TestIdleDrag: two motors of 0.05 N·m/A that idle at 0.6 A behind 3:1 on a wheel of
// 0.05 m take 2 × 0.05 × 0.6 × 60 = 3.6 N, and 4 N of a drive that passes 90 %.
func TestIdleDrag(t *testing.T) {
	e := drive.Couple(drive.Motor{KV: 60 / (2 * math.Pi * 0.05), PolePairs: 7, NoLoadCurrent: 0.6}, 2, drive.Controller{MaxDuty: 1, Efficiency: 1}, drive.Pack{Volts: 36}, 20)
	b := drive.Board{Electrical: &e, Reduction: 3, Radius: 0.05, Efficiency: 0.9}
	near(t, "idle drag", b.IdleDrag(), 4, 1e-12)
}
