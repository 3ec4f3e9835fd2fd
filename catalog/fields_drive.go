package catalog

import (
	"math"
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
	"gearsearch/drive"
)

func pulleyFields() []field.Field[Pulley] {
	width := also(length("width_mm", 1, 200, "widest belt it takes", func(p *Pulley) *float64 { return &p.Width }), "belt_width")
	return slices.Insert(turningFields(profileID(func(p *Pulley) **Profile { return &p.Profile })), 3, width)
}

func sprocketFields() []field.Field[Pulley] {
	return turningFields(chainProfile(func(p *Pulley) **Profile { return &p.Profile }))
}

// turningFields are the keys of what turns a belt or a chain.
func turningFields(profile field.Field[Pulley]) []field.Field[Pulley] {
	return []field.Field[Pulley]{
		{
			Key: "side", Required: true, Words: sides(), Meaning: "the shaft it sits on",
			Set: func(p *Pulley, word string) { p.Side = wordIndex[Side](sides(), word) },
			Get: func(p *Pulley) string { return p.Side.String() },
		},
		profile,
		{Key: "teeth", Kind: &unit.Teeth, Also: []string{"teeth_count", "tooth_count", "t", "z"}, Required: true, Min: 6, Max: 300, Meaning: "number of teeth", Count: func(p *Pulley) *int { return &p.Teeth }},
		also(length("bore_mm", 1, 100, "bore", func(p *Pulley) *float64 { return &p.Bore }), "shaft", "bore_diameter", "shaft_diameter"),
		or(shaftKey("what it needs on the motor shaft; plain goes on any", func(p *Pulley) *ShaftKey { return &p.ShaftKey }), "plain"),
		hubs("wheel side: the wheel hub it bolts to, or a list of them", func(p *Pulley) *[]string { return &p.Hubs }),
	}
}

func beltFields() []field.Field[Belt] {
	return []field.Field[Belt]{
		profileID(func(b *Belt) **Profile { return &b.Profile }),
		{Key: "teeth", Kind: &unit.Teeth, Also: []string{"teeth_count", "tooth_count", "t", "z"}, Required: true, Min: 10, Max: 3000, Meaning: "number of teeth", Count: func(b *Belt) *int { return &b.Teeth }},
		length("width_mm", 1, 200, "width", func(b *Belt) *float64 { return &b.Width }),
	}
}

// chainProfile is the key of the profile of a sprocket or chain.
func chainProfile[T any](at func(*T) **Profile) field.Field[T] {
	f := profileID(at)
	f.Meaning = "the chain as ISO 606 names it: " + strings.Join(chainNames(), ", ")
	return f
}

// chainNames are the names of the built-in chains.
func chainNames() []string {
	var out []string
	for _, p := range drive.Profiles() {
		if p.Chain != nil {
			out = append(out, p.Name)
		}
	}
	return out
}

func chainFields() []field.Field[Belt] {
	return []field.Field[Belt]{
		chainProfile(func(b *Belt) **Profile { return &b.Profile }),
		{Key: "links", Kind: &unit.Links, Also: []string{"link_count", "pitches", "teeth"}, Required: true, Min: 10, Max: 3000, Meaning: "number of links, inner and outer ones; only an even number makes a ring", Count: func(b *Belt) *int { return &b.Teeth }},
		{Key: "breaking_n", Also: []string{"breaking_load", "tensile_strength", "strength"}, Unit: "N", Min: 500, Max: 200_000, Default: "ISO 606's least", Meaning: "load at which it breaks", Number: func(b *Belt) *float64 { return &b.Breaking }},
	}
}

func mountFields() []field.Field[Mount] {
	return []field.Field[Mount]{
		required(also(length("centre_min_mm", 5, 1000, "least distance of the shafts", func(m *Mount) *float64 { return &m.CentreMin }), "center_min", "min_centre", "min_center")),
		required(also(length("centre_max_mm", 5, 1000, "greatest distance of the shafts", func(m *Mount) *float64 { return &m.CentreMax }), "center_max", "max_centre", "max_center")),
		{Key: "idler", Default: "false", Meaning: "true: an idler adds wrap", Bool: func(m *Mount) *bool { return &m.Idler }},
		angle(func(m *Mount) *float64 { return &m.Angle }),
	}
}

// angle is the key of that name, of a mount or a gear drive.
func angle[T any](at number[T]) field.Field[T] {
	return field.Field[T]{
		Key: "angle_deg", Kind: &unit.Angle, Unit: "°", Per: perDegree, Min: -90, Max: 90,
		Meaning: "of the line from axle to motor shaft above the level, for the ground under the motor", Number: at,
	}
}

// writtenGear is the gear drive as it was written: without the ratio that
// followed from teeth.
func writtenGear(g *GearDrive) *GearDrive {
	w := *g
	if w.Driven > 0 {
		w.Ratio = math.NaN()
	}
	return &w
}

func gearFields() []field.Field[GearDrive] {
	return []field.Field[GearDrive]{
		{Key: "ratio", Kind: &unit.Ratio, Also: []string{"reduction", "gear_ratio", "gearing"}, Min: 0.2, Max: 100, Default: "driven_teeth / driver_teeth", Meaning: "motor turns per wheel turn; in quotes two numbers, as in 15:36: the larger over the smaller", Number: func(g *GearDrive) *float64 { return &g.Ratio }},
		also(as(&unit.Teeth, whole("driver_teeth", 3, 500, "", "teeth on the motor's side, with driven_teeth in place of ratio", func(g *GearDrive) *float64 { return &g.Driver })), "pinion", "pinion_teeth", "motor_teeth"),
		also(as(&unit.Teeth, whole("driven_teeth", 3, 500, "", "teeth on the wheel's side", func(g *GearDrive) *float64 { return &g.Driven })), "ring_teeth", "gear_teeth", "wheel_teeth"),
		share("efficiency", field.FormatNumber(AssumedGearEfficiency)+", in-wheel 1", "of the gears", func(g *GearDrive) *float64 { return &g.Efficiency }),
		{Key: "in_wheel", Default: "false", Meaning: "true: the motor is inside the wheel and takes no room on the hanger", Bool: func(g *GearDrive) *bool { return &g.InWheel }},
		also(length("bore_mm", 1, 100, "bore", func(g *GearDrive) *float64 { return &g.Bore }), "shaft", "bore_diameter", "shaft_diameter"),
		or(shaftKey("what it needs on the motor shaft; plain goes on any", func(g *GearDrive) *ShaftKey { return &g.ShaftKey }), "plain"),
		hubs("the wheel hub it bolts to, or a list of them", func(g *GearDrive) *[]string { return &g.Hubs }),
		{Key: "max_torque_nm", Also: []string{"torque"}, Unit: "N.m", Min: 0, Above: true, Max: 10_000, Meaning: "torque it bears at the wheel, each", Number: func(g *GearDrive) *float64 { return &g.MaxTorque }},
		also(length("outside_mm", 5, 700, "outside diameter, for the ground clearance", func(g *GearDrive) *float64 { return &g.Outside }), "diameter", "outside_diameter"),
		also(length("centre_mm", 5, 1000, "from axle to motor shaft", func(g *GearDrive) *float64 { return &g.Centre }), "center", "centre_distance", "center_distance"),
		angle(func(g *GearDrive) *float64 { return &g.Angle }),
		{Key: "fits_motors", ID: true, Filled: true, Default: "any, by bore", Meaning: "ids of the motors it fits", Texts: func(g *GearDrive) *[]string { return &g.FitsMotors }},
		{Key: "fits_wheels", ID: true, Filled: true, Default: "any, by hub", Meaning: "ids of the wheels it fits", Texts: func(g *GearDrive) *[]string { return &g.FitsWheels }},
	}
}

func wheelFields() []field.Field[Wheel] {
	return []field.Field[Wheel]{
		required(also(length("diameter_mm", 30, 700, "outside diameter, unloaded", func(w *Wheel) *float64 { return &w.Diameter }), "wheel_diameter", "size", "wheel_size", "outside_diameter")),
		length("width_mm", 5, 400, "width", func(w *Wheel) *float64 { return &w.Width }),
		hubs("its hub, or a list of hubs it takes", func(w *Wheel) *[]string { return &w.Hubs }),
		{
			Key: "tyre", Words: tyres()[1:], Also: []string{"tire"}, Default: AssumedTyre.String() + " assumed", Meaning: "what it rolls on",
			Set: func(w *Wheel, word string) { w.Tyre = wordIndex[Tyre](tyres(), word) },
			Get: func(w *Wheel) string { return w.Tyre.String() },
		},
		{Key: "rolling_resistance", Kind: &unit.Share, Also: []string{"crr"}, Min: 0, Max: 1, Default: "by tyre and surface", Meaning: "rolling-resistance coefficient", Number: func(w *Wheel) *float64 { return &w.RollingResistance }},
		{Key: "rolling_radius_ratio", Kind: &unit.Share, Min: 0.5, Max: 1.1, Default: "1, pneumatic " + field.FormatNumber(AssumedPneumaticRatio), Meaning: "rolling radius over half the diameter", Number: func(w *Wheel) *float64 { return &w.RollingRatio }},
	}
}

func profileFields() []field.Field[Profile] {
	return []field.Field[Profile]{
		required(also(length("pitch_mm", 0.5, 50, "tooth pitch", func(p *Profile) *float64 { return &p.Pitch }), "tooth_pitch")),
		length("pitch_line_mm", 0.01, 10, "pitch-line differential per side", func(p *Profile) *float64 { return &p.PitchLine }),
		{Key: "pull_n_per_mm", Unit: "N/mm", Per: perPull, Min: 0, Above: true, Max: 1000, Meaning: "working pull per mm of belt width", Number: func(p *Profile) *float64 { return &p.Pull }},
	}
}
