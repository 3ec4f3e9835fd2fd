package say

import (
	"strconv"
	"strings"
	"testing"

	"gearsearch/constraints"
	"gearsearch/search"
)

func TestMissing(t *testing.T) {
	for _, tt := range []struct {
		slot        constraints.Slot
		like, facts string // a star is behind what differs
		want        string
	}{
		{constraints.SlotMotorPulley, "x", "teeth 16, profile htd-5m, width_mm 15, bore_mm 8*, shaft_key plain*", "a motor pulley htd-5m with 16 teeth, 15 mm wide, for any 8 mm shaft"},
		{constraints.SlotMotorPulley, "x", "teeth 16, profile htd-5m, bore_mm 8*, shaft_key plain*", "a motor pulley htd-5m with 16 teeth, for any 8 mm shaft"},
		{constraints.SlotMotorPulley, "x", "teeth 17*, profile htd-5m, bore_mm 8, shaft_key plain*", "a motor pulley htd-5m with 17 teeth, for any 8 mm shaft"},
		{constraints.SlotWheelPulley, "x", "teeth 48, profile htd-5m, hub h*", "a wheel pulley htd-5m with 48 teeth, for the hub h"},
		{constraints.SlotBelt, "x", "teeth 69*, profile htd-5m, width_mm 15", "a belt htd-5m with 69 teeth, 15 mm wide"},
		{constraints.SlotMount, "x", "centre_min_mm 64*, centre_max_mm 74*, idler false", "a mount for centre distances of 64 to 74 mm"},
		{constraints.SlotWheel, "w", "diameter_mm 105*, hub h", "a wheel like w, but 105 mm high"},
		{constraints.SlotGearDrive, "g", "ratio 4*, bore_mm 8, hub h", "a gear drive like g, but with a ratio of 4"},
		{constraints.SlotGearDrive, "g", "ratio 3, bore_mm 11*, shaft_key plain*, hub h", "a gear drive like g, but for any 11 mm shaft"},
		{constraints.SlotBattery, "x", "series 12*, parallel 3, cell e", "a pack of 12 in series and 3 in parallel of e"},
		{constraints.SlotController, "c", "max_volts 42*, motor_current_a 60, battery_current_a 30", "a controller like c, but for 42 V"},
		{constraints.SlotController, "c", "erpm_ceiling 47000*, motor_current_a 60, battery_current_a 30", "a controller like c, but for 47000 electrical rpm"},
		{constraints.SlotController, "c", "motor_current_a 75*, battery_current_a 37.5*", "a controller like c, but for 75 A in each motor and for 37.5 A from the pack"},
		{constraints.SlotMotor, "m", "kv 110*, resistance_mohm 92.975206612*, peak_current_a 58.666666667*, continuous_current_a 29.333333333*", "a motor like m, wound for 110 rpm/V"},
		{constraints.SlotMotorPulley, "x", "teeth 14*, profile htd-5m", "a motor pulley htd-5m with 14 teeth, for any shaft"},
		{constraints.SlotMotorPulley, "x", "teeth 14, profile gt-3*, bore_mm 8, shaft_key flat*", "a motor pulley gt-3 with 14 teeth, for 8 mm shafts with a flat"},
		{constraints.SlotWheelPulley, "x", "teeth 40*, profile htd-5m, width_mm 15", "a wheel pulley htd-5m with 40 teeth, 15 mm wide"},
		{constraints.SlotGearDrive, "g", "ratio 2.5*, bore_mm 10*, shaft_key plain, hub five*", "a gear drive like g, but with a ratio of 2.5, for any 10 mm shaft and for the hub five"},
		{constraints.SlotMount, "x", "centre_min_mm 64*, centre_max_mm 74*, idler true*", "a mount for centre distances of 64 to 74 mm, with an idler"},
		{constraints.SlotController, "c", "max_volts 50.4*, motor_current_a 75*, continuous_current_a 50*", "a controller like c, but for 50.4 V, for 75 A in each motor and for 50 A continuous in each motor"},
	} {
		m := &search.Missing{Slot: tt.slot, Like: tt.like}
		for f := range strings.SplitSeq(tt.facts, ", ") {
			key, text, _ := strings.Cut(f, " ")
			text, changed := strings.CutSuffix(text, "*")
			var value any = text
			if x, err := strconv.ParseFloat(text, 64); err == nil {
				value = x
			} else if flag, err := strconv.ParseBool(text); err == nil {
				value = flag
			}
			m.Facts = append(m.Facts, search.Fact{Key: key, Value: value, Changed: changed})
		}
		if got := Missing(m); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.facts, got, tt.want)
		}
	}
	// Every slot has its words.
	for _, slot := range constraints.Slots() {
		if Missing(&search.Missing{Slot: slot}) == "" {
			t.Errorf("%s: no words", slot)
		}
	}
}

func TestMissingAssumed(t *testing.T) {
	for _, tt := range []struct {
		slot constraints.Slot
		want string
	}{
		{constraints.SlotBattery, "price and mass are assumed to go with the number of cells, as of x"},
		{constraints.SlotBelt, "price and mass are assumed to be those of x"},
	} {
		if got := MissingAssumed(&search.Missing{Slot: tt.slot, Like: "x"}); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.slot, got, tt.want)
		}
	}
}
