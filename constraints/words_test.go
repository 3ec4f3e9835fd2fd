package constraints

import "testing"

// TestNum: numbers as explanations write them.
func TestNum(t *testing.T) {
	for x, want := range map[float64]string{
		0: "0", 3: "3", 0.05: "0.05", 0.0636620: "0.06366", 97.048596: "97.05", 999.96: "1000", 44100: "44100", 33422.538: "33423",
		-12.345678: "-12.35", 1e-5: "1e-05", 1e9: "1000000000", 40 / 3.6 * 3.6: "40",
	} {
		if got := num(x); got != want {
			t.Errorf("%v is written %q, want %q", x, got, want)
		}
	}
	if num(nan) != "unknown" {
		t.Errorf("NaN is written %q", num(nan))
	}
}
