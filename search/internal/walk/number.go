package walk

import (
	"math"

	"gearsearch/constraints"
)

// MostNumbered is the largest product of combinations that can be numbered.
const MostNumbered = math.MaxInt64

// Choices are the indices of a combination's parts in the lists of its problem.
type Choices struct{ Battery, Controller, Motor, Count, Drive, Wheel int }

// Number numbers the combinations so that the first among equals has the lowest
// number: by battery, controller, motor, number of motors, gear drive (none
// first), motor pulley, wheel pulley, mount and wheel. The belt follows from
// the rest.
func (c Choices) Number(p *constraints.Problem) uint64 {
	n := uint64(c.Battery)
	n = n*uint64(len(p.Controllers)) + uint64(c.Controller)
	n = n*uint64(len(p.Motors)) + uint64(c.Motor)
	n = n*uint64(len(p.Counts)) + uint64(c.Count)
	return n*uint64(len(p.Drives))*uint64(len(p.Wheels)) + PairNumber(p, c.Drive, c.Wheel)
}

// PairNumber is the number of a combination with a drive and a wheel, less that
// of the first combination with the same electrical parts.
func PairNumber(p *constraints.Problem, drive, wheel int) uint64 {
	return uint64(drive)*uint64(len(p.Wheels)) + uint64(wheel)
}

// ChoicesOf are the choices of a combination's number.
func ChoicesOf(p *constraints.Problem, id uint64) Choices {
	take := func(n int) int {
		digit := int(id % uint64(n))
		id /= uint64(n)
		return digit
	}
	var c Choices
	c.Wheel, c.Drive = take(len(p.Wheels)), take(len(p.Drives))
	c.Count, c.Motor = take(len(p.Counts)), take(len(p.Motors))
	c.Controller, c.Battery = take(len(p.Controllers)), take(len(p.Batteries))
	return c
}

// Electrify sets the electrical half of a build alone.
func (c Choices) Electrify(b *constraints.Build) {
	p := b.Problem
	b.Drive, b.Wheel = nil, nil
	b.Electrify(p.Batteries[c.Battery], p.Controllers[c.Controller], p.Motors[c.Motor], c.Count)
}

// Assemble makes the build of a combination's number.
func Assemble(p *constraints.Problem, id uint64) *constraints.Build {
	c, b := ChoicesOf(p, id), &constraints.Build{Problem: p}
	c.Electrify(b)
	b.Roll(p.Drives[c.Drive], p.Wheels[c.Wheel])
	return b
}

// Units is how many choices of motor, number of motors and battery there are.
func Units(p *constraints.Problem) int { return len(p.Motors) * len(p.Counts) * len(p.Batteries) }

// Unit is the n-th of them.
func Unit(p *constraints.Problem, n int) Choices {
	battery := n % len(p.Batteries)
	n /= len(p.Batteries)
	return Choices{Battery: battery, Count: n % len(p.Counts), Motor: n / len(p.Counts)}
}
