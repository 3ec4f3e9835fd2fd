package ask

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// WholeDrive is the word for all slots that make up a drive.
const WholeDrive = "drive"

// SlotWords are the words for the slots of a build: the slots themselves, and
// the whole drive.
func SlotWords() []string { return append(strings.Split(slotNames(), ", "), WholeDrive) }

// MotorsWord is the word for the number of motors, which is no slot.
const MotorsWord = "motors"

// ChangeWords are the words for what can change of a build: its slots, and the
// number of motors.
func ChangeWords() []string { return append(SlotWords(), MotorsWord) }

// Freed is what a word frees of a build.
func Freed(words []string) constraints.Freed {
	var f constraints.Freed
	for _, word := range words {
		if word == MotorsWord {
			f.Motors = true
			continue
		}
		named, _ := SlotsOf(word)
		for _, slot := range named {
			if !slices.Contains(f.Slots, slot) {
				f.Slots = append(f.Slots, slot)
			}
		}
	}
	return f
}

// SlotsOf are the slots that a word means: a slot's own name, or that of several
// together.
func SlotsOf(word string) (slots []constraints.Slot, ok bool) {
	if word == WholeDrive {
		return constraints.DriveSlots(), true
	}
	slot, ok := constraints.SlotNamed(word)
	return []constraints.Slot{slot}, ok
}

// SlotList are the slots that a flag names, and the words that it does so with,
// each once, of others too that the flag takes.
func SlotList(c *cli.Context, flag string, others ...string) (slots []constraints.Slot, words []string, err error) {
	for _, text := range c.StringSlice(flag) {
		for _, word := range strings.Split(text, ",") {
			word = strings.TrimSpace(word)
			named, ok := SlotsOf(word)
			if slices.Contains(others, word) {
				named, ok = nil, true
			}
			if !ok {
				return nil, nil, outcome.Usage(SlotWordHint(word, others...), "--%s %s: there is no slot %s", flag, say.Shown(text), say.Shown(word))
			}
			if slices.Contains(words, word) {
				continue
			}
			words = append(words, word)
			for _, slot := range named {
				if !slices.Contains(slots, slot) {
					slots = append(slots, slot)
				}
			}
		}
	}
	return slots, words, nil
}

// SlotWordHint is a hint at the slot that a word may have meant.
func SlotWordHint(word string, others ...string) string {
	switch word {
	case "pulley", "pulleys", "sprocket", "sprockets":
		return "there are two: " + constraints.SlotMotorPulley.String() + ", " + constraints.SlotWheelPulley.String()
	case "chain", "chains":
		return "chains go into the slot " + constraints.SlotBelt.String()
	case "cell", "cells", "pack":
		return "did you mean " + constraints.SlotBattery.String() + "?"
	}
	if near, ok := field.Nearest(word, slices.Values(append(SlotWords(), others...))); ok {
		return "did you mean " + near + "?"
	}
	return "the slots are " + strings.Join(append(SlotWords(), others...), ", ")
}

// KeepOnly is the flag that keeps only some parts in a slot: --keep or, where the
// brief keeps some already, to which --keep would add, --set.
func KeepOnly(b *constraints.Brief, slot constraints.Slot, ids ...string) string {
	list := slot.String() + "=" + strings.Join(ids, ",")
	if len(b.Keep[slot]) > 0 {
		return " --set keep." + list
	}
	return " --keep " + list
}
