package field

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	keys := []string{"kv", "pole_pairs", "resistance_mohm", "shaft_mm", "shaft_key", "can_length_mm", "price"}
	tests := []struct{ why, word, want string }{
		{"case only", "KV", "kv"},
		{"one letter off", "prise", "price"},
		{"two letters swapped", "pirce", "price"},
		{"letter missing", "pole_pair", "pole_pairs"},
		{"unit left out", "resistance_ohm", "resistance_mohm"},
		{"first of equals", "shaft_k", "shaft_mm"},
		{"nothing near", "colour", ""},
		{"short words need to be nearly right", "x", ""},
		{"empty", "", ""},
	}
	for _, test := range tests {
		if got, _ := Nearest(test.word, slices.Values(keys)); got != test.want {
			t.Errorf("%s: Nearest(%q) = %q, want %q", test.why, test.word, got, test.want)
		}
	}
}

// distance counts what it says: against the plain recursion of the definition
// of optimal string alignment.
func TestDistance(t *testing.T) {
	var plain func(a, b []rune) int
	plain = func(a, b []rune) int {
		if len(a) == 0 || len(b) == 0 {
			return len(a) + len(b)
		}
		x, y := a[len(a)-1], b[len(b)-1]
		d := plain(a[:len(a)-1], b[:len(b)-1])
		if x != y {
			d++
		}
		d = min(d, 1+plain(a[:len(a)-1], b), 1+plain(a, b[:len(b)-1]))
		if len(a) > 1 && len(b) > 1 && x == b[len(b)-2] && y == a[len(a)-2] {
			d = min(d, 1+plain(a[:len(a)-2], b[:len(b)-2]))
		}
		return d
	}
	word := rapid.SliceOfN(rapid.SampledFrom([]rune("abc")), 0, 6)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		limit := rapid.IntRange(0, 7).Draw(t, "limit")
		var rows distanceRows
		got, want := rows.distance(a, b, limit), plain(a, b)
		if want <= limit && got != want || want > limit && got <= limit {
			t.Fatalf("distance(%s, %s, %d) = %d, is %d", string(a), string(b), limit, got, want)
		}
	})
}
