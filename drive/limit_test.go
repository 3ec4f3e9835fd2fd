package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"
)

func TestLimitNames(t *testing.T) {
	names := []string{"", "voltage", "motor_current", "battery_current", "motor_power", "grip", "lift", "erpm", "estimate", ""}
	for i, want := range names {
		if got := drive.Limit(i).String(); got != want {
			t.Errorf("Limit(%d) = %q, want %q", i, got, want)
		}
	}
}

func TestTolerance(t *testing.T) {
	for _, tt := range []struct {
		value, limit    float64
		atMost, atLeast bool
		why             string
	}{
		{1, 2, true, false, "below"},
		{2, 1, false, true, "above"},
		{1, 1, true, true, "equal"},
		{1 + 0.9e-9, 1, true, true, "above within the tolerance"},
		{1 - 0.9e-9, 1, true, true, "below within the tolerance"},
		{1 + 1.1e-9, 1, false, true, "above by more"},
		{1 - 1.1e-9, 1, true, false, "below by more"},
		{-1 - 0.9e-9, -1, true, true, "negative within the tolerance"},
		{1e9 + 0.9, 1e9, true, true, "the tolerance is relative"},
		{1e-9, 0, false, true, "and there is none about 0"},
		{5, math.Inf(1), true, false, "no upper limit"},
		{5, math.Inf(-1), false, true, "no lower limit"},
		{math.Inf(1), math.Inf(1), true, true, "two infinities"},
		{math.NaN(), 1, false, false, "what is not known passes nothing"},
		{1, math.NaN(), false, false, "nor is passed"},
	} {
		if got := drive.AtMost(tt.value, tt.limit); got != tt.atMost {
			t.Errorf("AtMost(%g, %g) = %v: %s", tt.value, tt.limit, got, tt.why)
		}
		if got := drive.AtLeast(tt.value, tt.limit); got != tt.atLeast {
			t.Errorf("AtLeast(%g, %g) = %v: %s", tt.value, tt.limit, got, tt.why)
		}
	}
}
