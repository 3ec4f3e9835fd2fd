package constraints

import (
	"fmt"
	"math"
	"strconv"

	"gearsearch/drive"
)

// The sources that `why` names.
const (
	sourceKinematics = "kinematics of a fixed ratio"
	sourceRadius     = "geometry; the rolling ratio of a pneumatic tyre is an assumption"
	sourceSum        = "a sum over the parts"
	sourceDefinition = "by definition"
	sourceMachine    = "DC equivalent of a permanent-magnet motor, k = 60/(2π kv): any textbook of electrical drives"
	sourceBalance    = "balance of forces; road load after Larminie & Lowry, Electric Vehicle Technology Explained"
	sourceRoadLoad   = "road load after Larminie & Lowry, Electric Vehicle Technology Explained"
	sourceNewton     = "Newton's second law, integrated"
	sourceEnergy     = "energy balance of motor, controller and pack; what braking gives back is an assumption"
	sourceHeat       = "two bodies that store heat, in closed form; compared with a bench and with the Nusselt numbers of outrunners (Saemi et al., Aerospace 2024, 11:401)"
	sourceStop       = "Newton's second law; open-circuit volts of nickel-manganese-cobalt cells after Chen et al. 2020, of iron-phosphate cells after the equivalent circuits of the literature; what copper and no load take is left out, on the safe side"
	sourceBelt       = "belt geometry: Roloff/Matek; ISO 5296; chains: ISO 606"
	sourceEstimate   = "no-load speed × derate: common practice, no published source"
)

// num writes a number with four significant digits, and with all its digits
// before the point.
func num(x float64) string {
	switch {
	case math.IsNaN(x):
		return "unknown"
	case math.IsInf(x, 0):
		return "unlimited"
	case math.Abs(x) >= 1000:
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return strconv.FormatFloat(x, 'g', 4, 64)
}

func putReduction(b *Build) Numbers {
	if g := b.Drive.Gear; g != nil {
		return Put("N = %s", num(g.Ratio))
	}
	return Put("N = %d / %d", b.Drive.WheelPulley.Teeth, b.Drive.MotorPulley.Teeth)
}

func putRadius(b *Build) Numbers {
	return Put("r = %s mm / 2 × %s", num(b.Wheel.Diameter*mm), num(b.Wheel.Radius/(b.Wheel.Diameter/2)))
}

func putMass(b *Build) Numbers {
	br := b.Problem.Brief
	return Put("m = %s kg + %s kg + %s kg", num(br.Rider.Mass), num(br.Board.Mass), num(b.mass.Known-br.Board.Mass))
}

func (b *Build) putFree(volts float64) Numbers {
	return Put("v = %s rpm/V × %s V / 60 × 2π × %s m / %s × %s",
		num(b.Motor.KV), num(volts), num(b.Wheel.Radius), num(b.Drive.Reduction), num(b.Controller.Drive.MaxDuty))
}

func putFreeSpeed(b *Build) Numbers { return b.putFree(b.Battery.Pack.Volts) }

func putFreeSpeedFull(b *Build) Numbers { return b.putFree(b.Battery.Pack.Full) }

func putTopSpeed(b *Build) Numbers {
	v, by := b.TopSpeed()
	var n Numbers
	switch {
	case !b.ThrustKnown():
		n = b.thrustGap()
		n.Formula = fmt.Sprintf("v = %s × %s rpm/V × %s V × 2π × %s m / (60 × %s) [%s]",
			num(b.Problem.Brief.Limit.Derate), num(b.Motor.KV), num(b.Battery.Pack.Volts),
			num(b.Wheel.Radius), num(b.Drive.Reduction), sourceEstimate)
	case by == drive.NoLimit:
		return Put("F(0) = %s N is less than L(0) = %s N",
			num(math.Min(b.board.Thrust(0), b.board.GripThrust(0))), num(b.board.Load(0, 0))).With(NoMotion)
	default:
		n = Put("at %s km/h F = %s N, L = %s N × %s + ½ × %s kg/m³ × %s m² × (%s m/s)² = %s N",
			num(v*kmh), num(math.Min(b.board.Thrust(v), b.board.GripThrust(0))), num(b.board.Mass*drive.Gravity),
			num(b.board.Crr), num(b.board.AirDensity), num(b.board.DragArea), num(v), num(b.board.Load(v, 0)))
	}
	if by == drive.ERPM {
		return n.With(CeilingAllows, speed(v))
	}
	return n
}

func putFullTopSpeed(b *Build) Numbers {
	v := b.FullTopSpeed()
	if !b.ThrustKnown() {
		n := b.thrustGap()
		n.Formula = fmt.Sprintf("v = %s × %s rpm/V × %s V × 2π × %s m / (60 × %s) [%s]",
			num(b.Problem.Brief.Limit.Derate), num(b.Motor.KV), num(b.Battery.Pack.Full),
			num(b.Wheel.Radius), num(b.Drive.Reduction), sourceEstimate)
		return n
	}
	if v == 0 {
		return Lack(NoMotion)
	}
	n := Put("at %s km/h L = %s N", num(v*kmh), num(b.board.Load(v, 0)))
	if v < b.uncutTopSpeed() {
		return n.With(CeilingAllows, speed(v))
	}
	return n
}

// putStop is a stop at a share of the charge.
func putStop(charge float64) func(b *Build) Numbers {
	return func(b *Build) Numbers {
		s := b.stopAt(charge)
		from := b.Problem.Brief.Target.StopFrom
		switch {
		case math.IsNaN(s.Long) && math.IsNaN(b.Battery.ChargeLimit()):
			return Lack(NoIntake)
		case math.IsNaN(s.Long):
			return Lack(NoMotorLimit)
		case math.IsInf(s.Long, 1):
			return Lack(NeverStops)
		}
		n := Put("from %s km/h: m = %s kg, κ_b = %s, A = %s A at V_x = %s V, at first limited by %s", num(from*kmh), num(b.board.Mass),
			num(b.board.Hold.Brake), num(s.Intake.Current), num(s.Intake.OpenCircuit), s.By)
		switch half := b.stopAt(halfCharge); {
		case s.Coasts():
			return Put("from %s km/h: m = %s kg, B = 0", num(from*kmh), num(b.board.Mass)).With(TakesNothing, Quantity{SI: charge, PerSI: percent, Unit: "%"})
		case charge == halfCharge && half.Long > b.stopAt(stopCharge).Long:
			return n.With(LowerVoltsLonger)
		}
		return n
	}
}

// thrustGap says why the thrust is not known.
func (b *Build) thrustGap() Numbers {
	var lacking []Datum
	if math.IsNaN(b.Motor.Resistance) {
		lacking = append(lacking, MotorResistance)
	}
	if math.IsNaN(b.Motor.PeakCurrent) && math.IsNaN(b.Controller.MotorCurrent) {
		lacking = append(lacking, MotorCurrentLimit)
	}
	if math.IsNaN(b.Controller.BatteryCurrent) && math.IsNaN(b.Battery.DischargeLimit()) {
		lacking = append(lacking, BatteryCurrentLimit)
	}
	return Numbers{Notes: []Note{{Code: NoThrustWithout, Lacking: lacking}}}
}

func putTopSpeedBy(b *Build) Numbers {
	v, by := b.TopSpeed()
	if by == drive.NoLimit {
		return Lack(NoMotion)
	}
	return Put("at %s km/h: %s", num(v*kmh), by)
}

func putERPMFull(b *Build) Numbers {
	return Put("%s rpm/V × %s V × %d", num(b.Motor.KV), num(b.Battery.Pack.Full), b.Motor.Drive.PolePairs)
}

func putERPMAtTarget(b *Build) Numbers {
	if math.IsNaN(b.Problem.Brief.Target.TopSpeed) {
		return Lack(NoTopSpeed)
	}
	return Put("%s m/s × %s / %s m × 60 / 2π × %d",
		num(b.Problem.Brief.Target.TopSpeed), num(b.Drive.Reduction), num(b.Wheel.Radius), b.Motor.Drive.PolePairs)
}

func putERPMSpeed(b *Build) Numbers {
	if math.IsNaN(b.Controller.Ceiling) {
		return Lack(NoCeiling)
	}
	return Put("v = %s rpm / %d × 2π / 60 × %s m / %s",
		num(b.Controller.Ceiling), b.Motor.Drive.PolePairs, num(b.Wheel.Radius), num(b.Drive.Reduction))
}

// onClimb is an explanation that needs a climb grade.
func onClimb(put func(b *Build) Numbers) func(b *Build) Numbers {
	return func(b *Build) Numbers {
		if !b.Problem.Climbs() {
			return Lack(NoGrade)
		}
		return put(b)
	}
}

// onThrust is an explanation that needs the thrust.
func onThrust(put func(b *Build) Numbers) func(b *Build) Numbers {
	return func(b *Build) Numbers {
		if !b.ThrustKnown() {
			return b.thrustGap()
		}
		return put(b)
	}
}

// onBelt is an explanation that needs two pulleys.
func onBelt(put func(b *Build) Numbers) func(b *Build) Numbers {
	return func(b *Build) Numbers {
		if b.Drive.Gear != nil {
			return Lack(GearNoBelt)
		}
		return put(b)
	}
}

func putClimbThrust(b *Build) Numbers {
	v := b.Problem.Brief.Target.ClimbSpeed
	amps, by := b.electrical.Current(v * b.Drive.Reduction / b.Wheel.Radius)
	return Put("F = %d × %s × (%s / %s m) × %s N·m/A × (%s A − %s A), limited by %s; %s %s × %s kg × g × cos θ = %s N",
		b.Motors(), num(b.Drive.Efficiency), num(b.Drive.Reduction), num(b.Wheel.Radius), num(b.electrical.K),
		num(amps), num(b.electrical.NoLoad), by,
		b.board.Hold.By, num(b.board.Hold.Drive), num(b.board.Mass), num(b.board.GripThrust(b.Problem.Theta)))
}

func putClimbNeed(b *Build) Numbers {
	v := b.Problem.Brief.Target.ClimbSpeed
	return Put("L = %s kg × %s m/s² × (sin θ + %s cos θ) + ½ × %s kg/m³ × %s m² × (%s m/s)², θ = atan %s",
		num(b.board.Mass), num(drive.Gravity), num(b.board.Crr), num(b.board.AirDensity), num(b.board.DragArea),
		num(v), num(b.Problem.Brief.Target.ClimbGrade))
}

func putClimbMargin(b *Build) Numbers {
	return Put("%s N / %s N − 1", num(b.GrippedClimbThrust()), num(b.ClimbNeed()))
}

func putClimbBy(b *Build) Numbers {
	amps, by := b.electrical.Current(b.Problem.Brief.Target.ClimbSpeed * b.Drive.Reduction / b.Wheel.Radius)
	return Put("%s holds each motor to %s A DC-equivalent, all to %s N; %s holds them to %s N",
		by, num(amps), num(b.ClimbThrust()), b.board.Hold.By, num(b.board.GripThrust(b.Problem.Theta)))
}

func putClimbLimit(b *Build) Numbers {
	return Put("thrust %s N, m g = %s N, Crr %s, κ = %s by %s",
		num(b.ClimbThrust()), num(b.board.Mass*drive.Gravity), num(b.board.Crr), num(b.board.Hold.Drive), b.board.Hold.By)
}

func putClimbCurrent(b *Build) Numbers {
	return Put("(%s N × %s m / (%d × %s × %s × %s N·m/A) + %s A) / %s",
		num(b.ClimbNeed()), num(b.Wheel.Radius), b.Motors(), num(b.Drive.Efficiency), num(b.Drive.Reduction),
		num(b.electrical.K), num(b.electrical.NoLoad), num(b.electrical.PhaseFactor))
}

func putWindingEnd(b *Build) Numbers {
	if !b.Problem.HasLength() {
		return Lack(NoLength)
	}
	if _, ok := b.thermal(); !ok {
		return Lack(NoThermal)
	}
	t, h, ok := b.Hill()
	if !ok {
		return Lack(NoResistance)
	}
	return Put("from %s °C, %s s: C_w = %s J/K, C_c = %s J/K, R_wc = %s K/W, R_ca = %s K/W, %s Ω × (%s A)² at 20 °C, k ω I₀ = %s W", num(h.Air), num(h.Seconds),
		num(t.Winding), num(t.Rest), num(t.Inner), num(t.Outer), num(h.Resistance), num(h.Current), num(h.Iron)).With(GoodToFortyPercent)
}

func putHillTorque(b *Build) Numbers {
	return Put("%s N × %s m", num(b.ClimbThrust()), num(b.Wheel.Radius))
}

func putLaunch(b *Build) Numbers {
	to := b.Problem.Brief.Target.LaunchSpeed
	switch {
	case math.IsNaN(to):
		return Lack(NoLaunchSpeed)
	case !b.ThrustKnown():
		return b.thrustGap()
	case math.IsNaN(b.Launch()):
		return Lack(NoLaunch, speed(to))
	}
	return Put("m = %s kg, to %s km/h", num(b.board.Mass), num(to*kmh))
}

func putEnergy(b *Build) Numbers {
	if math.IsNaN(b.Energy()) {
		return Lack(NoCapacity)
	}
	return Put("E = %s A·h × %s V", num(b.Battery.Pack.Capacity), num(b.Battery.Pack.Nominal))
}

// cruiseGap says why there is no consumption; known is true where there is one.
func (b *Build) cruiseGap() (gap Numbers, known bool) {
	cruise := speed(b.Problem.Brief.Target.Cruise)
	if top, _ := b.TopSpeed(); !b.OutrunsCruise() {
		return Lack(CruiseTooFast, cruise, speed(top)), false
	}
	if !b.HoldsWind() {
		return Lack(WindTooGreat, cruise, speed(b.Problem.Brief.Ride.Wind)), false
	}
	if b.electrical.R == 0 {
		return Lack(NoResistance), false
	}
	if _, ok := b.Ridden(); !ok {
		return Lack(CruiseTooGreat, cruise), false
	}
	return Numbers{}, true
}

func putConsumption(b *Build) Numbers {
	if gap, known := b.cruiseGap(); !known {
		return gap
	}
	r, _ := b.Ridden()
	v := b.Problem.Brief.Target.Cruise
	cruise := func(c drive.Cruise) string {
		return fmt.Sprintf("I = %s A DC-equivalent, %s W, %s V × %s A / %s m/s = %s Wh/km", num(c.MotorCurrent), num(c.Power),
			num(b.Battery.Pack.Nominal), num(c.PackCurrent), num(v), num(c.EnergyPerMetre*wh/km))
	}
	text := "at " + num(v*kmh) + " km/h: " + cruise(r.Into)
	if b.Problem.Brief.Ride.Wind > 0 {
		text = "at " + num(v*kmh) + " km/h against the wind: " + cruise(r.Into) + "; with it: " + cruise(r.With)
	}
	if r.Up > 0 {
		text += fmt.Sprintf("; stops and ascent %s Wh/km at η_up = %s", num(r.Stops*wh/km), num(r.Up))
	}
	return Numbers{Formula: text + "; × " + num(b.Problem.Brief.Limit.RideFactor)}
}

func putRange(b *Build) Numbers {
	if gap, known := b.cruiseGap(); !known {
		return gap
	}
	if math.IsNaN(b.Energy()) {
		return Lack(NoCapacity)
	}
	return Put("%s Wh × %s × %s / %s Wh/km", num(b.Energy()*wh), num(b.Problem.Brief.Limit.Usable), num(b.Problem.Cold.Capacity), num(b.Consumption()*wh/km))
}

func putMesh(b *Build) Numbers {
	d := b.Drive
	if d.Mesh < 0 {
		return Lack(d.NoMesh())
	}
	a, c := d.MotorPulley, d.WheelPulley
	return Put("z = %d, D = %s mm, d = %s mm, C = %s mm", min(a.Teeth, c.Teeth),
		num(c.Profile.PitchDiameter(max(a.Teeth, c.Teeth))*mm), num(a.Profile.PitchDiameter(min(a.Teeth, c.Teeth))*mm), num(d.Centre*mm))
}

// NoMesh is why no tooth of a belt drive is known to be in mesh.
func (d *Drive) NoMesh() NoteCode {
	switch {
	case d.Belt != nil && d.Chained():
		return NoChainAround
	case d.Belt != nil:
		return NoBeltAround
	case d.Chained():
		return NoChain
	}
	return NoBelt
}

func putCentre(b *Build) Numbers {
	if math.IsNaN(b.Drive.Centre) {
		return Lack(b.Drive.NoMesh())
	}
	belt := b.Drive.Belt
	if b.Drive.Chained() {
		return Put("X = %d links of %s mm, sprockets of %d and %d teeth", belt.Teeth, num(belt.Profile.Pitch*mm),
			b.Drive.MotorPulley.Teeth, b.Drive.WheelPulley.Teeth)
	}
	return Put("L = %d × %s mm, pulleys of %d and %d teeth", belt.Teeth, num(belt.Profile.Pitch*mm),
		b.Drive.MotorPulley.Teeth, b.Drive.WheelPulley.Teeth)
}

func putBeltPull(b *Build) Numbers {
	pulley := b.Drive.MotorPulley
	return Put("%s N·m / %s mm", num(b.WheelTorque()/(b.Drive.Reduction*b.Drive.Efficiency)),
		num(pulley.Profile.PitchDiameter(pulley.Teeth)/2*mm))
}

func putPrice(b *Build) Numbers {
	return Put("battery, controllers and motors %s, drives %s, wheels %s",
		num(b.priceE.Total()), num(b.Drive.Price[b.Count].Total()), num(b.Wheel.Price.Total()))
}

func putBoardMass(b *Build) Numbers {
	return Put("%s + battery, controllers and motors %s, drives %s, wheels %s", kilograms(b.Problem.Brief.Board.Mass),
		kilograms(b.massE.Total()), kilograms(b.Drive.Mass[b.Count].Total()), kilograms(b.Wheel.Mass.Total()))
}

// kilograms is a mass with its unit, if it is known.
func kilograms(x float64) string {
	if math.IsNaN(x) {
		return num(x)
	}
	return num(x) + " kg"
}
