package drive_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gearsearch/drive"
)

// anyRide draws a ride of a board, at a speed that its pack can give.
func anyRide(t *rapid.T, b *drive.Board) drive.Ride {
	real := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	return drive.Ride{
		Speed: real(0.1, 0.7, "share of the free speed") * b.FreeSpeed(b.Pack.Volts), Wind: orZero(t, 0.5, 20, "wind"),
		Stops: orZero(t, 1e-4, 0.05, "stops"), Ascent: orZero(t, 1e-3, 0.2, "ascent"), Regen: real(0, 1, "regen"),
	}
}

// TestRideByHand: 80 kg without losses but for 10 % in the drive, at 5 m/s, with two
// stops a kilometre: 2 kJ/km of motion at 90 %, 40 % of it back.
func TestRideByHand(t *testing.T) {
	b := lossless(40)
	e := drive.Couple(drive.Motor{KV: b.Motor.KV, PolePairs: 7, Resistance: drive.Lossless}, 2, b.Controller, drive.Pack{Volts: 36}, 20)
	b.Electrical, b.Efficiency = &e, 0.9
	r := drive.Ride{Speed: 5, Stops: 0.002, Regen: 0.4}
	got, ok := b.Ride(r, 36)
	if !ok {
		t.Fatal("no ride")
	}
	near(t, "efficiency of gathering speed", got.Up, 0.9, 1e-9)
	near(t, "stops", got.Stops, 2*(1/0.9-0.4), 1e-9)
	near(t, "all", got.EnergyPerMetre, 2*(1/0.9-0.4), 1e-9)
	// 10 m climbed a kilometre: 80 g × 0.01 = 7.845 J/m more.
	r.Ascent = 0.01
	got, _ = b.Ride(r, 36)
	near(t, "with ascent", got.Stops, (2+80*drive.Gravity*0.01)*(1/0.9-0.4), 1e-9)
	// Drag of ½ × 1.2 × 0.5 = 0.3 kg/m: 0.3 (8² + 2²)/2 against and with 3 m/s.
	b.DragArea, b.AirDensity = 0.5, 1.2
	got, _ = b.Ride(drive.Ride{Speed: 5, Wind: 3}, 36)
	near(t, "wind", got.EnergyPerMetre, 0.3*(64+4)/2/0.9, 1e-9)
	// A wind of 7 m/s from behind pushes: nothing is taken, and nothing comes back.
	got, _ = b.Ride(drive.Ride{Speed: 5, Wind: 7}, 36)
	near(t, "a wind faster than the board", got.EnergyPerMetre, 0.3*144/2/0.9, 1e-9)
	if got.With.MotorCurrent != 0 {
		t.Errorf("pushed by the wind the motors take %g A", got.With.MotorCurrent)
	}
	weak := drive.Couple(b.Motor, 2, b.Controller, drive.Pack{Volts: 36, Resistance: 10}, 20)
	b.Electrical = &weak
	if _, ok := b.Ride(drive.Ride{Speed: 5, Wind: 7}, 36); ok {
		t.Error("36 V behind 10 Ω give 32.4 W, and the ride takes 240")
	}
}

// TestRideBalancesEnergy: what the cells give while cruising and while gathering
// speed is what the road takes and what is lost in drive, no load, copper,
// controllers and pack.
func TestRideBalancesEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			r := anyRide(t, &b)
			got, ok := b.Ride(r, b.Pack.Volts)
			if !ok {
				continue
			}
			given := func(v, force float64) float64 { // W of the cells
				n, omega, k := float64(b.Motors), v*b.Reduction/b.Radius, 60/(2*math.Pi*b.Motor.KV)
				amps := max(0, force)/(n*k*b.Efficiency*b.Reduction/b.Radius) + b.NoLoad
				electrical := n * (max(0, force)*v/(n*b.Efficiency) + k*b.NoLoad*omega + amps*amps*b.R) / b.Controller.Efficiency
				// The pack's current by steps: V I = P + R I².
				current := electrical / b.Pack.Volts
				for range 10_000 {
					next := (electrical + b.Pack.Resistance*current*current) / b.Pack.Volts
					if math.Abs(next-current) <= 1e-15*next {
						break
					}
					current = next
				}
				return b.Pack.Volts * current
			}
			rolling, drag := b.Mass*drive.Gravity*b.Crr, b.AirDensity*b.DragArea/2
			into, with := r.Speed+r.Wind, r.Speed-r.Wind
			want := (given(r.Speed, rolling+drag*into*into) + given(r.Speed, rolling+drag*with*math.Abs(with))) / (2 * r.Speed)
			force := rolling + drag*r.Speed*r.Speed/4 + b.Mass
			put := b.Mass * (r.Stops*r.Speed*r.Speed/2 + drive.Gravity*r.Ascent)
			want += put * (given(r.Speed/2, force)/(force*r.Speed/2) - r.Regen)
			near(t, "energy", got.EnergyPerMetre, want, 1e-6)
		}
	})
}

// TestRideClosesItsBalance: against the wind, with it and while it gathers speed, what
// the cells give is the road's, and the losses of pack, controllers, copper, no load
// and drive, each by its own definition; and the ride is made of those three.
func TestRideClosesItsBalance(t *testing.T) {
	stopped := 0
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			r := anyRide(t, &b)
			got, ok := b.Ride(r, b.Pack.Volts)
			if !ok {
				continue
			}
			rolling, drag := b.Mass*drive.Gravity*b.Crr, b.AirDensity*b.DragArea/2
			into, with := r.Speed+r.Wind, r.Speed-r.Wind
			closes := func(what string, v float64, c drive.Cruise, force float64) (given float64) {
				given, taken := losses(&b, v, c.MotorCurrent, c.PackCurrent, max(0, force))
				near(t, what, taken, given, 1e-9)
				return given
			}
			want := (closes("into the wind", r.Speed, got.Into, rolling+drag*into*into) +
				closes("with the wind", r.Speed, got.With, rolling+drag*with*math.Abs(with))) / (2 * r.Speed)
			if r.Stops > 0 || r.Ascent > 0 {
				stopped++
				// The same force at the same speed, all of it rolling resistance.
				force, v := rolling+drag*r.Speed*r.Speed/4+b.Mass, r.Speed/2
				rising := b
				rising.Crr, rising.DragArea = force/(b.Mass*drive.Gravity), 0
				c, ok := rising.Cruise(v, b.Pack.Volts)
				if !ok {
					t.Fatalf("a ride gathers speed and a cruise under that force is none: %+v, %s", r, describe(&b))
				}
				given := closes("while the speed rises", v, c, force)
				near(t, "efficiency of gathering speed", got.Up, force*v/given, 1e-9)
				kinetic, potential := b.Mass*r.Speed*r.Speed/2*r.Stops, b.Mass*drive.Gravity*r.Ascent
				// What the wheels put in, and the losses of that, less what comes back.
				want += (kinetic+potential)*given/(force*v) - r.Regen*(kinetic+potential)
			}
			near(t, "all of the ride", got.EnergyPerMetre, want, 1e-9)
		}
	})
	if !testing.Short() && stopped < 500 {
		t.Errorf("only %d rides had stops or climbed", stopped)
	}
}

// TestRideWindow: inside the window a ride takes no more than it may, outside more.
func TestRideWindow(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range perCheck {
			b := anyBoard(t)
			r := anyRide(t, &b)
			most := rapid.Float64Range(5, 400).Draw(t, "most")
			energy := func(turn float64) float64 {
				c := b
				c.Reduction, c.Radius = turn, 1
				got, ok := c.Ride(r, b.Pack.Volts)
				if !ok {
					return math.Inf(1)
				}
				return got.EnergyPerMetre
			}
			rolling, drag := b.Mass*drive.Gravity*b.Crr, b.AirDensity*b.DragArea/2
			into, with := r.Speed+r.Wind, r.Speed-r.Wind
			put := b.Mass * (r.Stops*r.Speed*r.Speed/2 + drive.Gravity*r.Ascent)
			up := rolling + drag*r.Speed*r.Speed/4 + b.Mass
			greatest := orZero(t, 10, 300, "greatest")
			w := b.RideWindow(r.Speed, b.Pack.Volts, drive.RideDemand{
				Into: rolling + drag*into*into, With: rolling + drag*with*math.Abs(with), Up: up, PerUp: put / up,
				Efficiency: b.Efficiency, Most: most + put*r.Regen, Greatest: greatest,
			})
			if w.Empty() {
				seen["empty"]++
			} else {
				seen["some"]++
			}
			for range 4 {
				turn := math.Exp(rapid.Float64Range(math.Log(2), math.Log(400)).Draw(t, "log turn"))
				if greatest > 0 && turn > greatest {
					continue
				}
				got := energy(turn)
				inside := turn >= w.Low && turn <= w.High
				if math.Abs(got-most) > 1e-7*most && inside != (got < most) {
					t.Fatalf("turn %g in [%g, %g]: %v, and %g of %g J/m: %+v, %s", turn, w.Low, w.High, inside, got, most, r, describe(&b))
				}
			}
		}
	})
	if !testing.Short() && (seen["empty"] < 100 || seen["some"] < 100) {
		t.Errorf("windows seen: %v", seen)
	}
}

// TestRideWindowOfAStrainedPack: starting takes nearly all that a weak pack can give
// at every gearing of the window, so that where it takes less the ride takes more
// than it may, and more the higher the gearing.
func TestRideWindowOfAStrainedPack(t *testing.T) {
	pack := drive.Pack{Volts: 32.4, Nominal: 32.4, Full: 37.8, Cutoff: 27, Resistance: 0.485, Capacity: 3}
	motor := drive.Motor{KV: 190, PolePairs: 7, Resistance: 0.06, NoLoadCurrent: 0.6, PeakCurrent: 60}
	b := drive.Board{Radius: 1, Efficiency: 1, Mass: 94.48, Crr: 0.08, DragArea: 0.35, AirDensity: 1.225}
	e := drive.Couple(motor, 4, drive.Controller{MaxDuty: 0.95, Efficiency: 0.98}, pack, 60)
	b.Electrical = &e
	r := drive.Ride{Speed: 5, Stops: 0.002, Ascent: 0.01, Regen: 0.4}
	energy := func(turn float64) float64 {
		b.Reduction = turn
		if got, ok := b.Ride(r, pack.Volts); ok {
			return got.EnergyPerMetre
		}
		return math.Inf(1)
	}
	rolling, drag := b.Mass*drive.Gravity*b.Crr, b.AirDensity*b.DragArea/2
	put := b.Mass * (r.Stops*r.Speed*r.Speed/2 + drive.Gravity*r.Ascent)
	up := rolling + drag*r.Speed*r.Speed/4 + b.Mass
	found := 0
	for _, most := range []float64{150, 152, 154.425, 156, 160, 170} {
		w := e.RideWindow(r.Speed, pack.Volts, drive.RideDemand{
			Into: rolling + drag*r.Speed*r.Speed, With: rolling + drag*r.Speed*r.Speed, Up: up, PerUp: put / up,
			Efficiency: 1, Most: most + put*r.Regen,
		})
		for turn := 40.0; turn < 160; turn += 0.25 {
			got := energy(turn)
			if inside := turn >= w.Low && turn <= w.High; math.Abs(got-most) > 1e-7*most && inside != (got < most) {
				t.Errorf("turn %g in [%g, %g]: %v, and %g of %g J/m", turn, w.Low, w.High, inside, got, most)
			} else if inside {
				found++
			}
		}
	}
	if found < 200 {
		t.Errorf("only %d gearings do it", found)
	}
}
