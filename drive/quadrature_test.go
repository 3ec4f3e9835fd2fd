package drive

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
)

// The pair is exact for polynomials: 15 Kronrod points to degree 23, 7 Gauss
// points to 13, and not beyond.
func TestPanelDegree(t *testing.T) {
	for degree := range 27 {
		want := 2 / float64(degree+1) // over [−1, 1], even degrees
		if degree%2 == 1 {
			want = 0
		}
		fine, coarse := panel(-1, 1, func(x float64) float64 { return math.Pow(x, float64(degree)) })
		if exact := math.Abs(fine-want) < 1e-14; exact != (degree <= 23 || degree%2 == 1) {
			t.Errorf("degree %d: 15 points give %.17g, want %.17g", degree, fine, want)
		}
		if exact := math.Abs(coarse-want) < 1e-14; exact != (degree <= 13 || degree%2 == 1) {
			t.Errorf("degree %d: 7 points give %.17g, want %.17g", degree, coarse, want)
		}
	}
}

// The 7 points are gonum's.
func TestPanelAgreesWithGonum(t *testing.T) {
	f := func(x float64) float64 { return math.Exp(x) / (1 + x*x) }
	_, coarse := panel(-0.3, 2, f)
	if want := quad.Fixed(f, -0.3, 2, 7, quad.Legendre{}, 0); math.Abs(coarse-want) > 1e-14*want {
		t.Errorf("7 points give %.17g, gonum's %.17g", coarse, want)
	}
}

func TestAdaptive(t *testing.T) {
	const gap = 0x1p-16 // 1 + gap is exact, and 1 + gap − x keeps its digits
	for _, tt := range []struct {
		name string
		a, b float64
		f    func(float64) float64
		want float64
	}{
		{"a constant", 1, 3, func(float64) float64 { return 2 }, 4},
		{"no interval", 1, 1, func(float64) float64 { return math.NaN() }, 0},
		{"backwards", 3, 1, func(float64) float64 { return 2 }, -4},
		{"exponential", 0, 30, math.Exp, math.Expm1(30)},
		{"near a pole", 0, 1, func(x float64) float64 { return 1 / (1 + gap - x) }, math.Log((1 + gap) / gap)},
		{"a narrow peak", -1, 2, func(x float64) float64 { return 1 / (1e-8 + x*x) }, 1e4 * (math.Atan(2e4) + math.Atan(1e4))},
		{"a root at the end", 0, 1, math.Sqrt, 2.0 / 3},
	} {
		if got := adaptive(tt.a, tt.b, tt.f); !(math.Abs(got-tt.want) <= 1e-11*math.Abs(tt.want)) {
			t.Errorf("%s: %.15g, want %.15g", tt.name, got, tt.want)
		}
	}
}
