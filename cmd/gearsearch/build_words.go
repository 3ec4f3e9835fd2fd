package main

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/words"
	"gearsearch/constraints"
)

// buildWords names a build in a line: its parts by id, the drive by its teeth.
func buildWords(b *constraints.Build) string {
	return strings.Join([]string{
		pieces(b.Motors(), b.Motor.ID), b.Controller.ID, b.Battery.ID, driveWords(b.Drive), b.Wheel.ID,
	}, ", ")
}

// driveWords names a drive: the teeth and the profile of a belt drive, the id
// and the ratio of a gear drive.
func driveWords(d *constraints.Drive) string {
	if d.Gear != nil {
		return fmt.Sprintf("%s %s:1", d.Gear.ID, short(d.Reduction))
	}
	return fmt.Sprintf("%d:%d %s", d.MotorPulley.Teeth, d.WheelPulley.Teeth, d.WheelPulley.Profile.ID)
}

// differences names what one build has that another has not.
func differences(from, to *constraints.Build) string {
	var out []string
	if from.Motors() != to.Motors() {
		out = append(out, pieces(to.Motors(), "motors"))
	}
	for _, slot := range constraints.Slots() {
		if id := to.ID(slot); id != "" && id != from.ID(slot) {
			out = append(out, id)
		}
	}
	return strings.Join(out, ", ")
}

// pieces is a number of pieces of a part.
func pieces(n int, id string) string { return fmt.Sprintf("%d × %s", n, id) }

// lineWords lists parts with their numbers, where there is more than one.
func lineWords(lines []constraints.Line) string {
	var out []string
	for _, l := range lines {
		if l.Pieces == 1 {
			out = append(out, l.Part.ID)
		} else {
			out = append(out, strings.ReplaceAll(pieces(l.Pieces, l.Part.ID), " ", nbsp))
		}
	}
	return strings.Join(out, ", ")
}

// missWords say what a build misses: each check that rejects it, with value
// and limit where there are any.
func missWords(misses []constraints.Result, p *constraints.Problem, system quantity.System) string {
	var out []string
	for _, r := range misses {
		value, limit, unit := words.Outcome(r, p, system)
		text := r.Name
		switch {
		case r.Verdict == constraints.Undecided:
			text += " not decided"
		case math.IsNaN(r.Limit) || math.IsNaN(r.Value):
		default:
			text += " " + value + " " + strings.NewReplacer("≤", "of at most", "≥", "of at least").Replace(limit) + " " + unit
		}
		out = append(out, strings.ReplaceAll(strings.TrimSpace(text), " ", nbsp))
	}
	return strings.Join(out, "; ")
}

// incompleteText says that an answer was interrupted, and after what.
func incompleteText(p *layout.Page, complete bool, after string) {
	if !complete {
		p.Text("INCOMPLETE: interrupted " + after + "; this is what was found until then.")
	}
}
