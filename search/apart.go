package search

import (
	"slices"

	"gearsearch/constraints"
)

// Apart says which choices tell designs apart: builds that are alike in all of them
// are one design, and a ranking lists the best of each. With the zero value every
// build is a design.
type Apart struct {
	slots  uint16 // a bit for each constraints.Slot
	motors bool   // their number
}

// ApartIn tells designs apart by the parts in some slots, and by the number of
// motors if so asked.
func ApartIn(motors bool, slots ...constraints.Slot) Apart {
	a := Apart{motors: motors}
	for _, slot := range slots {
		a.slots |= 1 << slot
	}
	return a
}

// ApartByMotor is what tells designs apart unless asked for otherwise: the motor,
// the number of motors, and the battery.
func ApartByMotor() Apart { return ApartIn(true, constraints.SlotMotor, constraints.SlotBattery) }

// None reports whether every build is a design of its own.
func (a Apart) None() bool { return a == Apart{} }

// By reports whether the part in a slot tells designs apart.
func (a Apart) By(slot constraints.Slot) bool { return a.slots&(1<<slot) != 0 }

// Motors reports whether the number of motors tells designs apart.
func (a Apart) Motors() bool { return a.motors }

// ApartDrive and ApartMotors are the words for all slots of a drive, and for the
// number of motors.
const (
	ApartDrive  = "drive"
	ApartMotors = "motors"
)

// apartOrder is the order of Names: of the slots, with the number behind the
// motor.
var apartOrder = [...]constraints.Slot{
	constraints.SlotMotor, constraints.SlotBattery, constraints.SlotController,
	constraints.SlotGearDrive, constraints.SlotMotorPulley, constraints.SlotWheelPulley, constraints.SlotMount, constraints.SlotBelt,
	constraints.SlotWheel,
}

// Names are the words for what tells designs apart, in an order of their own: the
// names of slots, ApartMotors, and ApartDrive where all slots of a drive do.
func (a Apart) Names() []string {
	names := []string{}
	drive := a.drive()
	for _, slot := range apartOrder {
		switch {
		case !a.By(slot):
		case drive && !slot.Always():
			if slot == constraints.DriveSlots()[0] {
				names = append(names, ApartDrive)
			}
		default:
			names = append(names, slot.String())
		}
		if slot == constraints.SlotMotor && a.motors {
			names = append(names, ApartMotors)
		}
	}
	return names
}

// drive reports whether all slots of a drive tell designs apart.
func (a Apart) drive() bool {
	return !slices.ContainsFunc(constraints.DriveSlots(), func(slot constraints.Slot) bool { return !a.By(slot) })
}
