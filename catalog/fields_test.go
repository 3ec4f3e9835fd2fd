package catalog

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog/field"
)

// format is the catalog format as it is promised: the keys of each kind beside
// those of every kind, a star for required.
var format = map[string]string{
	"":           "id* name price sold_in priced source mass_g owned made note link",
	"motor":      "kv* pole_pairs resistance_mohm no_load_current_a peak_current_a continuous_current_a max_power_w max_volts shaft_mm shaft_key can_diameter_mm can_length_mm sensored",
	"controller": "erpm_ceiling max_volts motor_current_a battery_current_a continuous_current_a channels max_duty efficiency commutation",
	"cell":       "nominal_v* full_v* cutoff_v* capacity_ah* resistance_mohm discharge_a charge_a chemistry diameter_mm length_mm",
	"battery":    "series* parallel cell nominal_v full_v cutoff_v capacity_ah resistance_mohm discharge_a charge_a wiring_mohm overhead_pct chemistry",
	"pulley":     "side* profile* teeth* width_mm bore_mm shaft_key hub",
	"belt":       "profile* teeth* width_mm",
	"sprocket":   "side* profile* teeth* bore_mm shaft_key hub",
	"chain":      "profile* links* breaking_n",
	"mount":      "centre_min_mm* centre_max_mm* idler angle_deg",
	"gear_drive": "ratio driver_teeth driven_teeth efficiency in_wheel bore_mm shaft_key hub max_torque_nm outside_mm centre_mm angle_deg fits_motors fits_wheels",
	"wheel":      "diameter_mm* width_mm hub tyre rolling_resistance rolling_radius_ratio",
	"profile":    "pitch_mm* pitch_line_mm pull_n_per_mm",
	"bms":        "series* charge_a discharge_a peak_discharge_a cell_full_v cell_cutoff_v balance balance_ma",
	"switch":     "max_volts continuous_a peak_a precharge",
	"fuse":       "rated_a* max_volts_dc breaking_a",
	"connector":  "poles continuous_a peak_a max_volts wire_max_awg wire_max_mm2",
	"wire":       "awg area_mm2 insulation_c max_volts",
	"charger":    "full_v* current_a*",
	"remote":     "telemetry failsafe",
	"box":        "length_mm* width_mm* height_mm*",
}

func TestFormat(t *testing.T) {
	for _, k := range Kinds() {
		var got []string
		for _, f := range k.Fields {
			key := f.Key
			if f.Required {
				key += "*"
			}
			got = append(got, key)
		}
		want := strings.Fields(format[""] + " " + format[k.Name])
		if !slices.Equal(got, want) {
			t.Errorf("keys of %s:\n%v\nwant\n%v", k.Name, got, want)
		}
	}
}

// Every row says what a reader of the reference page wants to know.
func TestFieldRows(t *testing.T) {
	units := map[string]string{"_mm": "mm", "_mohm": "mΩ", "_a": "A", "_v": "V", "_w": "W", "_g": "g", "_ah": "Ah", "_pct": "%", "_nm": "N.m", "_per_mm": "N/mm", "_ma": "mA", "_mm2": "mm²", "_c": "°C", "_volts": "V", "_dc": "V", "_deg": "°", "_awg": "", "_n": "N"}
	for _, k := range Kinds() {
		if k.Meaning == "" {
			t.Errorf("%s has no meaning", k.Name)
		}
		for _, f := range k.Fields {
			if f.Meaning == "" || f.Type == "" {
				t.Errorf("%s.%s has no meaning or type", k.Name, f.Key)
			}
			if f.Type != field.TypeNumber && f.Type != field.TypeWhole {
				continue
			}
			if math.IsInf(f.Min, -1) || math.IsInf(f.Max, 1) || f.Max <= f.Min || !f.Family {
				t.Errorf("%s.%s has no range, or is not to be spread in a family: %+v", k.Name, f.Key, f)
			}
			longest := ""
			for suffix := range units {
				if strings.HasSuffix(f.Key, suffix) && len(suffix) > len(longest) {
					longest = suffix
				}
			}
			if longest != "" && f.Unit != units[longest] {
				t.Errorf("%s.%s has the unit %q", k.Name, f.Key, f.Unit)
			}
		}
	}
}

// Parts that are bought for boards and for what resembles them lie within the
// ranges: small and large ones as sold, from memory.
func TestRangesAreWide(t *testing.T) {
	read(t, `
[[motor]]
id = "small"
kv = 3000
pole_pairs = 1
resistance_mohm = 5
no_load_current_a = 0
shaft_mm = 2
can_diameter_mm = 20
can_length_mm = 15
max_power_w = 50
mass_g = 0
price = 0
[[motor]]
id = "large"
kv = 9.5
pole_pairs = 30
resistance_mohm = 900
no_load_current_a = 8
peak_current_a = 500
continuous_current_a = 300
max_power_w = 15000
max_volts = 120
shaft_mm = 25
can_diameter_mm = 250
can_length_mm = 120
mass_g = 14000
[[controller]]
id = "c"
erpm_ceiling = 300000
max_volts = 150
motor_current_a = 600
battery_current_a = 400
channels = 4
max_duty = 1
efficiency = 1
[[cell]]
id = "pouch"
nominal_v = 2.4
full_v = 2.8
cutoff_v = 1.5
capacity_ah = 300
resistance_mohm = 0.2
discharge_a = 900
[[battery]]
id = "b"
series = 30
parallel = 30
cell = "pouch"
wiring_mohm = 0
overhead_pct = 0
[[pulley]]
id = "p"
side = "wheel"
profile = "gt-2"
teeth = 9
width_mm = 3
bore_mm = 3
[[belt]]
id = "belt"
profile = "htd-8m"
teeth = 600
width_mm = 85
[[sprocket]]
id = "s"
side = "motor"
profile = "chain-04c"
teeth = [7, 120]
bore_mm = 5
[[chain]]
id = "chain"
profile = "chain-06c"
links = [24, 480]
breaking_n = [2500, 13000]
[[mount]]
id = "m"
centre_min_mm = 30
centre_max_mm = 400
[[gear_drive]]
id = "g"
ratio = 0.5
max_torque_nm = 0.5
[[wheel]]
id = "w"
diameter_mm = [50, 660]
rolling_resistance = [0, 0.3]
rolling_radius_ratio = [1, 0.9]
[[profile]]
id = "own"
pitch_mm = 14
pitch_line_mm = 1.4
pull_n_per_mm = 60
[[bms]]
id = "bms"
series = 32
charge_a = 0.5
discharge_a = 500
peak_discharge_a = 1500
cell_full_v = [1.5, 4.45]
cell_cutoff_v = [0.9, 3.2]
balance_ma = [2, 10000]
[[switch]]
id = "switch"
max_volts = [12, 750]
continuous_a = [0.5, 1000]
[[fuse]]
id = "fuse"
rated_a = [0.1, 1500]
max_volts_dc = [24, 1500]
breaking_a = [35, 250000]
[[connector]]
id = "plug"
poles = [1, 12]
continuous_a = [1, 500]
wire_max_awg = [30, -3]
[[wire]]
id = "wire"
awg = [30, -3]
insulation_c = [70, 260]
max_volts = [30, 3000]
[[wire]]
id = "lead"
area_mm2 = [0.05, 120]
[[charger]]
id = "charger"
full_v = [4.2, 126]
current_a = [0.25, 100]
[[box]]
id = "box"
length_mm = [60, 1100]
width_mm = [30, 400]
height_mm = [15, 200]
`)
}

func TestWords(t *testing.T) {
	c := read(t, "[[motor]]\nid = 'm'\nkv = 190\nshaft_key = 'keyway'\n[[wheel]]\nid = 'w'\ndiameter_mm = 200\ntyre = 'pneumatic'\n[[pulley]]\nid = 'p'\nside = 'wheel'\nprofile = 't5'\nteeth = 40\nshaft_key = 'flat'\n[[controller]]\nid = 'c'\ncommutation = 'six-step'\n")
	if c.Motors[0].ShaftKey != KeyKeyway || c.Wheels[0].Tyre != TyrePneumatic || c.Pulleys[0].Side != WheelSide || c.Pulleys[0].ShaftKey != KeyFlat || c.Controllers[0].Commutation != "six-step" {
		t.Error("words are taken for others")
	}
	for want, got := range map[string]string{"": KeyUnknown.String(), "plain": KeyPlain.String(), "urethane": TyreUrethane.String(), "motor": MotorSide.String()} {
		if got != want {
			t.Errorf("the word for %q is %q", want, got)
		}
	}
}
