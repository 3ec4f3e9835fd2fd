package constraints

import (
	"math"

	"gearsearch/drive"
)

// sourceRoute is where the figures of a route come from.
const sourceRoute = "quasi-steady balance of forces, leg by leg; open-circuit volts as for stops; heat as on the climb"

// routeFigures are the figures of the brief's way to ride, as far as the board comes.
func routeFigures() []Figure {
	at := func(f Figure, value func(p *Problem, t drive.Travelled) float64) Figure {
		f.routed, f.Corners, f.Source = true, true, sourceRoute
		f.Value, f.Easier = travelled(value)
		f.absent = append(f.absent, noRoute)
		return f
	}
	whole := func(value func(t drive.Travelled) float64) func(*Problem, drive.Travelled) float64 {
		return func(_ *Problem, t drive.Travelled) float64 { return value(t) }
	}
	unheld := at(Figure{
		Name: "route_unheld_m", Label: "route unheld", Unit: "m", Meaning: "of the route, downhill where the motors alone do not hold the wanted speed", Better: Lesser,
		Formula: "Σ length where B < −F, B the least of κ_b m g cos θ, n k N I / (r η) and A (V_x + A R_p) / (η_c η v)", Put: putRouteUnheld,
	}, unheldMetres)
	unheld.Value, unheld.Easier = unheldLong, shortest(unheldShort)
	return []Figure{
		at(Figure{
			Name: "route_km", Label: "route", Unit: "km", Meaning: "of the route, as far as the board comes", Better: Greater,
			Formula: "Σ length", Put: putRouteKm,
		}, whole(func(t drive.Travelled) float64 { return t.Metres * km })),
		at(Figure{
			Name: "route_min", Label: "route time", Unit: "min", Meaning: "riding time on the route, without the time at stops", Better: Lesser,
			Formula: "Σ length / v", Put: putRouteMin,
		}, whole(func(t drive.Travelled) float64 { return t.Seconds / 60 })),
		at(Figure{
			Name: "route_wh", Label: "route energy", Unit: "Wh", Meaning: "energy that the route takes of the cells, what flows back taken off", Better: Lesser,
			Formula: "Σ V I_b t + Σ ½ m v² (1/η_up − γ) of stops", Put: putRouteWh,
		}, whole(func(t drive.Travelled) float64 { return t.Energy * wh })),
		at(Figure{
			Name: "route_left_pct", Label: "left after the route", Unit: "%", Meaning: "of the usable charge, left at the end of the route", Better: Greater,
			absent:  []absence{noEnd},
			Formula: "(x − (1 − usable)) / usable, x = start − Σ I_b t / (C c_T) − Σ E / (V C c_T) of stops", Put: putRouteLeft,
		}, func(p *Problem, t drive.Travelled) float64 { return p.chargeLeft(t) * percent }),
		at(Figure{
			Name: "route_winding_c", Label: "winding on the route", Unit: "°C", Meaning: "hottest that the windings get on the route, good to ± 40 % of its rise", Better: Lesser,
			Formula: "the hottest T(t) = T(0) + [m + d (A − ½(a₁₁ + a₂₂))] T′(0), leg by leg", Put: putRouteWinding,
		}, whole(func(t drive.Travelled) float64 { return t.Winding })),
		at(Figure{
			Name: "route_low_v", Label: "lowest volts", Unit: "V", Meaning: "lowest volts of the pack under load on the route", Better: Greater,
			absent:  []absence{noEnd},
			Formula: "the lowest V_x − R_p I_b", Put: putRouteLow,
		}, whole(func(t drive.Travelled) float64 { return finite(t.LowVolts) })),
		unheld,
	}
}

// shortest is a figure of the best corner, NaN where it is not known.
func shortest(value func(b *Build) float64) func(b *Build) float64 {
	return func(b *Build) float64 { return finite(value(b)) }
}

// onRoute puts numbers in where the way is ridden, or says what is lacking.
func onRoute(put func(b *Build, t drive.Travelled) Numbers) func(b *Build) Numbers {
	return func(b *Build) Numbers {
		t, ok := b.Travelled()
		switch {
		case ok:
			return put(b, t)
		case !b.Problem.HasRoute():
			return Lack(NoRoute)
		case b.Battery.Pack.Capacity == 0:
			return Lack(NoCapacity)
		case b.Battery.Pack.Cutoff == 0:
			return Lack(NoCutoff)
		}
		return b.thrustGap()
	}
}

// stalledAt notes where a ride ends.
func stalledAt(n Numbers, t drive.Travelled) Numbers {
	if t.Stalled {
		return n.With(StallsAt, Quantity{SI: t.Metres, PerSI: km, Unit: "km", Digits: FourDigits})
	}
	return n
}

var putRouteKm = onRoute(func(b *Build, t drive.Travelled) Numbers {
	return stalledAt(Put("%s km of %s km in %d legs", num(t.Metres*km), num(b.Problem.trip.way.Length()*km), len(b.Problem.trip.legs)), t)
})

var putRouteMin = onRoute(func(_ *Build, t drive.Travelled) Numbers {
	return stalledAt(Put("%s km / %s km/h on average = %s min", num(t.Metres*km), num(t.Metres/t.Seconds*kmh), num(t.Seconds/60)), t)
})

var putRouteWh = onRoute(func(_ *Build, t drive.Travelled) Numbers {
	return stalledAt(Put("%s Wh over %s km = %s Wh/km", num(t.Energy*wh), num(t.Metres*km), num(t.Energy*wh/(t.Metres*km))), t)
})

var putRouteLeft = onRoute(func(b *Build, t drive.Travelled) Numbers {
	if t.Stalled {
		return stalledAt(Numbers{}, t)
	}
	usable := b.Problem.Brief.Limit.Usable
	return Put("(%s − (1 − %s)) / %s, %s at the start", num(t.Charge), num(usable), num(usable), num(b.Problem.Brief.Ride.Start))
})

var putRouteWinding = onRoute(func(b *Build, t drive.Travelled) Numbers {
	if math.IsNaN(t.Winding) {
		return Lack(NoThermal)
	}
	return stalledAt(Put("%s °C around at the start, %s °C at the hottest", num(b.Problem.Air()), num(t.Winding)).With(GoodToFortyPercent), t)
})

var putRouteLow = onRoute(func(b *Build, t drive.Travelled) Numbers {
	if math.IsInf(t.LowVolts, 1) {
		return stalledAt(Numbers{}, t)
	}
	return stalledAt(Put("%s V, cut-off at %s V", num(t.LowVolts), num(b.Battery.Pack.Cutoff)), t)
})

var putRouteUnheld = onRoute(func(b *Build, t drive.Travelled) Numbers {
	if math.IsNaN(t.Unheld) {
		return Lack(NoIntake)
	}
	return stalledAt(Put("%s m", num(unheldLong(b))), t)
})
