package drive

// A search asks of very many boards whether they come to the end of a way, and few
// are near the edge. Taken in blocks of legs alike, a way tells of most boards at a
// small part of the cost that they surely come through, or surely do not.

// Block is some legs in a row that a rider takes at one speed, on one ground.
type Block struct {
	Least, Most Slope   // of its legs: the lowest and the steepest upward
	Length      float64 // m
	Speed       float64 // m/s that the rider wants; 0: the trip's
	Ground      int     // index of Trip.Grounds
	Stop        bool    // the board stands at its end
}

// The legs of a block differ by so much in the sine of their slopes, and are so many,
// at most: a rougher way costs less and decides less.
const (
	blockSlopes = 0.006
	blockLegs   = 40
)

// Blocks gathers legs into blocks.
func Blocks(legs []Leg) []Block {
	var out []Block
	count := 0
	for i := range legs {
		l := &legs[i]
		if count > 0 && count < blockLegs {
			b := &out[len(out)-1]
			least, most := b.Least, b.Most
			if l.Sin < least.Sin {
				least = l.Slope
			}
			if l.Sin > most.Sin {
				most = l.Slope
			}
			if b.Speed == l.Speed && b.Ground == l.Ground && !b.Stop && most.Sin-least.Sin <= blockSlopes {
				b.Least, b.Most, b.Stop = least, most, l.Stop
				b.Length += l.Length
				count++
				continue
			}
		}
		out = append(out, Block{Least: l.Slope, Most: l.Slope, Length: l.Length, Speed: l.Speed, Ground: l.Ground, Stop: l.Stop})
		count = 1
	}
	return out
}

// Aims are what a trip is to end with.
type Aims struct {
	Charge  float64 // share of the pack's, at least
	Winding float64 // °C, at most
	Unheld  float64 // m, at most
}

// Sure is what is surely so of a trip. What is neither sure to be reached nor to be
// missed is for Ride to tell.
type Sure struct {
	Comes  bool // without a stall, and with the charge
	Fails  bool // it stalls, or the charge is less
	Stalls bool // it stalls: Most says nothing
	Cool   bool
	Held   bool
	Most   float64 // share of the charge that is left at most
}

// hair is how much a bound is moved to its safe side, so that rounding never decides;
// relative, but of charges absolute.
const hair = 1e-7

// Surely tells what is sure of a trip whose legs are those of the blocks. It needs what
// Ride does.
//
// Up to its end the charge lies between two bounds. The lower one goes by the steepest
// slope of each block, by volts that are no higher than at the block's end, and by
// nothing that flows back; the upper one by the lowest slope, by volts no lower than
// at its start, and by all that might flow back. Thrust, and what the pack takes, are
// least at the one or the other. The windings are warmed by the greatest current of
// each block: nothing that warms them more makes any part of a motor cooler.
func (t *Trip) Surely(b *Board, blocks []Block, aims Aims) Sure {
	r := rough{rider: newRider(t, b), aims: aims, low: t.Charge, high: t.Charge, kept: true, cool: t.Body != nil && t.Air < aims.Winding}
	for i := range blocks {
		if r.take(&blocks[i]) {
			return Sure{Fails: true, Stalls: true}
		}
	}
	return Sure{
		Comes: r.kept && r.low >= aims.Charge+hair,
		Fails: r.high < aims.Charge-hair,
		Cool:  r.kept && r.cool,
		Most:  r.high + hair,
		Held:  r.kept && !t.Unsure && r.Unheld <= aims.Unheld*(1-hair),
	}
}

// rough is a board whose charge is known within bounds.
type rough struct {
	*rider
	aims      Aims
	low, high float64 // of the charge
	kept      bool    // every wanted speed, surely
	cool      bool
}

// take takes a block; stalls is true where the board surely stalls on it.
func (r *rough) take(k *Block) (stalls bool) {
	ground := &r.trip.Grounds[k.Ground]
	r.board.Crr, r.board.Hold = ground.Crr, ground.Hold
	if r.Speed = k.Speed; r.Speed == 0 {
		r.Speed = r.trip.Speed
	}
	seconds, start := k.Length/r.Speed, r.high
	least, most := r.board.LoadOn(r.Speed, k.Least), r.board.LoadOn(r.Speed, k.Most)
	if r.kept {
		r.lose(k.Most, most, seconds)
	}
	r.gain(k, least, seconds)
	top := max(start, r.high)
	if r.stallsOn(k.Most, top) {
		return true
	}
	if r.kept {
		r.hold(k, least, top)
		r.warm(least, most, seconds)
	}
	if k.Stop {
		r.pause(top)
	}
	return false
}

// stallsOn reports whether the board surely stalls on a slope with at most a charge.
func (r *rough) stallsOn(s Slope, top float64) bool {
	r.e.charge(r.e.Pack.OpenCircuit(top))
	v := min(r.Speed, slowest)
	load := r.board.LoadOn(v, s)
	return load > 0 && load > (1+hair)*min(r.board.Thrust(v), r.board.GripThrustOn(s))
}

// gain moves the upper bound of the charge on.
func (r *rough) gain(k *Block, least, seconds float64) {
	efficiency := float64(r.board.Efficiency * r.e.Controller.Efficiency)
	switch volts := r.e.Pack.OpenCircuit(r.high); {
	case least < 0:
		floor := r.e.Pack.Cutoff
		if r.kept {
			floor = r.e.Pack.OpenCircuit(r.low)
		}
		if !r.trip.Unsure && r.trip.Warmth > 0 {
			r.high = min(1, r.high+float64((1+hair)*efficiency*-least*r.Speed*seconds/floor*r.per))
		}
	case r.kept:
		if c, ok := r.board.steady(r.Speed, least, volts); ok {
			r.high -= float64((1 - hair) * c.PackCurrent * seconds * r.per)
		}
	default: // it may be slower, without air that is worth counting
		if still := r.board.LoadOn(0, k.Least); still > 0 {
			r.high -= float64((1 - hair) * still * k.Length / efficiency / volts * r.per)
		}
	}
}

// lose moves the lower bound on, and tells whether the speed is kept.
func (r *rough) lose(s Slope, most, seconds float64) {
	low := r.low
	if most >= 0 {
		first, ok := r.board.steady(r.Speed, most, r.e.Pack.OpenCircuit(low))
		if !ok {
			r.kept = false
			return
		}
		const more = 1.05
		low -= float64(more * first.PackCurrent * seconds * r.per)
		c, ok := r.board.steady(r.Speed, most, r.e.Pack.OpenCircuit(low))
		if !ok || c.PackCurrent > more*first.PackCurrent {
			r.kept = false
			return
		}
		r.low -= float64((1 + hair) * c.PackCurrent * seconds * r.per)
	}
	r.e.charge(r.e.Pack.OpenCircuit(low))
	if most > 0 && most > (1-hair)*min(r.board.Thrust(r.Speed), r.board.GripThrustOn(s)) {
		r.kept = false
	}
}

// hold counts a block down which the motors may not hold the board.
func (r *rough) hold(k *Block, least, top float64) {
	if !(least < 0) {
		return
	}
	b := &r.board
	in := r.e.Pack.Intake(top, r.trip.Limit, r.trip.Warmth)
	in.OpenCircuit = r.e.Pack.OpenCircuit(r.low)
	if in.Current == 0 || -least > (1-hair)*min(float64(b.Hold.Brake*b.weight()*min(k.Least.Cos, k.Most.Cos)),
		float64(b.torque*r.turn/b.Efficiency*b.motorCurrent),
		in.Power()/(b.Controller.Efficiency*b.Efficiency*r.Speed)) {
		r.Unheld += k.Length
	}
}

// warm warms the windings by the greatest current.
func (r *rough) warm(least, most, seconds float64) {
	if !r.cool {
		return
	}
	amps := 0.0
	if most >= 0 {
		amps = r.board.MotorCurrentFor(most)
	}
	if least < 0 {
		amps = max(amps, r.board.BrakingCurrentFor(-least))
	}
	body := r.trip.Body.InWind(r.Speed)
	h := Heating{
		Resistance: r.e.Motor.Resistance, Current: float64(amps * (1 + hair)), Air: r.trip.Air, Seconds: seconds,
		Iron: float64(r.e.K * r.Speed * r.turn * r.e.NoLoad),
	}
	before := r.Warm
	r.Warm = body.From(before, h)
	// Between the two ends it is hotter only where it rises at first and falls at last.
	humps := body.winding(before, &h) > 0 && body.winding(r.Warm, &h) < 0
	r.cool = !humps && r.Warm.Winding < r.aims.Winding-float64(hair*(r.aims.Winding-h.Air))
}

// winding returns how fast the winding gets warmer, K/s.
func (t *Thermal) winding(at Temperatures, h *Heating) float64 {
	return (CopperResistance(float64(h.Resistance*h.Current*h.Current), at.Winding) - (at.Winding-at.Rest)/t.Inner) / t.Winding
}

// pause stops at the end of a block.
func (r *rough) pause(top float64) {
	force, kept := r.board.pickUpLoad(r.Speed/2), float64(r.board.Mass*r.Speed*r.Speed/2)
	takes := func(volts float64) (share float64, ok bool) {
		up, ok := r.board.steady(r.Speed/2, force, volts)
		return float64(kept*(up.EnergyPerMetre/force-r.trip.Regen)) / float64(volts*3600*r.trip.Stores), ok
	}
	if !r.kept {
		return // it may be slower
	}
	if share, ok := takes(r.e.Pack.OpenCircuit(r.low)); ok {
		r.low -= float64((1 + hair) * share)
	} else {
		r.kept = false
	}
	if share, ok := takes(r.e.Pack.OpenCircuit(top)); ok {
		r.high -= float64((1 - hair) * share)
	}
}
