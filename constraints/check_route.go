package constraints

import (
	"math"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// unheldMost is the length in m of a way on which the motors need not hold the wanted
// speed: one leg, that a rider brakes down on foot. An assumption.
const unheldMost = 25

// routeNeeds are the keys without which no way is ridden.
func routeNeeds() []Need {
	return append(thrustNeeds(),
		Need{Kind: "battery", Key: "capacity_ah", Of: WithoutCell},
		Need{Kind: "battery", Key: "cutoff_v", Of: WithoutCell})
}

// routeCheck: does the board come home?
var routeCheck = Check{
	Name:    "route",
	Subject: "charge after the route",
	Figure:  "route_left_pct",
	Meaning: "the board climbs all of the route, and the charge that is left at its end is at least the reserve",
	Unit:    "%",
	PerSI:   percent,
	Lower:   true,
	Scope:   on(OnAll),
	Applies: (*Problem).HasRoute,
	Lists:   anyDrive,
	Needs:   routeNeeds(),
	Corners: true,
	Decide: travelledDecides(func(p *Problem, t drive.Travelled, ok bool) Outcome {
		limit := p.Brief.Limit.Reserve
		if ok && t.Stalled {
			return Outcome{Verdict: Fail, Value: math.NaN(), Limit: limit}
		}
		return atLeast(unless(p.chargeLeft(t), !ok), limit)
	}),
	Sure:  func(b *Build) (Verdict, bool) { return b.sure().route() },
	Least: func(b *Build) float64 { return b.sure().missing(b.Problem) },
	Tuned: TunesAll,
	Eased: []Easing{{Key: "limit.reserve_pct", At: leftBest, Strictly: leftWorst, Floor: &routeHomeCheck}, routeCruise},
}

// routeCruise: on a slower ride the air takes less, but the motors idle for longer and
// the wind cools them less. Either may tell.
var routeCruise = Easing{Key: "target.cruise_kmh", Try: Untried}

// routeHomeCheck is routeCheck without a reserve.
var routeHomeCheck = Check{
	Name: "route-home", Meaning: "the board climbs all of the route, and its charge lasts", Unit: "%", PerSI: percent, Lower: true,
	Scope: on(OnAll), Applies: (*Problem).HasRoute, Lists: anyDrive, Corners: true,
	Decide: travelledDecides(func(p *Problem, t drive.Travelled, ok bool) Outcome {
		if ok && t.Stalled {
			return Outcome{Verdict: Fail, Value: math.NaN()}
		}
		return atLeast(unless(p.chargeLeft(t), !ok), 0)
	}),
}

var leftWorst, leftBest = travelled((*Problem).chargeLeft)

// routeHeatCheck: do the windings bear it?
var routeHeatCheck = Check{
	Name:    "route-heat",
	Subject: "windings on the route",
	Figure:  "route_winding_c",
	Meaning: "the windings stay below their greatest temperature all along the route",
	Unit:    "°C",
	PerSI:   1,
	Scope:   on(OnAll),
	Applies: (*Problem).HasRoute,
	Lists:   anyDrive,
	Needs:   append(routeNeeds(), Need{Kind: "motor", Key: "mass_g", Of: withoutCan}),
	Corners: true,
	Decide: travelledDecides(func(p *Problem, t drive.Travelled, ok bool) Outcome {
		o := atMost(unless(t.Winding, !ok), p.Brief.Limit.WindingMax)
		o.Base = p.Air()
		return o
	}),
	Sure:  func(b *Build) (Verdict, bool) { return b.sure().heat() },
	Tuned: TunesAll,
	Eased: []Easing{{Key: "limit.winding_max_c", At: hottestBest, Strictly: hottestWorst, Floor: &routeHotCheck}, routeCruise},
}

// routeHotCheck is routeHeatCheck where the windings may be as hot as they like.
var routeHotCheck = Check{
	Name: "route-hot", Meaning: "the windings on the route are known", Unit: "°C", PerSI: 1,
	Scope: on(OnAll), Applies: (*Problem).HasRoute, Lists: anyDrive, Corners: true,
	Decide: travelledDecides(func(_ *Problem, t drive.Travelled, ok bool) Outcome {
		return atMost(unless(t.Winding, !ok), drive.HottestKnown)
	}),
}

var hottestWorst, hottestBest = travelled(func(_ *Problem, t drive.Travelled) float64 { return t.Winding })

// routeBrakesCheck: do the motors hold the board down the hills?
var routeBrakesCheck = Check{
	Name:    "route-brakes",
	Subject: "downhill without brakes",
	Figure:  "route_unheld_m",
	Meaning: "the motors hold the wanted speed down all slopes of the route but 25 m",
	Unit:    "m",
	PerSI:   1,
	Scope:   on(OnAll),
	Applies: (*Problem).HasRoute,
	Lists:   anyDrive,
	Needs: append(routeNeeds(),
		Need{Kind: "cell", Key: "charge_a", Of: GoesByCell(func(b *catalog.Battery) float64 { return b.Charge })},
		Need{Kind: "battery", Key: "charge_a", Of: WithoutCell}),
	Corners: true,
	Decide: func(b *Build) Outcome {
		long, short := unheldLong(b), unheldShort(b)
		o := undecided(orElse(long, short), unheldMost)
		switch {
		case short > unheldMost && !drive.AtMost(short, unheldMost):
			o.Verdict = Fail
		case drive.AtMost(long, unheldMost):
			o.Verdict = Pass
		}
		return o
	},
	Sure:  func(b *Build) (Verdict, bool) { return b.sure().brakes() },
	Tuned: TunesAll,
	Eased: []Easing{routeCruise},
}

// travelledDecides makes Check.Decide of what a check says of the way as one corner rides
// it; ok is false where that is not known.
func travelledDecides(say func(p *Problem, t drive.Travelled, ok bool) Outcome) func(b *Build) Outcome {
	return func(b *Build) Outcome {
		t, ok := b.Travelled()
		shown := say(b.Problem, t, ok)
		t, ok = b.BestTravelled()
		return shown.between(say(b.Problem, t, ok), false)
	}
}
