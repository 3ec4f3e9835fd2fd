package audit_test

import (
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
		want      []string // key: message, without the part
	}{
		{"nothing", "", nil},

		{"price 0", motor + "price = 0", []string{"price: price is 0"}},
		{"price 0 of what is owned", motor + "price = 0\nowned = true", nil},
		{"a small price", motor + "price = 0.01", nil},

		{"windings of one build", likeMotors, nil},
		{"half the resistance", likeMotors + "[[motor]]\nid = 'x'\nkv = 160\nresistance_mohm = 31.25\ncan_diameter_mm = 63\ncan_length_mm = 74", []string{
			"resistance_mohm: resistance_mohm is 31.25 at 160 rpm/V; a can of 63 × 74 mm would have about 62 there, by 4 motors of a similar can",
		}},
		{"of another winding", likeMotors + "[[motor]]\nid = 'x'\nkv = 200\nresistance_mohm = 102.4\ncan_diameter_mm = 62\ncan_length_mm = 76", []string{
			"resistance_mohm: resistance_mohm is 102.4 at 200 rpm/V; a can of 62 × 76 mm would have about 42 there, by 4 motors of a similar can",
		}},
		{"a little off", likeMotors + "[[motor]]\nid = 'x'\nkv = 200\nresistance_mohm = 65\ncan_diameter_mm = 63\ncan_length_mm = 74", nil},
		{"another can", likeMotors + "[[motor]]\nid = 'x'\nkv = 200\nresistance_mohm = 102.4\ncan_diameter_mm = 40\ncan_length_mm = 50", nil},
		{"a longer can of the same build", likeMotors + "[[motor]]\nid = 'x'\nkv = 160\nresistance_mohm = 52\ncan_diameter_mm = 63\ncan_length_mm = 89", nil},
		{"two say nothing of each other", "[[motor]]\nid = 'x'\nkv = [160, 200]\nresistance_mohm = 60\ncan_diameter_mm = 63\ncan_length_mm = 74", nil},

		{"light motor", motor + "mass_g = 250\ncan_diameter_mm = 63\ncan_length_mm = 74", []string{"mass_g: mass_g is 250 for a can of 63 × 74 mm, 1.1 g/cm³; motors have 1.5 to 7.5"}},
		{"heavy motor", motor + "mass_g = 1900\ncan_diameter_mm = 63\ncan_length_mm = 74", []string{"mass_g: mass_g is 1900 for a can of 63 × 74 mm, 8.2 g/cm³; motors have 1.5 to 7.5"}},
		{"motor of a usual mass", motor + "mass_g = 830\ncan_diameter_mm = 63\ncan_length_mm = 74", nil},
		{"motor of an unknown can", motor + "mass_g = 1", nil},

		{"no more than without load", motor + "no_load_current_a = 3\npeak_current_a = 3\ncontinuous_current_a = 1", []string{
			"peak_current_a: peak_current_a is 3, no more than no_load_current_a, 3",
			"continuous_current_a: continuous_current_a is 1, no more than no_load_current_a, 3",
		}},
		{"more than without load", motor + "no_load_current_a = 3\npeak_current_a = 80\ncontinuous_current_a = 40", nil},
		{"shaft", motor + "shaft_mm = 30\ncan_diameter_mm = 50", []string{"shaft_mm: shaft_mm is 30 in a can of 50 mm"}},
		{"shaft of a usual size", motor + "shaft_mm = 12\ncan_diameter_mm = 50", nil},

		{"motor, for long", motor + "continuous_current_a = 90\npeak_current_a = 70", []string{"continuous_current_a: continuous_current_a is 90, above peak_current_a, 70"}},
		{"motor, alike", motor + "continuous_current_a = 70\npeak_current_a = 70", nil},
		{"controller, for long", ctrl + "continuous_current_a = 90\nmotor_current_a = 70", []string{"continuous_current_a: continuous_current_a is 90, above motor_current_a, 70"}},
		{"bms, for long", "[[bms]]\nid = 'x'\nseries = 10\ndischarge_a = 90\npeak_discharge_a = 70", []string{"discharge_a: discharge_a is 90, above peak_discharge_a, 70"}},
		{"switch, for long", "[[switch]]\nid = 'x'\ncontinuous_a = 90\npeak_a = 70", []string{"continuous_a: continuous_a is 90, above peak_a, 70"}},
		{"connector, for long", "[[connector]]\nid = 'x'\ncontinuous_a = 90\npeak_a = 70", []string{"continuous_a: continuous_a is 90, above peak_a, 70"}},

		{"pack side above motor side", ctrl + "motor_current_a = 40\nbattery_current_a = 60", []string{"battery_current_a: battery_current_a is 60, above motor_current_a, 40"}},
		{"pack side below motor side", ctrl + "motor_current_a = 60\nbattery_current_a = 60", nil},
		{"controller without loss", ctrl + "efficiency = 1", []string{"efficiency: efficiency is 1; controllers have 0.85 to 0.995"}},
		{"gears without loss", gear + "efficiency = 0.995", []string{"efficiency: efficiency is 0.995; gears have 0.7 to 0.99"}},
		{"gears of much loss", gear + "efficiency = 0.5", []string{"efficiency: efficiency is 0.5; gears have 0.7 to 0.99"}},
		{"good gears", gear + "efficiency = 0.99", nil},
		{"no gears", "[[gear_drive]]\nid = 'x'\nratio = 1\nin_wheel = true\nefficiency = 1", nil},

		{"li-ion cell", cell + "chemistry = 'Li-ion'", nil},
		{"lifepo4 cell with the voltages of li-ion", cell + "chemistry = 'LiFePO4'", []string{
			"nominal_v: nominal_v is 3.6 V; lifepo4 cells have 3.15 to 3.35 V",
			"full_v: full_v is 4.2 V; lifepo4 cells have 3.5 to 3.7 V",
		}},
		{"cut-off of a li-ion cell", strings.Replace(cell, "2.8", "2", 1) + "chemistry = 'NMC'", []string{"cutoff_v: cutoff_v is 2 V; li-ion cells have 2.5 to 3.5 V"}},
		{"cell of no chemistry", strings.Replace(cell, "2.8", "1", 1), []string{"full_v: 4.2 V full, 3.6 V nominal, 1 V empty: no chemistry has these voltages"}},
		{"chemistry that nobody knows", cell + "chemistry = 'unobtainium'", nil},
		{"pack of no chemistry", strings.Replace(own, "42", "46", 1), []string{"full_v: 4.6 V full, 3.6 V nominal for each of 10 cells: no chemistry has these voltages"}},
		{"pack of lead", "[[battery]]\nid = 'x'\nseries = 12\nnominal_v = 24\nfull_v = 28.2\ncutoff_v = 21", nil},

		{"cell of a usual mass", sized, nil},
		{"mass of four cells", sized + "[[cell]]\nid = 'y'\nnominal_v = 3.6\nfull_v = 4.2\ncutoff_v = 2.8\ncapacity_ah = 4\ndiameter_mm = 21\nlength_mm = 70\nmass_g = 272", []string{
			"mass_g: mass_g is 272 for a cell of 21 × 70 mm, 11 g/cm³; cells have 1.3 to 4",
		}},
		{"cell that promises much", "[[cell]]\nid = 'x'\nnominal_v = 3.7\nfull_v = 4.2\ncutoff_v = 2.8\ncapacity_ah = 9.9\ndiameter_mm = 18\nlength_mm = 65", []string{
			"capacity_ah: capacity_ah is 9.9, 36.63 W·h in a cell of 18 × 65 mm, 2200 W·h/l; the best have 900",
		}},
		{"cell that promises much for its mass", cell + "mass_g = 30", []string{"capacity_ah: capacity_ah is 4, 14.4 W·h in 30 g, 480 W·h/kg; cells have 20 to 350"}},
		{"cell of nothing", cell + "mass_g = 0", nil},
		{"pack without cells that promises much", own + "capacity_ah = 20\nmass_g = 2000", []string{"mass_g: mass_g is 2000 for 720 W·h, 360 W·h/kg; packs have 20 to 300"}},
		{"pack without cells", own + "capacity_ah = 10\nmass_g = 2400", nil},

		{"cell that sags away", cell + "discharge_a = 35\nresistance_mohm = 60", []string{"discharge_a: at discharge_a, 35, and 60 mΩ the full cell falls by 2.1 V to 2.1 V, below its cut-off, 2.8 V"}},
		{"cell that sags", cell + "discharge_a = 35\nresistance_mohm = 15", nil},
		{"cell that takes more than it gives", cell + "charge_a = 6\ndischarge_a = 4", []string{"charge_a: charge_a is 6, above discharge_a, 4"}},
		{"charger too strong", packOf + "[[charger]]\nid = 'y'\nfull_v = 42\ncurrent_a = 20", []string{"current_a: current_a is 20; no battery of 42 V may be charged with more than 16"}},
		{"charger", packOf + "[[charger]]\nid = 'y'\nfull_v = 42\ncurrent_a = 16", nil},
		{"charger of no battery", packOf + "[[charger]]\nid = 'y'\nfull_v = 50.4\ncurrent_a = 20", nil},

		{"pack that goes by its cells", packOf + "mass_g = 3100\ncapacity_ah = 15.5\ndischarge_a = 100\ncharge_a = 10\nresistance_mohm = 45", nil},
		{"pack lighter than its cells", packOf + "mass_g = 2500", []string{"mass_g: mass_g is 2500; its 40 cells alone have 2800"}},
		{"pack much heavier than its cells", packOf + "mass_g = 8000", []string{"mass_g: mass_g is 8000, more than twice what its 40 cells have, 2800"}},
		{"pack that gives more than its cells", packOf + "discharge_a = 150\ncapacity_ah = 20\ncharge_a = 20\nresistance_mohm = 20", []string{
			"discharge_a: discharge_a is 150; its cells, 4 side by side, give 120",
			"capacity_ah: capacity_ah is 20; its cells, 4 side by side, give 16",
			"charge_a: charge_a is 20; its cells, 4 side by side, give 16",
			"resistance_mohm: resistance_mohm is 20; its cells alone have 37.5",
		}},

		{"pulley larger than the wheel", wheel + strings.Replace(pulley, "'x'", "'y'", 1) + "teeth = 60", []string{"teeth: teeth is 60, 98.35 mm across with its belt; x, the largest wheel of its hub, rolls on 97 mm"}},
		{"pulley that leaves room", wheel + strings.Replace(pulley, "'x'", "'y'", 1) + "teeth = 44", nil},
		{"pulley larger than one of two wheels", wheel + "[[wheel]]\nid = 'z'\ndiameter_mm = 150\nhub = 'five'\n" + strings.Replace(pulley, "'x'", "'y'", 1) + "teeth = 60", nil},
		{"pneumatic wheels roll on less", "[[wheel]]\nid = 'z'\ndiameter_mm = 100\ntyre = 'pneumatic'\nhub = 'five'\n" + pulley + "teeth = 60", []string{"teeth: teeth is 60, 98.35 mm across with its belt; z, the largest wheel of its hub, rolls on 97 mm"}},
		{"gears larger than the wheel", wheel + "[[gear_drive]]\nid = 'y'\nratio = 3\nhub = 'five'\noutside_mm = 97", []string{"outside_mm: outside_mm is 97; x, the largest wheel that it bolts to, rolls on 97 mm"}},
		{"gears larger than the wheel that they name", wheel + "[[gear_drive]]\nid = 'y'\nratio = 3\nfits_wheels = 'x'\noutside_mm = 120", []string{"outside_mm: outside_mm is 120; x, the largest wheel that it bolts to, rolls on 97 mm"}},

		{"bore as large as the pulley", "[[pulley]]\nid = 'x'\nside = 'motor'\nprofile = 'htd-5m'\nteeth = 12\nbore_mm = 15", []string{"bore_mm: bore_mm is 15; between the teeth it is 14 mm across"}},
		{"bore with a wall", "[[pulley]]\nid = 'x'\nside = 'motor'\nprofile = 'htd-5m'\nteeth = 12\nbore_mm = 10", nil},

		{"mass of four wheels", wheel + "mass_g = 800", []string{"mass_g: mass_g is 800 for a wheel of 97 × 54 mm, 2 g/cm³; wheels have 0.08 to 1.5"}},
		{"mass of one wheel", wheel + "mass_g = 200", nil},
		{"rolling in percent", "[[wheel]]\nid = 'x'\ndiameter_mm = 97\nrolling_resistance = 1", []string{"rolling_resistance: rolling_resistance is 1; boards have 0.004 to 0.15"}},
		{"growing tyre", "[[wheel]]\nid = 'x'\ndiameter_mm = 97\nrolling_radius_ratio = 1.05", []string{"rolling_radius_ratio: rolling_radius_ratio is 1.05, above 1"}},
	}
	seen := map[string]bool{}
	for _, test := range tests {
		t.Run(test.why, func(t *testing.T) {
			var got []string
			for _, r := range audit.Doubts(readParts(t, test.body)) {
				_, text, _ := strings.Cut(r.Message, ": ")
				got = append(got, r.Key+": "+text)
				seen[r.Basis] = true
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("doubts (-want +got):\n%s", diff)
			}
		})
	}
	for _, rule := range audit.DoubtRules() {
		if rule.Name == "" || rule.Meaning == "" || rule.Basis == "" {
			t.Errorf("a rule without words: %+v", rule)
		}
		if !seen[rule.Basis] {
			t.Errorf("no test has a doubt by the rule %s", rule.Name)
		}
	}
}

// A doubt is shown at its key, or at the item of a list that it is about, with
// the parts that it is about.
func TestDoubtIsShown(t *testing.T) {
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
		got = append(got, r.Error())
	}
	want := []string{
		`parts.toml:5:9: motor m-170, m-190, m-210 and 1 more: price is 0
    price = 0
            ^
    hint: leave price out where it is not known; owned = true where the part is there already`,
		`parts.toml:6:19: motor m-210: shaft_mm is 40 in a can of 63 mm
    shaft_mm = [8, 8, 40, 8]
                      ^^`,
		`wheel.csv:3:6: wheel v: price is 0
    v,97,0
         ^
    hint: leave price out where it is not known; owned = true where the part is there already`,
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
	if len(rs) == 0 || rs[0].File != "" || !strings.HasPrefix(rs[0].Error(), "motor m: ") {
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
		t.Error(r.Error())
	}
}
