package drive

import "math"

// Ride is what a ride asks of a board beside still air and a level road.
type Ride struct {
	Speed  float64 // m/s, above 0: the cruise speed, and that of stops
	Wind   float64 // m/s along the road, against the board and with it by turns
	Stops  float64 // per m
	Ascent float64 // m climbed per m, on slopes that the board is braked down
	Regen  float64 // share of the energy of stops and descents that comes back
}

// Ridden is what a ride takes.
type Ridden struct {
	Into, With     Cruise  // against the wind and with it
	Up             float64 // efficiency from the cells to the road while the speed rises; 0 where nothing stops or climbs
	Stops          float64 // J/m, of stops and ascent
	EnergyPerMetre float64 // J/m, all of it, the pack's inner loss included
}

// pickUp is the acceleration in m/s² at which the efficiency of gathering speed is
// taken: an assumption, an easy start.
const pickUp = 1

// Ride returns what a ride takes of a pack of open-circuit volts: the mean of
// cruising against the wind and with it, and
//
//	e = (n_s ½ m v² + m g h)(1/η_up − γ)
//
// of the stops and the ascent, η_up that at half the speed with 1 m/s². ok is false
// where the motor's resistance is not known or the pack cannot give the power.
// Whether the motors reach the speed and hold it against the wind is for TopSpeed
// and Thrust to tell.
func (b *Board) Ride(r Ride, volts float64) (out Ridden, ok bool) {
	if out.Into, ok = b.steady(r.Speed, b.windLoad(r.Speed+r.Wind), volts); !ok {
		return out, false
	}
	out.With = out.Into
	if r.Wind != 0 {
		if out.With, ok = b.steady(r.Speed, b.windLoad(r.Speed-r.Wind), volts); !ok {
			return out, false
		}
	}
	out.EnergyPerMetre = (out.Into.EnergyPerMetre + out.With.EnergyPerMetre) / 2
	kept := r.kept(b.Mass)
	if kept == 0 {
		return out, true
	}
	force := b.pickUpLoad(r.Speed / 2)
	up, ok := b.steady(r.Speed/2, force, volts)
	if !ok {
		return out, false
	}
	out.Up = force / up.EnergyPerMetre
	out.Stops = float64(kept * (1/out.Up - r.Regen))
	out.EnergyPerMetre += out.Stops
	return out, true
}

// kept is the energy in J/m that stops and ascent put into a mass in kg.
func (r *Ride) kept(mass float64) float64 {
	return float64(mass * (float64(r.Stops*r.Speed*r.Speed/2) + float64(Gravity*r.Ascent)))
}

// windLoad returns the force in newtons on the flat in a wind that meets the board
// at a speed in m/s, negative for one from behind.
func (b *Board) windLoad(air float64) float64 {
	return float64(b.weight()*b.Crr) + float64(b.drag()*air*math.Abs(air))
}

// pickUpLoad returns the force in newtons that gathering speed takes at a speed.
func (b *Board) pickUpLoad(v float64) float64 { return b.Load(v, 0) + float64(b.Mass*pickUp) }

// steady is Cruise under a force in newtons: at 0 and less the motors only idle.
func (b *Board) steady(v, force, volts float64) (c Cruise, ok bool) {
	if !(b.R > 0) {
		return Cruise{}, false
	}
	emf := b.K * v * b.Reduction / b.Radius
	c.MotorCurrent = b.MotorCurrentFor(max(0, force))
	c.Power = float64(b.Motors) * b.drawn(c.MotorCurrent, emf) / b.Controller.Efficiency
	// The lower root of R I² − volts I + P = 0.
	root := float64(volts*volts) - float64(4*b.Pack.Resistance*c.Power)
	if root < 0 {
		if !AtMost(float64(4*b.Pack.Resistance*c.Power), float64(volts*volts)) {
			return Cruise{}, false
		}
		root = 0
	}
	c.PackCurrent = 2 * c.Power / (volts + math.Sqrt(root))
	c.EnergyPerMetre = volts * c.PackCurrent / v
	return c, true
}
