package constraints

import "testing"

// From rest to 20 km/h on belts takes 1.744441 s, by Simpson's rule.
func TestLaunch(t *testing.T) {
	const seconds = 1.7444407775150634
	launch := func(s string, more ...string) []string {
		return append([]string{"target.launch_speed_kmh = 20", "target.launch_s = " + s}, more...)
	}
	testCheck(t, "launch", []checkCase{
		{name: "no time", why: "a speed alone asks for nothing", want: "absent", change: []string{"target.launch_speed_kmh = 20"}},
		{name: "in time", why: "1.74 of 2", want: "pass", change: launch("2"), value: seconds, limit: 2, margin: 100 * (1 - seconds/2)},
		{name: "too late", why: "1.74 of 1.5", want: "fail", change: launch("1.5"), value: seconds, limit: 1.5, margin: 100 * (1 - seconds/1.5)},
		{name: "never", why: "35 km/h is above the top speed", want: "fail", change: launch("20", "target.launch_speed_kmh = 35"), value: nan, limit: 20, margin: nan},
		{name: "held by the ceiling", why: "20 km/h is above the road speed at 20 000 rpm", want: "fail", change: launch("20", "limit.erpm_ceiling = 20000"), value: nan, limit: 20, margin: nan},
		{name: "does not move", why: "never", want: "fail", change: launch("20", "ground.rolling_resistance = 0.9"), value: nan, limit: 20, margin: nan},
		{name: "thrust not known", why: "1.61 without any resistance", want: "unknown", change: launch("2", unknownMotor...), value: 1.6080427583023704, limit: 2, margin: 100 * (1 - 1.6080427583023704/2)},
		{name: "too late for the best motor", why: "1.61 of 1.2", want: "fail", change: launch("1.2", unknownMotor...), value: 1.6080427583023704, limit: 1.2, margin: 100 * (1 - 1.6080427583023704/1.2)},
		{name: "on gears", why: "1.74 of 2", drive: onGears, want: "pass", change: launch("2"), value: 1.7375384496619726, limit: 2, margin: 100 * (1 - 1.7375384496619726/2)},
	})
	testBoundary(t, "launch", onBelts, false, limitAt(t, "target.launch_s", (*Build).Launch, "target.launch_speed_kmh = 20", "target.launch_s = 1"))
}
