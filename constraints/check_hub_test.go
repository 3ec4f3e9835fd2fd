package constraints

import "testing"

func TestHub(t *testing.T) {
	other := `[[wheel]]
id = "xwheel"
diameter_mm = 90
`
	testCheck(t, "hub", []checkCase{
		yesNoCase("the same", "spoke and spoke", onBelts, "pass"),
		yesNoCase("another", "bolts do not meet", onBelts, "fail", `wheel.hub = "block"`),
		yesNoCase("one in common", "lists on both sides", onBelts, "pass", `wheel.hub = ["block", "spline"]`, `large.hub = ["spoke", "spline"]`),
		yesNoCase("none in common", "lists on both sides", onBelts, "fail", `wheel.hub = ["block", "six"]`, `large.hub = ["spoke", "spline"]`),
		yesNoCase("wheel's not given", "a side is not given", onBelts, "unknown", "-wheel.hub"),
		yesNoCase("pulley's not given", "a side is not given", onBelts, "unknown", "-large.hub"),
		yesNoCase("case matters", "hubs are names, taken as they stand", onBelts, "fail", `wheel.hub = "Spoke"`),
		yesNoCase("gear, the same", "as a pulley", onGears, "pass"),
		yesNoCase("gear, another", "as a pulley", onGears, "fail", `gear.hub = "block"`),
		yesNoCase("gear's not given", "as a pulley", onGears, "unknown", "-gear.hub"),
		yesNoCase("gear fits the wheel by name", "a list decides, whatever the hubs", onGears, "pass", `gear.fits_wheels = ["wheel"]`, `gear.hub = "block"`),
		yesNoCase("gear fits another wheel", "a list decides, although the hubs agree", onGears, "fail", `gear.fits_wheels = ["xwheel"]`, other),
		yesNoCase("gear fits the wheel, no hubs given", "a list decides", onGears, "pass", `gear.fits_wheels = ["wheel"]`, "-gear.hub", "-wheel.hub"),
	})
}
