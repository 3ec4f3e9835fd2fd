package constraints

import (
	"math"
	"slices"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// counts lists the numbers of motors that a brief tries, ascending.
func (b *Brief) counts() []int {
	var out []int
	for _, n := range slices.Sorted(slices.Values(b.Board.Motors)) {
		out = append(out, int(n))
	}
	return out
}

// MotorCounts are the numbers of motors that a board may have.
func MotorCounts() []int { return []int{1, 2, 4} }

// conditions sets what follows from the brief alone.
func (p *Problem) conditions() {
	brief := p.Brief
	p.AirDensity = brief.AirDensity()
	p.DragArea = brief.Rider.dragArea()
	p.Grip = p.gripOn(brief.Ground.Surface)
	p.Stance = brief.Board.stance()
	p.Warmth, p.Cold = 1, drive.Cold{Capacity: 1, Resistance: 1}
	if celsius := brief.Ground.Temperature; !math.IsNaN(celsius) {
		p.Warmth, p.Cold = drive.ChargingShare(celsius), drive.ColdAt(celsius)
	}
	p.Theta = 0
	if p.Climbs() {
		p.Theta = math.Atan(brief.Target.ClimbGrade)
	}
	p.Slope = drive.SlopeOf(p.Theta)
	p.takeRoute()
}

// AirDensity is the density of the air in kg/m³: as given, else by altitude
// and temperature, else that of the standard atmosphere at sea level.
func (b *Brief) AirDensity() float64 {
	g := b.Ground
	switch {
	case !math.IsNaN(g.AirDensity):
		return g.AirDensity
	case !math.IsNaN(g.Temperature):
		return drive.AirDensityAt(orElse(g.Altitude, 0), g.Temperature)
	case !math.IsNaN(g.Altitude):
		return drive.AirDensity(g.Altitude)
	default:
		return seaLevelDensity
	}
}

// seaLevelDensity is the density of air in kg/m³ at 15 °C and 101 325 Pa
// (ISO 2533).
const seaLevelDensity = 1.225

// choose sets the parts in play, those of the catalog after keep and avoid, and
// prepares them. A pack that is flat at the brief's charge is in no build.
func (p *Problem) choose() error {
	var r field.Report
	p.Brief.strangers(&r, p.Catalog)
	c := p.Catalog
	batteries := inPlay(p, SlotBattery, c.Batteries)
	controllers := inPlay(p, SlotController, c.Controllers)
	motors := inPlay(p, SlotMotor, c.Motors)
	tyres := inPlay(p, SlotWheel, c.Wheels)
	p.MotorPulleys = inPlay(p, SlotMotorPulley, pulleysOn(c, catalog.MotorSide))
	p.WheelPulleys = inPlay(p, SlotWheelPulley, pulleysOn(c, catalog.WheelSide))
	p.Belts = inPlay(p, SlotBelt, c.AllBelts())
	p.Mounts = inPlay(p, SlotMount, c.Mounts)
	p.GearDrives = inPlay(p, SlotGearDrive, c.GearDrives)

	p.gaps(&r)
	if err := r.Err(); err != nil {
		return err
	}
	p.Flat = only(batteries, p.flat)
	for _, b := range only(batteries, func(b *catalog.Battery) bool { return !p.flat(b) }) {
		p.Batteries = append(p.Batteries, p.battery(b))
	}
	for _, x := range controllers {
		p.Controllers = append(p.Controllers, p.controller(x))
	}
	for _, m := range motors {
		p.Motors = append(p.Motors, p.motor(m))
	}
	for _, w := range tyres {
		p.Wheels = append(p.Wheels, p.wheel(w))
	}
	return nil
}

// pulleysOn lists the pulleys and sprockets of a catalog that go on one side's shaft.
func pulleysOn(c *catalog.Catalog, side catalog.Side) []*catalog.Pulley {
	return only(c.AllPulleys(), func(p *catalog.Pulley) bool { return p.Side == side })
}

// inPlay lists the parts of a slot that keep and avoid leave.
func inPlay[T interface{ Common() *catalog.Part }](p *Problem, slot Slot, parts []T) []T {
	accepts := p.accepts(slot)
	return only(parts, func(part T) bool { return accepts(part.Common().ID) })
}

// accepts reports of an id whether keep and avoid leave it to a slot.
func (p *Problem) accepts(slot Slot) func(id string) bool {
	keep, avoid := members(p.Catalog, slot, p.Brief.Keep[slot]), members(p.Catalog, slot, p.Brief.Avoid[slot])
	return func(id string) bool { return (len(keep) == 0 || keep[id]) && !avoid[id] }
}

// members is the ids of a list, with those of the families that it names: the
// id of a part of its own stands for that part.
func members(c *catalog.Catalog, slot Slot, ids []string) map[string]bool {
	in := set(ids)
	if len(ids) == 0 {
		return in
	}
	for id := range familyIDs(c, slot) {
		if !in[id] {
			continue
		}
		for part := range slot.Parts(c) {
			if part.Family == id {
				in[part.ID] = true
			}
		}
	}
	return in
}

// set is the ids of a list.
func set(ids []string) map[string]bool {
	in := make(map[string]bool, len(ids))
	for _, id := range ids {
		in[id] = true
	}
	return in
}
