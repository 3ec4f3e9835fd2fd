package audit

import (
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// bench tries parts on each other by the checks that read the parts alone. It is a
// build in which only the parts that such a check reads are set.
//
// The checks make a tree of the choices: battery with controller and with
// motor, motor with drive, drive with wheel, and what a drive is made of.
type bench struct {
	build constraints.Build

	// What is put on it.
	battery        constraints.Battery
	controller     constraints.Controller
	motor          constraints.Motor
	belted, geared constraints.Drive // no belt is chosen, which the check of the belt lets pass
	wheel          constraints.Wheel

	onPack, onShaft, onHub, inDrive []*constraints.Check
}

func newBench() *bench {
	b := &bench{
		onPack:  alone(constraints.OnBattery | constraints.OnController | constraints.OnMotor),
		onShaft: alone(constraints.OnMotor | constraints.OnDrive),
		onHub:   alone(constraints.OnDrive | constraints.OnWheel),
		inDrive: alone(constraints.OnDrive),
	}
	b.build.Battery, b.build.Controller, b.build.Motor = &b.battery, &b.controller, &b.motor
	b.build.Drive, b.build.Wheel = &b.belted, &b.wheel
	return b
}

// alone lists the checks that go by the parts of these choices alone.
func alone(scope constraints.Scope) []*constraints.Check {
	return slices.DeleteFunc(constraints.Registry(), func(c *constraints.Check) bool { return !c.Alone || c.Scope(nil) != scope })
}

// fit reports whether no check fails: what is not known may fit.
func (b *bench) fit(checks []*constraints.Check) bool {
	for _, c := range checks {
		if c.Lists(b.build.Drive) && c.Test(&b.build).Verdict == constraints.Fail {
			return false
		}
	}
	return true
}

// What bears any voltage, as far as is known.
var (
	anyMotor      = &catalog.Motor{MaxVolts: math.NaN()}
	anyController = &catalog.Controller{MaxVolts: math.NaN()}
)

// controllerBears reports whether a controller may go with a pack.
func (b *bench) controllerBears(c *catalog.Controller, pack *catalog.Battery) bool {
	return b.bear(c, anyMotor, pack)
}

// motorBears reports whether a motor may go with a pack.
func (b *bench) motorBears(m *catalog.Motor, pack *catalog.Battery) bool {
	return b.bear(anyController, m, pack)
}

func (b *bench) bear(c *catalog.Controller, m *catalog.Motor, pack *catalog.Battery) bool {
	b.controller.Controller, b.motor.Motor = c, m
	b.battery.Battery, b.battery.Pack.Full = pack, pack.FullVolts()
	return b.fit(b.onPack)
}

// pulleyOnMotor reports whether a motor pulley may go on a motor.
func (b *bench) pulleyOnMotor(p *catalog.Pulley, m *catalog.Motor) bool {
	b.belted.MotorPulley, b.motor.Motor, b.build.Drive = p, m, &b.belted
	return b.fit(b.onShaft)
}

// gearOnMotor reports whether a gear drive may go on a motor.
func (b *bench) gearOnMotor(g *catalog.GearDrive, m *catalog.Motor) bool {
	b.geared.Gear, b.motor.Motor, b.build.Drive = g, m, &b.geared
	return b.fit(b.onShaft)
}

// pulleyOnWheel reports whether a wheel pulley may bolt to a wheel.
func (b *bench) pulleyOnWheel(p *catalog.Pulley, w *catalog.Wheel) bool {
	b.belted.WheelPulley, b.wheel.Wheel, b.build.Drive = p, w, &b.belted
	return b.fit(b.onHub)
}

// gearOnWheel reports whether a gear drive may bolt to a wheel.
func (b *bench) gearOnWheel(g *catalog.GearDrive, w *catalog.Wheel) bool {
	b.geared.Gear, b.wheel.Wheel, b.build.Drive = g, w, &b.geared
	return b.fit(b.onHub)
}

// paired reports whether two pulleys may carry one belt.
func (b *bench) paired(small, large *catalog.Pulley) bool {
	b.belted.MotorPulley, b.belted.WheelPulley, b.build.Drive = small, large, &b.belted
	return b.fit(b.inDrive)
}
