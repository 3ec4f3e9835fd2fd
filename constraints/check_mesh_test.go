package constraints

import (
	"slices"
	"testing"
)

// Teeth in mesh on a pulley of z teeth with a wheel pulley of 45 and a belt of
// 70: 15: 6.31, 12: 4.99, 9: 3.70; by bisection of the belt length.
func TestMesh(t *testing.T) {
	testCheck(t, "mesh", []checkCase{
		{name: "six of five", why: "whole teeth of 6.31", want: "pass", value: 6, limit: 5, margin: 20},
		{name: "four of five", why: "4.99 is four whole teeth", want: "fail", change: []string{"small.teeth = 12"}, value: 4, limit: 5, margin: -20},
		{name: "four of four", why: "equal passes", want: "pass", change: []string{"small.teeth = 12", "limit.mesh_teeth = 4"}, value: 4, limit: 4, margin: 0},
		{name: "none asked for", why: "a limit of 0 has no margin", want: "pass", change: []string{"small.teeth = 9", "limit.mesh_teeth = 0"}, value: 3, limit: 0, margin: nan},
		{name: "an idler and too few without it", why: "the idler may bring the rest; the value still stands", want: "unknown", change: []string{"small.teeth = 12", "mount.idler = true"}, value: 4, limit: 5, margin: -20},
		{name: "an idler and enough without it", why: "passes already", want: "pass", change: []string{"mount.idler = true"}, value: 6, limit: 5, margin: 20},
		{name: "no belt fits", why: "the centre distance is not known", want: "unknown", change: []string{"belt.teeth = 20"}, value: nan, limit: 5, margin: nan},
		{name: "no mount", why: "the centre distance is not known", want: "unknown", change: []string{"-mount"}, value: nan, limit: 5, margin: nan},
		{name: "a larger motor pulley", why: "the small pulley is the wheel's: 15 teeth", want: "pass", change: []string{"small.teeth = 45", "large.teeth = 15"}, value: 6, limit: 5, margin: 20},
		{name: "pulleys alike", why: "half of 15 teeth, 7.5", want: "pass", change: []string{"large.teeth = 15", "belt.teeth = 50"}, value: 7, limit: 5, margin: 40},
		{name: "an even half", why: "half of 16 teeth is eight whole ones, rounding or not", want: "pass", change: []string{"small.teeth = 16", "large.teeth = 16", "belt.teeth = 50"}, value: 8, limit: 5, margin: 60},
		{name: "gear", why: "has no belt", drive: onGears, want: "absent"},
	})
}

// TestMeshCaution: below six whole teeth in mesh is worth a word.
func TestMeshCaution(t *testing.T) {
	for teeth, want := range map[string]string{"15": "", "12": "few-in-mesh 4 6"} {
		if got := cautioned(build(t, onBelts, "small.teeth = "+teeth), FewInMesh); got != want {
			t.Errorf("%s teeth: %q, want %q", teeth, got, want)
		}
	}
}

// cautioned is the caution of a build that has one of the codes, "" for none.
func cautioned(b *Build, codes ...CautionCode) string {
	for _, c := range b.Cautions() {
		if slices.Contains(codes, c.Code) {
			return spelled([]Caution{c})[0]
		}
	}
	return ""
}
