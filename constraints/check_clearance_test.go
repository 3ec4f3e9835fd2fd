package constraints

import "testing"

// A wheel pulley of 45 teeth of htd-5m is 45 × 5 / π − 2 × 0.5715 = 70.476724
// mm over its teeth: with 2 mm of belt back, 50 − 35.238362 − 2 = 12.761638 mm
// are left under a 100 mm wheel.
func TestClearance(t *testing.T) {
	const left = 12.761637804
	own := `[[profile]]
id = "own-5"
pitch_mm = 5
`
	testCheck(t, "clearance", []checkCase{
		{name: "enough", why: "12.76 of 12", want: "pass", value: left, limit: 12, margin: 100 * (left/12 - 1)},
		{
			name: "too little", why: "12.76 of 15", want: "fail", change: []string{"limit.ground_clearance_mm = 15"},
			value: left, limit: 15, margin: 100 * (left/15 - 1),
		},
		{
			name: "no limit to speak of", why: "a limit of 0 has no margin", want: "pass", change: []string{"limit.ground_clearance_mm = 0"},
			value: left, limit: 0, margin: nan,
		},
		{
			name: "a pulley larger than the wheel", why: "below the ground", want: "fail", change: []string{"wheel.diameter_mm = 60"},
			value: left - 20, limit: 12, margin: 100 * ((left-20)/12 - 1),
		},
		{
			name: "rolling radius", why: "48.5 of 50 mm", want: "fail", change: []string{`wheel.tyre = "pneumatic"`},
			value: left - 1.5, limit: 12, margin: 100 * ((left-1.5)/12 - 1),
		},
		{
			name: "outside size not known", why: "a profile without a pitch line", want: "unknown",
			change: []string{own, `small.profile = "own-5"`, `large.profile = "own-5"`}, value: nan, limit: 12, margin: nan,
		},
		{name: "gear", why: "50 − 76/2 = 12, and equal passes", drive: onGears, want: "pass", value: 12, limit: 12, margin: 0},
		{name: "a large gear", why: "50 − 39", drive: onGears, want: "fail", change: []string{"gear.outside_mm = 78"}, value: 11, limit: 12, margin: -100 / 12.},
		{name: "gear's size not given", why: "nothing to compare", drive: onGears, want: "unknown", change: []string{"-gear.outside_mm"}, value: nan, limit: 12, margin: nan},
	})
	testBoundary(t, "clearance", onGears, true, func(ratio float64) []string {
		return []string{at("limit.ground_clearance_mm", 12/ratio)}
	})
}
