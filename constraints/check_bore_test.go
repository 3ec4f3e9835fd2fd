package constraints

import "testing"

func TestBore(t *testing.T) {
	other := `[[motor]]
id = "other"
kv = 150
`
	testCheck(t, "bore", []checkCase{
		yesNoCase("equal", "8 mm on 8 mm, keyway on keyway", onBelts, "pass"),
		yesNoCase("larger shaft", "10 mm does not go into 8 mm", onBelts, "fail", "motor.shaft_mm = 10"),
		yesNoCase("smaller shaft", "6 mm would turn in 8 mm", onBelts, "fail", "motor.shaft_mm = 6"),
		yesNoCase("shaft not given", "nothing to compare", onBelts, "unknown", "-motor.shaft_mm"),
		yesNoCase("bore not given", "nothing to compare", onBelts, "unknown", "-small.bore_mm"),
		yesNoCase("keyway on a plain shaft", "the key has no seat", onBelts, "fail", `motor.shaft_key = "plain"`),
		yesNoCase("keyway on a flat shaft", "keyway and flat need the same", onBelts, "fail", `motor.shaft_key = "flat"`),
		yesNoCase("flat on a keyway shaft", "keyway and flat need the same", onBelts, "fail", `small.shaft_key = "flat"`),
		yesNoCase("flat on flat", "the same", onBelts, "pass", `small.shaft_key = "flat"`, `motor.shaft_key = "flat"`),
		yesNoCase("plain on a keyway shaft", "plain goes on any shaft", onBelts, "pass", `small.shaft_key = "plain"`),
		yesNoCase("key of the pulley not given", "absent goes on any shaft", onBelts, "pass", "-small.shaft_key"),
		yesNoCase("neither needs nor has a key", "plain goes on a shaft of which nothing is said", onBelts, "pass", "-small.shaft_key", "-motor.shaft_key"),
		yesNoCase("key of the shaft not given", "a needed key not given", onBelts, "unknown", "-motor.shaft_key"),
		yesNoCase("key disagrees, shaft not given", "what disagrees decides", onBelts, "fail", "-motor.shaft_mm", `motor.shaft_key = "plain"`),
		yesNoCase("shaft disagrees, key not given", "what disagrees decides", onBelts, "fail", "motor.shaft_mm = 10", "-motor.shaft_key"),
		yesNoCase("nothing given", "nothing disagrees", onBelts, "unknown", "-motor.shaft_mm", "-motor.shaft_key", "-small.bore_mm"),
		yesNoCase("larger by 0.9e-9", "equal within 1e-9", onBelts, "pass", "motor.shaft_mm = 8.0000000072"),
		yesNoCase("smaller by 0.9e-9", "equal within 1e-9", onBelts, "pass", "motor.shaft_mm = 7.9999999928"),
		yesNoCase("larger by 1.1e-9", "not equal", onBelts, "fail", "motor.shaft_mm = 8.0000000088"),
		yesNoCase("smaller by 1.1e-9", "not equal", onBelts, "fail", "motor.shaft_mm = 7.9999999912"),

		yesNoCase("gear equal", "as a pulley", onGears, "pass"),
		yesNoCase("gear larger shaft", "as a pulley", onGears, "fail", "motor.shaft_mm = 10"),
		yesNoCase("gear bore not given", "as a pulley", onGears, "unknown", "-gear.bore_mm"),
		yesNoCase("gear fits the motor by name", "a list decides, whatever shaft and key", onGears, "pass",
			`gear.fits_motors = ["motor"]`, "motor.shaft_mm = 10", `motor.shaft_key = "plain"`),
		yesNoCase("gear fits another motor", "a list decides, although shaft and key agree", onGears, "fail", `gear.fits_motors = ["other"]`, other),
		yesNoCase("gear fits both", "a list of two", onGears, "pass", `gear.fits_motors = ["other", "motor"]`, "-gear.bore_mm", other),
	})
}
