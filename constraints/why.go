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
	if math.IsNaN(x) {
		return "unknown"
	}
	if math.Abs(x) >= 1000 {
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
	if !b.ThrustKnown() {
		return fmt.Sprintf("losses cannot be computed: v = %s × %s rpm/V × %s V × 2π × %s m / (60 × %s) [%s]",
			num(b.Problem.Brief.Limit.Derate), num(b.Motor.KV), num(b.Battery.Pack.Volts), num(b.Wheel.Radius),
			num(b.Drive.Reduction), sourceEstimate)
	}
	if by == drive.NoLimit {
		return fmt.Sprintf("F(0) = %s N is less than L(0) = %s N: the board does not move off",
			num(math.Min(b.board.Thrust(0), b.board.GripThrust(0))), num(b.board.Load(0, 0)))
	}
	return fmt.Sprintf("at %s km/h F = %s N, L = %s N × %s + ½ × %s kg/m³ × %s m² × (%s m/s)² = %s N",
		num(v*kmh), num(math.Min(b.board.Thrust(v), b.board.GripThrust(0))), num(b.board.Mass*drive.Gravity),
		num(b.board.Crr), num(b.board.AirDensity), num(b.board.DragArea), num(v), num(b.board.Load(v, 0)))
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
	return fmt.Sprintf("%s m/s × %s / %s m × 60 / 2π × %d",
		num(b.Problem.Brief.Target.TopSpeed), num(b.Drive.Reduction), num(b.Wheel.Radius), b.Motor.Drive.PolePairs)
}

func putERPMSpeed(b *Build) string {
	return fmt.Sprintf("v = %s rpm / %d × 2π / 60 × %s m / %s",
		num(b.Controller.Ceiling), b.Motor.Drive.PolePairs, num(b.Wheel.Radius), num(b.Drive.Reduction))
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
	return fmt.Sprintf("%s N / %s N − 1", num(b.whenThrust((*Build).GrippedClimbThrust)), num(b.ClimbNeed()))
}

func putClimbBy(b *Build) string {
	amps, by := b.electrical.Current(b.Problem.Brief.Target.ClimbSpeed * b.Drive.Reduction / b.Wheel.Radius)
	return fmt.Sprintf("electrically %s (%s A DC-equivalent, %s N); grip %s N",
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
	return fmt.Sprintf("%s N × %s m", num(b.whenThrust((*Build).ClimbThrust)), num(b.Wheel.Radius))
}

func putLaunch(b *Build) string {
	return fmt.Sprintf("m = %s kg, to %s km/h", num(b.board.Mass), num(b.Problem.Brief.Target.LaunchSpeed*kmh))
}

func putEnergy(b *Build) string {
	return fmt.Sprintf("E = %s A·h × %s V", num(b.Battery.Pack.Capacity), num(b.Battery.Pack.Nominal))
}

func putConsumption(b *Build) string {
	c, _ := b.Cruise()
	return fmt.Sprintf("at %s km/h: I = %s A DC-equivalent, %s W, %s V × %s A / %s m/s × %s",
		num(b.Problem.Brief.Target.Cruise*kmh), num(c.MotorCurrent), num(c.Power), num(b.Battery.Pack.Nominal),
		num(c.PackCurrent), num(b.Problem.Brief.Target.Cruise), num(b.Problem.Brief.Limit.RideFactor))
}

func putRange(b *Build) string {
	return fmt.Sprintf("%s Wh × %s / %s Wh/km", num(b.Energy()*wh), num(b.Problem.Brief.Limit.Usable), num(b.Consumption()*wh/km))
}

func putMesh(b *Build) string {
	d := b.Drive
	a, c := d.MotorPulley, d.WheelPulley
	return fmt.Sprintf("z = %d, D = %s mm, d = %s mm, C = %s mm", min(a.Teeth, c.Teeth),
		num(c.Profile.PitchDiameter(c.Teeth)*mm), num(a.Profile.PitchDiameter(a.Teeth)*mm), num(d.Centre*mm))
}

func putCentre(b *Build) string {
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
	return fmt.Sprintf("%s kg + battery, controllers and motors %s kg, drives %s kg, wheels %s kg", num(b.Problem.Brief.Board.Mass),
		num(b.massE.Total()), num(b.Drive.Mass[b.Count].Total()), num(b.Wheel.Mass.Total()))
}
