package constraints

import (
	"math"
	"testing"
)

// A can of 63 mm on a wheel of 100 mm: level, 50 − 31.5 = 18.5 mm are left under
// it; the gear drive's shaft 40 mm from the axle at 30° stands 20 mm higher or
// lower, sin 30° being a half.
func TestCan(t *testing.T) {
	const level = 18.5
	at30 := func(more ...string) []string {
		return append([]string{"gear.centre_mm = 40", "gear.angle_deg = 30"}, more...)
	}
	testCheck(t, "can", []checkCase{
		{name: "level", why: "18.5 of 12", want: "pass", value: level, limit: 12, margin: 100 * (level/12 - 1)},
		{
			name: "a large can", why: "50 − 41.5", want: "fail", change: []string{"motor.can_diameter_mm = 83"},
			value: 8.5, limit: 12, margin: 100 * (8.5/12 - 1),
		},
		{
			name: "rolling radius", why: "48.5 of 50 mm", want: "pass", change: []string{`wheel.tyre = "pneumatic"`},
			value: 17, limit: 12, margin: 100 * (17/12. - 1),
		},
		{name: "can not given", why: "nothing to compare", want: "unknown", change: []string{"-motor.can_diameter_mm"}, value: nan, limit: 12, margin: nan},
		{
			name: "raised", why: "with the belt, C sin 30° higher", want: "pass", change: []string{"mount.angle_deg = 30"},
			value: level + centre70/2, limit: 12, margin: 100 * ((level+centre70/2)/12 - 1),
		},
		{
			name: "lowered", why: "as much lower", want: "fail", change: []string{"mount.angle_deg = -30"},
			value: level - centre70/2, limit: 12, margin: 100 * ((level-centre70/2)/12 - 1),
		},
		{
			name: "without a belt", why: "the mount's least, 60 mm", want: "pass", change: []string{"-belt", "mount.angle_deg = 30"},
			value: level + 30, limit: 12, margin: 100 * ((level+30)/12 - 1),
		},
		{
			name: "no mount", why: "a level motor is enough", want: "pass", change: []string{"-mount"},
			value: level, limit: 12, margin: 100 * (level/12 - 1),
		},
		{
			name: "no mount, and a large can", why: "no telling how high it may stand", want: "unknown",
			change: []string{"-mount", "motor.can_diameter_mm = 83"}, value: nan, limit: 12, margin: nan,
		},
		{name: "angle not given", why: "level is enough", want: "pass", change: []string{"-mount.angle_deg"}, value: level, limit: 12, margin: 100 * (level/12 - 1)},
		{
			name: "angle not given, level not enough", why: "upright would be", want: "unknown",
			change: []string{"-mount.angle_deg", "motor.can_diameter_mm = 83"}, value: nan, limit: 12, margin: nan,
		},
		{
			name: "angle not given, upright not enough", why: "50 + 97.4 − 141.5 is below 12", want: "fail",
			change: []string{"-mount.angle_deg", "motor.can_diameter_mm = 283"}, value: nan, limit: 12, margin: nan,
		},
		{name: "gear", why: "50 + 20 − 31.5", drive: onGears, want: "pass", change: at30(), value: level + 20, limit: 12, margin: 100 * ((level+20)/12 - 1)},
		{
			name: "gear, lowered", why: "50 − 20 − 31.5 is below the ground", drive: onGears, want: "fail", change: at30("gear.angle_deg = -30"),
			value: level - 20, limit: 12, margin: 100 * ((level-20)/12 - 1),
		},
		{name: "gear, level", why: "no centre is needed", drive: onGears, want: "pass", value: level, limit: 12, margin: 100 * (level/12 - 1)},
		{name: "gear, centre not given", why: "an angle of nothing known", drive: onGears, want: "unknown", change: []string{"gear.angle_deg = 5"}, value: nan, limit: 12, margin: nan},
		{
			name: "gear, nothing given", why: "may stand as high as it likes", drive: onGears, want: "unknown",
			change: []string{"-gear.angle_deg", "motor.can_diameter_mm = 83"}, value: nan, limit: 12, margin: nan,
		},
		{
			name: "gear, angle not given", why: "upright, 50 + 5 − 43.5 = 11.5", drive: onGears, want: "fail",
			change: []string{"-gear.angle_deg", "gear.centre_mm = 5", "motor.can_diameter_mm = 87"}, value: nan, limit: 12, margin: nan,
		},
		{name: "in the wheel", why: "the wheel goes round it", drive: onGears, want: "pass", change: []string{"gear.in_wheel = true", "motor.can_diameter_mm = 95"}, value: nan, limit: 12, margin: nan},
		{name: "in the wheel, can not given", why: "the wheel goes round it", drive: onGears, want: "pass", change: []string{"gear.in_wheel = true", "-motor.can_diameter_mm"}, value: nan, limit: 12, margin: nan},
	})
	testBoundary(t, "can", onBelts, true, func(ratio float64) []string {
		return []string{at("limit.ground_clearance_mm", level/ratio)}
	})
}

// TestCanUpright: without an angle, the verdict turns from unknown to failed
// where the can of an upright motor reaches the limit.
func TestCanUpright(t *testing.T) {
	for _, c := range []struct {
		off  float64 // of the limit from what is left under it, 50 + 40 − 31.5 mm
		want Verdict
	}{{-1e-3, Undecided}, {0, Undecided}, {0.9e-9, Undecided}, {1.1e-9, Fail}, {1e-3, Fail}} {
		r, _ := result(build(t, onGears, "-gear.angle_deg", "gear.centre_mm = 40", at("limit.ground_clearance_mm", 58.5*(1+c.off))), "can")
		if r.Verdict != c.want || !math.IsNaN(r.Value) {
			t.Errorf("limit %+.1e beyond: %v, value %v; want %v, none", c.off, r.Verdict, r.Value, c.want)
		}
	}
}
