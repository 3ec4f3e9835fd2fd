package constraints

import (
	"slices"
	"strconv"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
)

// BuildFile names one build: the parts by id and the number of motors. A slot
// that the drive does not have is empty. It may say where the parts come from.
type BuildFile struct {
	IDs    [slotCount]string
	Motors int
	From   From
	// Carries: it has its parts and its brief in it, and is to be read as a catalog and as
	// a brief.
	Carries bool

	places map[string]field.Place // by key
	file   field.Place
}

// buildTable is the field table of a build file's [build].
func buildTable() *field.Table[BuildFile] {
	fields := []field.Field[BuildFile]{{
		Key: "motors", Min: 1, Max: 4, Required: true, Meaning: "number of motors: 1, 2 or 4",
		Count: func(b *BuildFile) *int { return &b.Motors },
	}}
	for _, slot := range Slots() {
		fields = append(fields, field.Field[BuildFile]{
			Key: slot.String(), Required: slot.Always(), ID: true, Meaning: "id of the " + slot.words(),
			Text: func(b *BuildFile) *string { return &b.IDs[slot] },
		})
	}
	return field.NewTable("[build]", fields)
}

// ReadBuild reads a build file. The error is of type field.Problems.
func ReadBuild(src field.Source) (*BuildFile, error) {
	var r field.Report
	out := &BuildFile{places: map[string]field.Place{}}
	doc := field.Parse(src, &r)
	sections := []string{"build", "from"}
	if out.Carries = isCarrier(doc.Root()); out.Carries {
		sections = sectionsOf(doc.Root())
	}
	given := documentTable("a build file", false, sections...).Decode(doc.Root(), new(document), &r)
	section, ok := given.Value("build").Section()
	switch {
	case !given.Has("build") && !doc.Root().Damaged():
		r.Add(given.Place("build"), field.Missing, "write [build] and below it motor = \"id\", motors = 2, …", "there is no [build]")
	case ok:
		build := buildTable().Decode(section, out, &r)
		for e := range section.Entries() {
			out.places[e.Key()] = e.Value.Place()
		}
		out.file = section.Place()
		if out.Motors == 3 {
			r.Add(build.Place("motors"), field.OutOfRange, "", "motors is 3, must be 1, 2 or 4")
		}
		if !section.Damaged() {
			out.driveShape(&r)
		}
	}
	if from, ok := given.Value("from").Section(); ok {
		out.readFrom(from, &r)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// driveShape reports a drive that is neither a gear drive nor two pulleys.
func (f *BuildFile) driveShape(r *field.Report) {
	const shape = "a drive is motor_pulley, wheel_pulley, belt and mount, or gear_drive alone"
	given := func(slot Slot) bool { return f.places[slot.String()].Known() }
	if given(SlotGearDrive) {
		for _, slot := range beltSlots() {
			if given(slot) {
				r.Add(f.places[slot.String()], field.Contradiction, shape, "%s stands beside gear_drive", slot)
			}
		}
		return
	}
	switch small, large := given(SlotMotorPulley), given(SlotWheelPulley); {
	case !small && !large:
		r.Add(f.file, field.Missing, shape, "the build has no drive")
	case !small:
		r.Add(f.file, field.Missing, shape, "%s is missing", SlotMotorPulley)
	case !large:
		r.Add(f.file, field.Missing, shape, "%s is missing", SlotWheelPulley)
	}
}

// IsBuild reports whether a text is a build file rather than a brief or a
// catalog: whether it has a [build].
func IsBuild(src field.Source) bool {
	var r field.Report
	return field.Parse(src, &r).Root().Value("build").Kind() != field.KindAbsent
}

// With returns a copy of the brief under which the build can be looked at: its
// number of motors is among those to try.
func (f *BuildFile) With(b *Brief) *Brief {
	c := b.Clone()
	if !slices.Contains(c.Board.Motors, float64(f.Motors)) {
		c.Board.Motors = append(c.Board.Motors, float64(f.Motors))
	}
	return c
}

// Find makes the build that a file names, of any parts of the catalog, in play or
// not. A named belt is taken whether it fits or not; without a name one is chosen.
// The error is of type field.Problems. The problem's brief must try the file's number
// of motors; With makes one.
func (p *Problem) Find(f *BuildFile) (*Build, error) {
	var r field.Report
	c := p.Catalog
	count := slices.Index(p.Counts, f.Motors)
	if count < 0 {
		r.Add(f.places["motors"], field.OutOfRange, "add it to board.motors of the brief", "motors is %d, which the brief does not try", f.Motors)
	}
	battery := named(f, &r, p, SlotBattery, c.Batteries)
	controller := named(f, &r, p, SlotController, c.Controllers)
	motor := named(f, &r, p, SlotMotor, c.Motors)
	wheel := named(f, &r, p, SlotWheel, c.Wheels)
	gear := named(f, &r, p, SlotGearDrive, c.GearDrives)
	small := named(f, &r, p, SlotMotorPulley, c.AllPulleys())
	large := named(f, &r, p, SlotWheelPulley, c.AllPulleys())
	mount := named(f, &r, p, SlotMount, c.Mounts)
	belt := named(f, &r, p, SlotBelt, c.AllBelts())
	if battery != nil {
		p.flatPack(&r, battery)
	}
	if err := r.Err(); err != nil {
		return nil, err
	}
	var d *Drive
	switch {
	case gear != nil:
		d = p.gearDrive(gear)
	case belt != nil:
		d = p.namedBelt(small, large, mount, belt)
	default:
		d = p.beltDrive(small, large, mount, centres(small, large, p.Belts))
	}
	drawn := p.controller(controller)
	b := &Build{Problem: p.including(drawn, d)}
	b.Electrify(p.battery(battery), drawn, p.motor(motor), count)
	b.Roll(d, p.wheel(wheel))
	return b, nil
}

// including is the problem with the checks that apply once a controller and a
// drive, which may be out of play, are looked at.
func (p *Problem) including(c *Controller, d *Drive) *Problem {
	wide := p.With(Edit{set: func(q *Problem) {
		q.built = c.Controller
		switch {
		case d.Bare: // which may be a belt drive
			q.MotorPulleys = append(slices.Clone(q.MotorPulleys), &catalog.Pulley{})
			q.WheelPulleys = append(slices.Clone(q.WheelPulleys), &catalog.Pulley{})
		case d.Gear != nil:
			q.GearDrives = append(slices.Clone(q.GearDrives), d.Gear)
		default:
			q.MotorPulleys = append(slices.Clone(q.MotorPulleys), d.MotorPulley)
			q.WheelPulleys = append(slices.Clone(q.WheelPulleys), d.WheelPulley)
		}
	}})
	return p.With(checkedBy(wide.applicable()), Edit{set: func(q *Problem) { q.built = c.Controller }})
}

// named finds a slot's part by the id in the file. It is nil where the file names
// none, and where there is no such part, which it reports.
func named[T interface {
	comparable
	Common() *catalog.Part
}](f *BuildFile, r *field.Report, p *Problem, slot Slot, list []T,
) T {
	var none T
	id := f.IDs[slot]
	if id == "" {
		return none
	}
	if holds(p.Catalog, slot, id) {
		for _, x := range list {
			if x.Common().ID == id {
				return x
			}
		}
	}
	r.Add(f.places[slot.String()], field.UnknownID, strangerHint(p.Catalog, slot, id, slotIDs(p.Catalog, slot)), "the catalog has no %s %s", slot, field.Quote(id))
	return none
}

// File is the build file of a build.
func (b *Build) File() *BuildFile {
	f := &BuildFile{Motors: b.Motors()}
	for _, slot := range Slots() {
		f.IDs[slot] = b.ID(slot)
	}
	return f
}

// TOML writes the file as ReadBuild reads it.
func (f *BuildFile) TOML() []byte {
	s := "schema = 1\n\n[build]\n"
	for _, slot := range Slots() {
		if id := f.IDs[slot]; id != "" {
			s += slot.String() + " = " + strconv.Quote(id) + "\n" // an id needs no escapes
		}
		if slot == SlotMotor {
			s += "motors = " + strconv.Itoa(f.Motors) + "\n"
		}
	}
	return []byte(s + f.From.toml())
}
