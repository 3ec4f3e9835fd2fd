package constraints

import "testing"

// TestTeethInTurn: 15 and 45 teeth share 15; on gears the teeth are the
// drive's.
func TestTeethInTurn(t *testing.T) {
	for _, c := range []struct {
		drive  string
		change []string
		common int
		words  string
	}{
		{onBelts, nil, 15, "pulleys of 15 and 45 teeth share the divisor 15: each tooth meets only one in 15 of the other, where a flaw of it wears sooner"},
		{onBelts, []string{"small.teeth = 14"}, 1, "pulleys of 14 and 45 teeth share no divisor: each tooth meets all of the other in turn"},
		{onBelts, []string{"small.teeth = 12", "large.teeth = 32", "belt.teeth = 60"}, 4, "pulleys of 12 and 32 teeth share the divisor 4: each tooth meets only one in 4 of the other, where a flaw of it wears sooner"},
		{onGears, nil, 0, "the gears' teeth are not known"},
		{onGears, []string{"-gear.ratio", "gear.driver_teeth = 13", "gear.driven_teeth = 39"}, 13, "gears of 13 and 39 teeth share the divisor 13: each tooth meets only one in 13 of the other, where a flaw of it wears sooner"},
		{onGears, []string{"-gear.ratio", "gear.driver_teeth = 13", "gear.driven_teeth = 40"}, 1, "gears of 13 and 40 teeth share no divisor: each tooth meets all of the other in turn"},
	} {
		if common, words := build(t, c.drive, c.change...).Drive.TeethInTurn(); common != c.common || words != c.words {
			t.Errorf("%s %v: %d, %q; want %d, %q", c.drive, c.change, common, words, c.common, c.words)
		}
	}
}
