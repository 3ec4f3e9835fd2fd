package constraints

import "gearsearch/catalog"

// voltageCheck: do controller and motor bear the full pack?
var voltageCheck = Check{
	Name:    "voltage",
	Subject: "volts of the full pack",
	Meaning: "the pack at full charge is within the controller's and the motor's highest voltage",
	Unit:    "V",
	PerSI:   1,
	Scope:   on(OnBattery | OnController | OnMotor),
	Applies: always,
	Lists:   anyDrive,
	Alone:   true,
	Needs: []Need{
		{Kind: "motor", Key: "max_volts", Unless: func(s *Stock) bool {
			return each(s.Controllers, func(c *catalog.Controller) float64 { return c.MaxVolts })
		}},
		{Kind: "controller", Key: "max_volts", Unless: func(s *Stock) bool {
			return each(s.Motors, func(m *catalog.Motor) float64 { return m.MaxVolts })
		}},
	},
	Corner: func(b *Build) Outcome {
		return atMost(b.Battery.Pack.Full, lower(b.Controller.MaxVolts, b.Motor.MaxVolts))
	},
}
