package say

import (
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

// settingWords are what each setting is.
var settingWords = map[string]string{
	"motor_current_a":    "most current in each motor when it drives",
	"braking_current_a":  "most current in each motor when it brakes",
	"pack_current_out_a": "most current out of the pack for each motor",
	"pack_current_in_a":  "most current into the pack for each motor when it brakes",
	"cut_back_start_v":   "volts of the pack below which the current is taken back",
	"cut_back_end_v":     "volts of the pack at which no current is left",
	"erpm_limit":         "highest electrical rpm",
	"duty_limit":         "highest duty",
}

// SettingWords say what a setting is, and why it is not known where it is not.
func SettingWords(s outfit.Setting, system quantity.System) string {
	text := settingWords[s.Name]
	if math.IsNaN(s.Value) {
		text += ": " + Statements(s.How, system)
	}
	return text
}

// setting is its label, its value and its unit as people are shown them.
func setting(s outfit.Setting, system quantity.System) (label, value, unit string) {
	label = quantity.Label(s.Name, s.Unit)
	if math.IsNaN(s.Value) {
		return label, "–", ""
	}
	value, unit = Number(s.Shown(), system)
	return label, value, unit
}

// SettingsText adds what the controllers are to be set to, with why that is so.
func SettingsText(out *layout.Text, b *constraints.Build, why bool, system quantity.System) {
	out.Heading("Set the controller to")
	settings := outfit.Settings(b)
	if why {
		for _, s := range settings {
			label, value, unit := setting(s, system)
			line := strings.TrimSpace(label + ": " + value + NBSP + unit)
			notes := []layout.Note{{Label: "because", Text: Bound(Statements(s.How, system))}, {Label: "source", Text: s.Source}}
			if s.By != "" {
				notes = append([]layout.Note{{Label: "set by", Text: s.By}}, notes...)
			}
			out.Entry(line+" – "+settingWords[s.Name], notes...)
		}
		return
	}
	t := &layout.Table{Columns: []layout.Column{
		{Title: "setting"}, {Title: "value", Right: true}, {Title: "unit"}, {Title: "set by"}, {Title: "meaning", Wrap: true, Least: ProseWidth},
	}}
	for _, s := range settings {
		label, value, unit := setting(s, system)
		t.Add(label, value, unit, s.By, SettingWords(s, system))
	}
	out.Table(t)
}

// SettingsLine says in one sentence what the controllers are to be set to, without
// what is not known.
func SettingsLine(b *constraints.Build, system quantity.System) string {
	var list []string
	for _, s := range outfit.Settings(b) {
		if math.IsNaN(s.Value) {
			continue
		}
		label, value, unit := setting(s, system)
		list = append(list, strings.TrimSpace(label+NBSP+value+NBSP+unit)+" ("+s.By+")")
	}
	return "set the controller, for each motor, to " + listed(list)
}
