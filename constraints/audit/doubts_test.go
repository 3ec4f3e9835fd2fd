package audit_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog"
	"gearsearch/constraints/audit"

	"github.com/google/go-cmp/cmp"
)

// The motors below are of one build: R·kv² is 1.6 Ω·(rpm/V)², D⁴·L the same.
const likeMotors = `
[[motor]]
id = "m"
kv = [125, 160, 200]
resistance_mohm = [102.4, 62.5, 40]
can_diameter_mm = 63
can_length_mm = 74
mass_g = 830
`

func TestDoubts(t *testing.T) {
	const (
		motor  = "[[motor]]\nid = 'x'\nkv = 190\n"
		cell   = "[[cell]]\nid = 'x'\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 2.8\ncapacity_ah = 4\n"
		sized  = cell + "diameter_mm = 21\nlength_mm = 70\nmass_g = 68\n"
		packOf = "[[cell]]\nid = 'c'\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 2.8\ncapacity_ah = 4\nresistance_mohm = 15\ndischarge_a = 30\ncharge_a = 4\nmass_g = 70\n[[battery]]\nid = 'x'\nseries = 10\nparallel = 4\ncell = 'c'\n"
		own    = "[[battery]]\nid = 'x'\nseries = 10\nnominal_v = 36\nfull_v = 42\n"
		wheel  = "[[wheel]]\nid = 'x'\ndiameter_mm = 97\nwidth_mm = 54\nhub = 'five'\n"
		pulley = "[[pulley]]\nid = 'x'\nside = 'wheel'\nprofile = 'htd-5m'\nhub = 'five'\n"
		gear   = "[[gear_drive]]\nid = 'x'\nratio = 3\n"
		ctrl   = "[[controller]]\nid = 'x'\n"
	)
	tests := []struct {
		why, body string
		want      []string // key: code and quantities
	}{
		{"nothing", "", nil},

		{"price 0", motor + "price = 0", []string{"price: price-zero"}},
		{"price 0 of what is owned", motor + "price = 0\nowned = true", nil},
		{"a profile with what only what is bought has", "[[profile]]\nid = 'x'\npitch_mm = 4\nprice = 3\nsold_in = 2\nmass_g = 4\nowned = true", []string{"price: not-bought price", "sold_in: not-bought sold_in", "mass_g: not-bought mass_g", "owned: not-bought owned"}},
		{"a profile as it should be", "[[profile]]\nid = 'x'\npitch_mm = 4", nil},
		{"a small price", motor + "price = 0.01", nil},

		{"windings of one build", likeMotors, nil},
		{"half the resistance", likeMotors + "[[motor]]\nid = 'x'\nkv = 160\nresistance_mohm = 31.25\ncan_diameter_mm = 63\ncan_length_mm = 74", []string{
			"resistance_mohm: winding-half 31.25 160 63 74 62 4",
		}},
		{"of another winding", likeMotors + "[[motor]]\nid = 'x'\nkv = 200\nresistance_mohm = 102.4\ncan_diameter_mm = 62\ncan_length_mm = 76", []string{
			"resistance_mohm: winding 102.4 200 62 76 42 4",
		}},
		{"a little off", likeMotors + "[[motor]]\nid = 'x'\nkv = 200\nresistance_mohm = 65\ncan_diameter_mm = 63\ncan_length_mm = 74", nil},
		{"another can", likeMotors + "[[motor]]\nid = 'x'\nkv = 200\nresistance_mohm = 102.4\ncan_diameter_mm = 40\ncan_length_mm = 50", nil},
		{"a longer can of the same build", likeMotors + "[[motor]]\nid = 'x'\nkv = 160\nresistance_mohm = 52\ncan_diameter_mm = 63\ncan_length_mm = 89", nil},
		{"two say nothing of each other", "[[motor]]\nid = 'x'\nkv = [160, 200]\nresistance_mohm = 60\ncan_diameter_mm = 63\ncan_length_mm = 74", nil},

		{"a resistance out of family", motor + "resistance_mohm = 480\nmass_g = 800", []string{"resistance_mohm: motor-constant 480 190 800 26 160"}},
		{"far too low a resistance", motor + "resistance_mohm = 5\nmass_g = 800", []string{"resistance_mohm: motor-constant 5 190 800 26 160"}},
		{"twice the poorest of the family", motor + "resistance_mohm = 310\nmass_g = 800", nil},
		{"half the best of the family", motor + "resistance_mohm = 14\nmass_g = 800", nil},
		{"a resistance without a mass", motor + "resistance_mohm = 480", nil},

		{"magnets for pairs", motor + "pole_pairs = 14\ncan_diameter_mm = 63", []string{"pole_pairs: magnets-as-pairs 14 63 14 7"}},
		{"an odd number of pairs", motor + "pole_pairs = 15\ncan_diameter_mm = 63", nil},
		{"as many pairs as there are", motor + "pole_pairs = 10\ncan_diameter_mm = 63", nil},
		{"many pairs in a large can", motor + "pole_pairs = 20\ncan_diameter_mm = 90", nil},
		{"many pairs in an unknown can", motor + "pole_pairs = 14", nil},

		{"light motor", motor + "mass_g = 250\ncan_diameter_mm = 63\ncan_length_mm = 74", []string{"mass_g: motor-mass 250 63 74 1.1 1.5 7.5"}},
		{"heavy motor", motor + "mass_g = 1900\ncan_diameter_mm = 63\ncan_length_mm = 74", []string{"mass_g: motor-mass 1900 63 74 8.2 1.5 7.5"}},
		{"motor of a usual mass", motor + "mass_g = 830\ncan_diameter_mm = 63\ncan_length_mm = 74", nil},
		{"motor of an unknown can", motor + "mass_g = 1", nil},

		{"no more than without load", motor + "no_load_current_a = 3\npeak_current_a = 3\ncontinuous_current_a = 1", []string{
			"peak_current_a: limit-below-no-load peak_current_a 3 3",
			"continuous_current_a: limit-below-no-load continuous_current_a 1 3",
		}},
		{"more than without load", motor + "no_load_current_a = 3\npeak_current_a = 80\ncontinuous_current_a = 40", nil},
		{"shaft", motor + "shaft_mm = 30\ncan_diameter_mm = 50", []string{"shaft_mm: shaft-in-can 30 50"}},
		{"shaft of a usual size", motor + "shaft_mm = 12\ncan_diameter_mm = 50", nil},

		{"motor, for long", motor + "continuous_current_a = 90\npeak_current_a = 70", []string{"continuous_current_a: long-above-peak continuous_current_a 90 peak_current_a 70"}},
		{"motor, alike", motor + "continuous_current_a = 70\npeak_current_a = 70", nil},
		{"controller, for long", ctrl + "continuous_current_a = 90\nmotor_current_a = 70", []string{"continuous_current_a: long-above-peak continuous_current_a 90 motor_current_a 70"}},
		{"bms, for long", "[[bms]]\nid = 'x'\nseries = 10\ndischarge_a = 90\npeak_discharge_a = 70", []string{"discharge_a: long-above-peak discharge_a 90 peak_discharge_a 70"}},
		{"switch, for long", "[[switch]]\nid = 'x'\ncontinuous_a = 90\npeak_a = 70", []string{"continuous_a: long-above-peak continuous_a 90 peak_a 70"}},
		{"connector, for long", "[[connector]]\nid = 'x'\ncontinuous_a = 90\npeak_a = 70", []string{"continuous_a: long-above-peak continuous_a 90 peak_a 70"}},

		{"pack side above motor side", ctrl + "motor_current_a = 40\nbattery_current_a = 60", []string{"battery_current_a: pack-above-motor-side 60 40"}},
		{"pack side below motor side", ctrl + "motor_current_a = 60\nbattery_current_a = 60", nil},
		{"controller without loss", ctrl + "efficiency = 1", []string{"efficiency: controller-efficiency 1 0.85 0.995"}},
		{"gears without loss", gear + "efficiency = 0.995", []string{"efficiency: gear-efficiency 0.995 0.7 0.99"}},
		{"gears of much loss", gear + "efficiency = 0.5", []string{"efficiency: gear-efficiency 0.5 0.7 0.99"}},
		{"good gears", gear + "efficiency = 0.99", nil},
		{"no gears", "[[gear_drive]]\nid = 'x'\nratio = 1\nin_wheel = true\nefficiency = 1", nil},

		{"li-ion cell", cell + "chemistry = 'Li-ion'", nil},
		{"lfp cell with the voltages of li-ion", cell + "chemistry = 'LFP'", []string{
			"nominal_v: voltage nominal_v 3.6 lfp 3.15 3.35",
			"full_v: voltage full_v 4.2 lfp 3.5 3.7",
		}},
		{"cut-off of a li-ion cell", strings.Replace(cell, "2.8", "2", 1) + "chemistry = 'li-ion'", []string{"cutoff_v: voltage cutoff_v 2 li-ion 2.5 3.5"}},
		{"cell of no chemistry", strings.Replace(cell, "2.8", "1", 1), []string{"full_v: no-chemistry 4.2 3.6 1 1"}},
		{"pack of lfp with the voltages of li-ion", own + "chemistry = 'lfp'", []string{
			"nominal_v: voltage nominal_v 36 10 lfp 31.5 33.5",
			"full_v: voltage full_v 42 10 lfp 35 37",
		}},
		{"pack of no chemistry", strings.Replace(own, "42", "46", 1), []string{"full_v: no-chemistry 4.6 3.6 NaN 10"}},
		{"pack of lead", "[[battery]]\nid = 'x'\nseries = 12\nnominal_v = 24\nfull_v = 28.2\ncutoff_v = 21", nil},

		{"cell of a usual mass", sized, nil},
		{"mass of four cells", sized + "[[cell]]\nid = 'y'\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 2.8\ncapacity_ah = 4\ndiameter_mm = 21\nlength_mm = 70\nmass_g = 272", []string{
			"mass_g: cell-mass 272 21 70 11 1.3 4",
		}},
		{"cell that promises much", "[[cell]]\nid = 'x'\nnominal_v = 3.7\nfull_v = 4.2\ncutoff_v = 2.8\ncapacity_ah = 9.9\ndiameter_mm = 18\nlength_mm = 65", []string{
			"capacity_ah: energy-by-volume 9.9 36.63 18 65 2200 900",
		}},
		{"cell that promises much for its mass", cell + "mass_g = 30", []string{"capacity_ah: energy-by-mass 4 14.4 30 480 20 350"}},
		{"cell of nothing", cell + "mass_g = 0", nil},
		{"pack without cells that promises much", own + "capacity_ah = 20\nmass_g = 2000", []string{"mass_g: pack-energy 2000 720 360 20 300"}},
		{"pack without cells", own + "capacity_ah = 10\nmass_g = 2400", nil},

		{"cell that sags away", cell + "discharge_a = 35\nresistance_mohm = 60", []string{"discharge_a: sags-away 35 60 2.1 2.1 2.8"}},
		{"cell that sags", cell + "discharge_a = 35\nresistance_mohm = 15", nil},
		{"cell that takes more than it gives", cell + "charge_a = 6\ndischarge_a = 4", []string{"charge_a: charge-above-discharge 6 4"}},
		{"charger too strong", packOf + "[[charger]]\nid = 'y'\nfull_v = 42\ncurrent_a = 20", []string{"current_a: charges-too-fast 20 42 16"}},
		{"charger", packOf + "[[charger]]\nid = 'y'\nfull_v = 42\ncurrent_a = 16", nil},
		{"charger of no battery", packOf + "[[charger]]\nid = 'y'\nfull_v = 50.4\ncurrent_a = 20", nil},

		{"pack that goes by its cells", packOf + "mass_g = 3100\ncapacity_ah = 15.5\ndischarge_a = 100\ncharge_a = 10\nresistance_mohm = 45", nil},
		{"pack lighter than its cells", packOf + "mass_g = 2500", []string{"mass_g: pack-light 2500 40 2800"}},
		{"pack much heavier than its cells", packOf + "mass_g = 8000", []string{"mass_g: pack-heavy 8000 40 2800"}},
		{"pack that gives more than its cells", packOf + "discharge_a = 150\ncapacity_ah = 20\ncharge_a = 20\nresistance_mohm = 20", []string{
			"discharge_a: pack-above-cells discharge_a 150 4 120",
			"capacity_ah: pack-above-cells capacity_ah 20 4 16",
			"charge_a: pack-above-cells charge_a 20 4 16",
			"resistance_mohm: pack-resistance 20 37.5",
		}},

		{"pulley larger than the wheel", wheel + strings.Replace(pulley, "'x'", "'y'", 1) + "teeth = 60", []string{"teeth: pulley-above-wheel 60 98.35 x 97"}},
		{"pulley that leaves room", wheel + strings.Replace(pulley, "'x'", "'y'", 1) + "teeth = 44", nil},
		{"pulley larger than one of two wheels", wheel + "[[wheel]]\nid = 'z'\ndiameter_mm = 150\nhub = 'five'\n" + strings.Replace(pulley, "'x'", "'y'", 1) + "teeth = 60", nil},
		{"pneumatic wheels roll on less", "[[wheel]]\nid = 'z'\ndiameter_mm = 100\ntyre = 'pneumatic'\nhub = 'five'\n" + pulley + "teeth = 60", []string{"teeth: pulley-above-wheel 60 98.35 z 97"}},
		{"gears larger than the wheel", wheel + "[[gear_drive]]\nid = 'y'\nratio = 3\nhub = 'five'\noutside_mm = 97", []string{"outside_mm: gear-above-wheel 97 x 97"}},
		{"gears larger than the wheel that they name", wheel + "[[gear_drive]]\nid = 'y'\nratio = 3\nfits_wheels = 'x'\noutside_mm = 120", []string{"outside_mm: gear-above-wheel 120 x 97"}},

		{"bore as large as the pulley", "[[pulley]]\nid = 'x'\nside = 'motor'\nprofile = 'htd-5m'\nteeth = 12\nbore_mm = 15", []string{"bore_mm: bore-above-root 15 14"}},
		{"bore with a wall", "[[pulley]]\nid = 'x'\nside = 'motor'\nprofile = 'htd-5m'\nteeth = 12\nbore_mm = 10", nil},

		{"mass of four wheels", wheel + "mass_g = 800", []string{"mass_g: wheels-mass 800 97 54 2 0.08 1.5"}},
		{"wheel of air", wheel + "mass_g = 20", []string{"mass_g: wheel-mass 20 97 54 0.05 0.08 1.5"}},
		{"mass of one wheel", wheel + "mass_g = 200", nil},
		{"rolling in percent", "[[wheel]]\nid = 'x'\ndiameter_mm = 97\nrolling_resistance = 1", []string{"rolling_resistance: rolling-resistance 1 0.004 0.15"}},
		{"growing tyre", "[[wheel]]\nid = 'x'\ndiameter_mm = 97\nrolling_radius_ratio = 1.05", []string{"rolling_radius_ratio: rolling-ratio 1.05"}},
	}
	seen := map[audit.Code]bool{}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			var got []string
			for _, r := range audit.Doubts(readParts(t, test.body)) {
				got = append(got, r.Key+": "+found(r))
				if seen[r.Code] = true; r.Basis == "" {
					t.Errorf("no basis: %+v", r)
				}
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("doubts (-want +got):\n%s", diff)
			}
		})
	}
	for _, code := range doubtCodes(t) {
		if !seen[code] {
			t.Errorf("no test has the doubt %s", code)
		}
	}
}

// doubtCodes are the codes of doubts, as codes.go lists them: those before the codes
// of parts that can be in no build.
func doubtCodes(t *testing.T) []audit.Code {
	t.Helper()
	text, err := os.ReadFile("codes.go")
	if err != nil {
		t.Fatal(err)
	}
	doubts, _, ok := strings.Cut(string(text), "// Parts that can be in no build.")
	var out []audit.Code
	for _, m := range regexp.MustCompile(` Code = "(.*)"`).FindAllStringSubmatch(doubts, -1) {
		out = append(out, audit.Code(m[1]))
	}
	if !ok || len(out) == 0 {
		t.Fatal("no codes")
	}
	return out
}

// A doubt stands at its key, or at the item of a list that it is about, with
// the parts that it is about.
func TestDoubtHasItsPlace(t *testing.T) {
	c, err := catalog.Read(catalog.Source{Name: "parts.toml", Data: []byte(`schema = 1
[[motor]]
id = "m"
kv = [170, 190, 210, 230]
price = 0
shaft_mm = [8, 8, 40, 8]
can_diameter_mm = 63
`)}, catalog.Source{Name: "wheel.csv", Data: []byte("id,diameter_mm,price\nw,97,60\nv,97,0\n")})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range audit.Doubts(c) {
		got = append(got, place(r)+": "+r.Kind+" "+strings.Join(r.IDs, " ")+": "+found(r))
	}
	want := []string{
		"parts.toml:5:9: motor m-170 m-190 m-210 m-230: price-zero",
		"parts.toml:6:19: motor m-210: shaft-in-can 40 63",
		"wheel.csv:3:6: wheel v: price-zero",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
	if r := audit.Doubts(c)[0]; !slices.Equal(r.IDs, []string{"m-170", "m-190", "m-210", "m-230"}) || r.Kind != "motor" || r.Key != "price" || r.Code != "price-zero" || r.Basis == "" {
		t.Errorf("the first doubt: %+v", r)
	}
}

// Parts that were made in memory have no place, and are doubted all the same.
func TestDoubtsInMemory(t *testing.T) {
	m := &catalog.Motor{Part: catalog.Part{ID: "m"}, KV: 190}
	rs := audit.Doubts(&catalog.Catalog{Motors: []*catalog.Motor{m}})
	if len(rs) == 0 || rs[0].At.Known() || rs[0].Kind != "motor" || rs[0].IDs[0] != "m" {
		t.Errorf("doubts: %v", rs)
	}
}

// Nothing in the demo is unlikely, and each of its parts can be in a build.
func TestDemoIsSound(t *testing.T) {
	c, err := catalog.Demo()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range append(audit.Doubts(c), audit.Idle(c)...) {
		t.Error(r.Kind, r.IDs, found(r))
	}
}
