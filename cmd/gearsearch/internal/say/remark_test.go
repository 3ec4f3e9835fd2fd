package say

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints/audit"

	"github.com/google/go-cmp/cmp"
)

// tables writes parts, of which each has a line, as a catalog file: the kind,
// the id, and the keys, as in "motor m; kv = 190".
func tables(parts string) string {
	out := "schema = 1\n"
	for part := range strings.Lines(strings.TrimSpace(parts)) {
		head, keys, _ := strings.Cut(strings.TrimSpace(part), ";")
		kind, id, _ := strings.Cut(head, " ")
		out += "[[" + kind + "]]\nid = \"" + id + "\"\n" + strings.ReplaceAll(keys, ";", "\n") + "\n"
	}
	return out
}

// remarksOn reads a catalog and remarks on it.
func remarksOn(t *testing.T, sources ...catalog.Source) []audit.Remark {
	t.Helper()
	c, err := catalog.Read(sources...)
	if err != nil {
		t.Fatal(err)
	}
	return append(audit.Doubts(c), audit.Idle(c)...)
}

// unclean is what no sentence has in it: a number that is none, and places for
// quantities that are left over or missing.
var unclean = regexp.MustCompile(`NaN|Inf|%!|EXTRA|MISSING`)

// Each code has its words, which have a place for each of its quantities.
func TestRemark(t *testing.T) {
	const (
		cell     = `cell c; nominal_v = 3.6; full_v = 4.2; cutoff_v = 3; capacity_ah = 5; diameter_mm = 21; length_mm = 70`
		packCell = `cell c; nominal_v = 3.6; full_v = 4.2; cutoff_v = 2.8; capacity_ah = 4; resistance_mohm = 15; discharge_a = 30; charge_a = 4; mass_g = 70`
		// The motors are of one build: R·kv² is 1.6 Ω·(rpm/V)², D⁴·L the same.
		likeMotors = `motor m; kv = [125, 160, 200]; resistance_mohm = [102.4, 62.5, 40]; can_diameter_mm = 63; can_length_mm = 74; mass_g = 830`
		// These all go together.
		belted = `motor m8; kv = 190; shaft_mm = 8; shaft_key = "plain"; max_volts = 52
pulley s; side = "motor"; profile = "htd-5m"; teeth = 15; bore_mm = 8; width_mm = 16
pulley l; side = "wheel"; profile = "htd-5m"; teeth = 40; hub = "five"; width_mm = 16
wheel w; diameter_mm = 97; hub = "five"
belt b; profile = "htd-5m"; teeth = 65; width_mm = 15
mount mt; centre_min_mm = 80; centre_max_mm = 100`
		chained = `motor m8; kv = 190; shaft_mm = 8; shaft_key = "plain"; max_volts = 52
sprocket s; side = "motor"; profile = "chain-06c"; teeth = 12; bore_mm = 8
sprocket l; side = "wheel"; profile = "chain-06c"; teeth = 30; hub = "five"
wheel w; diameter_mm = 150; hub = "five"
chain b; profile = "chain-06c"; links = 40
mount mt; centre_min_mm = 70; centre_max_mm = 100`
		// A gear drive that goes on no shaft.
		narrow = `motor m8; kv = 190; shaft_mm = 8; shaft_key = "plain"; max_volts = 52
wheel w; diameter_mm = 97; hub = "five"
gear_drive g; ratio = 3; bore_mm = 10`
		// A pack that no controller bears.
		highPack = cell + `
cell c2; nominal_v = 3.6; full_v = 4.2; cutoff_v = 3; capacity_ah = 5; diameter_mm = 21; length_mm = 70
battery p10; series = 10; cell = "c"
controller e; max_volts = 50.4
battery p14; series = 14; cell = "c2"`
		// A pack that promises more than its cells give.
		boastful = packCell + `
battery x; series = 10; parallel = 4; cell = "c"; discharge_a = 150; capacity_ah = 20; charge_a = 20; resistance_mohm = 20`
		// Accessories, most of them for no pack.
		around = cell + `
battery p10; series = 10; cell = "c"
bms b10; series = 10
bms b12; series = 12
charger c42; full_v = 42; current_a = 4
charger c41; full_v = 41.2; current_a = 4
charger c50; full_v = 50.4; current_a = 4
switch s; max_volts = 36
switch t
fuse f; rated_a = 40; max_volts_dc = 32
connector x; max_volts = 30
wire v; awg = 10; max_volts = 30
box tin; length_mm = 60; width_mm = 60; height_mm = 60
box case; length_mm = 300; width_mm = 100; height_mm = 50`
	)
	tests := []struct {
		code        audit.Code
		parts, want string
	}{
		{audit.PriceZero, `motor x; kv = 190; price = 0`, "motor x: price is 0"},
		{audit.NotBought, `profile x; pitch_mm = 5; price = 3`, "profile x: price counts nowhere: a profile is the shape of teeth, and is not bought"},
		{audit.LongAbovePeak, `switch x; continuous_a = 90; peak_a = 70`, "switch x: continuous_a is 90, above peak_a, 70"},
		{audit.WindingOdd, likeMotors + `
motor x; kv = 200; resistance_mohm = 102.4; can_diameter_mm = 62; can_length_mm = 76`, "motor x: resistance_mohm is 102.4 at 200 rpm/V; a can of 62 × 76 mm would have about 42 there, by 4 motors of a similar can"},
		{audit.WindingHalf, likeMotors + `
motor x; kv = 160; resistance_mohm = 31.25; can_diameter_mm = 63; can_length_mm = 74`, "motor x: resistance_mohm is 31.25 at 160 rpm/V; a can of 63 × 74 mm would have about 62 there, by 4 motors of a similar can"},
		{audit.MotorConstant, `motor x; kv = 190; resistance_mohm = 480; mass_g = 800`, "motor x: resistance_mohm is 480 at 190 rpm/V and 800 g; motors of that kv and mass have about 26 to 160"},
		{audit.MagnetsAsPairs, `motor x; kv = 190; pole_pairs = 14; can_diameter_mm = 63`, "motor x: pole_pairs is 14 in a can of 63 mm; 14 magnets are 7 pairs"},
		{audit.MotorMass, `motor x; kv = 190; mass_g = 250; can_diameter_mm = 63; can_length_mm = 74`, "motor x: mass_g is 250 for a can of 63 × 74 mm, 1.1 g/cm³; motors have 1.5 to 7.5"},
		{audit.LimitBelowNoLoad, `motor x; kv = 190; no_load_current_a = 3; peak_current_a = 3; continuous_current_a = 1`, "motor x: peak_current_a is 3, no more than no_load_current_a, 3"},
		{audit.ShaftInCan, `motor x; kv = 190; shaft_mm = 30; can_diameter_mm = 50`, "motor x: shaft_mm is 30 in a can of 50 mm"},
		{audit.PackAboveMotorSide, `controller x; motor_current_a = 40; battery_current_a = 60`, "controller x: battery_current_a is 60, above motor_current_a, 40"},
		{audit.ControllerEfficiency, `controller x; efficiency = 1`, "controller x: efficiency is 1; controllers have 0.85 to 0.995"},
		{audit.GearEfficiency, `gear_drive x; ratio = 3; efficiency = 0.5`, "gear_drive x: efficiency is 0.5; gears have 0.7 to 0.99"},
		{audit.VoltageOdd, `cell x; nominal_v = 3.6; full_v = 4.2; cutoff_v = 2; capacity_ah = 4; chemistry = "li-ion"`, "cell x: cutoff_v is 2 V; li-ion cells have 2.5 to 3.5 V"},
		{audit.NoChemistry, `battery x; series = 10; nominal_v = 36; full_v = 46`, "battery x: 4.6 V full, 3.6 V nominal for each of 10 cells: no chemistry has these voltages"},
		{audit.NoChemistry, `cell x; nominal_v = 3.6; full_v = 4.2; cutoff_v = 1; capacity_ah = 4`, "cell x: 4.2 V full, 3.6 V nominal, 1 V empty: no chemistry has these voltages"},
		{audit.CellMass, `cell x; nominal_v = 3.6; full_v = 4.2; cutoff_v = 2.8; capacity_ah = 4; diameter_mm = 21; length_mm = 70; mass_g = 68
cell y; nominal_v = 3.6; full_v = 4.2; cutoff_v = 2.8; capacity_ah = 4; diameter_mm = 21; length_mm = 70; mass_g = 272`, "cell y: mass_g is 272 for a cell of 21 × 70 mm, 11 g/cm³; cells have 1.3 to 4"},
		{audit.EnergyByMass, `cell x; nominal_v = 3.6; full_v = 4.2; cutoff_v = 2.8; capacity_ah = 4; mass_g = 30`, "cell x: capacity_ah is 4, 14.4 W·h in 30 g, 480 W·h/kg; cells have 20 to 350"},
		{audit.EnergyByVolume, `cell x; nominal_v = 3.7; full_v = 4.2; cutoff_v = 2.8; capacity_ah = 9.9; diameter_mm = 18; length_mm = 65`, "cell x: capacity_ah is 9.9, 36.63 W·h in a cell of 18 × 65 mm, 2200 W·h/l; the best have 900"},
		{audit.PackEnergy, `battery x; series = 10; nominal_v = 36; full_v = 42; capacity_ah = 20; mass_g = 2000`, "battery x: mass_g is 2000 for 720 W·h, 360 W·h/kg; packs have 20 to 300"},
		{audit.SagsAway, `cell x; nominal_v = 3.6; full_v = 4.2; cutoff_v = 2.8; capacity_ah = 4; discharge_a = 35; resistance_mohm = 60`, "cell x: at discharge_a, 35, and 60 mΩ the full cell falls by 2.1 V to 2.1 V, below its cut-off, 2.8 V"},
		{audit.ChargesTooFast, packCell + `
battery x; series = 10; parallel = 4; cell = "c"
charger y; full_v = 42; current_a = 20`, "charger y: current_a is 20; no battery of 42 V may be charged with more than 16"},
		{audit.ChargeAboveDischarge, `cell x; nominal_v = 3.6; full_v = 4.2; cutoff_v = 2.8; capacity_ah = 4; charge_a = 6; discharge_a = 4`, "cell x: charge_a is 6, above discharge_a, 4"},
		{audit.PackLight, packCell + `
battery x; series = 10; parallel = 4; cell = "c"; mass_g = 2500`, "battery x: mass_g is 2500; its 40 cells alone have 2800"},
		{audit.PackLight, packCell + `
battery x; series = 1; parallel = 1; cell = "c"; mass_g = 50`, "battery x: mass_g is 50; its cell alone has 70"},
		{audit.PackHeavy, packCell + `
battery x; series = 10; parallel = 4; cell = "c"; mass_g = 8000`, "battery x: mass_g is 8000, more than twice what its 40 cells have, 2800"},
		{audit.PackHeavy, packCell + `
battery x; series = 1; parallel = 1; cell = "c"; mass_g = 500`, "battery x: mass_g is 500, more than twice what its cell has, 70"},
		{audit.PackAboveCells, boastful, "battery x: discharge_a is 150; its cells, 4 side by side, give 120"},
		{audit.PackResistance, boastful, "battery x: resistance_mohm is 20; its cells alone have 37.5"},
		{audit.PulleyAboveWheel, `wheel x; diameter_mm = 97; width_mm = 54; hub = "five"
pulley y; side = "wheel"; profile = "htd-5m"; hub = "five"; teeth = 60`, "pulley y: teeth is 60, 98.35 mm across with its belt; x, the largest wheel of its hub, rolls on 97 mm"},
		{audit.GearAboveWheel, `wheel x; diameter_mm = 97; width_mm = 54; hub = "five"
gear_drive y; ratio = 3; hub = "five"; outside_mm = 97`, "gear_drive y: outside_mm is 97; x, the largest wheel that it bolts to, rolls on 97 mm"},
		{audit.BoreAboveRoot, `pulley x; side = "motor"; profile = "htd-5m"; teeth = 12; bore_mm = 15`, "pulley x: bore_mm is 15; between the teeth it is 14 mm across"},
		{audit.WheelMass, `wheel x; diameter_mm = 97; width_mm = 54; mass_g = 20`, "wheel x: mass_g is 20 for a wheel of 97 × 54 mm, 0.05 g/cm³; wheels have 0.08 to 1.5"},
		{audit.WheelsMass, `wheel x; diameter_mm = 97; width_mm = 54; hub = "five"; mass_g = 800`, "wheel x: mass_g is 800 for a wheel of 97 × 54 mm, 2 g/cm³; wheels have 0.08 to 1.5"},
		{audit.RollingResistance, `wheel x; diameter_mm = 97; rolling_resistance = 1`, "wheel x: rolling_resistance is 1; boards have 0.004 to 0.15"},
		{audit.RollingRatio, `wheel x; diameter_mm = 97; rolling_radius_ratio = 1.05`, "wheel x: rolling_radius_ratio is 1.05, above 1"},
		{audit.PartnersIdle, narrow, "wheel w: in no build: its only partners are in no build either: g"},
		{audit.AboveControllers, highPack, "battery p14: in no build: full it has 58.8 V, more than any controller bears"},
		{audit.AboveMotors, cell + `
battery p10; series = 10; cell = "c"
motor m8; kv = 190; shaft_mm = 8; shaft_key = "plain"; max_volts = 52
battery p13; series = 13; cell = "c"`, "battery p13: in no build: full it has 54.6 V, more than any motor bears"},
		{audit.BelowBatteries, belted + "\n" + cell + `
battery p10; series = 10; cell = "c"
controller e; max_volts = 50.4
controller e24; max_volts = 25`, "controller e24: in no build: it bears 25 V, less than any battery has when full"},
		{audit.NothingOnShaft, narrow, "motor m8: in no build: no motor pulley, sprocket or gear drive goes on its shaft of 8 mm"},
		{audit.NothingOnShaft, `motor m; kv = 190
motor n; kv = 190
wheel w; diameter_mm = 97
gear_drive g; ratio = 3; fits_motors = "m"`, "motor n: in no build: no motor pulley, sprocket or gear drive goes on its shaft"},
		{audit.NothingOnHub, belted + `
wheel w2; diameter_mm = 97; hub = "six"`, "wheel w2: in no build: no wheel pulley, sprocket or gear drive has its hub, six"},
		{audit.NothingOnHub, `motor m; kv = 190
wheel w; diameter_mm = 97
gear_drive g; ratio = 3; fits_wheels = "v"
wheel v; diameter_mm = 97`, "wheel w: in no build: no wheel pulley, sprocket or gear drive goes on it"},
		{audit.NoSuchShaft, narrow, "gear_drive g: in no build: no motor has a shaft of 10 mm"},
		{audit.NoSuchKey, belted + `
motor m10; kv = 190; shaft_mm = 10; shaft_key = "keyway"
pulley k; side = "motor"; profile = "htd-5m"; teeth = 15; bore_mm = 8; shaft_key = "keyway"; width_mm = 16`, "pulley k: in no build: no motor with a shaft of its bore has a keyway"},
		{audit.NoSuchHub, belted + `
pulley l2; side = "wheel"; profile = "htd-5m"; teeth = 40; hub = "six"; width_mm = 16`, "pulley l2: in no build: no wheel has its hub, six"},
		{audit.NoSuchPulley, belted + `
pulley s3; side = "motor"; profile = "gt-3"; teeth = 15; bore_mm = 8; width_mm = 16`, "pulley s3: in no build: no wheel pulley that is left has its profile, gt-3"},
		{audit.NoBeltForIt, belted + `
pulley l72; side = "wheel"; profile = "htd-5m"; teeth = 72; hub = "five"; width_mm = 16`, "pulley l72: in no build: no belt holds it and a motor pulley as far apart as a mount does"},
		{audit.NoBeltSoFar, belted + `
mount mt2; centre_min_mm = 93; centre_max_mm = 100`, "mount mt2: in no build: no belt or chain holds a pair as far apart as it does, 93 mm to 100 mm"},
		{audit.NoSuchPair, belted + `
belt b3; profile = "gt-3"; teeth = 65; width_mm = 15`, "belt b3: in no build: no pair of pulleys that is left has its profile, gt-3"},
		{audit.NoSuchFace, belted + `
belt b25; profile = "htd-5m"; teeth = 65; width_mm = 25`, "belt b25: in no build: no pair of pulleys takes a belt wider than 16 mm"},
		{audit.NoPairForIt, belted + `
belt long; profile = "htd-5m"; teeth = 90; width_mm = 15`, "belt long: in no build: it holds no pair of pulleys as far apart as a mount does"},
		{audit.OddLinks, chained + `
chain c41; profile = "chain-06c"; links = 41`, "chain c41: in no build: 41 is odd: inner and outer links take turns, and only an even number makes a ring"},
		{audit.NoPairForIt, chained + `
chain long; profile = "chain-06c"; links = 90`, "chain long: in no build: it holds no pair of sprockets as far apart as a mount does"},
		{audit.NoBeltForIt, chained + `
sprocket l80; side = "wheel"; profile = "chain-06c"; teeth = 80; hub = "five"`, "sprocket l80: in no build: no chain holds it and a motor sprocket as far apart as a mount does"},
		{audit.NoSuchPulley, chained + `
sprocket s5; side = "motor"; profile = "chain-05b"; teeth = 12; bore_mm = 8`, "sprocket s5: in no build: no wheel sprocket that is left has its profile, chain-05b"},
		{audit.BoreAboveRoot, `sprocket s; side = "motor"; profile = "chain-06c"; teeth = 9; bore_mm = 23`, "sprocket s: bore_mm is 23; between the teeth it is 23 mm across"},
		{audit.CellUnused, cell + `
cell c2; nominal_v = 3.6; full_v = 4.2; cutoff_v = 3; capacity_ah = 5; diameter_mm = 21; length_mm = 70
battery p10; series = 10; cell = "c"`, "cell c2: in no build: no battery is made of it"},
		{audit.CellInIdle, highPack, "cell c2: in no build: the batteries that are made of it are in none"},
		{audit.ProfileUnused, `profile own; pitch_mm = 4
belt b; profile = "htd-5m"; teeth = 65; width_mm = 15`, "profile own: in no build: no pulley has it"},
		{audit.NoSuchSeries, around, "bms b12: in no build: no battery has 12 cells in series"},
		{audit.NoSuchFull, around, "charger c50: in no build: no battery has 50.4 V when full"},
		{audit.BoxTooSmall, around, "box tin: in no build: the cells of every battery take more than its 0.22 l"},
	}
	said := map[audit.Code]bool{}
	for _, test := range tests {
		t.Run(string(test.code), func(t *testing.T) {
			var got []string
			for _, r := range remarksOn(t, catalog.Source{Name: "parts.toml", Data: []byte(tables(test.parts))}) {
				p := Remark(r)
				if p.File != "parts.toml" || p.Line < 2 || p.Source == "" || unclean.MatchString(p.Error()) || field.CheckText(p.Message+p.Hint) != "" {
					t.Errorf("says %+v", p)
				}
				if r.Code == test.code {
					got = append(got, p.Message)
				}
			}
			if len(got) == 0 || got[0] != test.want {
				t.Errorf("says %q, must begin with %q", got, test.want)
			}
			said[test.code] = true
		})
	}
	for _, code := range remarkCodes(t) {
		if !said[code] {
			t.Errorf("%s: no test says it", code)
		}
	}
	if len(remarkWords) != len(said) {
		t.Errorf("%d codes have words, %d are said", len(remarkWords), len(said))
	}
}

// remarkCodes are the codes as package audit lists them.
func remarkCodes(t *testing.T) []audit.Code {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "../../../../constraints/audit/codes.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var out []audit.Code
	ast.Inspect(file, func(n ast.Node) bool {
		if v, ok := n.(*ast.ValueSpec); ok {
			out = append(out, audit.Code(strings.Trim(v.Values[0].(*ast.BasicLit).Value, `"`)))
		}
		return true
	})
	if len(out) == 0 {
		t.Fatal("no codes")
	}
	return out
}

// A remark is shown with its place, its line, and the parts that it is about.
func TestRemarkIsShown(t *testing.T) {
	list := remarksOn(t, catalog.Source{Name: "parts.toml", Data: []byte(`schema = 1
[[motor]]
id = "m"
kv = [170, 190, 210, 230]
price = 0
shaft_mm = [8, 8, 40, 8]
can_diameter_mm = 63
`)}, catalog.Source{Name: "wheel.csv", Data: []byte("id,diameter_mm,price\nw,97,60\nv,97,0\n")})
	var got []string
	for _, r := range list {
		p := Remark(r)
		got = append(got, p.Error())
	}
	want := []string{
		`parts.toml:5:9: motor m-170, m-190, m-210 and 1 more: price is 0
    price = 0
            ^
    hint: leave price out where it is not known; owned = true where the part is there already`,
		`parts.toml:6:19: motor m-210: shaft_mm is 40 in a can of 63 mm
    shaft_mm = [8, 8, 40, 8]
                      ^^`,
		`wheel.csv:3:6: row 3, column C (price): wheel v: price is 0
    v,97,0
         ^
    hint: leave price out where it is not known; owned = true where the part is there already`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("remarks (-want +got):\n%s", diff)
	}
}

// Parts that were made in memory have no place.
func TestRemarkWithoutPlace(t *testing.T) {
	m := &catalog.Motor{Part: catalog.Part{ID: "m"}, KV: 190}
	p := Remark(audit.Doubts(&catalog.Catalog{Motors: []*catalog.Motor{m}})[0])
	if p.File != "" || !strings.HasPrefix(p.Error(), "motor m: ") {
		t.Errorf("says %v", p.Error())
	}
}
