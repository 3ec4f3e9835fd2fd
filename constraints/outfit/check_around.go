package outfit

import (
	"fmt"
	"math"
	"strings"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

// Says tells how the need stands: which part does, or why none does.
func (n *Need) Says() string {
	switch n.State {
	case Chosen:
		return n.Part.ID + " does"
	case Open:
		return n.open()
	case Missing:
		if n.Kind == "" {
			return "look for " + n.Words
		}
		return "the catalog has none: look for " + n.Words
	}
	const few = 3
	var why []string
	left := 0
	for _, t := range n.Turned {
		switch {
		case !t.Unsure && n.State != Misfit:
		case len(why) < few:
			why = append(why, t.ID+": "+t.Why)
		default:
			left++
		}
	}
	if left > 0 {
		why = append(why, fmt.Sprintf("and %d more", left))
	}
	if n.State == Unsure {
		return "may do: " + strings.Join(why, "; ")
	}
	if why == nil {
		return n.Words
	}
	return "none in the catalog will do (" + strings.Join(why, "; ") + "): look for " + n.Words
}

// bms: is there a protection board for this pack?
var bms = Check{
	Name:    "bms",
	Meaning: "the catalog has a protection board for the pack's number of cells in series and its currents",
	PerSI:   1,
	Source:  sourceBMS,
	Needs:   append(demandedOf("bms"), chargeNeeds()...),
	Applies: always,
	Test:    ofNeed("bms"),
}

// mainSwitch: is there a main switch that bears the pack's volts and currents?
var mainSwitch = Check{
	Name:    "switch",
	Meaning: "the catalog has a pre-charging main switch for the full pack's volts and its currents",
	PerSI:   1,
	Source:  sourceSwitch,
	Needs:   demandedOf("switch"),
	Applies: always,
	Test:    ofNeed("switch"),
}

// fuse: is there a fuse above the peak current and below what it guards?
var fuse = Check{
	Name:    "fuse",
	Meaning: "the catalog has a fuse rated between the peak pack current and what cells and leads bear",
	Unit:    "A",
	PerSI:   1,
	Source:  sourceFuse,
	Needs:   append(demandedOf("fuse"), dischargeNeeds()...),
	Applies: always,
	Test: func(o *Outfit) Finding {
		n := o.Need("fuse", "")
		rating := n.Demands[0]
		if n.Part != nil {
			f, _ := catalog.ByID(o.Build.Problem.Catalog.Fuses, n.Part.ID)
			return Finding{atMost(f.Rated, rating.Most), n.Says()}
		}
		found := o.finding(n)
		found.Limit = rating.Most
		return found
	},
}

// charger: is there a charger for this pack?
var charger = Check{
	Name:    "charger",
	Meaning: "the catalog has a charger that ends at the full pack's volts, within its charge limit",
	PerSI:   1,
	Source:  sourceCharger,
	Needs:   chargeNeeds(),
	Applies: always,
	Test:    ofNeed("charger"),
}

// box: do the cells fit in a box?
var box = Check{
	Name:    "box",
	Meaning: "the pack's cells fit in a box of the catalog with the room wished round them",
	PerSI:   1,
	Source:  sourceBox,
	Needs: []constraints.Need{
		{Kind: "cell", Key: "diameter_mm", Of: constraints.MadeIntoPacks},
		{Kind: "cell", Key: "length_mm", Of: constraints.MadeIntoPacks},
	},
	Applies: always,
	Test:    ofNeed("box"),
}

// packCurrent: do the controllers ask more of the pack than it gives?
var packCurrent = Check{
	Name:    "pack-current",
	Meaning: "the battery currents that the controllers are set to, all motors together, are within the pack's discharge limit",
	Unit:    "A",
	PerSI:   1,
	Source:  sourcePeak,
	Needs:   append(dischargeNeeds(), constraints.Need{Kind: "controller", Key: "battery_current_a"}),
	Applies: always,
	Test: func(o *Outfit) Finding {
		n, limit := o.Build.Motors(), o.Build.Battery.DischargeLimit()
		out := atMost(settings(o.Build), limit)
		f := Finding{Outcome: out}
		if out.Verdict != constraints.Pass && !math.IsNaN(limit) {
			f.Words = fmt.Sprintf("set the battery current of each motor to at most %s A: the pack bears %s A for %d of them", down(limit/float64(n)), num(limit), n)
			if n == 1 {
				f.Words = fmt.Sprintf("set the battery current to at most %s A, which the pack bears", down(limit))
			}
		}
		if math.IsNaN(limit) {
			f.Words = "the pack's discharge_a is not known: nor is what the controllers may be set to"
		}
		return f
	},
}

// sensor: do the motors have the sensors that are asked for?
var sensor = Check{
	Name:    "sensor",
	Meaning: "the motors have rotor position sensors, as is asked for",
	PerSI:   1,
	Source:  "by definition; that a motor without sensors starts badly under load is common practice, no published source",
	Needs:   []constraints.Need{{Kind: "motor", Key: "sensored"}},
	Applies: func(o *Outfit) bool { return o.Wishes.Sensored },
	Test: func(o *Outfit) Finding {
		switch s := o.Build.Motor.Sensored; {
		case s == nil:
			return Finding{yesNo(constraints.Undecided), "motor " + o.Build.Motor.ID + " does not say whether it is sensored"}
		case *s:
			return Finding{Outcome: yesNo(constraints.Pass)}
		}
		return Finding{yesNo(constraints.Fail), "motor " + o.Build.Motor.ID + " has no sensors: it jerks when it starts from rest under load"}
	},
}
