package constraints

// voltage: do controller and motor bear the full pack?
var voltage = Check{
	Name:    "voltage",
	Meaning: "the pack at full charge is within the controller's and the motor's highest voltage",
	Unit:    "V",
	PerSI:   1,
	Scope:   on(OnBattery | OnController | OnMotor),
	Applies: always,
	Lists:   anyDrive,
	Test: func(b *Build) Outcome {
		return atMost(b.Battery.Pack.Full, lower(b.Controller.MaxVolts, b.Motor.MaxVolts))
	},
}
