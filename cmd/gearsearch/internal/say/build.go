package say

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// Build names a build in a line: its parts by id, the drive by its teeth.
func Build(b *constraints.Build) string {
	return strings.Join([]string{
		Pieces(b.Motors(), b.Motor.ID), b.Controller.ID, b.Battery.ID, Drive(b.Drive), b.Wheel.ID,
	}, ", ")
}

// Drive names a drive: the teeth and the profile of a belt drive, the id
// and the ratio of a gear drive.
func Drive(d *constraints.Drive) string {
	if d.Gear != nil {
		return fmt.Sprintf("%s %s:1", d.Gear.ID, Short(d.Reduction))
	}
	return fmt.Sprintf("%d:%d %s", d.MotorPulley.Teeth, d.WheelPulley.Teeth, d.WheelPulley.Profile.ID)
}

// Differences names the parts of one build that another lacks.
func Differences(from, to *constraints.Build) string {
	var out []string
	if from.Motors() != to.Motors() {
		out = append(out, Pieces(to.Motors(), "motors"))
	}
	for _, slot := range constraints.Slots() {
		if id := to.ID(slot); id != "" && id != from.ID(slot) {
			out = append(out, id)
		}
	}
	return strings.Join(out, ", ")
}

// Pieces is a number of pieces of a part.
func Pieces(n int, id string) string { return fmt.Sprintf("%d × %s", n, id) }

// Lines lists parts with their numbers, where there is more than one.
func Lines(lines []constraints.Line) string {
	var out []string
	for _, l := range lines {
		if l.Pieces == 1 {
			out = append(out, l.Part.ID)
		} else {
			out = append(out, strings.ReplaceAll(Pieces(l.Pieces, l.Part.ID), " ", NBSP))
		}
	}
	return strings.Join(out, ", ")
}

// Misses say what a build misses: each check that rejects it, with value
// and limit where there are any.
func Misses(misses []constraints.Result, p *constraints.Problem, system quantity.System) string {
	var out []string
	for _, r := range misses {
		value, limit, unit := amounts(r, p, system)
		text, bound := r.Name, " of at most "
		if r.Lower {
			bound = " of at least "
		}
		switch {
		case r.Verdict == constraints.Undecided:
			text += " not decided"
		case math.IsNaN(r.Limit) || math.IsNaN(r.Value):
		default:
			text += " " + value + bound + limit + " " + unit
		}
		out = append(out, strings.ReplaceAll(strings.TrimSpace(text), " ", NBSP))
	}
	return strings.Join(out, "; ")
}

// BestSofar says of a ranking that it was interrupted, after so many combinations; 0:
// not counted.
func BestSofar(seen uint64, p *constraints.Problem) string {
	if seen == 0 {
		return "INCOMPLETE: interrupted; this is the best so far."
	}
	return fmt.Sprintf("INCOMPLETE: interrupted after %s of %s; this is the best so far.", layout.Count(seen), Combinations(p))
}

// CountedSofar says of a count that it was interrupted: how many builds do it among the
// combinations seen until then.
func CountedSofar(feasible, seen uint64, p *constraints.Problem) string {
	return fmt.Sprintf("INCOMPLETE: interrupted after %s of %s; of these %s it.", layout.Count(seen), Combinations(p),
		Counted(feasible, "build does", "builds do"))
}

// IncompleteText says that an answer was interrupted, and after what.
func IncompleteText(out *layout.Text, complete bool, after string) {
	if !complete {
		out.Paragraph("INCOMPLETE: interrupted " + after + "; this is what was found until then.")
	}
}
