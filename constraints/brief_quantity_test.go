package constraints

import (
	"math"
	"strings"
	"testing"
)

// TestBriefQuantities: keys of a brief take the units of their kind, in a file
// and one by one, to the bit what the key's unit gives.
func TestBriefQuantities(t *testing.T) {
	for _, tt := range []struct{ key, text, same string }{
		{"target.top_speed_kmh", "25mph", "40.2336"},
		{"target.climb_grade_pct", "15%", "15"},
		{"target.climb_speed_kmh", "3m/s", "10.8"},
		{"target.hill_torque_nm", "38N.m", "38"},
		{"target.range_km", "15mi", "24.14016"},
		{"target.charge", "3.7V", "3.7"},
		{"rider.mass_kg", "190lb", "86.1825503"},
		{"rider.drag_area_m2", "6 ft2", "0.55741824"},
		{"board.hanger_mm", "10in", "254"},
		{"ground.temperature_c", "77F", "25"},
		{"ground.altitude_m", "5280ft", "1609.344"},
		{"ground.grip", "70%", "0.7"},
		{"limit.price", "900 EUR", "900"},
		{"limit.erpm_headroom_pct", "5%", "5"},
		{"tolerance.efficiency_points", "2%", "2"},
	} {
		section, key, _ := strings.Cut(tt.key, ".")
		value := func(text string) any {
			b, err := ReadBrief(source("brief.toml", "schema = 1\n["+section+"]\n"+key+" = "+text+"\n"))
			if err != nil {
				t.Errorf("%s = %s: %v", tt.key, text, err)
				return nil
			}
			table, name := keyTable(tt.key)
			x, _ := table.Lookup(b, name)
			return x
		}
		b := DefaultBrief()
		if err := b.Set(tt.key, tt.text, "--set"); err != nil {
			t.Errorf("%s=%s: %v", tt.key, tt.text, err)
		}
		table, name := keyTable(tt.key)
		set, _ := table.Lookup(b, name)
		if inFile, want := value(`"`+tt.text+`"`), value(tt.same); inFile != want || set != want {
			t.Errorf("%s: %s is %v in a file and %v from a flag, want %v", tt.key, tt.text, inFile, set, want)
		}
	}
	b := DefaultBrief()
	if err := b.Set("target.climb_grade_pct", "8.5deg", "--set"); err != nil || math.Abs(b.Target.ClimbGrade-math.Tan(8.5*math.Pi/180)) > 1e-15 {
		t.Errorf("8.5deg is %v: %v", b.Target.ClimbGrade, err)
	}
}

// TestPriceInAnotherCurrency: a limit in a currency that is not the catalog's is
// refused where it stands.
func TestPriceInAnotherCurrency(t *testing.T) {
	for text, want := range map[string]string{
		`"900 EUR"`: "", `"€900"`: "", `900`: "",
		`"900 USD"`: `price is in "USD", must be in EUR, the catalog's currency`,
	} {
		k := newKit(onBelts, "limit.price = "+text)
		c, b := read(t, k)
		_, err := NewProblem(c, b)
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
	b := DefaultBrief()
	if err := b.Set("limit.price", "900USD", "--set"); err != nil || b.Limit.PriceCurrency != "USD" {
		t.Errorf("%+v: %v", b.Limit, err)
	}
	if err := b.Set("limit.price", "900", "--set"); err != nil || b.Limit.PriceCurrency != "" {
		t.Errorf("%+v: %v: a currency that stays", b.Limit, err)
	}
}

// TestKindsOfBriefUnits: every key with a unit has a kind that knows that unit,
// as large as the key's row says, and no name that people have for a key is
// another key of its section, or is for two.
func TestKindsOfBriefUnits(t *testing.T) {
	names := map[string]string{}
	for _, k := range BriefKeys() {
		names[k.Path()] = k.Key
	}
	for _, k := range BriefKeys() {
		if k.Unit != "" && (k.Kind == nil || math.Abs(k.Kind.Per(k.Unit)/k.Per-1) > 1e-12) {
			t.Errorf("%s is in %s, of which its kind has another or none", k.Path(), k.Unit)
		}
		for _, name := range k.Also {
			path := k.Section + "." + name
			if other, twice := names[path]; twice {
				t.Errorf("%s is called %s, which is %s", k.Path(), name, other)
			}
			names[path] = k.Key
		}
	}
}

// TestFlatPackDropsOut: a pack that the charge leaves at its cut-off is in no
// build; builds with another are looked at as if it were not there.
func TestFlatPackDropsOut(t *testing.T) {
	const other = "[[battery]]\nid = \"other\"\nseries = 10\nnominal_v = 37\nfull_v = 42\ncutoff_v = 34\n"
	p := problem(t, onBelts, other, "target.charge = 3.2")
	if len(p.Batteries) != 1 || p.Batteries[0].ID == "other" {
		t.Fatalf("%d packs are in play", len(p.Batteries))
	}
	without := problem(t, onBelts, "target.charge = 3.2")
	if p.Combinations() != without.Combinations() {
		t.Errorf("%v combinations, want %v", p.Combinations(), without.Combinations())
	}
	file := readBuild(t, string(first(p).File().TOML()))
	if _, err := p.Find(file); err != nil {
		t.Errorf("a build with another pack: %v", err)
	}
	file.IDs[SlotBattery] = "other"
	if _, err := p.Find(file); err == nil || !strings.Contains(err.Error(), "cut-off of 34 V of battery other") {
		t.Errorf("a build with the flat pack: %v", err)
	}
}
