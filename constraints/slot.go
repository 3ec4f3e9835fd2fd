package constraints

import (
	"iter"
	"slices"
	"strings"

	"gearsearch/catalog"
)

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

// slotRow is what is known of a slot.
type slotRow struct {
	name  string // in briefs, build files and data out
	kind  string // of the parts that fill it
	chain string // of those that fill it in a chain drive; "": the same
	// called is its name where people read of a chain drive; "": the same.
	called string
	// says are the words that a part has which goes into it and not into another slot of
	// its kind, by key.
	says map[string]string

	// parts are those of a catalog that go into it, sorted by id.
	parts func(c *catalog.Catalog) iter.Seq[*catalog.Part]
	// inPlay are those that a problem chooses from.
	inPlay func(p *Problem) iter.Seq[*catalog.Part]
	// in is the part of a build, and of that of a drive, nil for none: one of
	// the two, in for what every build has.
	in func(b *Build) *catalog.Part
	of func(d *Drive) *catalog.Part
	// pieces is how many of it a build takes.
	pieces func(b *Build) int
}

// slotRows are the rows, by slot.
var slotRows = [slotCount]slotRow{
	SlotBattery: {
		name: "battery", kind: "battery", pieces: func(*Build) int { return 1 },
		parts:  func(c *catalog.Catalog) iter.Seq[*catalog.Part] { return commons(c.Batteries) },
		inPlay: func(p *Problem) iter.Seq[*catalog.Part] { return commons(p.Batteries) },
		in:     func(b *Build) *catalog.Part { return &b.Battery.Part },
	},
	SlotController: {
		name: "controller", kind: "controller", pieces: (*Build).Controllers,
		parts:  func(c *catalog.Catalog) iter.Seq[*catalog.Part] { return commons(c.Controllers) },
		inPlay: func(p *Problem) iter.Seq[*catalog.Part] { return commons(p.Controllers) },
		in:     func(b *Build) *catalog.Part { return &b.Controller.Part },
	},
	SlotMotor: {
		name: "motor", kind: "motor", pieces: (*Build).Motors,
		parts:  func(c *catalog.Catalog) iter.Seq[*catalog.Part] { return commons(c.Motors) },
		inPlay: func(p *Problem) iter.Seq[*catalog.Part] { return commons(p.Motors) },
		in:     func(b *Build) *catalog.Part { return &b.Motor.Part },
	},
	SlotGearDrive: {
		name: "gear_drive", kind: "gear_drive", pieces: (*Build).Motors,
		parts:  func(c *catalog.Catalog) iter.Seq[*catalog.Part] { return commons(c.GearDrives) },
		inPlay: func(p *Problem) iter.Seq[*catalog.Part] { return commons(p.GearDrives) },
		of: func(d *Drive) *catalog.Part {
			if d.Bare {
				return nil
			}
			return orNil(d.Gear, (*catalog.GearDrive).Common)
		},
	},
	SlotMotorPulley: {
		name: "motor_pulley", kind: "pulley", chain: "sprocket", called: "motor_sprocket", says: saysSide(catalog.MotorSide), pieces: (*Build).Motors,
		parts:  func(c *catalog.Catalog) iter.Seq[*catalog.Part] { return commons(pulleysOn(c, catalog.MotorSide)) },
		inPlay: func(p *Problem) iter.Seq[*catalog.Part] { return commons(p.MotorPulleys) },
		of:     func(d *Drive) *catalog.Part { return orNil(d.MotorPulley, (*catalog.Pulley).Common) },
	},
	SlotWheelPulley: {
		name: "wheel_pulley", kind: "pulley", chain: "sprocket", called: "wheel_sprocket", says: saysSide(catalog.WheelSide), pieces: (*Build).Motors,
		parts:  func(c *catalog.Catalog) iter.Seq[*catalog.Part] { return commons(pulleysOn(c, catalog.WheelSide)) },
		inPlay: func(p *Problem) iter.Seq[*catalog.Part] { return commons(p.WheelPulleys) },
		of:     func(d *Drive) *catalog.Part { return orNil(d.WheelPulley, (*catalog.Pulley).Common) },
	},
	SlotMount: {
		name: "mount", kind: "mount", pieces: (*Build).Motors,
		parts:  func(c *catalog.Catalog) iter.Seq[*catalog.Part] { return commons(c.Mounts) },
		inPlay: func(p *Problem) iter.Seq[*catalog.Part] { return commons(p.Mounts) },
		of:     func(d *Drive) *catalog.Part { return orNil(d.Mount, (*catalog.Mount).Common) },
	},
	SlotBelt: {
		name: "belt", kind: "belt", chain: "chain", called: "chain", pieces: (*Build).Motors,
		parts:  func(c *catalog.Catalog) iter.Seq[*catalog.Part] { return commons(c.AllBelts()) },
		inPlay: func(p *Problem) iter.Seq[*catalog.Part] { return commons(p.Belts) },
		of:     func(d *Drive) *catalog.Part { return orNil(d.Belt, (*catalog.Belt).Common) },
	},
	SlotWheel: {
		name: "wheel", kind: "wheel", pieces: func(*Build) int { return wheels },
		parts:  func(c *catalog.Catalog) iter.Seq[*catalog.Part] { return commons(c.Wheels) },
		inPlay: func(p *Problem) iter.Seq[*catalog.Part] { return commons(p.Wheels) },
		in:     func(b *Build) *catalog.Part { return &b.Wheel.Part },
	},
}

// String is the name of the slot in briefs, build files and data out.
func (s Slot) String() string { return slotRows[s].name }

// Kind is the kind of the parts that fill the slot, in a belt drive where those of a
// chain drive are of another.
func (s Slot) Kind() string { return slotRows[s].kind }

// Kinds are all kinds of parts that fill the slot, Kind first.
func (s Slot) Kinds() []string {
	if other := slotRows[s].chain; other != "" {
		return []string{slotRows[s].kind, other}
	}
	return []string{slotRows[s].kind}
}

// Called is the name of the slot where people read of it: its own, or that of what
// stands there in a chain drive.
func (s Slot) Called(chained bool) string {
	if called := slotRows[s].called; chained && called != "" {
		return called
	}
	return s.String()
}

// Says are the words that tell a part which goes into the slot from the others of its
// kind, by key; none where all of its kind go into it.
func (s Slot) Says() map[string]string { return slotRows[s].says }

// saysSide is what a part says that sits on a side.
func saysSide(side catalog.Side) map[string]string { return map[string]string{"side": side.String()} }

// Always reports whether every build has a part in the slot. The others are
// those of drives: of a gear drive, or of a belt or chain drive.
func (s Slot) Always() bool { return slotRows[s].in != nil }

// Parts are the parts of a catalog that go into the slot, sorted by id.
func (s Slot) Parts(c *catalog.Catalog) iter.Seq[*catalog.Part] { return slotRows[s].parts(c) }

// Slots lists every slot, in order.
func Slots() []Slot {
	slots := make([]Slot, slotCount)
	for i := range slots {
		slots[i] = Slot(i)
	}
	return slots
}

// DriveSlots lists the slots that make up a drive.
func DriveSlots() []Slot { return slices.DeleteFunc(Slots(), Slot.Always) }

// InKindOrder sorts slots as catalogs list the kinds that fill them.
func InKindOrder(slots []Slot) []Slot {
	kinds := catalog.KindNames()
	slices.SortStableFunc(slots, func(a, b Slot) int {
		return slices.Index(kinds, a.Kind()) - slices.Index(kinds, b.Kind())
	})
	return slots
}

// beltSlots lists the slots that make up a belt drive, as catalogs list kinds.
func beltSlots() []Slot {
	return InKindOrder(slices.DeleteFunc(DriveSlots(), func(s Slot) bool { return s == SlotGearDrive }))
}

// words is the name of the slot in a sentence.
func (s Slot) words() string { return strings.ReplaceAll(s.String(), "_", " ") }

// SlotNamed finds a slot by its name.
func SlotNamed(name string) (Slot, bool) {
	for _, s := range Slots() {
		if s.String() == name {
			return s, true
		}
	}
	return 0, false
}

// Part is the part that fills a slot of the build, nil for none.
func (b *Build) Part(slot Slot) *catalog.Part {
	if row := &slotRows[slot]; row.in != nil {
		return row.in(b)
	}
	return b.Drive.Part(slot)
}

// Part is the part that fills a slot of the drive, nil for none.
func (d *Drive) Part(slot Slot) *catalog.Part {
	if of := slotRows[slot].of; of != nil {
		return of(d)
	}
	return nil
}

// Pieces is how many of the part in a slot the build takes.
func (b *Build) Pieces(slot Slot) int { return slotRows[slot].pieces(b) }

// commons are what all the parts of a list have in common.
func commons[T interface{ Common() *catalog.Part }](list []T) iter.Seq[*catalog.Part] {
	return func(yield func(*catalog.Part) bool) {
		for _, x := range list {
			if !yield(x.Common()) {
				return
			}
		}
	}
}

// orNil is what a part has in common with others, nil for no part.
func orNil[T any](x *T, common func(*T) *catalog.Part) *catalog.Part {
	if x == nil {
		return nil
	}
	return common(x)
}
