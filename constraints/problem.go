package constraints

import (
	"fmt"
	"math"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/drive"
)

// Problem is a brief put to a catalog: the parts in play after keep and
// avoid, each prepared once, and the checks and conditions that follow.
// It does not change once NewProblem has made it, and may be shared; With makes
// changed ones of it.
type Problem struct {
	Catalog *catalog.Catalog
	Brief   *Brief

	// The parts in play, each list sorted by id, Drives in the order that
	// breaks ties: belt drives by motor pulley, wheel pulley and mount, then
	// gear drives.
	Counts      []int // of motors, ascending
	Batteries   []*Battery
	Flat        []*catalog.Battery // packs in play after keep and avoid that the brief's charge leaves at or below their cut-off
	Controllers []*Controller
	Motors      []*Motor
	Drives      []*Drive
	Wheels      []*Wheel

	// What the drives are made of.
	MotorPulleys []*catalog.Pulley
	WheelPulleys []*catalog.Pulley
	Belts        []*catalog.Belt
	Mounts       []*catalog.Mount
	GearDrives   []*catalog.GearDrive

	AirDensity float64      // kg/m³
	DragArea   float64      // m²
	Grip       float64      // μ
	Stance     drive.Stance // of the rider
	Warmth     float64      // share of its current that a pack may be charged with
	Cold       drive.Cold   // what the temperature does to packs
	Theta      float64      // rad, of the target grade; 0 without one
	Slope      drive.Slope  // of Theta

	// What a price and a mass (kg) are scored against; 0: not scored.
	PriceReference float64
	MassReference  float64

	trip    trip                // the brief's way to ride
	slip    float64             // by how much the grip is greater than the brief says, as a share
	built   *catalog.Controller // that of the build that Find made, in play or not; nil: no build
	checks  []*Check            // those that apply, in order
	demoted map[string]bool     // names of checks that only caution
}

// NewProblem puts a brief to a catalog. The error is of type field.Problems:
// the brief names parts that are not there, contradicts the catalog, or leaves
// a slot without any part.
func NewProblem(c *catalog.Catalog, brief *Brief) (*Problem, error) {
	p, err := NewBuildProblem(c, brief)
	if err != nil {
		return nil, err
	}
	if err := p.powered(); err != nil {
		return nil, err
	}
	return p, nil
}

// NewBuildProblem is NewProblem for one build, which Find makes. Here every pack in
// play may be flat at the brief's charge, since the build may have another.
func NewBuildProblem(c *catalog.Catalog, brief *Brief) (*Problem, error) {
	p := &Problem{Catalog: c, Brief: brief, demoted: map[string]bool{}}
	if err := brief.Validate(); err != nil {
		return nil, err
	}
	if err := brief.foreign(c); err != nil {
		return nil, err
	}
	p.Counts = brief.counts()
	p.conditions()
	if err := p.choose(); err != nil {
		return nil, err
	}
	if err := p.tooMany(); err != nil {
		return nil, err
	}
	p.makeDrives()
	p.references()
	for _, name := range brief.Limit.Demote {
		p.demoted[name] = true
	}
	p.checks = p.applicable()
	return p, nil
}

// applicable lists the checks that the brief and the parts in play make apply.
func (p *Problem) applicable() []*Check {
	var out []*Check
	for _, check := range registry {
		if check.Applies(p) {
			out = append(out, check)
		}
	}
	return out
}

// hold is what the driven wheels hold with the number of motors at an index and a
// rolling resistance.
func (p *Problem) hold(count int, crr float64) drive.Hold {
	if math.IsInf(p.Grip, 1) {
		return drive.Hold{Drive: p.Grip, By: drive.Grip, Brake: p.Grip}
	}
	return p.Stance.Hold(p.Counts[count], p.Grip, crr)
}

// Climbs reports whether a climb grade is asked for.
func (p *Problem) Climbs() bool { return !math.IsNaN(p.Brief.Target.ClimbGrade) }

// Combinations is the size of the full product: battery × controller × motor
// × motor count × drive × wheel. It is a float64 and exact up to 2⁵³.
func (p *Problem) Combinations() float64 {
	return float64(len(p.Batteries)) * float64(len(p.Controllers)) * float64(len(p.Motors)) *
		float64(len(p.Counts)) * float64(len(p.Drives)) * float64(len(p.Wheels))
}

// Number is Combinations to the last digit; ok is false where it is more than an int64
// holds.
func (p *Problem) Number() (n uint64, ok bool) {
	if p.Combinations() > 1.5*math.MaxInt64 {
		return 0, false // the product may not fit in 64 bits
	}
	n = 1
	for _, choices := range []int{len(p.Batteries), len(p.Controllers), len(p.Motors), len(p.Counts), len(p.Drives), len(p.Wheels)} {
		n *= uint64(choices)
	}
	return n, n <= math.MaxInt64
}

// Checks lists the checks that the brief and the catalog make apply, in order.
func (p *Problem) Checks() []*Check { return p.checks }

// The most drives that a problem has, at some hundred bytes each, and the most
// pairs of a drive and a wheel, of which some searches remember a few bytes.
// Any real catalog has a small part of that.
const (
	MaxDrives = 400_000
	MaxPairs  = 1 << 22
)

// tooMany reports more drives, or pairs of a drive and a wheel, than are looked
// at.
func (p *Problem) tooMany() error {
	small, large, mounts, gears := len(p.MotorPulleys), len(p.WheelPulleys), len(p.Mounts), len(p.GearDrives)
	drives := float64(small)*float64(large)*float64(max(mounts, 1)) + float64(gears)
	pairs := drives * float64(len(p.Wheels))
	problem := field.Problem{Code: field.TooLarge}
	switch {
	case drives > MaxDrives:
		problem.Message = fmt.Sprintf("%.0f drives, of %d motor pulleys, %d wheel pulleys, %d mounts and %d gear drives, are more than are looked at, %d", drives, small, large, mounts, gears, MaxDrives)
		problem.Hint = "keep or avoid some of these, in the brief or by flags, or make a smaller catalog"
	case pairs > MaxPairs:
		problem.Message = fmt.Sprintf("%.0f pairs of a drive and a wheel are more than are looked at, %d", pairs, MaxPairs)
		problem.Hint = "keep or avoid some wheels, pulleys, mounts or gear drives, in the brief or by flags, or make a smaller catalog"
	default:
		return nil
	}
	return field.Problems{problem}
}

// makeDrives prepares every drive: each motor pulley with each wheel pulley
// and, where there are mounts, each mount; then each gear drive.
func (p *Problem) makeDrives() {
	mounts := p.Mounts
	if len(mounts) == 0 {
		mounts = []*catalog.Mount{nil}
	}
	// Pulleys of one profile and the same teeth wear belts alike. They take their
	// turn together, so that only the belts of one such pair are in memory at a time.
	type pair struct {
		profile      string
		small, large int
	}
	alike := map[pair][]int32{} // numbers of the pairs of pulleys
	var order []pair
	for i, small := range p.MotorPulleys {
		for j, large := range p.WheelPulleys {
			key := pair{"", 0, 0} // no belt goes around both
			if large.Profile.ID == small.Profile.ID {
				key = pair{small.Profile.ID, small.Teeth, large.Teeth}
			}
			if alike[key] == nil {
				order = append(order, key)
			}
			alike[key] = append(alike[key], int32(i*len(p.WheelPulleys)+j))
		}
	}
	p.Drives = make([]*Drive, len(p.MotorPulleys)*len(p.WheelPulleys)*len(mounts), len(p.MotorPulleys)*len(p.WheelPulleys)*len(mounts)+len(p.GearDrives))
	wearable := contenders(p.Belts)
	for _, key := range order {
		var belts []fitted
		for k, n := range alike[key] {
			small, large := p.MotorPulleys[int(n)/len(p.WheelPulleys)], p.WheelPulleys[int(n)%len(p.WheelPulleys)]
			if k == 0 {
				belts = centres(small, large, wearable)
			}
			for m, mount := range mounts {
				p.Drives[int(n)*len(mounts)+m] = p.beltDrive(small, large, mount, belts)
			}
		}
	}
	for _, gear := range p.GearDrives {
		p.Drives = append(p.Drives, p.gearDrive(gear))
	}
}

// Belted reports whether belt drives are in play.
func (p *Problem) Belted() bool { return len(p.MotorPulleys) > 0 && len(p.WheelPulleys) > 0 }

// Geared reports whether gear drives are in play.
func (p *Problem) Geared() bool { return len(p.GearDrives) > 0 }
