package outfit

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// figures are the figures to make a part by, as name=value.
func figures(m Making) map[string]string {
	out := map[string]string{}
	for _, d := range m.Figures {
		switch {
		case d.Text != "":
			out[d.Name] = d.Text
		case math.IsNaN(d.Value):
			out[d.Name] = "?"
		default:
			out[d.Name] = fmt.Sprintf("%.2f", d.Value)
		}
	}
	return out
}

// TestMakings: a part is made where it says so, a pack of cells where it has no price
// of its own, and neither where it is there already.
func TestMakings(t *testing.T) {
	for _, tt := range []struct {
		why     string
		changes []string
		want    string // slot:how of each
	}{
		{"a pack of cells without a price is built", nil, "battery:built"},
		{"one with a price is bought", []string{"battery.price = 400"}, ""},
		{"one with a price that says so is built", []string{"battery.price = 400", `battery.made = "built"`}, "battery:built"},
		{"one that is there is not", []string{"battery.owned = true"}, ""},
		{"a part without a price is not made for that", []string{"battery.price = 400", "-mount.price"}, ""},
		{"pulley and mount", []string{"battery.price = 400", `large.made = "printed"`, `mount.made = "cut"`}, "wheel_pulley:printed mount:cut"},
		{"what is around the drivetrain", []string{"battery.price = 400", `tray.made = "printed"`}, "box:printed"},
	} {
		o := outfitOf(t, tt.changes...)
		var got []string
		for _, m := range o.Makings() {
			got = append(got, m.Slot+":"+m.How)
			if len(m.Figures) == 0 {
				t.Errorf("%s: no figures to make %s by", tt.why, m.Slot)
			}
		}
		if s := strings.Join(got, " "); s != tt.want {
			t.Errorf("%s: %q, want %q", tt.why, s, tt.want)
		}
		warns := false
		for _, c := range o.Cautions() {
			warns = warns || c.Code == CellsNeverWithoutVolts
		}
		if warns != strings.Contains(tt.want, "built") {
			t.Errorf("%s: a caution about building packs: %v", tt.why, warns)
		}
	}
}

// The pitch diameter of an HTD pulley is z p / π; over the teeth it is twice the
// pitch-line differential less, 0.5715 mm for HTD 5M (ISO 13050).
func TestPulleyFigures(t *testing.T) {
	o := outfitOf(t, `large.made = "printed"`, "large.teeth = 40", "battery.price = 400")
	list := o.Makings()
	if len(list) != 1 {
		t.Fatal(list)
	}
	got := figures(list[0])
	for name, want := range map[string]string{"teeth": "40.00", "pitch_mm": "5.00", "pitch_diameter_mm": "63.66", "outside_mm": "62.52"} {
		if got[name] != want {
			t.Errorf("%s is %s, want %s", name, got[name], want)
		}
	}
	if briefly(list[0].Cautions...) == "" {
		t.Error("a printed pulley without a caution")
	}
}

// A sprocket that is cut: pitch diameter p/sin(π/z) and tip diameter d + 1.25 p − d₁ of
// ISO 606, by hand: 9.525/sin(6°) = 91.12, and 91.12 + 11.91 − 5.08 = 97.95 mm.
func TestSprocketFigures(t *testing.T) {
	changes := onChain("battery.price = 400", "[[chain]]\nid = \"belt\"\nprofile = \"chain-06c\"\nlinks = 40")
	changes[4] += "\nmade = \"cut\""
	list := outfitOf(t, changes...).Makings()
	if len(list) != 1 {
		t.Fatal(list)
	}
	got := figures(list[0])
	for name, want := range map[string]string{"teeth": "30.00", "pitch_mm": "9.53", "pitch_diameter_mm": "91.12", "outside_mm": "97.95", "roller_mm": "5.08"} {
		if got[name] != want {
			t.Errorf("%s is %s, want %s", name, got[name], want)
		}
	}
	if got["width_mm"] != "" {
		t.Error(got)
	}
}
