package constraints

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"gearsearch/catalog/field"
)

// asWritten compares briefs by what they ask for, not by where it was written.
func asWritten() cmp.Options {
	return cmp.Options{cmpopts.EquateNaNs(), cmpopts.EquateEmpty(), cmpopts.IgnoreUnexported(Brief{})}
}

// everyKey is a brief with every key set, to values unlike the defaults.
const everyKey = `
schema = 1
[rider]
mass_kg = 71.5
posture = "tuck"
drag_area_m2 = 0.48
drag_fitted = true
[board]
mass_kg = 6.25
motors = [4, 1, 2]
rear_share = 0.55
lean = 0.15
axle_min = 0.05
wheelbase_mm = 900
centre_height_mm = 1000
hanger_mm = 155
sensored = true
[ground]
surface = "gravel"
rolling_resistance = 0.033
rolling_fitted = true
air_density_kg_m3 = 1.1
altitude_m = 640
temperature_c = 12
grip = 0.45
wet = false
[target]
top_speed_kmh = 36
top_speed_max_kmh = 45
climb_grade_pct = 18
climb_speed_kmh = 9
climb_length_m = 700
stop_m = 18
stop_from_kmh = 28.8
hill_torque_nm = 33
launch_speed_kmh = 18
launch_s = 2.5
range_km = 21
cruise_kmh = 27
charge = 3.9
[limit]
erpm_ceiling = 90000
erpm_headroom_pct = 8
erpm_rule = "at-speed"
price = 1234.5
mass_kg = 12.5
mesh_teeth = 7
ground_clearance_mm = 20
heat_factor = 1.5
winding_c = 80
winding_max_c = 110
usable_pct = 85
reserve_pct = 20
ride_factor = 1.35
derate = 0.8
demote = ["bore", "heat"]
[ride]
stops_per_km = 3
ascent_m_per_km = 12
wind_kmh = 10.8
regen_pct = 25
start_pct = 80
route = "ways/home.gpx"
[weights]
speed = 1
climb = 2
headroom = 3
range = 4
launch = 5
cool = 6
price = 7
mass = 8
mesh = 0
[tolerance]
kv_pct = 4
mass_kg = 3
rolling_pct = 20
drag_pct = 10
pack_resistance_pct = 25
efficiency_points = 1
wheel_pct = 2
stance_points = 4
grip_pct = 12
wind_kmh = 9
[keep]
battery = ["b1", "b2"]
controller = "c1"
motor = ["m1", "m2"]
motor_pulley = "p1"
wheel_pulley = ["w1"]
belt = "belt1"
mount = "mount1"
gear_drive = "g1"
wheel = ["t1", "t2"]
[avoid]
battery = "b3"
controller = ["c2"]
motor = "m3"
motor_pulley = "p2"
wheel_pulley = "w2"
belt = "belt2"
mount = "mount2"
gear_drive = ["g2", "g3"]
wheel = "t3"
`

func TestReadEveryKey(t *testing.T) {
	got, err := ReadBrief(source("brief.toml", everyKey))
	if err != nil {
		t.Fatal(err)
	}
	want := &Brief{
		Rider: Rider{Mass: 71.5, Posture: "tuck", DragArea: 0.48, Fitted: new(true)},
		Board: Board{Mass: 6.25, Motors: []float64{4, 1, 2}, RearShare: 0.55, Lean: 0.15, AxleMin: 0.05, Wheelbase: 0.9, Centre: 1, Hanger: 0.155, Sensored: new(true)},
		Ground: Ground{
			Surface: "gravel", RollingResistance: 0.033, Fitted: new(true), AirDensity: 1.1, Altitude: 640, Temperature: 12, Grip: 0.45, Wet: new(false),
		},
		Target: Target{
			TopSpeed: 10, TopSpeedMax: 12.5, ClimbGrade: 0.18, ClimbSpeed: 2.5, ClimbLength: 700, Stop: 18, StopFrom: 8, HillTorque: 33, LaunchSpeed: 5, LaunchTime: 2.5,
			Range: 21_000, Cruise: 7.5, Charge: Charge{Volts: 3.9},
		},
		Limit: Limits{
			ERPMCeiling: 90_000, ERPMHeadroom: 0.08, ERPMRule: AtSpeed, Price: 1234.5, Mass: 12.5, MeshTeeth: 7,
			GroundClearance: 0.02, HeatFactor: 1.5, Winding: 80, WindingMax: 110, Usable: 0.85, Reserve: 0.2, RideFactor: 1.35, Derate: 0.8,
			Demote: []string{"bore", "heat"},
		},
		Ride:    Journey{Stops: 0.003, Ascent: 0.012, Wind: 3, Regen: 0.25, Start: 0.8, Route: "ways/home.gpx"},
		Weights: Weights{Speed: 1, Climb: 2, Headroom: 3, Range: 4, Launch: 5, Cool: 6, Price: 7, Mass: 8, Mesh: 0},
		Vary:    Tolerance{KV: 0.04, Mass: 3, Rolling: 0.2, Drag: 0.1, PackResistance: 0.25, Efficiency: 0.01, Wheel: 0.02, Stance: 0.04, Grip: 0.12, Wind: 2.5},
	}
	want.Keep[SlotBattery], want.Avoid[SlotBattery] = []string{"b1", "b2"}, []string{"b3"}
	want.Keep[SlotController], want.Avoid[SlotController] = []string{"c1"}, []string{"c2"}
	want.Keep[SlotMotor], want.Avoid[SlotMotor] = []string{"m1", "m2"}, []string{"m3"}
	want.Keep[SlotMotorPulley], want.Avoid[SlotMotorPulley] = []string{"p1"}, []string{"p2"}
	want.Keep[SlotWheelPulley], want.Avoid[SlotWheelPulley] = []string{"w1"}, []string{"w2"}
	want.Keep[SlotBelt], want.Avoid[SlotBelt] = []string{"belt1"}, []string{"belt2"}
	want.Keep[SlotMount], want.Avoid[SlotMount] = []string{"mount1"}, []string{"mount2"}
	want.Keep[SlotGearDrive], want.Avoid[SlotGearDrive] = []string{"g1"}, []string{"g2", "g3"}
	want.Keep[SlotWheel], want.Avoid[SlotWheel] = []string{"t1", "t2"}, []string{"t3"}
	if d := cmp.Diff(want, got, asWritten()); d != "" {
		t.Errorf("the brief reads differently (-want +got):\n%s", d)
	}

	// The text names every key there is.
	for _, k := range BriefKeys() {
		_, section, _ := strings.Cut(everyKey, "["+k.Section+"]")
		section, _, _ = strings.Cut(section, "\n[")
		if !strings.Contains(section, "\n"+k.Key+" =") {
			t.Errorf("the test leaves out %s.%s", k.Section, k.Key)
		}
	}
}

// TestDefaults: a brief that says nothing has the defaults of the format.
func TestDefaults(t *testing.T) {
	got, err := ReadBrief(source("brief.toml", "schema = 1\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := &Brief{
		Rider:  Rider{Mass: 80, Posture: "sideways", DragArea: nan},
		Board:  Board{Mass: 5, Motors: []float64{2}, RearShare: 0.6, Lean: 0.2, AxleMin: 0.1, Wheelbase: 0.85, Centre: 0.95, Hanger: nan},
		Ground: Ground{Surface: "asphalt", RollingResistance: nan, AirDensity: nan, Altitude: nan, Temperature: nan, Grip: nan},
		Target: Target{
			TopSpeed: nan, TopSpeedMax: nan, ClimbGrade: nan, ClimbSpeed: 12 / 3.6, ClimbLength: nan, Stop: nan, StopFrom: 25 / 3.6, HillTorque: nan, LaunchSpeed: nan,
			LaunchTime: nan, Range: nan, Cruise: 25 / 3.6, Charge: Charge{Word: "nominal", Volts: nan},
		},
		Limit: Limits{
			ERPMCeiling: nan, ERPMHeadroom: 0.05, ERPMRule: "free-spin", Price: nan, Mass: nan, MeshTeeth: 5,
			GroundClearance: 0.012, HeatFactor: 1, Winding: 60, WindingMax: 120, Usable: 0.9, Reserve: 0.1, RideFactor: 1, Derate: 0.85,
		},
		Ride:    Journey{Stops: 0.002, Regen: 0.4, Start: 0.95},
		Weights: Weights{Speed: 3, Climb: 3, Headroom: 2, Range: 2, Launch: 1, Cool: 2, Price: 2, Mass: 1, Mesh: 1},
		Vary:    Tolerance{KV: 0.05, Mass: 5, Rolling: 0.3, Drag: 0.15, PackResistance: 0.2, Efficiency: 0.02, Wheel: 0.015, Stance: 0.05, Grip: 0.15, Wind: 5 / 3.6},
	}
	if d := cmp.Diff(want, got, asWritten(), cmpopts.EquateApprox(1e-15, 0)); d != "" {
		t.Errorf("the defaults differ (-want +got):\n%s", d)
	}
	if d := cmp.Diff(DefaultBrief(), got, asWritten()); d != "" {
		t.Errorf("DefaultBrief differs (-DefaultBrief +read):\n%s", d)
	}
}

// TestSurfaces: rolling resistance and grip by surface and tyre, as the format
// lists them, and the air that a rider meets by posture.
func TestSurfaces(t *testing.T) {
	for _, c := range []struct {
		surface                     string
		urethane, rubber, air, grip float64
	}{
		{"asphalt", 0.018, 0.022, 0.020, 0.8},
		{"rough", 0.030, 0.030, 0.026, 0.6},
		{"gravel", 0.080, 0.045, 0.035, 0.5},
		{"grass", 0.120, 0.080, 0.080, 0.4},
	} {
		for tyre, want := range map[string]float64{"urethane": c.urethane, "rubber": c.rubber, "pneumatic": c.air} {
			b := build(t, onBelts, `ground.surface = "`+c.surface+`"`, `wheel.tyre = "`+tyre+`"`)
			if b.Wheel.Crr != want || b.Problem.Grip != c.grip {
				t.Errorf("%s on %s: rolling %v and grip %v, want %v and %v", tyre, c.surface, b.Wheel.Crr, b.Problem.Grip, want, c.grip)
			}
			if wet := build(t, onBelts, `ground.surface = "`+c.surface+`"`, "ground.wet = true").Problem.Grip; wet != c.grip/2 {
				t.Errorf("wet %s: grip %v, want half of %v", c.surface, wet, c.grip)
			}
		}
	}
	for _, c := range []struct {
		why    string
		change []string
		crr    float64
	}{
		{"a tyre that is not given is urethane", []string{"-wheel.tyre"}, 0.018},
		{"the wheel's own beats the table", []string{"wheel.rolling_resistance = 0.011"}, 0.011},
		{"the brief's beats both", []string{"wheel.rolling_resistance = 0.011", "ground.rolling_resistance = 0.02"}, 0.02},
		{"0 is a value", []string{"ground.rolling_resistance = 0"}, 0},
	} {
		if got := build(t, onBelts, c.change...).Wheel.Crr; got != c.crr {
			t.Errorf("rolling resistance %v, want %v: %s", got, c.crr, c.why)
		}
	}
	p := problem(t, onBelts, "board.motors = [4, 2, 1]")
	if d := cmp.Diff([]int{1, 2, 4}, p.Counts); d != "" {
		t.Errorf("motor counts stand in another order:\n%s", d)
	}
	if d := cmp.Diff([]float64{4, 2, 1}, p.Brief.Board.Motors); d != "" {
		t.Errorf("the brief was changed:\n%s", d)
	}
	for posture, want := range map[string]float64{"sideways": 0.50, "forward": 0.65, "tuck": 0.35} {
		if got := problem(t, onBelts, "-rider.drag_area_m2", `rider.posture = "`+posture+`"`).DragArea; got != want {
			t.Errorf("%s: drag area %v, want %v", posture, got, want)
		}
	}
	if got := problem(t, onBelts, `rider.posture = "tuck"`, "rider.drag_area_m2 = 0.61").DragArea; got != 0.61 {
		t.Errorf("drag area %v, want the brief's own before that of the posture", got)
	}
}

// TestSet: keys from a command line, in their units.
func TestSet(t *testing.T) {
	b := DefaultBrief()
	for key, text := range map[string]string{
		"target.top_speed_kmh": "36", "board.motors": "1,4", "target.charge": "full", "limit.demote": "bore,heat",
		"limit.erpm_rule": "at-speed", "ground.surface": "grass", "keep.motor": "a,b", "avoid.wheel": "t", "weights.mesh": "0",
		"limit.usable_pct": "8.5e1", "rider.mass_kg": "70", "board.hanger_mm": "150",
	} {
		if err := b.Set(key, text, "--set"); err != nil {
			t.Errorf("%s = %s: %v", key, text, err)
		}
	}
	if b.Target.TopSpeed != 10 || !slices.Equal(b.Board.Motors, []float64{1, 4}) || b.Target.Charge.Word != "full" ||
		!math.IsNaN(b.Target.Charge.Volts) || !slices.Equal(b.Limit.Demote, []string{"bore", "heat"}) || b.Limit.ERPMRule != AtSpeed ||
		b.Ground.Surface != "grass" || !slices.Equal(b.Keep[SlotMotor], []string{"a", "b"}) || !slices.Equal(b.Avoid[SlotWheel], []string{"t"}) ||
		b.Weights.Mesh != 0 || b.Limit.Usable != 0.85 || b.Rider.Mass != 70 || b.Board.Hanger != 0.15 {
		t.Errorf("keys were set to other values: %+v", b)
	}
	if err := b.Set("target.charge", "3.8", "--set"); err != nil || b.Target.Charge.Word != "" || b.Target.Charge.Volts != 3.8 {
		t.Errorf("charge is %+v, %v", b.Target.Charge, err)
	}
}

// TestAddParts: ids are added to what is there, once.
func TestAddParts(t *testing.T) {
	b, err := ReadBrief(source("brief.toml", "schema = 1\n[keep]\nmotor = [\"m1\"]\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, ids := range [][]string{{"m2"}, {"m3", "m1"}} {
		if err := b.AddParts("keep", "motor", ids, "--keep"); err != nil {
			t.Fatal(err)
		}
	}
	if err := b.AddParts("avoid", "wheel", []string{"t1"}, "--avoid"); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]string{"m1", "m2", "m3"}, b.Keep[SlotMotor]); d != "" {
		t.Errorf("kept motors differ:\n%s", d)
	}
	if d := cmp.Diff([]string{"t1"}, b.Avoid[SlotWheel]); d != "" {
		t.Errorf("avoided wheels differ:\n%s", d)
	}
}

// TestClone: a copy can be changed without the original.
func TestClone(t *testing.T) {
	b, err := ReadBrief(source("brief.toml", everyKey))
	if err != nil {
		t.Fatal(err)
	}
	before, _ := ReadBrief(source("brief.toml", everyKey))
	c := b.Clone()
	if d := cmp.Diff(b, c, asWritten()); d != "" {
		t.Errorf("the copy differs:\n%s", d)
	}
	c.Board.Motors[0], c.Limit.Demote[0], c.Keep[SlotMotor][0], c.Avoid[SlotMotor][0] = 9, "x", "x", "x"
	if err := c.Set("rider.mass_kg", "50", "--rider"); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(before, b, asWritten(), cmp.AllowUnexported(places{}), cmpopts.IgnoreTypes(field.Place{})); d != "" {
		t.Errorf("the original changed with its copy:\n%s", d)
	}
	if len(b.places.origins) != 0 || len(b.places.at) != len(before.places.at) {
		t.Error("the copy shares with the original where keys were written")
	}
}

// TestAimsAtNothing: only what a builder asks for is an aim.
func TestAimsAtNothing(t *testing.T) {
	for change, want := range map[string]bool{
		"": true, "rider.mass_kg = 60": true, "board.hanger_mm = 200": true, "limit.mesh_teeth = 6": true, "target.cruise_kmh = 20": true,
		"target.launch_speed_kmh = 20": true, "target.top_speed_kmh = 20": false, "target.top_speed_max_kmh = 20": false,
		"target.climb_grade_pct = 0": false, "target.hill_torque_nm = 5": false, "target.range_km = 5": false,
		"limit.erpm_ceiling = 60000": false, "limit.price = 500": false, "limit.mass_kg = 9": false,
	} {
		k := newKit(onBelts)
		if change != "" {
			k.Change(change)
		}
		if _, b := read(t, k); b.AimsAtNothing() != want {
			t.Errorf("%q: aims at nothing: %v, want %v", change, !want, want)
		}
	}
}

// TestLaterKeysMendContradictions: what a file leaves out and a flag adds is no
// contradiction, and what is left of one is reported at its place.
func TestLaterKeysMendContradictions(t *testing.T) {
	for _, c := range []struct{ text, key, value string }{
		{"[target]\nlaunch_s = 3", "target.launch_speed_kmh", "10"},
		{"[target]\nclimb_length_m = 300", "target.climb_grade_pct", "10"},
		{"[limit]\nerpm_rule = \"at-speed\"", "target.top_speed_kmh", "20"},
		{"[target]\ntop_speed_kmh = 40\ntop_speed_max_kmh = 30", "target.top_speed_kmh", "25"},
		{"[board]\nmotors = [2, 3]", "board.motors", "2"},
	} {
		b, err := ReadBrief(source("brief.toml", "schema = 1\n"+c.text))
		if err != nil {
			t.Fatalf("%s: %v", c.text, err)
		}
		err = b.Validate()
		if err == nil || !strings.HasPrefix(err.Error(), "brief.toml:") {
			t.Errorf("%s: %v, want a problem in brief.toml", c.text, err)
		}
		if err := b.Set(c.key, c.value, "--set"); err != nil {
			t.Fatal(err)
		}
		if err := b.Validate(); err != nil {
			t.Errorf("%s, then %s = %s: %v", c.text, c.key, c.value, err)
		}
	}
}
