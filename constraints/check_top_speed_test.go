package constraints

import (
	"slices"
	"testing"
)

// The top speed on belts is 30.784987517 km/h, by bisection of F − L.
const topOnBelts = 30.784987517066714

func TestTopSpeed(t *testing.T) {
	estimate := 28.839820559954305 // 0.85 × 150 × 36 × 2π × 0.05 / (60 × 3) × 3.6
	testCheck(t, "top-speed", []checkCase{
		{name: "no target", why: "the brief does not ask", want: "absent"},
		{name: "reached", why: "30.78 of 30", want: "pass", change: []string{"target.top_speed_kmh = 30"}, value: topOnBelts, limit: 30, margin: 100 * (topOnBelts/30 - 1)},
		{name: "not reached", why: "30.78 of 31", want: "fail", change: []string{"target.top_speed_kmh = 31"}, value: topOnBelts, limit: 31, margin: 100 * (topOnBelts/31 - 1)},
		{name: "by estimate", why: "an estimate decides where nothing is known", want: "fail", change: append(nothingKnown, "target.top_speed_kmh = 29"), value: estimate, limit: 29, margin: 100 * (estimate/29 - 1)},
		{name: "estimated, but not by the estimate", why: "without any resistance 32 km/h and more", want: "unknown", change: append(unknownMotor, "target.top_speed_kmh = 29"), value: estimate, limit: 29, margin: 100 * (estimate/29 - 1)},
		{name: "faster than the best motor", why: "0.95 × 36 V turn it to 32.2 km/h", want: "fail", change: append(unknownMotor, "target.top_speed_kmh = 32.3"), value: estimate, limit: 32.3, margin: 100 * (estimate/32.3 - 1)},
		{name: "held by the ceiling", why: "at 30 000 rpm 26.93 km/h", want: "fail", change: []string{"target.top_speed_kmh = 30", "limit.erpm_ceiling = 30000"}, value: 26.92793703076965, limit: 30, margin: 100 * (26.92793703076965/30 - 1)},
		{name: "does not move", why: "the grip does not overcome the rolling", want: "fail", change: []string{"target.top_speed_kmh = 30", "ground.rolling_resistance = 0.9"}, value: 0, limit: 30, margin: -100},
		{name: "on gears", why: "30.79 of 30.79", drive: onGears, want: "pass", change: []string{"target.top_speed_kmh = 30.79"}, value: 30.794561698106037, limit: 30.79, margin: 100 * (30.794561698106037/30.79 - 1)},
	})
	testCheck(t, "top-speed-max", []checkCase{
		{name: "no maximum", why: "the brief does not ask", want: "absent"},
		{name: "below", why: "30.78 of 32", want: "pass", change: []string{"target.top_speed_max_kmh = 32"}, value: topOnBelts, limit: 32, margin: 100 * (1 - topOnBelts/32)},
		{name: "above", why: "30.78 of 25", want: "fail", change: []string{"target.top_speed_max_kmh = 25"}, value: topOnBelts, limit: 25, margin: 100 * (1 - topOnBelts/25)},
		{name: "above by estimate", why: "an estimate decides where nothing is known", want: "fail", change: append(nothingKnown, "target.top_speed_max_kmh = 25"), value: estimate, limit: 25, margin: 100 * (1 - estimate/25)},
		{name: "estimated, but not by the estimate", why: "how fast it is at the least is not known", want: "unknown", change: append(unknownMotor, "target.top_speed_max_kmh = 25"), value: estimate, limit: 25, margin: 100 * (1 - estimate/25)},
		{name: "slower than the best motor", why: "0.95 × 36 V turn it to 32.2 km/h", want: "pass", change: append(unknownMotor, "target.top_speed_max_kmh = 32.3"), value: estimate, limit: 32.3, margin: 100 * (1 - estimate/32.3)},
	})
	testBoundary(t, "top-speed", onBelts, true, limitAt(t, "target.top_speed_kmh", func(b *Build) float64 { v, _ := b.TopSpeed(); return v * kmh }))
	testBoundary(t, "top-speed-max", onBelts, false, limitAt(t, "target.top_speed_max_kmh", func(b *Build) float64 { v, _ := b.TopSpeed(); return v * kmh }))
}

// limitAt makes the change that puts a limit at a build's value over a ratio.
func limitAt(t *testing.T, key string, value func(b *Build) float64, more ...string) func(ratio float64) []string {
	t.Helper()
	x := value(build(t, onBelts, more...))
	return func(ratio float64) []string { return append(slices.Clone(more), at(key, x/ratio)) }
}
