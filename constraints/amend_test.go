package constraints

import (
	"strings"
	"testing"

	"gearsearch/catalog/field"
)

// TestAmendKeepsAllElse: of a brief with other values nothing else changes.
func TestAmendKeepsAllElse(t *testing.T) {
	keys := []KeyText{{"ground.rolling_resistance", "0.0142"}, {"ground.rolling_fitted", "true"}, {"rider.drag_area_m2", "0.44"}, {"tolerance.rolling_pct", "6"}}
	for _, c := range []struct{ why, from, want string }{
		{"values in place, comments kept", `schema = 1 # mine
[rider]
drag_area_m2 = 0.5 # stands upright
[ground] # the harbour
  rolling_resistance = "2%"   # guessed
surface = "asphalt"
[tolerance]
rolling_pct = 30
`, `schema = 1 # mine
[rider]
drag_area_m2 = 0.44 # stands upright
[ground] # the harbour
rolling_fitted = true
  rolling_resistance = 0.0142   # guessed
surface = "asphalt"
[tolerance]
rolling_pct = 6
`},
		{"sections that are not there", "schema = 1\n[rider]", `schema = 1
[rider]
drag_area_m2 = 0.44

[ground]
rolling_resistance = 0.0142
rolling_fitted = true

[tolerance]
rolling_pct = 6
`},
		{"carriage returns", "schema = 1\r\n[ground]\r\nwet = true\r\n[rider]\r\n", "schema = 1\r\n[ground]\r\nrolling_resistance = 0.0142\r\nrolling_fitted = true\r\nwet = true\r\n[rider]\r\ndrag_area_m2 = 0.44\r\n\r\n[tolerance]\r\nrolling_pct = 6\r\n"},
	} {
		got, err := Amend(field.Source{Name: "brief.toml", Data: []byte(c.from)}, keys)
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		if string(got) != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.why, got, c.want)
		}
		b, err := ReadBrief(field.Source{Name: "copy.toml", Data: got})
		if err != nil {
			t.Errorf("%s: %v", c.why, err)
			continue
		}
		if rolling, drag := b.Fitted(); !rolling || drag || b.Ground.RollingResistance != 0.0142 || b.Rider.DragArea != 0.44 || b.Vary.Rolling != 0.06 {
			t.Errorf("%s: %+v", c.why, b.Ground)
		}
	}
	for _, c := range []struct{ why, from, want string }{
		{"no brief", "schema = 1\n[rider]\nmass_kg = true\n", "mass_kg"},
		{"a section on one line", "schema = 1\nground = { surface = \"asphalt\" }\n", "not laid out in [sections]"},
		{"dotted keys", "schema = 1\nground.surface = \"asphalt\"\n", "not laid out in [sections]"},
	} {
		_, err := Amend(field.Source{Name: "brief.toml", Data: []byte(c.from)}, keys)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.why, err)
		}
	}
	// A value that flags put in place of a fitted one is no longer the rider's own.
	b, err := ReadBrief(field.Source{Name: "brief.toml", Data: []byte("schema = 1\n[ground]\nrolling_resistance = 0.0142\nrolling_fitted = true\n")})
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Set("ground.rolling_resistance", "0.03", "--set"); err != nil {
		t.Fatal(err)
	}
	if rolling, _ := b.Fitted(); rolling {
		t.Error("a value of --set counts as fitted")
	}
}
