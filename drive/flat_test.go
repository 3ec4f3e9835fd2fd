package drive

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
)

// TestFlatIntegral holds the closed form of a launch under a constant force
// against gonum's Gauss–Legendre rule, from rest and from a speed, with and
// without drag.
func TestFlatIntegral(t *testing.T) {
	for _, tt := range []struct {
		why      string
		drag     float64 // N s²/m²
		from, to float64 // m/s
	}{
		{"from rest", 0.4, 0, 8},
		{"from a speed", 0.4, 3, 8},
		{"no drag", 0, 3, 8},
	} {
		const gain, amps, noLoad, rolling = 6.0, 40.0, 1.5, 15.0
		l := &launch{road: road{gain: gain, drag: tt.drag, still: rolling}, flat: amps}
		force := func(v float64) float64 { return gain*(amps-noLoad) - rolling - tt.drag*v*v }
		want := quad.Fixed(func(v float64) float64 { return 1 / force(v) }, tt.from, tt.to, 40, quad.Legendre{}, 0)
		if got := l.flatIntegral(tt.from, tt.to, noLoad); math.Abs(got-want) > 1e-12*want {
			t.Errorf("%s: %.15g, want %.15g", tt.why, got, want)
		}
	}
}
