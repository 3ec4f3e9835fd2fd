package drive_test

import (
	"math"
	"testing"

	"gearsearch/drive"

	"pgregory.net/rapid"
)

// figures are everything that a Board computes, at a share of its top speed.
type figures struct {
	top, free, estimate, launch                    float64
	thrust, load, grip, climb                      float64
	current, cruiseAmps, cruisePower, cruiseEnergy float64
	erpm                                           float64
}

func allFigures(b *drive.Board, share float64) (f figures, by [2]drive.Limit) {
	f.top, by[0] = b.BalanceSpeed()
	v := share * f.top
	f.free = b.FreeSpeed(b.Pack.Volts)
	f.estimate, _ = b.EstimatedTopSpeed(0.85, math.Inf(1))
	f.launch, _ = b.LaunchTime(v, f.top)
	f.thrust, f.load, f.grip = b.Thrust(v), b.Load(v, 0.1), b.GripThrust(0.1)
	f.climb = b.ClimbLimit(v)
	f.current = b.MotorCurrentFor(f.load)
	c, _ := b.Cruise(v, b.Pack.Volts)
	f.cruiseAmps, f.cruisePower, f.cruiseEnergy = c.MotorCurrent, c.Power, c.EnergyPerMetre
	f.erpm = b.ERPMAt(v)
	by[1] = b.ThrustLimit(v, 0)
	return f, by
}

// Dimensions: the same board in other units. Gravity is fixed, so a unit of
// length λ goes with one of time √λ; units of mass μ and of current ι are free.
// Every figure must change by the units of its own dimension.
func TestDimensions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b, _ := movingBoard(t)
			share := rapid.Float64Range(0.05, 0.95).Draw(t, "share of the top speed")
			length := rapid.Float64Range(0.2, 5).Draw(t, "length")
			mass := rapid.Float64Range(0.2, 5).Draw(t, "mass")
			amps := rapid.Float64Range(0.2, 5).Draw(t, "current")
			speed := math.Sqrt(length) // and time
			force := mass
			watts := force * speed
			volts := watts / amps
			ohms := volts / amps

			m, c, p := b.Motor, b.Controller, b.Pack
			m.KV /= volts * speed
			m.Resistance *= ohms
			m.NoLoadCurrent *= amps
			m.PeakCurrent *= amps
			m.MaxPower *= watts
			c.MotorCurrent *= amps
			c.BatteryCurrent *= amps
			p.Volts *= volts
			p.Cutoff *= volts
			p.Resistance *= ohms
			p.Discharge *= amps
			e := drive.Couple(m, b.Motors, c, p, 20)
			other := b
			other.Electrical = &e
			other.Radius *= length
			other.Mass *= mass
			other.DragArea *= length * length
			other.AirDensity *= mass / (length * length * length)

			warm := drive.Couple(b.Motor, b.Motors, b.Controller, b.Pack, 20)
			b.Electrical = &warm
			if top, _ := b.BalanceSpeed(); top < 0.01*b.FreeSpeed(b.Pack.Volts) {
				continue // the winding was cooler
			}
			want, by := allFigures(&b, share)
			got, gotBy := allFigures(&other, share)
			near(t, "top speed", got.top, want.top*speed, 1e-10)
			near(t, "free speed", got.free, want.free*speed, 1e-12)
			near(t, "estimate", got.estimate, want.estimate*speed, 1e-12)
			near(t, "launch", got.launch, want.launch*speed, 1e-9)
			near(t, "thrust", got.thrust, want.thrust*force, 1e-9)
			near(t, "load", got.load, want.load*force, 1e-10)
			near(t, "grip", got.grip, want.grip*force, 1e-12)
			near(t, "climb", got.climb, want.climb, 1e-9)
			near(t, "motor current", got.current, want.current*amps, 1e-10)
			near(t, "cruise current", got.cruiseAmps, want.cruiseAmps*amps, 1e-10)
			near(t, "cruise power", got.cruisePower, want.cruisePower*watts, 1e-10)
			near(t, "cruise energy", got.cruiseEnergy, want.cruiseEnergy*force, 1e-8)
			near(t, "electrical rpm", got.erpm, want.erpm/speed, 1e-10)
			if gotBy != by {
				t.Fatalf("limits %v, were %v: %s", gotBy, by, describe(&b))
			}
		}
	})
}

// What must not make a board slower, nor take longer, each on its own.
func TestMonotonic(t *testing.T) {
	change := func(b *drive.Board, f func(b *drive.Board, m *drive.Motor, c *drive.Controller, p *drive.Pack) (celsius float64)) drive.Board {
		other, m, c, p := *b, b.Motor, b.Controller, b.Pack
		celsius := f(&other, &m, &c, &p)
		e := drive.Couple(m, b.Motors, c, p, celsius)
		other.Electrical = &e
		return other
	}
	better := map[string]func(b *drive.Board, m *drive.Motor, c *drive.Controller, p *drive.Pack) float64{
		"cooler winding": func(*drive.Board, *drive.Motor, *drive.Controller, *drive.Pack) float64 { return 10 },
		"less resistance": func(_ *drive.Board, m *drive.Motor, _ *drive.Controller, _ *drive.Pack) float64 {
			m.Resistance *= 0.9
			return 20
		},
		"less no-load current": func(_ *drive.Board, m *drive.Motor, _ *drive.Controller, _ *drive.Pack) float64 {
			m.NoLoadCurrent *= 0.9
			return 20
		},
		"more motor power": func(_ *drive.Board, m *drive.Motor, _ *drive.Controller, _ *drive.Pack) float64 {
			m.MaxPower *= 1.1
			return 20
		},
		"more motor current": func(_ *drive.Board, _ *drive.Motor, c *drive.Controller, _ *drive.Pack) float64 {
			c.MotorCurrent *= 1.1
			return 20
		},
		"more battery current": func(_ *drive.Board, _ *drive.Motor, c *drive.Controller, _ *drive.Pack) float64 {
			c.BatteryCurrent *= 1.1
			return 20
		},
		"stiffer pack": func(_ *drive.Board, _ *drive.Motor, _ *drive.Controller, p *drive.Pack) float64 {
			p.Resistance *= 0.9
			return 20
		},
		"lower cut-off": func(_ *drive.Board, _ *drive.Motor, _ *drive.Controller, p *drive.Pack) float64 {
			p.Cutoff *= 0.9
			return 20
		},
		"more volts": func(_ *drive.Board, _ *drive.Motor, _ *drive.Controller, p *drive.Pack) float64 {
			p.Volts *= 1.1
			return 20
		},
		"better drive": func(b *drive.Board, _ *drive.Motor, _ *drive.Controller, _ *drive.Pack) float64 {
			b.Efficiency = 1
			return 20
		},
		"better controller": func(_ *drive.Board, _ *drive.Motor, c *drive.Controller, _ *drive.Pack) float64 {
			c.Efficiency = 1
			return 20
		},
		"less drag": func(b *drive.Board, _ *drive.Motor, _ *drive.Controller, _ *drive.Pack) float64 {
			b.DragArea *= 0.9
			return 20
		},
		"less rolling drag": func(b *drive.Board, _ *drive.Motor, _ *drive.Controller, _ *drive.Pack) float64 {
			b.Crr *= 0.9
			return 20
		},
		"more grip": func(b *drive.Board, _ *drive.Motor, _ *drive.Controller, _ *drive.Pack) float64 {
			b.Hold = holding(b.Hold.Drive * 1.1)
			return 20
		},
		"settings not in phase": func(_ *drive.Board, _ *drive.Motor, c *drive.Controller, _ *drive.Pack) float64 {
			c.Commutation = drive.SixStep
			return 20
		},
	}
	const slack = 1 + 1e-9
	rapid.Check(t, func(t *rapid.T) {
		drawn, _ := movingBoard(t)
		b := change(&drawn, func(*drive.Board, *drive.Motor, *drive.Controller, *drive.Pack) float64 { return 20 })
		top, _ := b.BalanceSpeed()
		if top == 0 {
			return
		}
		v := 0.7 * top
		launch, _ := b.LaunchTime(v, top)
		for name, f := range better {
			other := change(&b, f)
			faster, _ := other.BalanceSpeed()
			sooner, ok := other.LaunchTime(v, faster)
			if faster*slack < top || !ok || sooner > launch*slack {
				t.Fatalf("%s: top speed %g was %g, launch %g was %g: %s", name, faster, top, sooner, launch, describe(&b))
			}
			if other.ClimbLimit(v)*slack+1e-12 < b.ClimbLimit(v) {
				t.Fatalf("%s: climbs %g, was %g: %s", name, other.ClimbLimit(v), b.ClimbLimit(v), describe(&b))
			}
		}
	})
}

func TestThrustFallsAndLoadRisesWithSpeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b, top := movingBoard(t)
			lastThrust, lastLoad, lastClimb, lastLaunch := math.Inf(1), 0.0, math.Inf(1), -1.0
			for i := range 12 {
				v := top * float64(i) / 10
				thrust, load, climb := b.Thrust(v), b.Load(v, 0), b.ClimbLimit(v)
				if thrust > lastThrust*(1+1e-12) || load < lastLoad || climb > lastClimb*(1+1e-9)+1e-12 {
					t.Fatalf("at %g m/s: thrust %g after %g, load %g after %g, climbs %g after %g: %s",
						v, thrust, lastThrust, load, lastLoad, climb, lastClimb, describe(&b))
				}
				lastThrust, lastLoad, lastClimb = thrust, load, climb
				if i >= 10 {
					continue
				}
				seconds, ok := b.LaunchTime(v, top)
				if !ok || seconds <= lastLaunch {
					t.Fatalf("launch to %g m/s takes %g s, %v, after %g s: %s", v, seconds, ok, lastLaunch, describe(&b))
				}
				lastLaunch = seconds
			}
			if top > b.FreeSpeed(b.Pack.Volts)*(1+1e-12) {
				t.Fatalf("top speed %g above the free speed %g: %s", top, b.FreeSpeed(b.Pack.Volts), describe(&b))
			}
		}
	})
}

// Two boards side by side are one of twice the mass, motors and pack.
func TestTwoBoardsAreOneOfTwice(t *testing.T) {
	one := street()
	p := one.Pack
	p.Resistance /= 2
	p.Discharge *= 2
	e := drive.Couple(one.Motor, 4, one.Controller, p, 60)
	two := one
	two.Electrical = &e
	two.Mass *= 2
	two.DragArea *= 2
	want, by := allFigures(&one, 0.8)
	got, gotBy := allFigures(&two, 0.8)
	near(t, "top speed", got.top, want.top, 1e-12)
	near(t, "launch", got.launch, want.launch, 1e-10)
	near(t, "thrust", got.thrust, 2*want.thrust, 1e-12)
	near(t, "climb", got.climb, want.climb, 1e-12)
	near(t, "motor current", got.current, want.current, 1e-12)
	near(t, "cruise energy", got.cruiseEnergy, 2*want.cruiseEnergy, 1e-12)
	if gotBy != by {
		t.Errorf("limits %v, want %v", gotBy, by)
	}
}
