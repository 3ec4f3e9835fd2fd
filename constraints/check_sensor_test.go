package constraints

import "testing"

func TestSensor(t *testing.T) {
	wanted := "board.sensored = true"
	testCheck(t, "sensor", []checkCase{
		yesNoCase("not asked for", "the brief does not say", onBelts, "absent", "motor.sensored = false"),
		yesNoCase("not wanted", "false asks for nothing", onBelts, "absent", "board.sensored = false", "motor.sensored = false"),
		yesNoCase("sensored", "as is asked for", onBelts, "pass", wanted, "motor.sensored = true"),
		yesNoCase("without sensors", "the motor says so", onGears, "fail", wanted, "motor.sensored = false"),
		yesNoCase("not given", "nothing to go by", onBelts, "unknown", wanted),
	})
}
