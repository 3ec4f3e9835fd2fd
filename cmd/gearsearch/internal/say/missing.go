package say

import (
	"fmt"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
	"gearsearch/drive"
	"gearsearch/search"
)

// Missing says in a few words what a part is that nobody sells.
func Missing(m *search.Missing) string {
	switch m.Slot {
	case constraints.SlotBattery:
		return fmt.Sprintf("a pack of %s in series and %s in parallel of %s", fact(m, "series"), fact(m, "parallel"), fact(m, "cell"))
	case constraints.SlotController:
		return "a controller like " + m.Like + ", but " + InWords(controllerNeeds(m))
	case constraints.SlotMotor:
		return fmt.Sprintf("a motor like %s, wound for %s rpm/V", m.Like, fact(m, "kv"))
	case constraints.SlotGearDrive:
		return "a gear drive like " + m.Like + ", but " + InWords(gearNeeds(m))
	case constraints.SlotMotorPulley:
		return toothed(turning("a motor ", m), m) + ", for " + shaftText(m)
	case constraints.SlotWheelPulley:
		if hub := fact(m, "hub"); hub != "" {
			return toothed(turning("a wheel ", m), m) + ", for the hub " + hub
		}
		return toothed(turning("a wheel ", m), m)
	case constraints.SlotBelt:
		if links := fact(m, "links"); links != "" {
			return "a chain " + fact(m, "profile") + " with " + links + " links"
		}
		return toothed("a belt", m)
	case constraints.SlotMount:
		text := fmt.Sprintf("a mount for centre distances of %s to %s mm", fact(m, "centre_min_mm"), fact(m, "centre_max_mm"))
		if fact(m, "idler") == "true" {
			text += ", with an idler"
		}
		return text
	case constraints.SlotWheel:
		return fmt.Sprintf("a wheel like %s, but %s mm high", m.Like, fact(m, "diameter_mm"))
	}
	return ""
}

// MissingAssumed says after what the price and the mass of a part that nobody
// sells are assumed.
func MissingAssumed(m *search.Missing) string {
	if m.Slot == constraints.SlotBattery {
		return "price and mass are assumed to go with the number of cells, as of " + m.Like
	}
	return "price and mass are assumed to be those of " + m.Like
}

// fact is what a missing part has of a key, "" for nothing.
func fact(m *search.Missing, key string) string {
	for _, f := range m.Facts {
		if f.Key != key {
			continue
		}
		if x, ok := f.Value.(float64); ok {
			return field.FormatNumber(x)
		}
		return fmt.Sprint(f.Value)
	}
	return ""
}

// differs reports whether a missing part has one of some keys, and has it other
// than the part that it is like.
func differs(m *search.Missing, keys ...string) bool {
	return slices.ContainsFunc(m.Facts, func(f search.Fact) bool { return f.Changed && slices.Contains(keys, f.Key) })
}

// controllerNeeds describe a missing controller. Of the limits of volts and rpm they
// have only those that differ from the controller that it is like.
func controllerNeeds(m *search.Missing) []string {
	var out []string
	add := func(is bool, key, of string) {
		if is {
			out = append(out, "for "+fact(m, key)+of)
		}
	}
	add(fact(m, "max_volts") != "", "max_volts", " V")
	add(fact(m, "erpm_ceiling") != "", "erpm_ceiling", " electrical rpm")
	for _, amps := range []struct{ key, of string }{
		{"motor_current_a", " A in each motor"}, {"battery_current_a", " A from the pack"}, {"continuous_current_a", " A continuous in each motor"},
	} {
		add(differs(m, amps.key), amps.key, amps.of)
	}
	return out
}

func gearNeeds(m *search.Missing) []string {
	var out []string
	if differs(m, "ratio") {
		out = append(out, "with a ratio of "+fact(m, "ratio"))
	}
	if differs(m, "bore_mm", "shaft_key") {
		out = append(out, "for "+shaftText(m))
	}
	if differs(m, "hub") {
		out = append(out, "for the hub "+fact(m, "hub"))
	}
	return out
}

// shaftText is the shaft that a missing part goes on.
func shaftText(m *search.Missing) string {
	size := ""
	if bore := fact(m, "bore_mm"); bore != "" {
		size = bore + " mm "
	}
	switch key := fact(m, "shaft_key"); key {
	case catalog.KeyFlat.String(), catalog.KeyKeyway.String():
		return size + "shafts with a " + key
	}
	return "any " + size + "shaft"
}

// turning names a pulley or a sprocket.
func turning(what string, m *search.Missing) string {
	profile := fact(m, "profile")
	return ofChain(what+"pulley", slices.ContainsFunc(drive.Profiles(), func(p drive.Profile) bool { return p.Name == profile && p.Chain != nil }))
}

// toothed begins the text of a pulley or belt.
func toothed(what string, m *search.Missing) string {
	text := []string{what, fact(m, "profile"), "with", fact(m, "teeth"), "teeth"}
	if width := fact(m, "width_mm"); width != "" {
		return strings.Join(text, " ") + ", " + width + " mm wide"
	}
	return strings.Join(text, " ")
}
