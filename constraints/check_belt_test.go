package constraints

import "testing"

// A belt of 70 teeth of 5 mm round 15 and 45 teeth puts the shafts 97.048596
// mm apart; by bisection of the belt length.
const centre70 = 97.04859571238262

func TestBelt(t *testing.T) {
	testCheck(t, "belt", []checkCase{
		yesNoCase("inside the range", "97 of 60 to 120", onBelts, "pass"),
		yesNoCase("too short for the mount", "97 of 98 to 120", onBelts, "fail", "mount.centre_min_mm = 98"),
		yesNoCase("too long for the mount", "97 of 60 to 96", onBelts, "fail", "mount.centre_max_mm = 96"),
		yesNoCase("too short to go around", "20 teeth round 15 and 45", onBelts, "fail", "belt.teeth = 20"),
		yesNoCase("wider than the narrower pulley", "15 on 12", onBelts, "fail", "small.width_mm = 12"),
		yesNoCase("as wide as the narrower pulley", "equal fits", onBelts, "pass", "small.width_mm = 20"),
		yesNoCase("wider by 0.9e-9", "equal within 1e-9", onBelts, "pass", "belt.width_mm = 15.0000000135"),
		yesNoCase("wider by 1.1e-9", "wider", onBelts, "fail", "belt.width_mm = 15.0000000165"),
		yesNoCase("belt's width not given", "unknown widths fit", onBelts, "pass", "-belt.width_mm"),
		yesNoCase("pulleys' widths not given", "unknown widths fit", onBelts, "pass", "-small.width_mm", "-large.width_mm"),
		yesNoCase("one pulley's width not given", "the other decides", onBelts, "fail", "-small.width_mm", "large.width_mm = 12"),
		yesNoCase("of another profile", "no belt of the profile", onBelts, "fail", `belt.profile = "gt-5"`),
		yesNoCase("pulleys of two profiles", "no belt has both", onBelts, "fail", `large.profile = "gt-5"`),
		yesNoCase("no belts", "cannot be decided", onBelts, "unknown", "-belt"),
		yesNoCase("no mounts", "cannot be decided", onBelts, "unknown", "-mount"),
		yesNoCase("all belts avoided", "none left in play", onBelts, "unknown", `avoid.belt = ["belt"]`),
		yesNoCase("all mounts avoided", "none left in play", onBelts, "unknown", `avoid.mount = ["mount"]`),
		yesNoCase("gear", "has no belt", onGears, "absent"),
	})
	for _, c := range []struct {
		off  float64 // of the centre distance past the mount's end, relative to it
		want Verdict
	}{{-1.1e-9, Pass}, {0, Pass}, {0.9e-9, Pass}, {1.1e-9, Fail}} {
		for key, change := range map[string]string{
			"max": at("mount.centre_max_mm", centre70/(1+c.off)),
			"min": at("mount.centre_min_mm", centre70/(1-c.off)),
		} {
			if r, _ := result(build(t, onBelts, change), "belt"); r.Verdict != c.want {
				t.Errorf("the centre distance stands %v past the mount's %s: %v, want %v", c.off, key, r.Verdict, c.want)
			}
		}
	}
}
