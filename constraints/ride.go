package constraints

import (
	"math"

	"gearsearch/drive"
)

// Journey is what a ride asks of the build. Where the pack may not be charged,
// braking returns nothing; in the cold it returns less.
func (b *Build) Journey() drive.Ride {
	ride := b.Problem.Brief.Ride
	r := drive.Ride{
		Speed: b.Problem.Brief.Target.Cruise, Wind: ride.Wind, Stops: ride.Stops, Ascent: ride.Ascent,
		Regen: ride.Regen * b.Problem.Warmth,
	}
	if b.Battery.ChargeLimit() == 0 {
		r.Regen = 0
	}
	return r
}

// OutrunsCruise reports whether the top speed reaches the cruise speed: that of
// the best corner where it is not known and its estimate does not decide.
func (b *Build) OutrunsCruise() bool {
	top, sure := b.judgedTopSpeed()
	if !sure {
		top, _ = b.Best().TopSpeed()
	}
	return drive.AtLeast(top, b.Problem.Brief.Target.Cruise)
}

// HoldsWind reports whether the thrust holds the cruise speed against the brief's
// wind: that of the best corner where it is not known.
func (b *Build) HoldsWind() bool {
	wind, v := b.Problem.Brief.Ride.Wind, b.Problem.Brief.Target.Cruise
	if wind == 0 {
		return true
	}
	if !b.ThrustKnown() {
		b = b.Best()
	}
	return drive.AtLeast(math.Min(b.board.Thrust(v), b.board.GripThrust(0)), b.board.Load(v+wind, 0))
}

// Ridden is what the ride takes at nominal volts; ok is false where the winding
// resistance is not known and nothing stands in for it, the pack cannot give the
// power, the cruise speed is above the top speed, or the wind is too strong.
func (b *Build) Ridden() (r drive.Ridden, ok bool) {
	if b.done&haveRide == 0 {
		b.done |= haveRide
		b.ridden, b.rides = b.board.Ride(b.Journey(), b.Battery.Pack.Nominal)
	}
	return b.ridden, b.rides && b.OutrunsCruise() && b.HoldsWind()
}

// Consumption is the energy in J per metre of the ride, NaN where Ridden is not
// ok.
func (b *Build) Consumption() float64 {
	r, ok := b.Ridden()
	if !ok {
		return math.NaN()
	}
	return r.EnergyPerMetre * b.Problem.Brief.Limit.RideFactor
}

// Energy is what the pack holds when it is warm, J; NaN when its capacity is not
// known.
func (b *Build) Energy() float64 {
	if b.Battery.Pack.Capacity == 0 {
		return math.NaN()
	}
	return b.Battery.Pack.Capacity * 3600 * b.Battery.Pack.Nominal
}

// usable is what of it a ride may use, J.
func (b *Build) usable() float64 {
	return b.Energy() * b.Problem.Brief.Limit.Usable * b.Problem.Cold.Capacity
}

// Range is the distance in m that the usable energy gives; NaN when it is not
// known or the build cannot cruise.
func (b *Build) Range() float64 { return b.usable() / b.Consumption() }

// spare is the energy in J/m that is left for stops and ascent at the range asked
// for, and how much of it each J/m that they put into the board costs; NaN where that
// is not known.
func (b *Build) spare() (energy, per float64) {
	r, ok := b.Ridden()
	if !ok {
		return math.NaN(), math.NaN()
	}
	most := b.usable() / b.Problem.Brief.Target.Range / b.Problem.Brief.Limit.RideFactor
	return most - (r.EnergyPerMetre - r.Stops), 1/r.Up - b.Journey().Regen
}

// stopsReached and ascentReached are how many stops, and how many metres of ascent,
// per m the build has energy for: none where the pack cannot give the power to
// gather speed and the other asks for nothing.

func (b *Build) stopsReached() float64 {
	energy, per := b.spare()
	if math.IsNaN(energy) && b.Problem.Brief.Ride.Ascent == 0 {
		return 0
	}
	ride, v := b.Journey(), b.Problem.Brief.Target.Cruise
	stops := (energy/per/b.board.Mass - ride.Ascent*drive.Gravity) / (v * v / 2)
	return unless(stops, stops < 0)
}

func (b *Build) ascentReached() float64 {
	energy, per := b.spare()
	if math.IsNaN(energy) && b.Problem.Brief.Ride.Stops == 0 {
		return 0
	}
	ride, v := b.Journey(), b.Problem.Brief.Target.Cruise
	ascent := (energy/per/b.board.Mass - ride.Stops*v*v/2) / drive.Gravity
	return unless(ascent, ascent < 0)
}
