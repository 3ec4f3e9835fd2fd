package outfit

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/drive"
)

// Cautions are what the builder should know beyond the checks, in a fixed
// order: whole sentences without a full stop.
func (o *Outfit) Cautions() []string {
	out := o.brakeCautions()
	for _, r := range o.Results() {
		if r.Caution && r.Fails() {
			out = append(out, r.words())
		}
	}
	if o.Build.Battery.Cell != nil {
		out = append(out, "building a pack: cells are never without volts, and one wrong strip or a torn wrap is a fire; it is work for trained hands")
	}
	out = append(out,
		"the fuse sits at the pack's positive pole, before anything else: what lies between pole and fuse is not guarded",
		"charge under your eyes, on ground that does not burn, with a charger made for this pack; never a pack that is hot, wet or hurt",
	)
	return out
}

// brakeCautions are those about braking.
func (o *Outfit) brakeCautions() []string {
	var out []string
	d, u := o.Downhill, o.Wishes.Units
	var slopes []string
	for _, s := range d.Slopes {
		slopes = append(slopes, s.words())
	}
	out = append(out, fmt.Sprintf("the steepest slope down which the motors hold %s: %s", u.speed(d.Speed), strings.Join(slopes, ", ")))
	out = append(out, "a full pack cannot brake downhill: start a long descent with room in the pack, and carry a brake that needs no pack")
	if !math.IsNaN(d.Regen) {
		out = append(out, fmt.Sprintf("set the current with which each motor may charge the pack to at most %s A: the cells bear no more", down(d.Regen)))
	}
	if v := math.Min(orElse(d.CeilingSpeed, math.Inf(1)), d.BackEMFSpeed); v == d.CeilingSpeed {
		out = append(out, fmt.Sprintf("above %s, downhill too, the electrical rpm passes the controllers' ceiling and they may let go", u.speed(v)))
	} else {
		out = append(out, fmt.Sprintf("above %s downhill the motors charge even a full pack, and no setting stops them", u.speed(v)))
	}
	return append(out, "in some places a board must have two brakes that do not depend on each other: ask what your local law says")
}

// words says what the slope is and why.
func (s Slope) words() string {
	charge := "at " + num(s.Charge*percent) + " % charge"
	if s.Charge == 1 {
		charge = "with a full pack"
	}
	grade := down(s.Grade*percent) + " %"
	switch {
	case s.Open != "":
		grade = "unknown"
	case math.IsInf(s.Grade, 1):
		grade = "any"
	case s.Grade*percent < 0.1:
		grade = "none"
	}
	return fmt.Sprintf("%s %s (%s)", grade, charge, s.why())
}

func (s Slope) why() string {
	switch {
	case s.Open == NoCharge:
		return "the pack's charge_a is not known"
	case s.Open == NoPackResistance:
		return "the pack's resistance is not known"
	case s.Open == NoResistance:
		return "the motors' resistance is not known"
	case s.Open == NoMotorLimit:
		return "no limit of the motors' current is known"
	case s.By == drive.MotorCurrent:
		return "the motors give no more"
	case s.By == drive.Grip:
		return "the driven wheels grip no more"
	case s.Intake.Current == 0:
		return "the pack takes no current"
	case s.Intake.Full:
		return "at " + num(s.Intake.Current) + " A its volts are those of the full pack"
	}
	return "the cells may be charged with " + num(s.Intake.Current) + " A"
}

// words says what a check found that is a caution.
func (r Result) words() string {
	q := func(i int) string { return num(r.Says.Quantities[i].SI) }
	switch r.Says.Code {
	case BendsSharply:
		return fmt.Sprintf("a pulley of %s teeth bends the %s belt more sharply than the handbook's %s at %s rpm: the belt wears out sooner",
			q(0), r.Says.Names[0], q(1), q(2))
	case PulleysShare, GearsShare:
		what := map[Code]string{PulleysShare: "pulleys", GearsShare: "gears"}[r.Says.Code]
		return fmt.Sprintf("%s of %s and %s teeth share the divisor %s: each tooth meets only one in %s of the other, where a flaw of it wears sooner",
			what, q(0), q(1), q(2), q(2))
	}
	return ""
}
