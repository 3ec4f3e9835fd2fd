package constraints

import (
	"fmt"
	"strconv"
	"strings"

	"gearsearch/drive"
)

// fullMesh is how many whole teeth in mesh carry a belt's full handbook pull.
const fullMesh = 6

// briskSpeed is the road speed in m/s from which a fall deserves more than the
// helmet that the general cautions ask for on every board: 30 km/h, common practice, no published
// source.
const briskSpeed = 30 / kmh

// Cautions are what a builder should know of this build beyond its verdicts,
// in a fixed order, written in some units; nil: in metric ones.
func (b *Build) Cautions(u Units) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for _, r := range b.demotedResults() {
		switch r.Verdict {
		case Fail:
			say("%s fails; the brief demotes it, so it does not reject", r.Name)
		case Undecided:
			say("%s cannot be decided; the brief demotes it, so it does not reject", r.Name)
		}
	}
	out = append(out, b.Drive.cautions(u)...)
	if p := b.Battery.Pack; p.Full > 0 && p.Volts > p.Full && !equal(p.Volts, p.Full) {
		say("the brief's charge gives %s V, above the %s V of the full pack", num(p.Volts), num(p.Full))
	}
	if b.board.ThrustLimit(b.Problem.Brief.Target.ClimbSpeed, b.Problem.Theta) == drive.Grip {
		where := "on the flat"
		if b.Problem.Climbs() {
			where = "on the target grade"
		}
		say("grip limits the thrust at the climb speed %s: the driven wheels slip before the motors give all they can", where)
	}
	if v, _ := b.TopSpeed(); drive.AtLeast(v, briskSpeed) {
		say("top speed %s: wear pads too, and check that the local law allows that speed", u.In("km/h", v*kmh, tenths))
	}
	return out
}

// tenths writes a number with one decimal, as tables show speeds, lengths and
// volts.
func tenths(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }

// cautions are those about the belt.
func (d *Drive) cautions(u Units) []string {
	if d.Gear != nil {
		return nil
	}
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if d.Belt == nil {
		say("no belt could be chosen: it is not in price and mass")
	}
	if d.Mesh >= 0 && d.Mesh < fullMesh {
		without := ""
		if d.idler() {
			without = ", the idler's wrap left out"
		}
		say("%s in mesh on the small pulley%s: below %d a belt carries less than its handbook pull and skips sooner",
			counted(d.Mesh, "whole tooth", "whole teeth"), without, fullMesh)
	}
	if d.touch {
		say("at a centre distance of %s the two pulleys touch each other", u.In("mm", d.Centre*mm, tenths))
	}
	return out
}

// GeneralCautions hold for every board.
func GeneralCautions() []string {
	return []string{
		"these are computed figures, not a promise of safety: have a qualified person check the build",
		"lithium packs burn: pack building, fuse and charger belong in trained hands",
		"braking charges the pack: a full pack cannot take it, most of all downhill",
		"wear a helmet, expect speed wobble, obey the local law",
	}
}

// forParts says of how many parts, and of which where they are few.
func forParts(what, kind string, ids []string) string {
	const few = 3
	kinds := kind + "s"
	if kind == "battery" {
		kinds = "batteries"
	}
	line := what + " for " + counted(len(ids), kind, kinds)
	if len(ids) <= few {
		line += " (" + strings.Join(ids, ", ") + ")"
	}
	return line
}

// counted is a number of things, such as "1 motor" or "2 motors".
func counted(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + more
}
