package outfit

import (
	"fmt"
	"math"
	"strings"
)

// Cautions are what the builder should know beyond the checks, in a fixed
// order: whole sentences without a full stop.
func (o *Outfit) Cautions() []string {
	out := o.brakeCautions()
	for _, r := range o.Results() {
		if r.Caution && r.Fails() {
			out = append(out, r.Words)
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
		slopes = append(slopes, s.Words())
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
