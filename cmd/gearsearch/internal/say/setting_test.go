package say

import (
	"strings"
	"testing"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints/outfit"
	"gearsearch/constraints/outfit/outfittest"
)

// Every setting has words, and there are words for nothing else; what is not known
// says why.
func TestEverySettingHasWords(t *testing.T) {
	b := outfittest.Build(t, outfittest.Hill, "-cell.charge_a")
	settings := outfit.Settings(b)
	for _, s := range settings {
		text := SettingWords(s, quantity.Metric)
		if settingWords[s.Name] == "" || strings.Contains(text, "%!") {
			t.Errorf("%s: %q", s.Name, text)
		}
		if told := strings.HasSuffix(text, ": the pack's charge_a is not known"); told != (s.Name == "pack_current_in_a") {
			t.Errorf("%s: %q", s.Name, text)
		}
	}
	if len(settingWords) != len(settings) {
		t.Errorf("words for %d settings of %d", len(settingWords), len(settings))
	}
	// A limit is rounded so that the number shown keeps to it: 100 A for 3 is not 33.4,
	// nor 36.12 V 36.1.
	for _, tt := range []struct {
		s    outfit.Setting
		want string
	}{
		{outfit.Setting{Name: "pack_current_out_a", Unit: "A", Value: 100.1 / 3, Down: true}, "33.3"},
		{outfit.Setting{Name: "cut_back_end_v", Unit: "V", Value: 36.12}, "36.2"},
		{outfit.Setting{Name: "duty_limit", Value: 0.95, Down: true}, "0.95"},
	} {
		if _, got, _ := setting(tt.s, quantity.Metric); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.s.Name, got, tt.want)
		}
	}
}

func TestSettingsLine(t *testing.T) {
	got := strings.ReplaceAll(SettingsLine(outfittest.Build(t, outfittest.Hill, "-cell.charge_a"), quantity.Metric), NBSP, " ")
	want := "set the controller, for each motor, to motor current 70 A (controller), braking current 34.5 A (ground.surface), pack current out 30 A (controller), cut back start 33.1 V (limit.usable_pct), cut back end 30 V (cell), erpm limit 150000 rpm (controller) and duty limit 0.95 (controller)"
	if got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// A pack that takes nothing stops nothing: the board rolls out.
func TestStopsLine(t *testing.T) {
	for _, tt := range []struct {
		why, brief string
		change     []string
		want       []string
	}{
		{"at 8 A", "", nil, []string{"from 25 km/h on the flat", "rolls out in", "with a full pack, which takes nothing", "stops in", "at 90 % charge (the pack is set to take 8 A at most)", "at 50 % charge (the pack is set to take 8 A at most)"}},
		{"charge limit not known", "", []string{"-cell.charge_a"}, []string{"at 90 % charge (the pack's charge_a is not known)"}},
		{"in the frost", "[ground]\ntemperature_c = -1\n", nil, []string{"at 90 % charge, which takes nothing and", "at 50 % charge, which takes nothing;"}},
	} {
		got := strings.ReplaceAll(StopsLine(outfittest.Build(t, tt.brief, tt.change...), quantity.Metric), NBSP, " ")
		for _, want := range tt.want {
			if !strings.Contains(got, want) {
				t.Errorf("%s: %s, want %q in it", tt.why, got, want)
			}
		}
		if tt.why == "in the frost" && strings.Contains(got, "stops") {
			t.Errorf("%s: %s", tt.why, got)
		}
	}
}
