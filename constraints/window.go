package constraints

import (
	"math"

	"gearsearch/drive"
)

// Lane is what a window takes of drive and wheel: one value of each, or for
// many pairs of drive and wheel the values at one end of their ranges.
type Lane struct {
	Efficiency float64 // of the drive
	Crr        float64
	Mass       float64 // kg, all that moves but the electrical half, rider included
	// Press is the mass that asks whether the wheels grip: Mass, but for many
	// pairs the one at the other end, since weight presses them to the road.
	// CrrTo is the Crr at the other end likewise, since energy is put to better use
	// where more of it goes to the road.
	Press, CrrTo float64
	// Turn is the greatest gearing that a window is asked for, 1/m; 0: any.
	Turn float64
}

// Gearings says at which gearings (reduction over rolling radius) a check passes or
// fails, for one electrical group and one lane.
type Gearings struct {
	drive.Window
	Inside, Outside Verdict
}

// onlyIf is a check that is undecided for all gearings unless something is the
// case.
func (g Gearings) onlyIf(sure bool) Gearings {
	if !sure {
		return everywhere(Undecided)
	}
	return g
}

// everywhere is a check that has one verdict for all gearings.
func everywhere(v Verdict) Gearings {
	return Gearings{drive.Window{Low: 0, High: math.Inf(1)}, v, v}
}

// Additive is a check that compares the sum of a number of the electrical half
// and one of drive and wheel to a limit.
type Additive struct {
	// Electrical is the number of the electrical half, a build with only that;
	// missing tells that it is a part of the true one, so that a build that
	// passes is undecided. −Inf: within any limit; +Inf: beyond any, but for −Inf
	// of drive and wheel.
	Electrical func(b *Build) (value float64, missing bool)
	// Rolling is the number of a build with only count, drive and wheel.
	Rolling func(b *Build) Rolled
	Limit   func(p *Problem) float64
}

// Rolled is the number of drive and wheel with the verdicts of a sum within
// the limit and of one beyond it.
type Rolled struct {
	Value          float64
	Within, Beyond Verdict

	// Fails: of a sum that doubts, the check may fail farther beyond the limit.
	Fails bool
}

// Decided is a number of drive and wheel, or its opposite, that no finite number
// of an electrical half brings beyond a limit, and one that is infinite does.
const Decided = math.MaxFloat64 / 4

func flat() drive.Slope { return drive.SlopeOf(0) }

// demands is the force in N that a speed takes on a slope, times demand.
func (b *Build) demands(v float64, slope drive.Slope, lane Lane, demand float64) float64 {
	p := b.Problem
	board := drive.Board{
		Mass: lane.Mass + b.massE.Known, Crr: lane.Crr,
		DragArea: p.DragArea, AirDensity: p.AirDensity,
	}
	return demand * board.LoadOn(v, slope)
}

// grips reports whether the driven wheels can put the force on the road that a
// speed takes on a slope, times demand. If they can at all, a heavier board
// does it more easily: grip and slope grow with the mass, the drag does not. What
// the wheels hold less the rolling resistance never grows with the latter.
func (b *Build) grips(v float64, slope drive.Slope, lane Lane, demand float64) bool {
	p := b.Problem
	lane.Mass = lane.Press
	board := drive.Board{Mass: lane.Mass + b.massE.Known, Hold: p.hold(b.Count, lane.Crr)}
	return board.GripThrustOn(slope) >= b.demands(v, slope, lane, demand)
}

var noGearing = drive.Window{Low: math.Inf(1), High: math.Inf(-1)}

// charge is the electrical half of a build at one state of charge.
type charge func(b *Build) *drive.Electrical

// asked is that at the brief's charge.
func (b *Build) asked() *drive.Electrical { return &b.electrical }

// reaches are the gearings with which the top speed that decides, at a charge,
// reaches v: the thrust at v is at least the load, or the estimate is, and the
// ceiling allows it. sure is false where nothing decides.
func (b *Build) reaches(v float64, at charge, lane Lane, demand float64) (w drive.Window, sure bool) {
	if b.worst != nil && b.estimates() {
		b = b.worst
	}
	board := drive.Board{Electrical: at(b), Reduction: 1, Radius: 1}
	w = drive.Window{Low: 0, High: math.Inf(1)}
	if !math.IsNaN(b.Controller.Ceiling) {
		w.High = board.ERPMSpeed(b.Controller.Ceiling) / (v * demand)
	}
	if b.electrical.ThrustKnown {
		return w.And(b.thrusts(v, v, at, lane, demand)), true
	}
	estimate, _ := board.EstimatedTopSpeed(b.Problem.Brief.Limit.Derate, math.Inf(1))
	w = w.And(drive.Window{Low: 0, High: estimate / (v * demand)})
	return w.And(b.twin.thrusts(v, v, at, lane, demand)), b.estimates()
}

// thrusts are the gearings with which the thrust at a speed on the flat is at
// least the load with the air at a speed, of a corner whose thrust is known.
func (b *Build) thrusts(v, air float64, at charge, lane Lane, demand float64) drive.Window {
	if !b.grips(air, flat(), lane, demand) {
		return noGearing
	}
	return at(b).ThrustWindow(v, b.demands(air, flat(), lane, demand), lane.Efficiency)
}

// outruns are the gearings with which the top speed that decides, at full charge
// and without a ceiling, turns the motors at so many electrical rpm or more; sure
// is false where nothing decides.
func (b *Build) outruns(rpm float64, lane Lane, demand float64) (w drive.Window, sure bool) {
	if b.worst != nil && b.estimates() {
		b = b.worst
	}
	board := drive.Board{Electrical: b.fullElectrical(), Reduction: 1, Radius: 1}
	omega := board.ERPMSpeed(rpm) * demand
	if b.electrical.ThrustKnown {
		return b.spins(omega, lane, demand), true
	}
	if estimate, _ := board.EstimatedTopSpeed(b.Problem.Brief.Limit.Derate, math.Inf(1)); estimate < omega {
		return noGearing, b.estimates()
	}
	return b.twin.spins(omega, lane, demand), b.estimates()
}

// spins are the gearings with which the thrust at full charge is at least the
// load on the flat at a motor speed in rad/s, of a corner whose thrust is known.
func (b *Build) spins(omega float64, lane Lane, demand float64) drive.Window {
	p := b.Problem
	rolling := b.demands(0, flat(), lane, demand)
	drag := b.demands(1, flat(), lane, demand) - rolling
	press := drive.Board{Mass: lane.Press + b.massE.Known, Hold: p.hold(b.Count, lane.Crr)}
	lane.Mass = lane.Press
	spare := press.GripThrustOn(flat()) - b.demands(0, flat(), lane, demand)
	if spare <= 0 {
		return noGearing
	}
	w := b.fullElectrical().SpinWindow(omega, rolling, drag, lane.Efficiency)
	return w.And(drive.Window{Low: omega * math.Sqrt(drag/spare), High: math.Inf(1)})
}

func erpmWindow(b *Build, lane Lane, demand float64) Gearings {
	return ceilingWindow(b, b.Problem.Brief.Limit.ERPMHeadroom, demand, lane)
}

// ceilingWindow holds the electrical rpm to the ceiling less a headroom, by a rule of
// the brief that depends on the gearing.
func ceilingWindow(b *Build, headroom, demand float64, lane Lane) Gearings {
	if math.IsNaN(b.Controller.Ceiling) {
		return everywhere(Undecided)
	}
	limit := b.Controller.Ceiling * (1 - headroom)
	if b.Problem.Brief.Limit.ERPMRule == AtTop {
		w, sure := b.outruns(limit, lane, demand)
		return Gearings{w, Fail, Pass}.onlyIf(sure)
	}
	board := drive.Board{Electrical: &b.electrical, Reduction: 1, Radius: 1}
	high := limit / (demand * board.ERPMAt(b.Problem.Brief.Target.TopSpeed))
	return Gearings{drive.Window{Low: 0, High: high}, Pass, Fail}
}

func topSpeedWindow(b *Build, lane Lane, demand float64) Gearings {
	w, sure := b.reaches(b.Problem.Brief.Target.TopSpeed, (*Build).asked, lane, demand)
	return Gearings{w, Pass, Fail}.onlyIf(sure)
}

func topSpeedMaxWindow(b *Build, lane Lane, demand float64) Gearings {
	w, sure := b.reaches(b.Problem.Brief.Target.TopSpeedMax, (*Build).fullElectrical, lane, demand)
	return Gearings{w, Fail, Pass}.onlyIf(sure)
}

func climbWindow(b *Build, lane Lane, demand float64) Gearings {
	if !b.electrical.ThrustKnown {
		return everywhere(Undecided)
	}
	p := b.Problem
	v := p.Brief.Target.ClimbSpeed
	force := b.demands(v, p.Slope, lane, demand)
	w := noGearing
	if b.grips(v, p.Slope, lane, demand) {
		w = b.electrical.ThrustWindow(v, force, lane.Efficiency)
	}
	return Gearings{w, Pass, Fail}
}

func heatWindow(b *Build, lane Lane, demand float64) Gearings {
	if b.Problem.HasLength() {
		winding, bearing := windingWindow(b, lane, demand), bearingWindow(b, lane, demand)
		if winding.Inside == Undecided && bearing.Outside != Fail {
			return winding
		}
		return Gearings{winding.And(bearing.Window), winding.Inside, Fail}
	}
	limit, sure := b.HeatLimit()
	if math.IsNaN(limit) {
		return everywhere(Undecided)
	}
	g := Gearings{b.bearsCurrent(limit, lane, demand), Pass, Fail}
	if !sure {
		g.Inside = Undecided
	}
	return g
}

// bearsCurrent are the gearings with which the climb takes no more than a current in A, as
// set.
func (b *Build) bearsCurrent(amps float64, lane Lane, demand float64) drive.Window {
	p := b.Problem
	force := b.demands(p.Brief.Target.ClimbSpeed, p.Slope, lane, demand)
	return b.electrical.CurrentWindow(force, lane.Efficiency, amps*b.electrical.PhaseFactor/demand)
}

// bearingWindow is that of bearingCheck as far as the controller goes.
func bearingWindow(b *Build, lane Lane, demand float64) Gearings {
	limit := b.bearingLimit()
	if math.IsNaN(limit) {
		return everywhere(Pass)
	}
	return Gearings{b.bearsCurrent(limit, lane, demand), Pass, Fail}
}

// windingWindow is that of windingCheck.
func windingWindow(b *Build, lane Lane, demand float64) Gearings {
	t, ok := b.thermal()
	if !ok || b.electrical.R == 0 {
		return everywhere(Undecided)
	}
	p := b.Problem
	v := p.Brief.Target.ClimbSpeed
	force := b.demands(v, p.Slope, lane, demand)
	return Gearings{b.electrical.HeatWindow(&t, b.heating(), b.copperCool(&t), v, force, lane.Efficiency, p.Brief.Limit.WindingMax, lane.Turn), Pass, Fail}
}

func rangeWindow(b *Build, lane Lane, demand float64) Gearings {
	p := b.Problem
	v := p.Brief.Target.Cruise
	w, sure := b.reaches(v, (*Build).asked, lane, demand)
	if !sure { // that of the best corner decides against it
		w, _ = b.twin.reaches(v, (*Build).asked, lane, demand)
	}
	if wind := p.Brief.Ride.Wind; wind > 0 {
		w = w.And(b.thrusting().thrusts(v, v+wind, (*Build).asked, lane, demand))
	}
	if b.electrical.R == 0 {
		return Gearings{w, Undecided, Fail}
	}
	inside, most := Undecided, math.Inf(1)
	if usable := b.usable(); !math.IsNaN(usable) {
		if sure {
			inside = Pass
		}
		most = usable / p.Brief.Target.Range / p.Brief.Limit.RideFactor
	}
	return Gearings{w.And(b.electrical.RideWindow(v, b.Battery.Pack.Nominal, b.rideDemand(lane, demand, most))), inside, Fail}
}

// thrusting is the build, or where its thrust is not known its best corner.
func (b *Build) thrusting() *Build {
	if b.electrical.ThrustKnown {
		return b
	}
	return b.twin
}

// rideDemand is what a ride asks with a lane, and what it may take, J/m.
//
// Gathering speed takes less of the whole where the rolling resistance is greater,
// since more of the power reaches the road. So where a lane has more than one, the
// energy of stops and ascent counts as no less than drive and controller lose of
// it in the light lane, and as no less than the other end's in the heavy one.
func (b *Build) rideDemand(lane Lane, demand, most float64) drive.RideDemand {
	r := b.Journey()
	v, level := r.Speed, flat()
	d := drive.RideDemand{
		Into: b.demands(v+r.Wind, level, lane, demand), Efficiency: lane.Efficiency,
		Most: most, Greatest: lane.Turn,
	}
	d.With = d.Into
	if r.Wind > 0 {
		d.With = b.demands(v-r.Wind, level, lane, demand)
		if v < r.Wind { // from behind
			d.With = 2*b.demands(0, level, lane, demand) - d.With
		}
	}
	kept := (lane.Mass + b.massE.Known) * (r.Stops*v*v/2 + r.Ascent*drive.Gravity)
	if kept == 0 {
		return d
	}
	gathering := func(crr float64) float64 {
		lane := lane
		lane.Crr = crr
		return b.demands(v/2, level, lane, 1) + lane.Mass + b.massE.Known
	}
	d.Most += kept * r.Regen
	if lane.CrrTo > lane.Crr {
		d.Most -= kept / (lane.Efficiency * b.Controller.Drive.Efficiency)
		return d
	}
	d.Up = gathering(lane.Crr) * demand
	d.PerUp = kept / gathering(lane.CrrTo)
	return d
}

// priceAdds and massAdds are the sums of the checks of those names.
func priceAdds() *Additive {
	return &Additive{
		Electrical: func(b *Build) (float64, bool) { return b.priceE.Known, b.priceE.Missing },
		Rolling:    func(b *Build) Rolled { return rolledSum(b.Drive.Price[b.Count].plus(b.Wheel.Price)) },
		Limit:      func(p *Problem) float64 { return p.Brief.Limit.Price },
	}
}

func massAdds() *Additive {
	return &Additive{
		Electrical: func(b *Build) (float64, bool) { return b.massE.Known + b.Problem.Brief.Board.Mass, b.massE.Missing },
		Rolling:    func(b *Build) Rolled { return rolledSum(b.Drive.Mass[b.Count].plus(b.Wheel.Mass)) },
		Limit:      func(p *Problem) float64 { return p.Brief.Limit.Mass },
	}
}

func rolledSum(s Sum) Rolled {
	if s.Missing {
		return Rolled{Value: s.Known, Within: Undecided, Beyond: Fail}
	}
	return Rolled{Value: s.Known, Within: Pass, Beyond: Fail}
}

// beltLoadAdds and gearTorqueAdds turn a force that a drive bears on the climb
// into the mass that it bears: what the build weighs less that is at most 0.
func beltLoadAdds() *Additive {
	return &Additive{Electrical: massCarried, Rolling: beltBears, Limit: func(*Problem) float64 { return 0 }}
}

func gearTorqueAdds() *Additive {
	return &Additive{Electrical: massCarried, Rolling: gearBears, Limit: func(*Problem) float64 { return 0 }}
}

// massCarried is the mass that moves but for drive and wheels, kg.
func massCarried(b *Build) (float64, bool) {
	brief := b.Problem.Brief
	return b.massE.Known + brief.Rider.Mass + brief.Board.Mass, false
}

func beltBears(b *Build) Rolled {
	d := b.Drive
	limit := b.beltLimit()
	if d.Gear != nil {
		return Rolled{Value: math.Inf(-1), Within: Pass, Beyond: Pass}
	}
	if math.IsNaN(limit) {
		return Rolled{Value: math.Inf(-1), Within: Undecided, Beyond: Undecided}
	}
	radius := d.MotorPulley.Profile.PitchDiameter(d.MotorPulley.Teeth) / 2
	force := limit * radius * d.Reduction * d.Efficiency * float64(b.Motors()) / b.Wheel.Radius
	r := b.bears(force)
	if d.idlerBears() {
		r.Beyond = Undecided
	}
	return r
}

func gearBears(b *Build) Rolled {
	gear := b.Drive.Gear
	switch {
	case gear == nil:
		return Rolled{Value: math.Inf(-1), Within: Pass, Beyond: Pass}
	case math.IsNaN(gear.MaxTorque):
		return Rolled{Value: math.Inf(-1), Within: Undecided, Beyond: Undecided}
	}
	return b.bears(gear.MaxTorque * float64(b.Motors()) / b.Wheel.Radius)
}

// bears is the mass of drive and wheels less the mass that the climb takes a
// force for.
func (b *Build) bears(force float64) Rolled {
	p := b.Problem
	v := p.Brief.Target.ClimbSpeed
	air := drive.Board{DragArea: p.DragArea, AirDensity: p.AirDensity}
	kilo := drive.Board{Mass: 1, Crr: b.Wheel.Crr}
	mass := (force - air.LoadOn(v, p.Slope)) / kilo.LoadOn(v, p.Slope)
	return Rolled{Value: b.Drive.Mass[b.Count].Known + b.Wheel.Mass.Known - mass, Within: Pass, Beyond: Fail}
}

// Lane is the lane of the build's drive and wheel alone.
func (b *Build) Lane() Lane {
	brief := b.Problem.Brief
	mass := brief.Rider.Mass + brief.Board.Mass + b.Drive.Mass[b.Count].Known + b.Wheel.Mass.Known
	return Lane{Efficiency: b.Drive.Efficiency, Crr: b.Wheel.Crr, Mass: mass, Press: mass, CrrTo: b.Wheel.Crr}
}

// What an electrical half has at best with any pair of a lane: bounds for a
// search that looks for the highest score. Each is as good as, or better than,
// the figure of every build of the lane.

// ThrustAtMost is a thrust in N at a speed that no gearing up to turn passes:
// that of the motor current, and that of the power without any loss of heat.
func (b *Build) ThrustAtMost(v float64, lane Lane, turn float64) float64 {
	e := &b.electrical
	board := drive.Board{Electrical: e, Reduction: turn, Radius: 1, Efficiency: lane.Efficiency}
	return board.ThrustAtMost(v)
}

// NeedAtLeast is the force in N that the climb takes of the lane's lightest.
func (b *Build) NeedAtLeast(lane Lane) float64 {
	return b.demands(b.Problem.Brief.Target.ClimbSpeed, b.Problem.Slope, lane, 1)
}

// ClimbCurrentAtLeast is a motor current in A, as set, that the climb takes at
// least with gearings up to turn.
func (b *Build) ClimbCurrentAtLeast(lane Lane, turn float64) float64 {
	board := drive.Board{Electrical: &b.electrical, Reduction: turn, Radius: 1, Efficiency: lane.Efficiency}
	return board.MotorCurrentFor(b.NeedAtLeast(lane)) / b.electrical.PhaseFactor
}

// WindingAtLeast is a temperature in °C that the windings have at least at the end
// of the hill with gearings from low to high; NaN where it is not known.
func (b *Build) WindingAtLeast(lane Lane, low, high float64) float64 {
	t, ok := b.thermal()
	if !ok || b.electrical.R == 0 {
		return math.NaN()
	}
	h := b.heating()
	h.Current = b.ClimbCurrentAtLeast(lane, high) * b.electrical.PhaseFactor
	h.Iron = b.electrical.K * b.Problem.Brief.Target.ClimbSpeed * low * b.electrical.NoLoad
	end, _ := t.After(h)
	return end
}

// ERPMAtLeast is the electrical rpm, by the brief's rule, of gearings from
// turn on.
func (b *Build) ERPMAtLeast(turn float64) float64 {
	board := drive.Board{Electrical: &b.electrical, Reduction: turn, Radius: 1}
	switch b.Problem.Brief.Limit.ERPMRule {
	case AtSpeed:
		return board.ERPMAt(b.Problem.Brief.Target.TopSpeed)
	case AtTop:
		return 0 // a board too weak to move turns its motors not at all
	}
	return b.electrical.FreeERPM(b.Battery.Pack.Full)
}

// RangeAtMost is a range in m that no build of the lane passes: with no loss
// in windings and pack, and no wind, which on the whole only takes.
func (b *Build) RangeAtMost(lane Lane) float64 {
	p := b.Problem
	r, efficiency := b.Journey(), lane.Efficiency*b.Controller.Drive.Efficiency
	kept := (lane.Mass + b.massE.Known) * (r.Stops*r.Speed*r.Speed/2 + r.Ascent*drive.Gravity)
	perMetre := b.demands(r.Speed, flat(), lane, 1)/efficiency + kept*(1/efficiency-r.Regen)
	return b.usable() / (perMetre * p.Brief.Limit.RideFactor)
}

// ElectricalPrice is the cost of battery, controllers and motors.
func (b *Build) ElectricalPrice() Sum { return b.priceE }

// ElectricalMass is their mass with that of the board, kg.
func (b *Build) ElectricalMass() Sum {
	s := b.massE
	s.Known += b.Problem.Brief.Board.Mass
	return s
}
