package constraints

import (
	"fmt"
	"math"
	"strconv"
	"strings"

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
	sourceEnergy     = "energy balance of motor, controller and pack; the ride factor is an assumption"
	sourceBelt       = "belt geometry: Roloff/Matek; ISO 5296"
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

func putReduction(b *Build) string {
	if g := b.Drive.Gear; g != nil {
		return "N = " + num(g.Ratio)
	}
	return fmt.Sprintf("N = %d / %d", b.Drive.WheelPulley.Teeth, b.Drive.MotorPulley.Teeth)
}

func putRadius(b *Build) string {
	return fmt.Sprintf("r = %s mm / 2 × %s", num(b.Wheel.Diameter*mm), num(b.Wheel.Radius/(b.Wheel.Diameter/2)))
}

func putMass(b *Build) string {
	br := b.Problem.Brief
	return fmt.Sprintf("m = %s kg + %s kg + %s kg", num(br.Rider.Mass), num(br.Board.Mass), num(b.mass.Known-br.Board.Mass))
}

func (b *Build) putFree(volts float64) string {
	return fmt.Sprintf("v = %s rpm/V × %s V / 60 × 2π × %s m / %s × %s",
		num(b.Motor.KV), num(volts), num(b.Wheel.Radius), num(b.Drive.Reduction), num(b.Controller.Drive.MaxDuty))
}

func putFreeSpeed(b *Build) string { return b.putFree(b.Battery.Pack.Volts) }

func putFreeSpeedFull(b *Build) string { return b.putFree(b.Battery.Pack.Full) }

func putTopSpeed(b *Build) string {
	v, by := b.TopSpeed()
	ceiling := ""
	if by == drive.ERPM {
		ceiling = fmt.Sprintf("; the rpm ceiling allows %s km/h", num(v*kmh))
	}
	if !b.ThrustKnown() {
		return fmt.Sprintf("%s, so v = %s × %s rpm/V × %s V × 2π × %s m / (60 × %s) [%s]%s",
			b.thrustGap(), num(b.Problem.Brief.Limit.Derate), num(b.Motor.KV), num(b.Battery.Pack.Volts),
			num(b.Wheel.Radius), num(b.Drive.Reduction), sourceEstimate, ceiling)
	}
	if by == drive.NoLimit {
		return fmt.Sprintf("F(0) = %s N is less than L(0) = %s N: the board does not move off",
			num(math.Min(b.board.Thrust(0), b.board.GripThrust(0))), num(b.board.Load(0, 0)))
	}
	return fmt.Sprintf("at %s km/h F = %s N, L = %s N × %s + ½ × %s kg/m³ × %s m² × (%s m/s)² = %s N%s",
		num(v*kmh), num(math.Min(b.board.Thrust(v), b.board.GripThrust(0))), num(b.board.Mass*drive.Gravity),
		num(b.board.Crr), num(b.board.AirDensity), num(b.board.DragArea), num(v), num(b.board.Load(v, 0)), ceiling)
}

// thrustGap says why the thrust is not known.
func (b *Build) thrustGap() string {
	var missing []string
	if math.IsNaN(b.Motor.Resistance) {
		missing = append(missing, "the motor's resistance")
	}
	if math.IsNaN(b.Motor.PeakCurrent) && math.IsNaN(b.Controller.MotorCurrent) {
		missing = append(missing, "a limit of the motor current")
	}
	if math.IsNaN(b.Controller.BatteryCurrent) && math.IsNaN(b.Battery.DischargeLimit()) {
		missing = append(missing, "a limit of the battery current")
	}
	return "the thrust is not known without " + strings.Join(missing, " and ")
}

func putTopSpeedBy(b *Build) string {
	v, by := b.TopSpeed()
	if by == drive.NoLimit {
		return "the board does not move off"
	}
	return fmt.Sprintf("at %s km/h: %s", num(v*kmh), by)
}

func putERPMFull(b *Build) string {
	return fmt.Sprintf("%s rpm/V × %s V × %d", num(b.Motor.KV), num(b.Battery.Pack.Full), b.Motor.Drive.PolePairs)
}

func putERPMAtTarget(b *Build) string {
	if math.IsNaN(b.Problem.Brief.Target.TopSpeed) {
		return "no top speed is asked for"
	}
	return fmt.Sprintf("%s m/s × %s / %s m × 60 / 2π × %d",
		num(b.Problem.Brief.Target.TopSpeed), num(b.Drive.Reduction), num(b.Wheel.Radius), b.Motor.Drive.PolePairs)
}

func putERPMSpeed(b *Build) string {
	if math.IsNaN(b.Controller.Ceiling) {
		return "neither the brief nor the controller has an rpm ceiling"
	}
	return fmt.Sprintf("v = %s rpm / %d × 2π / 60 × %s m / %s",
		num(b.Controller.Ceiling), b.Motor.Drive.PolePairs, num(b.Wheel.Radius), num(b.Drive.Reduction))
}

// onClimb is an explanation that needs a climb grade.
func onClimb(put func(b *Build) string) func(b *Build) string {
	return func(b *Build) string {
		if !b.Problem.Climbs() {
			return "no climb grade is asked for"
		}
		return put(b)
	}
}

// onThrust is an explanation that needs the thrust.
func onThrust(put func(b *Build) string) func(b *Build) string {
	return func(b *Build) string {
		if !b.ThrustKnown() {
			return b.thrustGap()
		}
		return put(b)
	}
}

// onBelt is an explanation that needs two pulleys.
func onBelt(put func(b *Build) string) func(b *Build) string {
	return func(b *Build) string {
		if b.Drive.Gear != nil {
			return "a gear drive has no belt"
		}
		return put(b)
	}
}

func putClimbThrust(b *Build) string {
	v := b.Problem.Brief.Target.ClimbSpeed
	amps, by := b.electrical.Current(v * b.Drive.Reduction / b.Wheel.Radius)
	return fmt.Sprintf("F = %d × %s × (%s / %s m) × %s N·m/A × (%s A − %s A), limited by %s; grip %s × %s × %s kg × g × cos θ = %s N",
		b.Motors(), num(b.Drive.Efficiency), num(b.Drive.Reduction), num(b.Wheel.Radius), num(b.electrical.K),
		num(amps), num(b.electrical.NoLoad), by,
		num(b.board.Friction), num(b.board.DrivenShare), num(b.board.Mass), num(b.board.GripThrust(b.Problem.Theta)))
}

func putClimbNeed(b *Build) string {
	v := b.Problem.Brief.Target.ClimbSpeed
	return fmt.Sprintf("L = %s kg × %s m/s² × (sin θ + %s cos θ) + ½ × %s kg/m³ × %s m² × (%s m/s)², θ = atan %s",
		num(b.board.Mass), num(drive.Gravity), num(b.board.Crr), num(b.board.AirDensity), num(b.board.DragArea),
		num(v), num(b.Problem.Brief.Target.ClimbGrade))
}

func putClimbMargin(b *Build) string {
	return fmt.Sprintf("%s N / %s N − 1", num(b.GrippedClimbThrust()), num(b.ClimbNeed()))
}

func putClimbBy(b *Build) string {
	amps, by := b.electrical.Current(b.Problem.Brief.Target.ClimbSpeed * b.Drive.Reduction / b.Wheel.Radius)
	return fmt.Sprintf("%s holds each motor to %s A DC-equivalent, all to %s N; grip holds them to %s N",
		by, num(amps), num(b.ClimbThrust()), num(b.board.GripThrust(b.Problem.Theta)))
}

func putClimbLimit(b *Build) string {
	return fmt.Sprintf("thrust %s N, m g = %s N, Crr %s, μ × share = %s",
		num(b.ClimbThrust()), num(b.board.Mass*drive.Gravity), num(b.board.Crr), num(b.board.Friction*b.board.DrivenShare))
}

func putClimbCurrent(b *Build) string {
	return fmt.Sprintf("(%s N × %s m / (%d × %s × %s × %s N·m/A) + %s A) / %s",
		num(b.ClimbNeed()), num(b.Wheel.Radius), b.Motors(), num(b.Drive.Efficiency), num(b.Drive.Reduction),
		num(b.electrical.K), num(b.electrical.NoLoad), num(b.electrical.PhaseFactor))
}

func putHillTorque(b *Build) string {
	return fmt.Sprintf("%s N × %s m", num(b.ClimbThrust()), num(b.Wheel.Radius))
}

func putLaunch(b *Build) string {
	to := b.Problem.Brief.Target.LaunchSpeed
	switch {
	case math.IsNaN(to):
		return "no launch speed is asked for"
	case !b.ThrustKnown():
		return b.thrustGap()
	case math.IsNaN(b.Launch()):
		return fmt.Sprintf("%s km/h is never reached", num(to*kmh))
	}
	return fmt.Sprintf("m = %s kg, to %s km/h", num(b.board.Mass), num(to*kmh))
}

// capacityGap says why the energy is not known.
const capacityGap = "the pack's capacity is not known"

func putEnergy(b *Build) string {
	if math.IsNaN(b.Energy()) {
		return capacityGap
	}
	return fmt.Sprintf("E = %s A·h × %s V", num(b.Battery.Pack.Capacity), num(b.Battery.Pack.Nominal))
}

// cruiseGap says why there is no consumption, "" where there is one.
func (b *Build) cruiseGap() string {
	cruise := num(b.Problem.Brief.Target.Cruise * kmh)
	if top, _ := b.TopSpeed(); !b.OutrunsCruise() {
		return fmt.Sprintf("the cruise speed of %s km/h is above the top speed of %s km/h", cruise, num(top*kmh))
	}
	if math.IsNaN(b.Motor.Resistance) {
		return "the motor's resistance is not known"
	}
	if _, ok := b.Cruise(); !ok {
		return "the pack cannot give the power that " + cruise + " km/h takes"
	}
	return ""
}

func putConsumption(b *Build) string {
	if gap := b.cruiseGap(); gap != "" {
		return gap
	}
	c, _ := b.Cruise()
	return fmt.Sprintf("at %s km/h: I = %s A DC-equivalent, %s W, %s V × %s A / %s m/s × %s",
		num(b.Problem.Brief.Target.Cruise*kmh), num(c.MotorCurrent), num(c.Power), num(b.Battery.Pack.Nominal),
		num(c.PackCurrent), num(b.Problem.Brief.Target.Cruise), num(b.Problem.Brief.Limit.RideFactor))
}

func putRange(b *Build) string {
	if gap := b.cruiseGap(); gap != "" {
		return gap
	}
	if math.IsNaN(b.Energy()) {
		return capacityGap
	}
	return fmt.Sprintf("%s Wh × %s / %s Wh/km", num(b.Energy()*wh), num(b.Problem.Brief.Limit.Usable), num(b.Consumption()*wh/km))
}

// beltGap says why nothing is known of the belt.
const beltGap = "there is no belt that fits"

func putMesh(b *Build) string {
	d := b.Drive
	switch {
	case d.Mesh < 0:
		return beltGap
	case math.IsNaN(d.Centre):
		return "the belt does not go around the two pulleys"
	}
	a, c := d.MotorPulley, d.WheelPulley
	return fmt.Sprintf("z = %d, D = %s mm, d = %s mm, C = %s mm", min(a.Teeth, c.Teeth),
		num(c.Profile.PitchDiameter(max(a.Teeth, c.Teeth))*mm), num(a.Profile.PitchDiameter(min(a.Teeth, c.Teeth))*mm), num(d.Centre*mm))
}

func putCentre(b *Build) string {
	if math.IsNaN(b.Drive.Centre) {
		return beltGap
	}
	belt := b.Drive.Belt
	return fmt.Sprintf("L = %d × %s mm, pulleys of %d and %d teeth", belt.Teeth, num(belt.Profile.Pitch*mm),
		b.Drive.MotorPulley.Teeth, b.Drive.WheelPulley.Teeth)
}

func putBeltPull(b *Build) string {
	pulley := b.Drive.MotorPulley
	return fmt.Sprintf("%s N·m / %s mm", num(b.WheelTorque()/(b.Drive.Reduction*b.Drive.Efficiency)),
		num(pulley.Profile.PitchDiameter(pulley.Teeth)/2*mm))
}

func putPrice(b *Build) string {
	return fmt.Sprintf("battery, controllers and motors %s, drives %s, wheels %s",
		num(b.priceE.Total()), num(b.Drive.Price[b.Count].Total()), num(b.Wheel.Price.Total()))
}

func putBoardMass(b *Build) string {
	return fmt.Sprintf("%s + battery, controllers and motors %s, drives %s, wheels %s", kilograms(b.Problem.Brief.Board.Mass),
		kilograms(b.massE.Total()), kilograms(b.Drive.Mass[b.Count].Total()), kilograms(b.Wheel.Mass.Total()))
}

// kilograms is a mass with its unit, if it is known.
func kilograms(x float64) string {
	if math.IsNaN(x) {
		return num(x)
	}
	return num(x) + " kg"
}
