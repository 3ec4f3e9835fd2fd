package decimal

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

func TestNumber(t *testing.T) {
	for _, tt := range []struct {
		x    float64
		want string
		why  string
	}{
		{0, "0", "nothing"},
		{math.Copysign(0, -1), "0", "no minus zero"},
		{50274, "50274", "a whole number without a point"},
		{0.1 + 0.2, "0.3", "rounding of the last bits does not show"},
		{1.0 / 3, "0.3333333333", "ten digits"},
		{-2.0 / 3, "-0.6666666667", "rounded, not cut"},
		{123456789012345, "123456789000000", "ten digits of a large number"},
		{1e-9, "1e-09", "a small one"},
		{1e22, "1e+22", "a large one"},
		{math.MaxFloat64, "1.797693135e+308", "the largest"},
		{-1234.5, "-1234.5", "a negative one"},
		{100, "100", "zeros before the point stay"},
		{99999999999, "100000000000", "rounded up to one digit more"},
		{0.000123456, "0.000123456", "zeros after the point"},
		{math.NaN(), "null", "not known"},
		{math.Inf(1), "null", "no end"},
	} {
		if got := Text(tt.x, "null"); got != tt.want {
			t.Errorf("Text(%v) = %s, want %s: %s", tt.x, got, tt.want, tt.why)
		}
	}
}

func TestNumberIsJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64().Draw(t, "x")
		text := Text(x, "null")
		var back float64
		if err := json.Unmarshal([]byte(text), &back); err != nil && x < 1.79e308 && x > -1.79e308 {
			t.Fatalf("%v is written %s: %v", x, text, err)
		}
		// The number that strconv rounds to ten digits.
		if want, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64); back != want && !math.IsInf(want, 0) {
			t.Fatalf("%v is written %s, want %v", x, text, want)
		}
	})
}

// TestQuickNumbers: what is written quickly is what is written slowly, numbers
// near a half of the last digit and near powers of ten included.
func TestQuickNumbers(t *testing.T) {
	slowly := func(x float64) string {
		var want float64
		if _, err := fmt.Sscan(strconv.FormatFloat(x, 'e', digits-1, 64), &want); err != nil {
			t.Fatal(err)
		}
		return strconv.FormatFloat(want, 'f', -1, 64)
	}
	r := rand.New(rand.NewPCG(1, 2))
	quick, slow := 0, 0
	for range 100_000 {
		x := 1 + 9*r.Float64()
		switch r.IntN(4) {
		case 0: // few digits
			x = math.Round(x*1000) / 1000
		case 1: // a half of the last digit, or next to it
			x = (math.Floor(x*1e9) + 0.5) / 1e9
			for range r.IntN(4) {
				x = math.Nextafter(x, []float64{0, 20}[r.IntN(2)])
			}
		}
		x *= math.Pow(10, float64(r.IntN(24)-8)) * []float64{1, -1}[r.IntN(2)]
		text, ok := appendQuickly(nil, x)
		if !ok {
			slow++
			continue
		}
		if quick++; string(text) != slowly(x) {
			t.Fatalf("%v is written %s, slowly %s", x, text, slowly(x))
		}
	}
	for _, x := range []float64{1, 10, 9.9999999999, 0.1, 0.01, 0.001, 1e-6, 9.9999999999e-7, 99999999999, 1e13, 123456.78901, 0.3} {
		if text, ok := appendQuickly(nil, x); ok && string(text) != slowly(x) {
			t.Errorf("%v is written %s, slowly %s", x, text, slowly(x))
		}
	}
	if quick < slow {
		t.Errorf("%d quickly, %d slowly", quick, slow)
	}
}
