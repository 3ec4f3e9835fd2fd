package drive

import "math"

// Leg is a stretch of a way on one slope and one ground.
type Leg struct {
	Slope
	Length float64 // m along the road, above 0
	Speed  float64 // m/s that the rider wants; 0: the trip's
	Ground int     // index of Trip.Grounds
	Stop   bool    // the board stands at the end of the leg
}

// Ground is what the wheels meet on a leg.
type Ground struct {
	Crr  float64 // rolling-resistance coefficient
	Hold Hold    // what the driven wheels hold
}

// Trip is a way to ride, and what beside the board decides how it goes.
type Trip struct {
	Legs    []Leg
	Grounds []Ground // by Leg.Ground
	Speed   float64  // m/s that the rider wants where the leg does not say, above 0
	Charge  float64  // share of the pack's at the start
	Stores  float64  // A·h of the full pack, above 0
	Limit   float64  // A that the warm pack may be charged with; NaN: none
	Warmth  float64  // share of its current that the pack may be charged with
	Unsure  bool     // nobody knows what the pack takes: the motors do not brake
	Regen   float64  // share of the energy of stops that comes back
	Body    *Thermal // of each motor, as ThermalOf gives it for standstill; nil: not known
	Air     float64  // °C around the motors, and of them at the start
}

// Travelled is what a trip took, up to its end or to where the board stalls.
type Travelled struct {
	Stalled  bool
	Metres   float64
	Seconds  float64 // without the time at stops
	Energy   float64 // J out of the cells, what flows back taken off
	Charge   float64 // share of the pack's that is left; below 0 where the pack is too small
	LowVolts float64 // V, the lowest at the pack's terminals; +Inf where no leg is ridden
	Winding  float64 // °C, the hottest at the end of a leg, at most HottestKnown; NaN: not known
	Unheld   float64 // m of legs down which the motors do not hold the wanted speed; NaN: not known
}

// Passage is how a leg is ridden.
type Passage struct {
	*Leg
	Wanted      float64 // m/s
	Speed       float64 // m/s
	Load        float64 // N
	Braking     float64 // N, by the motors
	Volts       float64 // V, open circuit, at the start of the leg
	PackCurrent float64 // A, negative into the pack
	Current     float64 // A, DC-equivalent, of each motor, driving or braking
	Warm        Temperatures
	By          Limit // what holds the board back uphill, or its brakes downhill; NoLimit where the speed is kept, and told to each only
	Full        bool  // likewise: the pack takes no more, since it is too full
	Travelled         // up to the end of the leg, without its stop
}

// Slow reports whether the board cannot keep the speed that is wanted.
func (p *Passage) Slow() bool { return p.Speed < p.Wanted }

// Loose reports whether the motors do not hold the speed that is wanted down a slope.
func (p *Passage) Loose() bool { return p.Load < 0 && !AtLeast(p.Braking, -p.Load) }

// slowest is the speed in m/s at or below which a board counts as stalled: walking
// beside it is faster.
const slowest = 1 / 3.6

// Ride takes a board over a trip, leg by leg and quasi-steadily: on a leg the speed
// is one, the volts are those of the charge at its start, and the forces balance. each
// is told of every leg that is ridden; nil: nobody is.
//
// The wanted speed is kept where the thrust holds it, else the highest that it holds;
// no more than 1 km/h, or more power than the pack can give, is a stall. Down a slope
// the motors brake as far as grip, currents and the pack's intake allow:
//
//	B = min(−F, κ_b m g cos θ, n k N I/(r η), A (V + A R_p)/(η_c η v))
//
// of which P = n η_c (k ω I − R I²), I = B r η/(n N k), flows into the pack. What they
// do not hold, the rider does, and the speed is kept all the same. A stop takes
// ½ m v² (1/η_up − γ), as in Ride of a board.
//
// The board's own rolling resistance and hold are not read. Its motor's resistance
// must be known, and its thrust.
func (t *Trip) Ride(b *Board, each func(p *Passage)) Travelled {
	r := newRider(t, b)
	for i := range t.Legs {
		r.Leg = &t.Legs[i]
		if !r.ride() {
			break
		}
		if each != nil {
			r.tell()
			each(&r.Passage)
		}
		if r.Stop && !r.stop() {
			break
		}
	}
	return r.Travelled
}

// rider is a board under way.
type rider struct {
	Passage
	at    float64 // charge at the start of the leg
	trip  *Trip
	board Board
	e     Electrical
	turn  float64 // rad/m
	per   float64 // share of the charge for each A·s
}

func newRider(t *Trip, b *Board) *rider {
	r := &rider{trip: t, board: *b, e: *b.Electrical, turn: b.Reduction / b.Radius, per: 1 / (3600 * t.Stores)}
	r.board.Electrical = &r.e
	r.Travelled = Travelled{Charge: t.Charge, LowVolts: math.Inf(1), Winding: t.Air}
	r.Warm = Temperatures{t.Air, t.Air}
	if t.Body == nil {
		r.Winding = math.NaN()
	}
	if t.Unsure {
		r.Unheld = math.NaN()
	}
	return r
}

// stall ends the ride.
func (r *rider) stall() bool {
	r.Stalled = true
	return false
}

// ride rides a leg; false where the board stalls on it.
func (r *rider) ride() bool {
	ground := &r.trip.Grounds[r.Ground]
	r.board.Crr, r.board.Hold = ground.Crr, ground.Hold
	r.at = r.Charge
	r.Volts = r.e.Pack.OpenCircuit(r.at)
	r.e.charge(r.Volts)

	if r.Wanted = r.Leg.Speed; r.Wanted == 0 {
		r.Wanted = r.trip.Speed
	}
	r.Speed = r.Wanted
	r.Load = r.board.LoadOn(r.Speed, r.Slope)
	if r.Load > min(r.board.Thrust(r.Speed), r.board.GripThrustOn(r.Slope)) {
		r.Speed = min(r.Speed, r.board.holdSpeed(r.Slope))
		if AtMost(r.Speed, slowest) {
			return r.stall()
		}
		r.Load = max(0, r.board.LoadOn(r.Speed, r.Slope)) // coasting at 0 but for rounding
	}
	r.Braking, r.PackCurrent, r.Current = 0, 0, 0
	if r.Load < 0 {
		r.brake()
	} else {
		c, ok := r.board.steady(r.Speed, r.Load, r.Volts)
		if !ok {
			return r.stall()
		}
		r.PackCurrent, r.Current = c.PackCurrent, c.MotorCurrent
	}
	r.pass()
	return true
}

// brake holds the board back by its motors.
func (r *rider) brake() {
	b, in := &r.board, r.e.Pack.Intake(r.Charge, r.trip.Limit, r.trip.Warmth)
	if in.Current > 0 && !r.trip.Unsure {
		r.Braking = min(-r.Load, float64(b.Hold.Brake*b.weight()*r.Cos),
			float64(b.torque*r.turn/b.Efficiency*b.motorCurrent),
			in.Power()/(b.Controller.Efficiency*b.Efficiency*r.Speed))
		r.Current = b.BrakingCurrentFor(r.Braking)
		r.PackCurrent = -r.returned()
	}
	if r.Loose() {
		r.Unheld += r.Length
	}
}

// tell says what limits the leg that is ridden.
func (r *rider) tell() {
	r.By, r.Full = NoLimit, false
	switch {
	case r.Slow():
		r.By = r.board.ThrustLimitOn(float64(r.Speed*(1+Tolerance)), r.Slope)
	case r.Loose():
		b := &r.board
		r.By = BatteryCurrent
		switch r.Braking {
		case float64(b.Hold.Brake * b.weight() * r.Cos):
			r.By = Grip
		case float64(b.torque * r.turn / b.Efficiency * b.motorCurrent):
			r.By = MotorCurrent
		default:
			r.Full = !r.trip.Unsure && r.trip.Warmth > 0 && r.e.Pack.Intake(r.at, r.trip.Limit, r.trip.Warmth).Full
		}
	}
}

// returned is the current in A into the pack while the motors brake.
func (r *rider) returned() float64 {
	emf := float64(r.e.K * r.Speed * r.turn)
	if float64(r.Current*r.e.R) >= emf { // the copper takes all that is made
		return 0
	}
	return r.board.charging(r.Current, emf, r.Volts)
}

// pass counts a leg.
func (r *rider) pass() {
	seconds := r.Length / r.Speed
	r.Metres += r.Length
	r.Seconds += seconds
	r.Energy += float64(r.Volts * r.PackCurrent * seconds)
	r.Charge = min(1, r.Charge-float64(r.PackCurrent*seconds*r.per))
	r.LowVolts = min(r.LowVolts, r.e.Pack.Terminal(r.PackCurrent))
	if r.Winding < HottestKnown { // no winding gets beyond, and NaN stays
		r.heat(seconds)
	}
}

// heat warms the motors over a leg.
func (r *rider) heat(seconds float64) {
	body := r.trip.Body.InWind(r.Speed)
	r.Warm = body.From(r.Warm, Heating{
		Resistance: r.e.Motor.Resistance, Current: r.Current, Air: r.trip.Air, Seconds: seconds,
		Iron: float64(r.e.K * r.Speed * r.turn * r.e.NoLoad),
	})
	if r.Winding = max(r.Winding, r.Warm.Winding); !(r.Winding < HottestKnown) {
		r.Winding = HottestKnown
	}
}

// stop stops after a leg and gathers its speed again; false where the pack cannot give
// the power.
func (r *rider) stop() bool {
	volts, force := r.e.Pack.OpenCircuit(r.Charge), r.board.pickUpLoad(r.Speed/2)
	up, ok := r.board.steady(r.Speed/2, force, volts)
	if !ok {
		return r.stall()
	}
	kept := float64(r.board.Mass * r.Speed * r.Speed / 2)
	energy := float64(kept * (up.EnergyPerMetre/force - r.trip.Regen))
	r.Energy += energy
	r.Charge -= float64(energy / volts * r.per)
	return true
}
