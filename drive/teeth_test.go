package drive_test

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"gearsearch/drive"
)

func TestCommonDivisor(t *testing.T) {
	for _, tt := range []struct {
		why     string
		a, b    int
		divisor int
	}{
		{"a power of two in both", 16, 40, 8},
		{"the other way round", 40, 16, 8},
		{"a prime against a number it does not divide", 13, 74, 1},
		{"equal wheels", 7, 7, 7},
		{"one tooth", 1, 9, 1},
	} {
		if got := drive.CommonDivisor(tt.a, tt.b); got != tt.divisor {
			t.Errorf("%s: %d and %d share %d, want %d", tt.why, tt.a, tt.b, got, tt.divisor)
		}
	}
}

// Against the standard library's, and by turning the pair until the same two
// teeth meet again: that takes a·b/gcd teeth, so a tooth meets b/gcd others.
func TestTeethMeetOneInSoMany(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(1, 90).Draw(t, "a"), rapid.IntRange(1, 90).Draw(t, "b")
		got := drive.CommonDivisor(a, b)
		if want := new(big.Int).GCD(nil, nil, big.NewInt(int64(a)), big.NewInt(int64(b))).Int64(); int64(got) != want {
			t.Fatalf("%d and %d share %d, want %d", a, b, got, want)
		}
		met := map[int]bool{}
		for step := 0; step < a*b; step += a { // tooth 0 of a is in mesh at each
			met[step%b] = true
		}
		if len(met)*got != b {
			t.Fatalf("a tooth of %d meets %d of %d, not one in %d", a, len(met), b, got)
		}
	})
}
