package constraints

import (
	"slices"
	"testing"
)

// The top speed on belts is 30.784987517 km/h, by bisection of F − L.
const topOnBelts = 30.784987517066714

// With a full pack, 42 V, it is 35.888754689 km/h, likewise.
const fullOnBelts = 35.88875468886191

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
	full := estimate * 42 / 36
	testCheck(t, "top-speed-max", []checkCase{
		{name: "no maximum", why: "the brief does not ask", want: "absent"},
		{name: "below", why: "35.89 of 36 with a full pack", want: "pass", change: []string{"target.top_speed_max_kmh = 36"}, value: fullOnBelts, limit: 36, margin: 100 * (1 - fullOnBelts/36)},
		{name: "above", why: "30.78 at nominal volts, 35.89 with a full pack", want: "fail", change: []string{"target.top_speed_max_kmh = 32"}, value: fullOnBelts, limit: 32, margin: 100 * (1 - fullOnBelts/32)},
		{name: "whatever the charge", why: "the same at 3.3 V a cell", want: "fail", change: []string{"target.top_speed_max_kmh = 32", "target.charge = 3.3"}, value: fullOnBelts, limit: 32, margin: 100 * (1 - fullOnBelts/32)},
		{name: "held by the ceiling", why: "at 30 000 rpm 26.93 km/h, whatever the pack", want: "pass", change: []string{"target.top_speed_max_kmh = 30", "limit.erpm_ceiling = 30000"}, value: 26.92793703076965, limit: 30, margin: 100 * (1 - 26.92793703076965/30)},
		{name: "above by estimate", why: "an estimate decides where nothing is known", want: "fail", change: append(nothingKnown, "target.top_speed_max_kmh = 25"), value: full, limit: 25, margin: 100 * (1 - full/25)},
		{name: "estimated, but not by the estimate", why: "how fast it is at the least is not known", want: "unknown", change: append(unknownMotor, "target.top_speed_max_kmh = 25"), value: full, limit: 25, margin: 100 * (1 - full/25)},
		{name: "slower than the best motor", why: "0.95 × 42 V turn it to 37.6 km/h", want: "pass", change: append(unknownMotor, "target.top_speed_max_kmh = 37.7"), value: full, limit: 37.7, margin: 100 * (1 - full/37.7)},
	})
	testBoundary(t, "top-speed", onBelts, true, limitAt(t, "target.top_speed_kmh", func(b *Build) float64 { v, _ := b.TopSpeed(); return v * kmh }))
	testBoundary(t, "top-speed-max", onBelts, false, limitAt(t, "target.top_speed_max_kmh", func(b *Build) float64 { return b.FullTopSpeed() * kmh }))
}

// limitAt makes the change that puts a limit at a build's value over a ratio.
func limitAt(t *testing.T, key string, value func(b *Build) float64, more ...string) func(ratio float64) []string {
	t.Helper()
	x := value(build(t, onBelts, more...))
	return func(ratio float64) []string { return append(slices.Clone(more), at(key, x/ratio)) }
}
