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
	"motor_current_a":    "most current in each motor, driving",
	"braking_current_a":  "most current in each motor, braking",
	"pack_current_out_a": "most current from the pack for each motor",
	"pack_current_in_a":  "most current into the pack for each motor, braking",
	"cut_back_start_v":   "pack volts at which the current begins to be cut back",
	"cut_back_end_v":     "pack volts at which the current is cut off",
	"erpm_limit":         "highest electrical rpm",
	"duty_limit":         "highest duty cycle",
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
		out.Paragraph(Capital(StopsLine(b, system)) + ".")
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
	out.Paragraph(Capital(StopsLine(b, system)) + ".")
}

// StopsLine says how far the motors alone stop the board with these settings, and
// what limits the braking. A pack that takes nothing stops nothing.
func StopsLine(b *constraints.Build, system quantity.System) string {
	var list []string
	metres := func(x float64) string {
		return Quantity(constraints.Quantity{SI: x, PerSI: 1, Unit: "m", Digits: constraints.ThreeUp}, system)
	}
	for _, s := range outfit.SetStops(b) {
		why := " (" + Statement(s.Why, system) + ")"
		switch when := " " + charged(s.Charge); {
		case math.IsInf(s.Long, 1):
			list = append(list, "does not stop"+when)
		case s.Coasts():
			list = append(list, "rolls out in "+metres(s.Long)+when+", which takes nothing")
		case math.IsNaN(s.Long):
			list = append(list, "stops after an unknown distance"+when+why)
		default:
			list = append(list, "stops in "+metres(s.Long)+when+why)
		}
	}
	from := Quantity(constraints.Quantity{SI: b.Problem.Brief.Target.StopFrom, PerSI: 3.6, Unit: "km/h", Digits: constraints.ThreeDigits}, system)
	return "with these settings and the motors alone, from " + from + " on the flat, the board " + listed(list) + "; add the distance before the rider brakes"
}

// SettingsLine gives the controllers' settings in one sentence, as far as they are
// known.
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
