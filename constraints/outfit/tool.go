package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
	"gearsearch/drive"
)

// Tool is a tool or a small part that a build asks for, beside what Needs has.
type Tool struct {
	Name   string
	For    []string // ids of the parts of the build for which it is there
	Use    Statement
	Notes  []Statement
	Source string
}

// Where tools come from.
const (
	sourceHex     = "hexagon of the socket: ISO 4026 to ISO 4029; torque of the socket: ISO 898-5, class 45H"
	sourceTorque  = "proof load: ISO 898-1, class 8.8; its share and K: common practice, no published source"
	sourceShakes  = "common practice, no published source"
	sourceStrips  = "6 A/mm² of nickel: common practice, no published source; copper of the same thickness as warm: resistivity of nickel 0.0693 Ω·mm²/m (CRC Handbook), of copper 1/58 (IEC 60028)"
	sourceShrinks = "the copper's area; an insulation that makes the wire twice as thick is an assumption"
)

// setScrews are the socket set screws that pulleys and gears have: thread and hexagon
// in mm (ISO 4026 to ISO 4029) and the torque in N·m that the socket of one of class
// 45H must bear (ISO 898-5).
var setScrews = [...]struct{ thread, hexagon, bears float64 }{{3, 1.5, 0.9}, {4, 2, 2.5}, {5, 2.5, 5}, {6, 3, 8.5}}

// What the screws of a mount are tightened to.
const (
	proofStress = 580e6 // Pa, of class 8.8 up to M16 (ISO 898-1)
	proofShare  = 0.75  // of the proof load, for screws that are loosened again: common practice, no published source
	nutFactor   = 0.2   // K of dry screws, likewise
)

// mountScrews are the coarse threads of mounts: diameter in mm and nominal stress area
// in mm² (ISO 898-1).
var mountScrews = [...]struct{ thread, area float64 }{{4, 8.78}, {5, 14.2}, {6, 20.1}}

// TighteningTorque is the torque in N·m that pulls a screw of class 8.8, of a diameter
// in m and a stress area in m², to the share of its proof load: T = K d F.
func TighteningTorque(diameter, area float64) float64 {
	return nutFactor * diameter * proofShare * proofStress * area
}

// What strips between cells carry: a current density in A/m² of nickel, and how many
// times as much copper of the same thickness carries as warm, √(ρ_Ni/ρ_Cu).
const nickelDensity = 6e6

var copperOverNickel = math.Sqrt(0.0693 * 58)

// Tools lists the tools and small parts that a build asks for, each for a part of it.
func (o *Outfit) Tools() []Tool {
	var out []Tool
	for _, of := range []func(*Outfit) []Tool{
		(*Outfit).screwTools, (*Outfit).toothTools, (*Outfit).cellTools, (*Outfit).jointTools, (*Outfit).meterTools, (*Outfit).sensorTools,
	} {
		out = append(out, of(o)...)
	}
	return out
}

// turnerID is the id of what turns on the motor shaft.
func (o *Outfit) turnerID() string {
	d := o.Build.Drive
	if d.Gear != nil {
		return d.Gear.ID
	}
	return d.MotorPulley.ID
}

// screwTools are for set screws and for the screws of a mount.
func (o *Outfit) screwTools() []Tool {
	var out []Tool
	var locked []string
	if o.Need("", "set screws") != nil {
		var keys, threads, bears []constraints.Quantity
		for _, s := range setScrews {
			keys, threads, bears = append(keys, number(s.hexagon)), append(threads, number(s.thread)), append(bears, given(s.bears, "N.m"))
		}
		id := o.turnerID()
		locked = append(locked, id)
		out = append(out, Tool{
			Name: "hex_keys", For: []string{id}, Use: said(ToolHexKeys, append(keys, threads...)...).about(id),
			Notes: alone(ToolScrewBears, bears...), Source: sourceHex,
		})
	}
	if mount := o.Build.Drive.Mount; mount != nil {
		var torques []constraints.Quantity
		for _, s := range mountScrews {
			torques = append(torques, boundMost(TighteningTorque(s.thread/mm, s.area/mm2), "N.m"))
		}
		locked = append(locked, mount.ID)
		out = append(out, Tool{
			Name: "torque_wrench", For: []string{mount.ID}, Use: said(ToolTorque, append(torques, share(proofShare), number(nutFactor))...).about(mount.ID),
			Notes: alone(ToolLess), Source: sourceTorque,
		})
	}
	if len(locked) > 0 {
		out = append(out, Tool{Name: "thread_lock", For: locked, Use: said(ToolLock), Source: sourceShakes})
	}
	return out
}

// toothTools are for the teeth of a gear drive, and for a chain. A belt runs dry, and so
// does a motor inside the wheel.
func (o *Outfit) toothTools() []Tool {
	if d := o.Build.Drive; d.Chained() {
		of, profile := []string{d.MotorPulley.ID, d.WheelPulley.ID}, d.MotorPulley.Profile.ID
		if d.Belt != nil {
			of = []string{d.Belt.ID}
		}
		return []Tool{
			{Name: "chain_breaker", For: of, Use: said(ToolChainBreaker).about(profile), Source: sourceShakes},
			{Name: "chain_oil", For: of, Use: said(ToolChainOil).about(profile), Source: sourceShakes},
		}
	}
	gear := o.Build.Drive.Gear
	if gear == nil || gear.InWheel {
		return nil
	}
	return []Tool{{Name: "grease", For: []string{gear.ID}, Use: said(ToolGrease).about(gear.ID), Source: sourceShakes}}
}

// cellTools are for a pack that is made of its cells.
func (o *Outfit) cellTools() []Tool {
	if !built(o.Build) {
		return nil
	}
	pack := o.Build.Battery
	of := []string{pack.ID}
	return []Tool{
		strips(o.Build),
		{Name: "spot_welder", For: of, Use: said(ToolWelder), Source: sourceShakes},
		{Name: "insulating_rings", For: of, Use: said(ToolRings, count(pack.Cells())), Source: sourceShakes},
		{Name: "insulating_paper", For: of, Use: said(ToolPaper), Source: sourceShakes},
	}
}

// jointTools are for the ends of the wires.
func (o *Outfit) jointTools() []Tool {
	var out []Tool
	var parts []string
	thickest := 0.0
	for _, n := range o.Needs {
		area := o.copperOf(n)
		if n.Kind != "wire" || math.IsNaN(area) {
			continue
		}
		id := o.Build.Battery.ID
		if n.For == "phase" {
			id = o.Build.Motor.ID
		}
		bare := 2 * math.Sqrt(area/math.Pi)
		insulated := drive.InsulatedDiameter(area)
		out = append(out, Tool{
			Name: "heat_shrink", For: []string{id}, Use: said(ToolShrink, shown(insulated, mm, "", constraints.ThreeUp), soldAtMost(bare)).about(n.For),
			Source: sourceShrinks,
		})
		parts, thickest = append(parts, id), math.Max(thickest, area)
	}
	if len(parts) > 0 {
		out = append(out, Tool{Name: "soldering_iron", For: parts, Use: said(ToolIron, shown(thickest, mm2, "mm²", constraints.ThreeDigits)), Source: sourceShakes})
	}
	return out
}

// copperOf is the copper in m² of a need of wire: of the one chosen, else of the one
// to buy; NaN where there is neither.
func (o *Outfit) copperOf(n *Need) float64 {
	const area = 2 // among the quantities of BuyWire
	switch {
	case n.Part != nil && n.Kind == "wire":
		part, _ := catalog.ByID(o.Build.Problem.Catalog.Wires, n.Part.ID)
		return part.Area
	case n.Buy.Code == BuyWire:
		return n.Buy.Quantities[area].SI
	}
	return math.NaN()
}

// meterTools are for the volts of the pack.
func (o *Outfit) meterTools() []Tool {
	pack := o.Build.Battery
	return []Tool{{Name: "multimeter", For: []string{pack.ID}, Use: said(ToolMeter, boundLeast(pack.Pack.Full, "V")), Source: sourceShakes}}
}

// sensorTools are for motors with position sensors.
func (o *Outfit) sensorTools() []Tool {
	m, c := o.Build.Motor, o.Build.Controller
	if isSo(m.Sensored) != 1 {
		return nil
	}
	t := Tool{Name: "sensor_cables", For: []string{m.ID, c.ID}, Use: said(ToolSensorLeads, count(o.Build.Motors())).about(m.ID), Source: sourceShakes}
	if c.Commutation == "six-step" {
		t.Notes = []Statement{said(ToolStartsSmooth).about(c.ID)}
	}
	return []Tool{t}
}
