package outfit

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/constraints"
)

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

// fuse: is there a fuse that carries the pack's currents and guards cells and leads?
var fuse = Check{
	Name:    "fuse",
	Meaning: "the catalog has a fuse that carries the pack's currents and is rated for no more than cells and leads bear",
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
			return Finding{Outcome: atMost(f.Rated, rating.Most), Need: n}
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
			f.Says = said(SetBatteryCurrent, boundMost(limit/float64(n), "A"), given(limit, "A"), count(n))
		}
		if math.IsNaN(limit) {
			f.Says = said(NoSettings)
		}
		return f
	},
}
