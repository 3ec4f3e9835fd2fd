package constraints

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/drive"
)

// fullMesh is how many whole teeth in mesh carry a belt's full handbook pull.
const fullMesh = 6

// briskSpeed is the road speed in m/s from which a fall without protection
// and speed wobble deserve a word: 30 km/h, common practice, no published
// source.
const briskSpeed = 30 / kmh

// Cautions are what a builder should know of this build beyond its verdicts,
// in a fixed order.
func (b *Build) Cautions() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for _, r := range b.Results() {
		if !r.Demoted {
			continue
		}
		switch r.Verdict {
		case Fail:
			say("%s fails, and the brief lets it caution only", r.Name)
		case Undecided:
			say("%s cannot be decided, and the brief lets it caution only", r.Name)
		}
	}
	d := b.Drive
	if d.Gear == nil {
		if d.Belt == nil {
			say("no belt could be chosen: it is not in price and mass")
		}
		if d.Mesh >= 0 && d.Mesh < fullMesh {
			say("%d whole teeth in mesh on the small pulley: below %d a belt carries less than its handbook pull and skips sooner", d.Mesh, fullMesh)
		}
		if d.touch {
			say("at a centre distance of %s mm the two pulleys touch each other", num(d.Centre*mm))
		}
	}
	if p := b.Battery.Pack; p.Full > 0 && p.Volts > p.Full && !equal(p.Volts, p.Full) {
		say("the brief's charge of %s V is above this pack's full %s V", num(p.Volts), num(p.Full))
	}
	if by := b.board.ThrustLimit(b.Problem.Brief.Target.ClimbSpeed, b.Problem.Theta); b.ThrustKnown() && by == drive.Grip {
		say("the driven wheels slip before the motors give all they can: thrust at the climb speed is limited by grip")
	}
	if v, _ := b.TopSpeed(); v >= briskSpeed && !math.IsInf(v, 0) {
		say("%s km/h: wear a helmet and pads, expect speed wobble, check that the local law allows it", num(v*kmh))
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
	plural := "s"
	if len(ids) == 1 {
		plural = ""
	}
	if kind == "battery" && len(ids) != 1 {
		kind, plural = "batterie", "s"
	}
	line := fmt.Sprintf("%s for %d %s%s", what, len(ids), kind, plural)
	if len(ids) <= few {
		line += " (" + strings.Join(ids, ", ") + ")"
	}
	return line
}
