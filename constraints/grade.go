package constraints

import (
	"math"

	"gearsearch/drive"
)

// The grades, as rise over run, at which the checks of a climb are just passed.

// gradeClimbed is the steepest grade that the build climbs, as rise over run.
func (b *Build) gradeClimbed() float64 {
	grade := b.board.ClimbLimit(b.Problem.Brief.Target.ClimbSpeed)
	return unless(grade, grade == 0) // 0 stands for no climbing, too
}

// gradeOfHeat, gradeOfBelt and gradeOfGear are the grades at which the climb just
// meets the limits of the checks of those names; NaN where that is not known.

func (b *Build) gradeOfHeat() float64 {
	return b.gradeOfTorque((b.coolCurrent() - b.electrical.NoLoad) * b.electrical.K)
}

func (b *Build) gradeOfBelt() float64 {
	pulley := b.Drive.MotorPulley
	return b.gradeOfTorque(b.beltLimit() * pulley.Profile.PitchDiameter(pulley.Teeth) / 2)
}

func (b *Build) gradeOfGear() float64 {
	return b.gradeOf(b.Drive.Gear.MaxTorque * float64(b.Motors()) / b.board.Radius)
}

// gradeOfTorque is the grade on which the climb takes a torque (N·m) of each
// motor's shaft beyond that of its idling.
func (b *Build) gradeOfTorque(torque float64) float64 {
	return b.gradeOf(torque * float64(b.Motors()) * b.board.Reduction * b.board.Efficiency / b.board.Radius)
}

// gradeOf is the grade on which the climb speed takes a force (N): the
// solution of m g (sin θ + Crr cos θ) + ½ ρ A v² = force; negative where the
// flat takes more, NaN for a force that is not known.
func (b *Build) gradeOf(force float64) float64 {
	v := b.Problem.Brief.Target.ClimbSpeed
	weight := b.board.Mass * drive.Gravity
	air := b.board.Load(v, 0) - weight*b.board.Crr
	sine := (force - air) / weight / math.Hypot(1, b.board.Crr)
	return math.Tan(math.Asin(math.Max(-1, math.Min(1, sine))) - math.Atan(b.board.Crr))
}
