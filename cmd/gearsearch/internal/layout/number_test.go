package layout

import (
	"math"
	"strings"
	"testing"
)

func TestFixed(t *testing.T) {
	for _, tt := range []struct {
		x        float64
		decimals int
		want     string
	}{
		{0, 0, "0"},
		{-0.001, 1, "0.0"},
		{math.Copysign(0, -1), 0, "0"},
		{999, 0, "999"},
		{1000, 0, "1_000"},
		{1234567.891, 2, "1_234_567.89"},
		{-1234.5, 1, "-1_234.5"},
		{12345.6789, 3, "12_345.679"},
		{math.NaN(), 1, "?"},
		{math.Inf(1), 1, "+∞"},
		{math.Inf(-1), 1, "-∞"},
	} {
		if got := strings.ReplaceAll(Fixed(tt.x, tt.decimals), thin, "_"); got != tt.want {
			t.Errorf("Fixed(%v, %d) = %s, want %s", tt.x, tt.decimals, got, tt.want)
		}
	}
	if got := strings.ReplaceAll(Count(16052400), thin, "_"); got != "16_052_400" {
		t.Errorf("Count = %s", got)
	}
}

func TestPair(t *testing.T) {
	for _, tt := range []struct {
		a, b         float64
		wantA, wantB string
		why          string
	}{
		{35.8, 34, "35.8", "34.0", "told apart already"},
		{33.96, 34, "33.96", "34.00", "more digits, so that a failure does not look like a pass"},
		{34, 34, "34.0", "34.0", "equal"},
		{math.NaN(), 34, "?", "34.0", "one is not known"},
		{50.4, 12 * 4.2, "50.4", "50.4", "equal but for rounding"},
		{1, 1 + 1e-15, "1.0", "1.0", "as near as counts as equal"},
		{0, 1e-12, "0.000000000", "0.000000000", "nobody needs more digits"},
	} {
		if a, b := Pair(tt.a, tt.b, 1); a != tt.wantA || b != tt.wantB {
			t.Errorf("%s: %s, %s", tt.why, a, b)
		}
	}
}
