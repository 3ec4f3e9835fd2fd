package constraints

import (
	"gearsearch/catalog/field"
	"gearsearch/catalog/unit"
)

// The rows of a brief's keys, section by section. Each range is wide enough for
// any real board and narrow enough to catch a wrong unit. A key's Fallback is
// its default, in its unit; where what stands in for a key depends on something,
// Default tells the rule in words, and the field is NaN or nil.

func riderFields() []field.Field[Rider] {
	return []field.Field[Rider]{
		{Key: "mass_kg", Also: []string{"weight", "rider_weight", "rider_mass"}, Unit: "kg", Min: 10, Max: 300, Fallback: 80, Meaning: "the rider with clothes and bag", Number: func(r *Rider) *float64 { return &r.Mass }},
		{Key: "posture", Also: []string{"stance"}, Words: postureNames(), Fallback: postures[0].name, Meaning: "how the rider meets the air", Text: func(r *Rider) *string { return &r.Posture }},
		{Key: "drag_area_m2", Also: []string{"cda"}, Unit: "m²", Min: 0.05, Max: 3, Default: "by posture: " + posturesInWords(), Meaning: "drag coefficient times frontal area", Number: func(r *Rider) *float64 { return &r.DragArea }},
		{Key: "drag_fitted", Default: "not fitted", Meaning: "true: drag_area_m2 was fitted to the rider's own records, as sure as tolerance.drag_pct says", Flag: func(r *Rider) **bool { return &r.Fitted }},
	}
}

func boardFields() []field.Field[Board] {
	return []field.Field[Board]{
		{Key: "mass_kg", Also: []string{"weight", "board_weight", "board_mass", "deck_mass"}, Unit: "kg", Min: 0, Max: 100, Fallback: 5, Meaning: "deck, trucks, box: all that no catalog part weighs", Number: func(b *Board) *float64 { return &b.Mass }},
		{Key: "motors", Also: []string{"motor_count", "number_of_motors"}, Min: 1, Max: 4, Whole: true, Once: true, Filled: true, Fallback: []float64{2}, Meaning: "numbers of motors to try, of 1, 2 and 4", Numbers: func(b *Board) *[]float64 { return &b.Motors }},
		{Key: "rear_share", Kind: &unit.Share, Also: []string{"driven_share", "weight_distribution"}, Min: 0.1, Max: 0.9, Fallback: 0.6, Meaning: "share of the weight on the rear axle at rest: an assumption", Number: func(b *Board) *float64 { return &b.RearShare }},
		{Key: "lean", Kind: &unit.Share, Min: 0, Max: 0.4, Fallback: 0.2, Meaning: "share of the weight that the rider moves to either axle: an assumption", Number: func(b *Board) *float64 { return &b.Lean }},
		{Key: "axle_min", Kind: &unit.Share, Min: 0, Max: 0.3, Fallback: 0.1, Meaning: "share of the weight that each axle keeps, so that the board steers: an assumption", Number: func(b *Board) *float64 { return &b.AxleMin }},
		{Key: "wheelbase_mm", Unit: "mm", Per: mm, Min: 400, Max: 2000, Fallback: 850, Meaning: "between the axles: an assumption", Number: func(b *Board) *float64 { return &b.Wheelbase }},
		{Key: "centre_height_mm", Also: []string{"center_height"}, Unit: "mm", Per: mm, Min: 300, Max: 1500, Fallback: 950, Meaning: "of the centre of mass of rider and board above the ground: an assumption, of a person of 1.75 m with bent knees", Number: func(b *Board) *float64 { return &b.Centre }},
		{Key: "hanger_mm", Also: []string{"hanger", "hanger_width", "truck_width"}, Unit: "mm", Per: mm, Min: 20, Max: 1000, Default: "not checked", Meaning: "room for the motors between the wheels, side by side", Eases: +1, Eased: "a wider hanger", Number: func(b *Board) *float64 { return &b.Hanger }},
		{Key: "sensored", Also: []string{"sensors", "sensor"}, Default: "not asked for", Meaning: "true: motors with position sensors only", Flag: func(b *Board) **bool { return &b.Sensored }},
	}
}

// unheardTemperature stands for a temperature that nobody gives.
const unheardTemperature = "the standard atmosphere's for the air, 20 for the pack, 25 around the motors"

func groundFields() []field.Field[Ground] {
	return []field.Field[Ground]{
		{Key: "surface", Also: []string{"terrain", "ground"}, Words: surfaceNames, Fallback: "asphalt", Meaning: "what the wheels roll on", Text: func(g *Ground) *string { return &g.Surface }},
		{Key: "rolling_resistance", Kind: &unit.Share, Also: []string{"crr"}, Min: 0, Max: 1, Default: "the wheel's, else by tyre and surface", Meaning: "rolling-resistance coefficient", Number: func(g *Ground) *float64 { return &g.RollingResistance }},
		{Key: "rolling_fitted", Default: "not fitted", Meaning: "true: rolling_resistance was fitted to the rider's own records, as sure as tolerance.rolling_pct says", Flag: func(g *Ground) **bool { return &g.Fitted }},
		{Key: "air_density_kg_m3", Unit: "kg/m³", Min: 0.3, Max: 2, Default: field.FormatNumber(seaLevelDensity) + ", or from altitude_m and temperature_c", Meaning: "density of the air", Number: func(g *Ground) *float64 { return &g.AirDensity }},
		{Key: "altitude_m", Also: []string{"elevation"}, Unit: "m", Min: -500, Max: 9000, Default: "0", Meaning: "above the sea, for the density of the air", Number: func(g *Ground) *float64 { return &g.Altitude }},
		{Key: "temperature_c", Unit: "°C", Min: -60, Max: 60, Default: unheardTemperature, Meaning: "of the air, and of pack and motors at first", Number: func(g *Ground) *float64 { return &g.Temperature }},
		{Key: "grip", Kind: &unit.Share, Also: []string{"friction", "mu"}, Min: 0, Max: 2, Above: true, Default: gripsInWords(), Meaning: "friction coefficient of tyre on ground", Number: func(g *Ground) *float64 { return &g.Grip }},
		{Key: "wet", Default: "false", Meaning: "true: half the grip that the surface has when it is dry", Flag: func(g *Ground) **bool { return &g.Wet }},
	}
}

func targetFields() []field.Field[Target] {
	return []field.Field[Target]{
		{Key: "top_speed_kmh", Also: []string{"speed", "top_speed", "max_speed", "min_top_speed"}, Unit: "km/h", Per: kmh, Min: 0, Max: 200, Above: true, Meaning: "top speed on the flat, at least", Asks: true, Eases: -1, Eased: "a lower top speed", Number: func(t *Target) *float64 { return &t.TopSpeed }},
		{Key: "top_speed_max_kmh", Also: []string{"speed_limit", "max_top_speed"}, Unit: "km/h", Per: kmh, Min: 0, Max: 200, Above: true, Meaning: "top speed on the flat, at most", Asks: true, Eases: +1, Eased: "a higher greatest speed", Number: func(t *Target) *float64 { return &t.TopSpeedMax }},
		{Key: "climb_grade_pct", Kind: &unit.Grade, Also: []string{"grade", "slope", "hill", "climb", "gradient", "hill_grade", "incline", "grade_deg"}, Unit: "%", Per: percent, Min: 0, Max: 200, Meaning: "steepest hill, rise over run", Asks: true, Eases: -1, Eased: "a less steep hill", Number: func(t *Target) *float64 { return &t.ClimbGrade }},
		{Key: "climb_speed_kmh", Also: []string{"hill_speed", "speed_on_hill"}, Unit: "km/h", Per: kmh, Min: 0, Max: 200, Above: true, Fallback: 12, Meaning: "speed on that hill", Eases: -1, Eased: "a slower climb", Number: func(t *Target) *float64 { return &t.ClimbSpeed }},
		{Key: "climb_length_m", Also: []string{"hill_length", "climb_length"}, Unit: "m", Min: 0, Max: 50_000, Above: true, Meaning: "of that hill, along the road: then the windings' temperature at its end counts", Eases: -1, Eased: "a shorter hill", Number: func(t *Target) *float64 { return &t.ClimbLength }},
		{Key: "stop_m", Also: []string{"stopping_distance", "braking_distance"}, Unit: "m", Min: 0, Max: 1000, Above: true, Meaning: "stopping distance on the flat by the motors alone, at 90 % charge, at most", Asks: true, Eases: +1, Eased: "a longer stop", Number: func(t *Target) *float64 { return &t.Stop }},
		{Key: "stop_from_kmh", Unit: "km/h", Per: kmh, Min: 0, Max: 200, Above: true, Fallback: 25, Meaning: "speed to stop from", Eases: -1, Eased: "a lower speed to stop from", Number: func(t *Target) *float64 { return &t.StopFrom }},
		{Key: "hill_torque_nm", Also: []string{"torque"}, Unit: "N.m", Min: 0, Max: 10_000, Above: true, Meaning: "torque at the climb speed, all wheels together", Asks: true, Eases: -1, Eased: "less torque on the hill", Number: func(t *Target) *float64 { return &t.HillTorque }},
		{Key: "launch_speed_kmh", Unit: "km/h", Per: kmh, Min: 0, Max: 200, Above: true, Meaning: "speed to reach from rest", Eases: -1, Eased: "a lower speed to launch to", Number: func(t *Target) *float64 { return &t.LaunchSpeed }},
		{Key: "launch_s", Also: []string{"launch_time", "acceleration_time"}, Unit: "s", Min: 0, Max: 600, Above: true, Meaning: "time to reach it in, at most", Asks: true, Eases: +1, Eased: "a slower launch", Number: func(t *Target) *float64 { return &t.LaunchTime }},
		{Key: "range_km", Also: []string{"distance", "range"}, Unit: "km", Per: km, Min: 0, Max: 1000, Above: true, Meaning: "distance on one charge, at least", Asks: true, Eases: -1, Eased: "a shorter range", Number: func(t *Target) *float64 { return &t.Range }},
		{Key: "cruise_kmh", Also: []string{"cruise_speed", "cruising_speed"}, Unit: "km/h", Per: kmh, Min: 0, Max: 200, Above: true, Fallback: 25, Meaning: "speed at which the range is computed", Eases: -1, Eased: "a slower cruise", Number: func(t *Target) *float64 { return &t.Cruise }},
		{
			Key: "charge", Also: []string{"state_of_charge", "soc"}, Unit: "V per cell", Min: 1, Max: 5, Words: []string{"full", "nominal"}, Fallback: "nominal", Meaning: "state of charge at which speed and climb are asked for",
			Number: func(t *Target) *float64 { return &t.Charge.Volts }, Text: func(t *Target) *string { return &t.Charge.Word },
		},
	}
}

func limitFields() []field.Field[Limits] {
	return []field.Field[Limits]{
		{Key: "erpm_ceiling", Also: []string{"erpm", "max_erpm", "erpm_limit"}, Unit: "rpm", Min: 1000, Max: 2_000_000, Default: "the controllers' own", Meaning: "highest electrical rpm", Asks: true, Eases: +1, Eased: "a higher rpm ceiling", Number: func(l *Limits) *float64 { return &l.ERPMCeiling }},
		{Key: "erpm_headroom_pct", Also: []string{"headroom"}, Unit: "%", Per: percent, Min: 0, Max: 90, Fallback: 5, Meaning: "kept free below the ceiling", Eases: -1, Eased: "less headroom below the rpm ceiling", Number: func(l *Limits) *float64 { return &l.ERPMHeadroom }},
		{Key: "erpm_rule", Words: []string{FreeSpin, AtSpeed, AtTop}, Fallback: FreeSpin, Meaning: "what is held against the ceiling: wheels off the ground at full charge, the target top speed, or the board's own top speed at full charge", Text: func(l *Limits) *string { return &l.ERPMRule }},
		{Key: "price", Also: []string{"max_price", "budget", "cost", "max_cost", "price_limit"}, Min: 0, Max: 10_000_000, Above: true, Meaning: "of all parts, in the catalog's currency", Asks: true, Eases: +1, Eased: "a higher price", Number: func(l *Limits) *float64 { return &l.Price }, Currency: func(l *Limits) *string { return &l.PriceCurrency }},
		{Key: "mass_kg", Also: []string{"weight", "max_mass", "max_weight", "weight_limit"}, Unit: "kg", Min: 0, Max: 1000, Above: true, Meaning: "of the board with all parts, without the rider", Asks: true, Eases: +1, Eased: "a heavier board", Number: func(l *Limits) *float64 { return &l.Mass }},
		{Key: "mesh_teeth", Kind: &unit.Teeth, Also: []string{"teeth_in_mesh", "min_mesh"}, Min: 0, Max: 100, Whole: true, Fallback: 5, Meaning: "whole teeth of the small pulley in mesh, at least", Eases: -1, Eased: "fewer teeth in mesh", Number: func(l *Limits) *float64 { return &l.MeshTeeth }},
		{Key: "ground_clearance_mm", Also: []string{"clearance"}, Unit: "mm", Per: mm, Min: 0, Max: 500, Fallback: usualClearance, Meaning: "below the wheel pulley or gear drive, and below the motors, at least", Eases: -1, Eased: "less ground clearance", Number: func(l *Limits) *float64 { return &l.GroundClearance }},
		{Key: "heat_factor", Min: 0, Max: 10, Above: true, Fallback: 1, Meaning: "of the continuous currents, that the climb may take", Eases: +1, Eased: "more current on the climb than motor and controller bear for long", Number: func(l *Limits) *float64 { return &l.HeatFactor }},
		{Key: "winding_c", Unit: "°C", Min: -40, Max: 200, Fallback: 60, Meaning: "temperature of the windings", Number: func(l *Limits) *float64 { return &l.Winding }},
		{Key: "winding_max_c", Also: []string{"max_winding_c"}, Unit: "°C", Min: 0, Max: 400, Fallback: 120, Meaning: "temperature of the windings at the end of a hill with a length, at most", Eases: +1, Eased: "hotter windings", Number: func(l *Limits) *float64 { return &l.WindingMax }},
		{Key: "usable_pct", Unit: "%", Per: percent, Min: 0, Max: 100, Above: true, Fallback: 90, Meaning: "share of the pack's energy that a ride uses", Number: func(l *Limits) *float64 { return &l.Usable }},
		{Key: "reserve_pct", Also: []string{"reserve"}, Unit: "%", Min: 0, Max: 100, Per: percent, Fallback: 10, Meaning: "of the usable charge, left at the end of a route", Eases: -1, Eased: "a smaller reserve", Number: func(l *Limits) *float64 { return &l.Reserve }},
		{Key: "ride_factor", Min: 0, Max: 10, Above: true, Fallback: 1, Meaning: "of the ride's energy, for what stops, ascent and wind leave out", Number: func(l *Limits) *float64 { return &l.RideFactor }},
		{Key: "derate", Kind: &unit.Share, Min: 0, Max: 1, Above: true, Fallback: 0.85, Meaning: "of the no-load speed, where losses cannot be computed: common practice, no published source", Number: func(l *Limits) *float64 { return &l.Derate }},
		{Key: "demote", Words: CheckNames(), Once: true, Fallback: []string{}, Meaning: "checks that only caution and never reject", Texts: func(l *Limits) *[]string { return &l.Demote }},
	}
}

// rideFields: what braking gives back is an assumption.
func rideFields() []field.Field[Journey] {
	return []field.Field[Journey]{
		{Key: "stops_per_km", Also: []string{"stops"}, Unit: "/km", Kind: &unit.Rate, Min: 0, Max: 50, Per: perKm, Fallback: 2, Meaning: "stops from the cruise speed, for each km", Eases: -1, Eased: "fewer stops", Number: func(r *Journey) *float64 { return &r.Stops }},
		{Key: "ascent_m_per_km", Also: []string{"ascent", "climb_per_km"}, Unit: "m/km", Min: 0, Max: 200, Per: perKm, Fallback: 0, Meaning: "metres climbed for each km, on slopes that the board is braked down: steeper than about 5 %", Eases: -1, Eased: "a flatter ride", Number: func(r *Journey) *float64 { return &r.Ascent }},
		{Key: "wind_kmh", Also: []string{"wind"}, Unit: "km/h", Min: 0, Max: 100, Per: kmh, Fallback: 0, Meaning: "wind along the way, against it one half and with it the other", Eases: -1, Eased: "less wind", Number: func(r *Journey) *float64 { return &r.Wind }},
		{Key: "regen_pct", Also: []string{"regen"}, Unit: "%", Min: 0, Max: 100, Per: percent, Fallback: 40, Meaning: "of the energy of stops and descents, that braking gives back: an assumption", Number: func(r *Journey) *float64 { return &r.Regen }},
		{Key: "start_pct", Also: []string{"start_charge", "start_soc"}, Unit: "%", Min: 1, Max: 100, Per: percent, Fallback: 95, Meaning: "of a full pack, at the start of the route", Number: func(r *Journey) *float64 { return &r.Start }},
		{Key: "route", Also: []string{"track", "gpx", "way"}, Default: "none", Meaning: "the route to ride: a GPX or CSV file, relative to the brief", Text: func(r *Journey) *string { return &r.Route }},
	}
}

func weightFields() []field.Field[Weights] {
	row := func(key string, fallback float64, at func(w *Weights) *float64) field.Field[Weights] {
		return field.Field[Weights]{Key: key, Min: 0, Max: 1000, Fallback: fallback, Meaning: "weight of the criterion " + key, Number: at}
	}
	return []field.Field[Weights]{
		row("speed", 3, func(w *Weights) *float64 { return &w.Speed }),
		row("climb", 3, func(w *Weights) *float64 { return &w.Climb }),
		row("headroom", 2, func(w *Weights) *float64 { return &w.Headroom }),
		row("range", 2, func(w *Weights) *float64 { return &w.Range }),
		row("launch", 1, func(w *Weights) *float64 { return &w.Launch }),
		row("cool", 2, func(w *Weights) *float64 { return &w.Cool }),
		row("price", 2, func(w *Weights) *float64 { return &w.Price }),
		row("mass", 1, func(w *Weights) *float64 { return &w.Mass }),
		row("mesh", 1, func(w *Weights) *float64 { return &w.Mesh }),
	}
}

// toleranceFields: the defaults are assumptions, what makers' spreads and a
// change of clothes amount to; common practice, no published source.
func toleranceFields() []field.Field[Tolerance] {
	return []field.Field[Tolerance]{
		{Key: "kv_pct", Unit: "%", Per: percent, Min: 0, Max: 50, Fallback: 5, Meaning: "of the motor's kv, to either side", Number: func(t *Tolerance) *float64 { return &t.KV }},
		{Key: "mass_kg", Unit: "kg", Min: 0, Max: 50, Fallback: 5, Meaning: "of the rider and what they carry", Number: func(t *Tolerance) *float64 { return &t.Mass }},
		{Key: "rolling_pct", Unit: "%", Per: percent, Min: 0, Max: 90, Fallback: 30, Meaning: "of the rolling resistance", Number: func(t *Tolerance) *float64 { return &t.Rolling }},
		{Key: "drag_pct", Unit: "%", Per: percent, Min: 0, Max: 90, Fallback: 15, Meaning: "of the drag area", Number: func(t *Tolerance) *float64 { return &t.Drag }},
		{Key: "pack_resistance_pct", Unit: "%", Per: percent, Min: 0, Max: 90, Fallback: 20, Meaning: "of the pack's resistance", Number: func(t *Tolerance) *float64 { return &t.PackResistance }},
		{Key: "efficiency_points", Unit: "points", Per: percent, Min: 0, Max: 20, Fallback: 2, Meaning: "of the drive's efficiency in percent, which stays at or below 100", Number: func(t *Tolerance) *float64 { return &t.Efficiency }},
		{Key: "wheel_pct", Unit: "%", Per: percent, Min: 0, Max: 20, Fallback: 1.5, Meaning: "of the wheel's diameter: wear and air", Number: func(t *Tolerance) *float64 { return &t.Wheel }},
		{Key: "stance_points", Unit: "points", Per: percent, Min: 0, Max: 50, Fallback: 5, Meaning: "of the rear axle's share of the weight in percent", Number: func(t *Tolerance) *float64 { return &t.Stance }},
		{Key: "grip_pct", Unit: "%", Per: percent, Min: 0, Max: 90, Fallback: 15, Meaning: "of the ground's grip", Number: func(t *Tolerance) *float64 { return &t.Grip }},
		{Key: "wind_kmh", Unit: "km/h", Per: kmh, Min: 0, Max: 100, Fallback: 5, Meaning: "of the wind along the way", Number: func(t *Tolerance) *float64 { return &t.Wind }},
	}
}

func slotFields(meaning string) []field.Field[[slotCount][]string] {
	var out []field.Field[[slotCount][]string]
	for _, slot := range Slots() {
		out = append(out, field.Field[[slotCount][]string]{
			Key: slot.String(), ID: true, Once: true, Filled: true, Meaning: meaning + slot.String(),
			Texts: func(ids *[slotCount][]string) *[]string { return &ids[slot] },
		})
	}
	return out
}
