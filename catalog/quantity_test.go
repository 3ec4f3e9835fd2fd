package catalog

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gearsearch/catalog/field"
)

// motorWith is a catalog of one motor with these keys.
func motorWith(keys string) string { return "schema = 1\n[[motor]]\nid = \"m\"\n" + keys + "\n" }

// TestQuantities: keys of parts take the units of their kind, in files of either
// form.
func TestQuantities(t *testing.T) {
	src := Source{Name: "parts.toml", Data: []byte(`schema = 1
[[motor]]
id = "m"
kv = "190kv"
pole_pairs = "14 poles"
resistance_mohm = "0.033 ohm"
mass_g = "2lb"
can_diameter_mm = ["2.5in", "63mm"]
[[cell]]
id = "c"
nominal_v = "3.6V"
full_v = "4200mV"
cutoff_v = 2.8
capacity_ah = "5000mAh"
charge_a = 0
[[battery]]
id = "b"
series = "12s"
parallel = "4p"
cell = "c"
price = "€120"
overhead_pct = "15%"
[[gear_drive]]
id = "g"
ratio = ["5:1", "15:36"]
efficiency = "96%"
max_torque_nm = "100 lbf.ft"
[[wheel]]
id = "w"
diameter_mm = "8in"
`)}
	c, err := Read(src)
	if err != nil {
		t.Fatal(err)
	}
	v, ok := instance(t, src)
	if err := compiledSchema(t).Validate(v); !ok || err != nil {
		t.Errorf("the schema refuses it: %v", err)
	}
	for _, tt := range []struct {
		what      string
		got, want float64
	}{
		{"kv", c.Motors[0].KV, 190},
		{"pole pairs", c.Motors[0].PolePairs, 7},
		{"resistance", c.Motors[0].Resistance, 0.033},
		{"mass", c.Motors[0].Mass, 907.18474 / 1000},
		{"can of the first", c.Motors[0].CanDiameter, 0.0635},
		{"can of the second", c.Motors[1].CanDiameter, 0.063},
		{"full cell", c.Cells[0].Full, 4.2},
		{"capacity", c.Cells[0].Capacity, 5},
		{"charge current", c.Cells[0].Charge, 0},
		{"charge limit of its pack", c.Batteries[0].ChargeLimit(), 0},
		{"series", c.Batteries[0].Series, 12},
		{"parallel", c.Batteries[0].Parallel, 4},
		{"price", c.Batteries[0].Price, 120},
		{"overhead", c.Batteries[0].Overhead, 0.15},
		{"ratio", c.GearDrives[0].Ratio, 5},
		{"ratio of teeth", c.GearDrives[1].Ratio, 2.4},
		{"efficiency", c.GearDrives[0].Efficiency, 0.96},
		{"torque", c.GearDrives[0].MaxTorque, 135.58179483314004},
		{"wheel", c.Wheels[0].Diameter, 203.2 / 1000},
	} {
		if tt.got != tt.want {
			t.Errorf("%s is %v, want %v", tt.what, tt.got, tt.want)
		}
	}
}

// TestSchemaRefusesUnits: what is in quotes without a unit of the key, the schema
// refuses as reading does.
func TestSchemaRefusesUnits(t *testing.T) {
	s := compiledSchema(t)
	for _, keys := range []string{
		`kv = "190"`, `kv = "190rpm"`, "kv = 190\nresistance_mohm = \"33 MΩ\"", "kv = 190\nmass_g = [\"2lb\", \"5km\"]",
		"kv = 190\npole_pairs = \"14\"", "kv = 190\nprice = \"120\"", "kv = 190\nprice = \"12%\"", "kv = 190\nsold_in = \"2 pieces\"",
	} {
		src := Source{Name: "parts.toml", Data: []byte(motorWith(keys))}
		v, ok := instance(t, src)
		if !ok {
			t.Fatalf("%s: not TOML", keys)
		}
		_, err := Read(src)
		if s.Validate(v) == nil || err == nil {
			t.Errorf("%s: allowed by the schema or by reading: %v", keys, err)
		}
	}
}

// TestCurrencies: a price may name the catalog's currency and no other, which
// the first of its files says.
func TestCurrencies(t *testing.T) {
	for _, tt := range []struct{ head, price, want string }{
		{"", "120 EUR", ""},
		{"", "€120", ""},
		{`currency = "USD"`, "$120", ""},
		{`currency = "CHF"`, "120 chf", ""},
		{"", "120 USD", `price is in "USD", must be in EUR, the catalog's currency`},
		{`currency = "CAD"`, "$120", `price is in "$", must be in CAD, the catalog's currency`},
	} {
		_, err := Read(
			Source{Name: "head.toml", Data: []byte("schema = 1\n" + tt.head)},
			Source{Name: "parts.toml", Data: []byte(motorWith("kv = 190\nprice = \"" + tt.price + `"`))},
		)
		switch {
		case tt.want == "" && err != nil:
			t.Errorf("%s, %s: %v", tt.head, tt.price, err)
		case tt.want != "" && (err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "parts.toml:5:9")):
			t.Errorf("%s, %s: %v, want %s", tt.head, tt.price, err, tt.want)
		}
	}
}

// TestSynonyms: what people call a key has a hint at it, by the kind of the part.
func TestSynonyms(t *testing.T) {
	for _, tt := range []struct{ kind, key, want string }{
		{"motor", "poles", `write pole_pairs, with the unit in quotes: "…poles"`},
		{"motor", "magnets", `write pole_pairs, with the unit in quotes: "…poles"`},
		{"motor", "pole_count", `write pole_pairs, with the unit in quotes: "…poles"`},
		{"motor", "magnet_pairs", "did you mean pole_pairs?"},
		{"motor", "shaft", "keys carry their unit: shaft_mm"},
		{"motor", "shaft_diameter", "did you mean shaft_mm?"},
		{"motor", "shaft_diameter_mm", "did you mean shaft_mm?"},
		{"motor", "power", "did you mean max_power_w?"},
		{"motor", "power_w", "did you mean max_power_w?"},
		{"motor", "power_kw", `write max_power_w, with the unit in quotes: "…kW"`},
		{"motor", "watts", "did you mean max_power_w?"},
		{"motor", "voltage", "did you mean max_volts?"},
		{"motor", "volts", "did you mean max_volts?"},
		{"motor", "weight", "did you mean mass_g?"},
		{"motor", "weight_g", "did you mean mass_g?"},
		{"motor", "weight_kg", `write mass_g, with the unit in quotes: "…kg"`},
		{"motor", "resistance", "keys carry their unit: resistance_mohm"},
		{"motor", "ri", "did you mean resistance_mohm?"},
		{"motor", "phase_resistance", "did you mean resistance_mohm?"},
		{"motor", "current", "did you mean peak_current_a?"},
		{"motor", "amps", "did you mean peak_current_a?"},
		{"controller", "erpm", "did you mean erpm_ceiling?"},
		{"controller", "max_erpm", "did you mean erpm_ceiling?"},
		{"controller", "amps", "did you mean motor_current_a?"},
		{"cell", "voltage", "did you mean nominal_v?"},
		{"cell", "capacity", "keys carry their unit: capacity_ah"},
		{"cell", "ah", "did you mean capacity_ah?"},
		{"cell", "capacity_mah", `write capacity_ah, with the unit in quotes: "…mAh"`},
		{"cell", "amps", "did you mean discharge_a?"},
		{"battery", "volts", "did you mean nominal_v?"},
		{"wheel", "width", "keys carry their unit: width_mm"},
		{"wheel", "diameter", "keys carry their unit: diameter_mm"},
		{"wheel", "diameter_in", `write diameter_mm, with the unit in quotes: "…in"`},
		{"pulley", "teeth_count", "did you mean teeth?"},
		{"profile", "pitch", "keys carry their unit: pitch_mm"},
		{"motor", "cost", "did you mean price?"},
	} {
		_, err := Read(Source{Name: "parts.toml", Data: []byte("schema = 1\n[[" + tt.kind + "]]\nid = \"x\"\n" + tt.key + " = 1\n")})
		if err == nil || !strings.Contains(err.Error(), field.Quote(tt.key)+" in "+tt.kind+"\n    "+tt.key+" = 1\n    "+strings.Repeat("^", len(tt.key))+"\n    hint: "+tt.want) {
			t.Errorf("%s of a %s: %v\nwant the hint %s", tt.key, tt.kind, err, tt.want)
		}
	}
}

// TestOtherChemistries: what data sheets call a chemistry has a hint at the word
// for it, which is one of the three.
func TestOtherChemistries(t *testing.T) {
	for other, word := range otherChemistries() {
		_, err := Read(Source{Name: "parts.toml", Data: []byte("schema = 1\n[[cell]]\nid = \"c\"\nnominal_v = 3.2\nfull_v = 3.6\ncutoff_v = 2.5\ncapacity_ah = 3\nchemistry = \"" + strings.ToUpper(other) + "\"\n")})
		if err == nil || !strings.Contains(err.Error(), "hint: did you mean "+field.Quote(word)+"?") || !slices.Contains(chemistries(), word) {
			t.Errorf("%s: %v, want a hint at %s", other, err, word)
		}
	}
}

// TestKindsOfUnits: every key with a unit has a kind that knows that unit, as
// large as the key's row says, and no name that people have for a key is another
// key of its kind of parts, or is for two.
func TestKindsOfUnits(t *testing.T) {
	for _, k := range Kinds() {
		names := map[string]string{}
		for i := range k.Fields {
			names[k.Fields[i].Key] = k.Fields[i].Key
		}
		for i := range k.Fields {
			in := &k.Fields[i]
			if in.Unit != "" && (in.Kind == nil || math.Abs(in.Kind.Per(in.Unit)/in.Per-1) > 1e-12) {
				t.Errorf("%s.%s is in %s, of which its kind has another or none", k.Name, in.Key, in.Unit)
			}
			for _, name := range in.Also {
				if other, twice := names[name]; twice {
					t.Errorf("%s: %s is called %s, which is %s", k.Name, in.Key, name, other)
				}
				names[name] = in.Key
			}
		}
	}
}
