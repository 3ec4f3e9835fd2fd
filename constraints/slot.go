package constraints

// Slot is one place in a build that a part fills.
type Slot uint8

// The slots, in the order in which ids break ties of a ranking, except that
// the number of motors stands between Motor and GearDrive there.
const (
	SlotBattery Slot = iota
	SlotController
	SlotMotor
	SlotGearDrive
	SlotMotorPulley
	SlotWheelPulley
	SlotMount
	SlotBelt
	SlotWheel
	slotCount
)

// slotNames are the names of the slots in briefs, build files and data out.
var slotNames = [slotCount]string{
	"battery", "controller", "motor", "gear_drive", "motor_pulley",
	"wheel_pulley", "mount", "belt", "wheel",
}

func (s Slot) String() string { return slotNames[s] }

// Slots lists every slot, in order.
func Slots() []Slot {
	slots := make([]Slot, slotCount)
	for i := range slots {
		slots[i] = Slot(i)
	}
	return slots
}

// SlotNamed finds a slot by its name.
func SlotNamed(name string) (Slot, bool) {
	for i, n := range slotNames {
		if n == name {
			return Slot(i), true
		}
	}
	return 0, false
}
