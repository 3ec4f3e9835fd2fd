package main

import (
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gearsearch/catalog"
)

// partWishes has a line for every key of every kind of part; under has lines
// that the parts of the kind have besides, with semicolons between. What every
// kind has stands in usualWishes.
var partWishes = map[string]wish{
	"motor.kv":                   {"", "150", "160", "build.figures.free_speed_kmh"},
	"motor.pole_pairs":           {"", "7", "8", "build.figures.erpm_full"},
	"motor.resistance_mohm":      {"", "60", "90", "build.figures.top_speed_kmh"},
	"motor.no_load_current_a":    {"", "1.2", "2", "build.figures.top_speed_kmh"},
	"motor.peak_current_a":       {"", "75", "30", "build.figures.climb_thrust_n"},
	"motor.continuous_current_a": {"", "42", "12", "build.checks.heat.limit"},
	"motor.max_power_w":          {"", "", "600", "build.figures.climb_thrust_n"},
	"motor.max_volts":            {"", "60", "40", "build.checks.voltage.verdict"},
	"motor.shaft_mm":             {"", "8", "10", "build.checks.bore.verdict"},
	"motor.shaft_key":            {"", `"keyway"`, `"plain"`, "build.checks.bore.verdict"},
	"motor.can_diameter_mm":      {"", "63", "80", "build.checks.can.value"},
	"motor.can_length_mm":        {"", "72", "90", "build.checks.hanger.verdict"},
	"motor.sensored":             {"", "true", "false", "build.checks.sensor.verdict"},

	"controller.erpm_ceiling":         {"", "100000", "45000", "build.checks.erpm.verdict"},
	"controller.max_volts":            {"", "60", "40", "build.checks.voltage.verdict"},
	"controller.motor_current_a":      {"", "60", "30", "build.figures.climb_thrust_n"},
	"controller.battery_current_a":    {"", "40", "15", "build.figures.climb_thrust_n"},
	"controller.continuous_current_a": {"", "45", "12", "build.checks.heat.limit"},
	"controller.channels":             {"", "2", "1", "build.parts.controllers"},
	"controller.max_duty":             {"", "0.95", "0.85", "build.figures.top_speed_kmh"},
	"controller.efficiency":           {"", "0.97", "0.9", "build.figures.range_km"},
	"controller.commutation":          {"", `"foc"`, `"six-step"`, "build.figures.climb_current_a"},

	"cell.nominal_v":       {"", "3.6", "3.5", "build.figures.free_speed_kmh"},
	"cell.full_v":          {"", "4.2", "4.1", "build.figures.free_speed_full_kmh"},
	"cell.cutoff_v":        {"resistance_mohm = 90", "2.8", "3.5", "build.figures.climb_thrust_n"},
	"cell.capacity_ah":     {"", "4.5", "4", "build.figures.range_km"},
	"cell.resistance_mohm": {"", "16", "30", "build.figures.top_speed_kmh"},
	"cell.discharge_a":     {"", "25", "8", "build.figures.climb_thrust_n"},
	"cell.charge_a":        {"", "4", "0.5", "checks.charger.verdict"},
	"cell.chemistry":       {"resistance_mohm = -", `"li-ion"`, `"lfp"`, "build.figures.top_speed_kmh"},
	"cell.diameter_mm":     {"", "21", "26", "needs.box.words"},
	"cell.length_mm":       {"", "70", "90", "needs.box.words"},

	"battery.series":          {"", "10", "9", "build.figures.free_speed_kmh"},
	"battery.parallel":        {"", "3", "2", "build.figures.range_km"},
	"battery.cell":            {"", `"marl"`, `"other"`, "build.figures.range_km"},
	"battery.nominal_v":       {"", "36", "35", "build.figures.free_speed_kmh"},
	"battery.full_v":          {"", "42", "41", "build.figures.free_speed_full_kmh"},
	"battery.cutoff_v":        {"resistance_mohm = 300", "28", "35", "build.figures.climb_thrust_n"},
	"battery.capacity_ah":     {"", "13", "10", "build.figures.range_km"},
	"battery.resistance_mohm": {"", "50", "90", "build.figures.top_speed_kmh"},
	"battery.discharge_a":     {"", "60", "20", "build.figures.climb_thrust_n"},
	"battery.charge_a":        {"", "12", "1", "checks.charger.verdict"},
	"battery.wiring_mohm":     {"", "6", "40", "build.figures.top_speed_kmh"},
	"battery.overhead_pct":    {"", "12", "30", "build.figures.mass_kg"},
	"battery.chemistry":       {"resistance_mohm = -", `"li-ion"`, `"lfp"`, "build.figures.top_speed_kmh"},

	"pulley.side":      {"", `"motor"`, `"wheel"`, "code"},
	"pulley.profile":   {"", `"own"`, `"t5"`, "build.checks.belt.verdict"},
	"pulley.teeth":     {"", "15", "16", "build.figures.reduction"},
	"pulley.width_mm":  {"", "16", "9", "build.checks.belt.verdict"},
	"pulley.bore_mm":   {"", "8", "10", "build.checks.bore.verdict"},
	"pulley.shaft_key": {"", `"keyway"`, `"flat"`, "build.checks.bore.verdict"},
	"pulley.hub":       {"", `"spoke"`, `"five"`, "build.checks.hub.verdict"},

	"belt.profile":  {"", `"own"`, `"t5"`, "build.checks.belt.verdict"},
	"belt.teeth":    {"", "65", "66", "build.figures.centre_mm"},
	"belt.width_mm": {"", "15", "9", "build.checks.belt-load.limit"},

	"sprocket.side":      {"", `"motor"`, `"wheel"`, "code"},
	"sprocket.profile":   {"", `"chain-05b"`, `"chain-06c"`, "build.checks.profile.verdict"},
	"sprocket.teeth":     {"", "12", "13", "build.figures.reduction"},
	"sprocket.bore_mm":   {"", "8", "10", "build.checks.bore.verdict"},
	"sprocket.shaft_key": {"", `"keyway"`, `"flat"`, "build.checks.bore.verdict"},
	"sprocket.hub":       {"", `"spoke"`, `"five"`, "build.checks.hub.verdict"},

	"chain.profile":    {"", `"chain-05b"`, `"chain-04c"`, "build.checks.belt.verdict"},
	"chain.links":      {"", "38", "40", "build.figures.centre_mm"},
	"chain.breaking_n": {"", "4400", "900", "build.checks.belt-load.limit"},

	"mount.centre_min_mm": {"", "70", "95", "build.checks.belt.verdict"},
	"mount.centre_max_mm": {"", "100", "72", "build.checks.belt.verdict"},
	"mount.idler":         {"", "false", "true", "build.checks.mesh.verdict"},
	"mount.angle_deg":     {"", "0", "30", "build.checks.can.value"},

	"gear_drive.ratio":         {"", "2.9", "3.1", "build.figures.reduction"},
	"gear_drive.driver_teeth":  {"ratio = -; driven_teeth = 45", "15", "14", "build.figures.reduction"},
	"gear_drive.driven_teeth":  {"ratio = -; driver_teeth = 15", "45", "44", "build.figures.reduction"},
	"gear_drive.efficiency":    {"", "0.97", "0.9", "build.figures.climb_thrust_n"},
	"gear_drive.in_wheel":      {"", "false", "true", "build.checks.hanger.value"},
	"gear_drive.bore_mm":       {"", "8", "10", "build.checks.bore.verdict"},
	"gear_drive.shaft_key":     {"", `"keyway"`, `"flat"`, "build.checks.bore.verdict"},
	"gear_drive.hub":           {"", `"spoke"`, `"five"`, "build.checks.hub.verdict"},
	"gear_drive.max_torque_nm": {"", "20", "2", "build.checks.gear-torque.verdict"},
	"gear_drive.outside_mm":    {"", "64", "90", "build.checks.clearance.verdict"},
	"gear_drive.centre_mm":     {"angle_deg = 30", "60", "80", "build.checks.can.value"},
	"gear_drive.angle_deg":     {"centre_mm = 60", "0", "30", "build.checks.can.value"},
	"gear_drive.fits_motors":   {"", `"pond"`, `"lake"`, "build.checks.bore.verdict"},
	"gear_drive.fits_wheels":   {"", `"disc"`, `"rim"`, "build.checks.hub.verdict"},

	"wheel.diameter_mm":          {"", "97", "100", "build.figures.free_speed_kmh"},
	"wheel.width_mm":             {"", "50", "8", "unlikely.*"},
	"wheel.hub":                  {"", `"spoke"`, `"five"`, "build.checks.hub.verdict"},
	"wheel.tyre":                 {"", `"urethane"`, `"rubber"`, "build.figures.range_km"},
	"wheel.rolling_resistance":   {"", "", "0.03", "build.figures.range_km"},
	"wheel.rolling_radius_ratio": {"", "1", "0.95", "build.figures.rolling_radius_mm"},

	"profile.pitch_mm":      {"", "5", "5.2", "build.figures.belt_pull_n"},
	"profile.pitch_line_mm": {"", "0.5", "1.5", "build.checks.clearance.value"},
	"profile.pull_n_per_mm": {"", "20", "4", "build.checks.belt-load.limit"},

	"bms.series":             {"", "10", "12", "needs.bms.state"},
	"bms.charge_a":           {"", "10", "1", "needs.bms.state"},
	"bms.discharge_a":        {"peak_discharge_a = 120", "80", "5", "needs.bms.state"},
	"bms.peak_discharge_a":   {"discharge_a = 40", "120", "45", "needs.bms.state"},
	"bms.cell_full_v":        {"", "4.25", "4.6", "needs.bms.state"},
	"bms.cell_cutoff_v":      {"", "2.7", "3", "needs.bms.notes"},
	"bms.balance":            {"", `"active"`, `"none"`, "needs.bms.notes"},
	"bms.balance_ma":         {"", "200", "20", "needs.bms.notes"},
	"switch.max_volts":       {"", "60", "30", "needs.switch.state"},
	"switch.continuous_a":    {"", "90", "5", "needs.switch.state"},
	"switch.peak_a":          {"continuous_a = 30", "160", "35", "needs.switch.state"},
	"switch.precharge":       {"", "true", "false", "needs.switch.state"},
	"fuse.rated_a":           {"", "75", "10", "needs.fuse.state"},
	"fuse.max_volts_dc":      {"", "70", "32", "needs.fuse.state"},
	"fuse.breaking_a":        {"", "2000", "100", "needs.fuse.state"},
	"connector.poles":        {"", "2", "3", "needs.battery-connector.state"},
	"connector.continuous_a": {"", "90", "5", "needs.battery-connector.state"},
	"connector.peak_a":       {"continuous_a = 30", "120", "35", "needs.battery-connector.state"},
	"connector.max_volts":    {"", "60", "30", "needs.battery-connector.state"},
	"connector.wire_max_awg": {"wire_max_mm2 = -", "6", "20", "needs.battery-connector.state"},
	"connector.wire_max_mm2": {"", "16", "0.5", "needs.battery-connector.state"},
	"wire.awg":               {"area_mm2 = -", "8", "20", "needs.battery-wire.state"},
	"wire.area_mm2":          {"", "6", "0.5", "needs.battery-wire.state"},
	"wire.insulation_c":      {"", "150", "60", "needs.battery-wire.state"},
	"wire.max_volts":         {"", "300", "30", "needs.battery-wire.state"},
	"charger.full_v":         {"", "42", "50.4", "needs.charger.state"},
	"charger.current_a":      {"", "4", "40", "needs.charger.state"},
	"remote.telemetry":       {"", "true", "false", "needs.remote.notes"},
	"remote.failsafe":        {"", "true", "false", "needs.remote.state"},
	"box.length_mm":          {"", "400", "60", "needs.box.state"},
	"box.width_mm":           {"", "200", "30", "needs.box.state"},
	"box.height_mm":          {"", "90", "20", "needs.box.state"},
}

// usualWishes are the lines of the keys that every kind has. A part of which one
// is enough is still sold by so many, which the shopping list says.
var usualWishes = map[string]wish{
	"id":      {"", `"one-id"`, `"another"`, "code list.*.id"},
	"name":    {"", `"one name"`, `"another"`, "list.*.name"},
	"price":   {"", "20", "30", "total.known"},
	"sold_in": {"", "1", "3", "list.*.sold_in"},
	"priced":  {"", `"2026-05-01"`, `"2026-05-02"`, "list.*.priced"},
	"source":  {"", `"one"`, `"another"`, "list.*.source"},
	"mass_g":  {"", "100", "200", "build.figures.mass_kg figures.around_mass_kg.value"},
	"owned":   {"", "false", "true", "total.known"},
	"made":    {"", `"printed"`, `"cut"`, "list.*.made"},
	"note":    {"", `"one"`, `"another"`, "list.*.note"},
	"link":    {"", `"https://a.example"`, `"https://b.example"`, "list.*.link"},
}

// profileWishes are those of profiles, which are not bought.
var profileWishes = map[string]wish{
	"name":    {"", `"one name"`, `"another"`, "parts.name"},
	"made":    {"", `"printed"`, `"cut"`, "parts.made"},
	"note":    {"", `"one"`, `"another"`, "parts.note"},
	"link":    {"", `"https://a.example"`, `"https://b.example"`, "parts.link"},
	"price":   {"", "", "30", "unlikely.*"},
	"sold_in": {"", "", "3", "unlikely.*"},
	"priced":  {"", `"2026-05-01"`, `"2026-05-02"`, "parts.priced"},
	"source":  {"", `"one"`, `"another"`, "parts.source"},
	"mass_g":  {"", "", "200", "unlikely.*"},
	"owned":   {"", "", "true", "unlikely.*"},
}

// changed are the parts of oneOfEach whose keys are given other values, by kind,
// or by kind and key.
var changed = map[string]string{
	"motor": "pond", "controller": "duet", "cell": "marl", "battery": "brick", "pulley": "cog", "belt": "loop", "sprocket": "pin", "chain": "run", "mount": "arm",
	"gear_drive": "spur", "wheel": "disc", "profile": "own", "bms": "guard", "switch": "main", "fuse": "blade",
	"connector": "plug", "wire": "soft", "charger": "wall", "remote": "hand", "box": "flat",
	"pulley.hub": "ring", "sprocket.hub": "star", "battery.cell": "loose", "battery.series": "loose", "battery.parallel": "loose", "battery.overhead_pct": "loose",
}

// oneOfEach is a catalog of one part or two of each kind, all of which do.
const oneOfEach = `schema = 1
[[motor]]
id = "pond"
kv = 150
resistance_mohm = 60
no_load_current_a = 1.2
peak_current_a = 75
continuous_current_a = 42
max_volts = 60
shaft_mm = 8
shaft_key = "keyway"
can_diameter_mm = 63
can_length_mm = 72
sensored = true
mass_g = 820
price = 110
[[motor]]
id = "lake"
kv = 170
[[controller]]
id = "duet"
channels = 2
erpm_ceiling = 100000
max_volts = 60
motor_current_a = 60
battery_current_a = 30
continuous_current_a = 45
mass_g = 240
price = 210
[[cell]]
id = "marl"
nominal_v = 3.6
full_v = 4.2
cutoff_v = 2.8
capacity_ah = 4.5
resistance_mohm = 16
discharge_a = 25
charge_a = 4
diameter_mm = 21
length_mm = 70
mass_g = 70
price = 6
[[cell]]
id = "other"
nominal_v = 3.6
full_v = 4.2
cutoff_v = 2.8
capacity_ah = 3
mass_g = 45
price = 4
[[battery]]
id = "brick"
series = 10
nominal_v = 36
full_v = 42
cutoff_v = 28
capacity_ah = 13
resistance_mohm = 50
discharge_a = 70
charge_a = 12
mass_g = 2400
price = 230
[[battery]]
id = "loose"
cell = "marl"
series = 10
parallel = 3
[[pulley]]
id = "cog"
side = "motor"
profile = "own"
teeth = 15
width_mm = 16
bore_mm = 8
mass_g = 45
price = 16
[[pulley]]
id = "ring"
side = "wheel"
profile = "own"
teeth = 44
width_mm = 16
hub = "spoke"
mass_g = 90
price = 28
[[belt]]
id = "loop"
profile = "own"
teeth = 65
width_mm = 15
mass_g = 20
price = 12
` + chainParts + `[[mount]]
id = "arm"
centre_min_mm = 70
centre_max_mm = 100
mass_g = 130
price = 35
[[gear_drive]]
id = "spur"
ratio = 2.9
bore_mm = 8
shaft_key = "keyway"
hub = "spoke"
max_torque_nm = 20
outside_mm = 64
mass_g = 380
price = 150
[[wheel]]
id = "disc"
diameter_mm = 97
hub = "spoke"
mass_g = 200
price = 55
[[wheel]]
id = "rim"
diameter_mm = 100
[[profile]]
id = "own"
pitch_mm = 5
pitch_line_mm = 0.57
pull_n_per_mm = 20
` + accessories

// builtOfEach are the builds that oneOfEach makes.
var builtOfEach = map[string]string{
	"belts":  "battery = 'brick'\nmotor_pulley = 'cog'\nwheel_pulley = 'ring'\nmount = 'arm'\nbelt = 'loop'\n",
	"chains": "battery = 'brick'\nmotor_pulley = 'pin'\nwheel_pulley = 'star'\nmount = 'arm'\nbelt = 'run'\n",
	"gears":  "battery = 'loose'\ngear_drive = 'spur'\n",
}

// briefOfParts asks for all that a key of a part bears on.
const briefOfParts = asksAll + `mesh_teeth = 8
[board]
hanger_mm = 160
sensored = true
`

func TestEveryKeyOfAPartIsHeard(t *testing.T) {
	if testing.Short() {
		t.Skip("asks hundreds of times")
	}
	t.Chdir(t.TempDir())
	for name, drive := range builtOfEach {
		write(t, name+".toml", "schema = 1\n[build]\ncontroller = 'duet'\nmotor = 'pond'\nmotors = 2\nwheel = 'disc'\n"+drive)
	}
	write(t, "brief.toml", briefOfParts)
	asked := map[string]map[string][]string{}
	ask := func(line, text string) map[string][]string {
		if asked[line+text] == nil {
			write(t, "parts.toml", text)
			asked[line+text] = answersOf(t, line+" --format json")
		}
		return asked[line+text]
	}
	known := map[string]bool{}
	for _, k := range catalog.Kinds() {
		for _, f := range k.Fields {
			name := k.Name + "." + f.Key
			known[name] = true
			w, ok := partWishes[name]
			if !ok && k.Name == "profile" {
				w, ok = profileWishes[f.Key]
			}
			if !ok {
				w, ok = usualWishes[f.Key]
			}
			if !ok {
				t.Errorf("%s has no line in partWishes that says which answer it changes", name)
				continue
			}
			part := changed[name]
			if part == "" {
				part = changed[k.Name]
			}
			line := "parts gears.toml --catalog parts.toml --brief brief.toml"
			if strings.HasPrefix(w.changes, "build") && !k.Accessory {
				line = strings.Replace(line, "parts", "sheet", 1)
			}
			switch {
			case strings.HasPrefix(w.changes, "unlikely"):
				line = "catalog check parts.toml"
			case strings.HasPrefix(w.changes, "parts"):
				line = "catalog show profile --catalog parts.toml"
			case k.Name == "sprocket" || k.Name == "chain":
				line = strings.Replace(line, "gears", "chains", 1)
			case strings.Contains(builtOfEach["belts"], "'"+part+"'") || k.Name == "profile":
				line = strings.Replace(line, "gears", "belts", 1)
			}
			from := w.from
			if f.Key == "id" {
				from = strconv.Quote(part)
			}
			given := func(value string) string { return withPart(t, oneOfEach, part, f.Key, value, w.under) }
			holdHeard(t, name, w, ask(line, given(from)), ask(line, given(w.to)))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(partWishes)) {
		if !known[name] {
			t.Errorf("partWishes has %s, which is no key of a part", name)
		}
	}
}

// withPart is a catalog in which one part has a key at a value, or not at all
// where that is "", and the lines of besides.
func withPart(t *testing.T, text, id, key, value, besides string) string {
	t.Helper()
	before, rest, ok := strings.Cut(text, "id = \""+id+"\"\n")
	if !ok {
		t.Fatalf("no part %s", id)
	}
	own, after, more := strings.Cut(rest, "[[")
	if more {
		after = "[[" + after
	}
	lines := []string{"id = \"" + id + "\"\n"}
	if key == "id" {
		lines = nil
	}
	for _, line := range append(strings.Split(besides, "; "), key+" = "+value) {
		set, what, _ := strings.Cut(line, " = ")
		own = regexp.MustCompile(`(?m)^`+set+` = .*\n`).ReplaceAllString(own, "")
		if what != "" && what != "-" {
			lines = append(lines, line+"\n")
		}
	}
	return before + strings.Join(lines, "") + own + after
}

// chainParts are a pair of sprockets and a chain.
const chainParts = `[[sprocket]]
id = "pin"
side = "motor"
profile = "chain-05b"
teeth = 12
bore_mm = 8
mass_g = 30
price = 9
[[sprocket]]
id = "star"
side = "wheel"
profile = "chain-05b"
teeth = 24
hub = "spoke"
mass_g = 110
price = 18
[[chain]]
id = "run"
profile = "chain-05b"
links = 38
mass_g = 60
price = 7
`
