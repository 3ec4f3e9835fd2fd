package constraints

import "testing"

// At full charge 150 rpm/V × 42 V × 7 pole pairs make 44 100 rpm; 30 km/h on a
// 100 mm wheel at 3:1 make 8.3333 / 0.05 × 3 × 60 / 2π × 7 = 33 422.538 rpm.
func TestERPM(t *testing.T) {
	const free, riding = 44_100, 33_422.538049298026
	atSpeed := func(more ...string) []string {
		return append([]string{`limit.erpm_rule = "at-speed"`, "target.top_speed_kmh = 30"}, more...)
	}
	second := `[[controller]]
id = "second"
erpm_ceiling = 60000
`
	testCheck(t, "erpm", []checkCase{
		{name: "the controller's ceiling", why: "5 % headroom taken off", want: "pass", value: free, limit: 142_500, margin: 100 * (1 - free/142_500.)},
		{name: "the brief's is lower", why: "45000 × 0.95", want: "fail", change: []string{"limit.erpm_ceiling = 45000"}, value: free, limit: 42_750, margin: 100 * (1 - free/42_750.)},
		{name: "the controller's is lower", why: "45000 × 0.95", want: "fail", change: []string{"limit.erpm_ceiling = 200000", "controller.erpm_ceiling = 45000"}, value: free, limit: 42_750, margin: 100 * (1 - free/42_750.)},
		{name: "no headroom", why: "45000", want: "pass", change: []string{"limit.erpm_ceiling = 45000", "limit.erpm_headroom_pct = 0"}, value: free, limit: 45_000, margin: 2},
		{name: "only the brief's", why: "the controller has none", want: "pass", change: []string{"limit.erpm_ceiling = 50000", "-controller.erpm_ceiling"}, value: free, limit: 47_500, margin: 100 * (1 - free/47_500.)},
		{name: "none at all", why: "neither the brief nor any controller has one", want: "absent", change: []string{"-controller.erpm_ceiling"}},
		{name: "another controller has one", why: "applies, but this build has no ceiling", want: "unknown", change: []string{"-controller.erpm_ceiling", second}, value: free, limit: nan, margin: nan},
		{name: "pole pairs not given", why: "7 assumed", want: "pass", change: []string{"-motor.pole_pairs"}, value: free, limit: 142_500, margin: 100 * (1 - free/142_500.)},
		{name: "ten pole pairs", why: "63 000", want: "pass", drive: onGears, change: []string{"motor.pole_pairs = 10"}, value: 63_000, limit: 142_500, margin: 100 * (1 - 63_000/142_500.)},
		{name: "at speed", why: "held at the target, not wheels up", want: "pass", change: atSpeed("limit.erpm_ceiling = 40000"), value: riding, limit: 38_000, margin: 100 * (1 - riding/38_000)},
		{name: "at speed, too fast", why: "30400", want: "fail", change: atSpeed("limit.erpm_ceiling = 32000"), value: riding, limit: 30_400, margin: 100 * (1 - riding/30_400)},
		{name: "at speed on gears", why: "2:1 of 3:1", want: "pass", drive: onGears, change: atSpeed("gear.ratio = 2"), value: riding * 2 / 3, limit: 142_500, margin: 100 * (1 - riding*2/3/142_500)},
		{name: "at speed, no ceiling", why: "another controller has one", want: "unknown", change: atSpeed("-controller.erpm_ceiling", second), value: riding, limit: nan, margin: nan},
	})
	ceiling := func(value float64, more ...string) func(ratio float64) []string {
		return func(ratio float64) []string {
			return append([]string{at("limit.erpm_ceiling", value/ratio), "limit.erpm_headroom_pct = 0"}, more...)
		}
	}
	testBoundary(t, "erpm", onBelts, false, ceiling(free))
	testBoundary(t, "erpm", onBelts, false, ceiling(riding, atSpeed()...))
}

// TestCeilingAfterKeepAndAvoid: a controller that is avoided makes no check
// apply.
func TestCeilingAfterKeepAndAvoid(t *testing.T) {
	second := `[[controller]]
id = "second"
`
	if p := problem(t, onBelts, second, `avoid.controller = "controller"`); p.HasCeiling() {
		t.Error("the erpm check applies by a controller that is avoided")
	}
	if p := problem(t, onBelts, second); !p.HasCeiling() {
		t.Error("the erpm check does not apply, although a controller has a ceiling")
	}
}
