package constraints

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"sort"

	"gearsearch/catalog"
	"gearsearch/drive"
)

// Drive is what turns one wheel, prepared under a brief: two pulleys with a
// belt, or two sprockets with a chain, and, where there are mounts, a mount; or a gear
// drive; or a bare ratio. What is said of pulleys and belts here holds for sprockets
// and chains.
type Drive struct {
	MotorPulley *catalog.Pulley
	WheelPulley *catalog.Pulley
	Mount       *catalog.Mount
	Belt        *catalog.Belt // nil: none could be chosen
	Gear        *catalog.GearDrive
	Bare        bool // Gear is a ratio alone and no part: what else there is to the drive is not known

	Reduction  float64
	Efficiency float64
	Centre     float64 // m; NaN: not known
	Mesh       int     // whole teeth in mesh on the small pulley, without an idler; -1: not known
	Low, High  float64 // m, how high the motor's shaft stands above the axle, at least and at most as far as is known; +Inf: inside the wheel
	Outside    float64 // m, outside radius, the belt or chain over a wheel pulley included; NaN: not known

	belt  Verdict // of the check of that name
	Price []Sum   // by index of the motor count
	Mass  []Sum
}

// beltBack is the belt's back and the flange over a wheel pulley's outside
// radius, m: an allowance, common practice, no published source.
const beltBack = 0.002

// gearDrive prepares a gear drive.
func (p *Problem) gearDrive(g *catalog.GearDrive) *Drive {
	d := &Drive{
		Gear:       g,
		Reduction:  g.Ratio,
		Efficiency: orElse(g.Efficiency, assumedEfficiency(g)),
		Centre:     math.NaN(),
		Mesh:       -1,
		Outside:    g.Outside / 2,
	}
	d.shaftStands(g.Centre, g.Angle)
	for _, n := range p.Counts {
		d.Price = append(d.Price, cost(&g.Part, n))
		d.Mass = append(d.Mass, weight(&g.Part, n))
	}
	return d
}

// assumedEfficiency is that of a gear drive which does not give it: 1 with the
// motor inside the wheel.
func assumedEfficiency(g *catalog.GearDrive) float64 {
	if g.InWheel {
		return 1
	}
	return catalog.AssumedGearEfficiency
}

// beltDrive prepares a belt drive and chooses its belt among belts. A nil
// mount stands for none.
func (p *Problem) beltDrive(small, large *catalog.Pulley, mount *catalog.Mount, belts []fitted) *Drive {
	d := &Drive{
		MotorPulley: small,
		WheelPulley: large,
		Mount:       mount,
		Reduction:   float64(large.Teeth) / float64(small.Teeth),
		Efficiency:  beltEfficiency,
		Centre:      math.NaN(),
		Mesh:        -1,
		Outside:     BeltedRadius(large),
	}
	if d.Chained() {
		d.Efficiency = chainEfficiency
	}
	d.chooseBelt(belts, len(p.Belts) > 0 && mount != nil)
	d.stand()
	d.total(p.Counts)
	return d
}

// Chained reports whether the drive has a chain in place of a belt: a sprocket turns it.
func (d *Drive) Chained() bool { return d.MotorPulley != nil && d.MotorPulley.Profile.Chained() }

// namedBelt prepares a belt drive with the belt that somebody named, whether
// it fits or not.
func (p *Problem) namedBelt(small, large *catalog.Pulley, mount *catalog.Mount, belt *catalog.Belt) *Drive {
	d := p.beltDrive(small, large, mount, nil)
	around := centres(small, large, []*catalog.Belt{belt})
	if mount != nil {
		d.chooseBelt(around, true)
	}
	if d.Belt == nil && len(around) > 0 {
		d.wear(around[0])
	}
	d.Belt = belt // of another profile, or too short to go around, too
	d.stand()
	d.total(p.Counts)
	return d
}

// stand sets how high the motor's shaft stands: without a belt at the mount's
// least centre distance.
func (d *Drive) stand() {
	if d.Mount == nil {
		d.shaftStands(d.Centre, math.NaN())
		return
	}
	d.shaftStands(orElse(d.Centre, d.Mount.CentreMin), d.Mount.Angle)
}

// total sums up the parts of a belt drive, by index of the motor count.
func (d *Drive) total(counts []int) {
	sums := make([]Sum, 2*len(counts))
	d.Price, d.Mass = sums[0:0:len(counts)], sums[len(counts):len(counts)]
	for i, n := range counts {
		d.Price = append(d.Price, cost(&d.MotorPulley.Part, n).plus(cost(&d.WheelPulley.Part, n)))
		d.Mass = append(d.Mass, weight(&d.MotorPulley.Part, n).plus(weight(&d.WheelPulley.Part, n)))
		if d.Belt != nil {
			d.Price[i] = d.Price[i].plus(cost(&d.Belt.Part, n))
			d.Mass[i] = d.Mass[i].plus(weight(&d.Belt.Part, n))
		}
		if d.Mount != nil {
			d.Price[i] = d.Price[i].plus(cost(&d.Mount.Part, n))
			d.Mass[i] = d.Mass[i].plus(weight(&d.Mount.Part, n))
		}
	}
}

// fitted is a belt on a pair of pulleys.
type fitted struct {
	belt   *catalog.Belt
	centre float64 // m
}

// centres puts each belt of the pulleys' common profile around them. Belts
// too short to go around are left out; so is every belt when the profiles
// differ. The nearest centres come first.
func centres(a, b *catalog.Pulley, belts []*catalog.Belt) []fitted {
	var out []fitted
	for _, belt := range belts {
		if c, ok := BeltCentre(a, b, belt); ok {
			out = append(out, fitted{belt, c})
		}
	}
	slices.SortStableFunc(out, func(a, b fitted) int { return cmp.Compare(a.centre, b.centre) })
	return out
}

// beltLook is all of a belt that the choice goes by, but its id.
type beltLook struct {
	profile  string
	teeth    int
	width    float64 // m; -1: not known
	breaking float64 // N; -1: of a belt
}

func lookOf(b *catalog.Belt) beltLook {
	return beltLook{b.Profile.ID, b.Teeth, orElse(b.Width, -1), orElse(b.BreakingLoad(), -1)}
}

// contenders are the belts that may be chosen, the shortest first; of belts that
// differ only in id and price, one whose price is known, then the one with the lowest id.
func contenders(belts []*catalog.Belt) []*catalog.Belt {
	lowest := map[beltLook]*catalog.Belt{}
	for _, b := range belts {
		if other := lowest[lookOf(b)]; other == nil || goesBefore(b, other) {
			lowest[lookOf(b)] = b
		}
	}
	return slices.SortedFunc(maps.Values(lowest), func(a, b *catalog.Belt) int {
		return cmp.Or(cmp.Compare(a.Teeth, b.Teeth), cmp.Compare(a.ID, b.ID))
	})
}

// goesBefore reports whether a is taken before b, which is like it.
func goesBefore(a, b *catalog.Belt) bool {
	if x, y := math.IsNaN(a.Cost(1)), math.IsNaN(b.Cost(1)); x != y {
		return y
	}
	return a.ID < b.ID
}

// What the check of the belt goes by, of a pair of pulleys, a belt and a mount.

// BeltCentre is the centre distance in m at which a belt is taut round two pulleys.
// ok is false where the three profiles differ, and where the belt is too short to go
// around, or so short that the pulleys would touch.
func BeltCentre(a, b *catalog.Pulley, belt *catalog.Belt) (centre float64, ok bool) {
	if a.Profile.ID != b.Profile.ID || belt.Profile.ID != a.Profile.ID {
		return 0, false
	}
	centre, ok = belt.Profile.CentreDistance(belt.Teeth, a.Teeth, b.Teeth)
	return centre, ok && drive.AtLeast(centre, (tips(a)+tips(b))/2)
}

// tips is the outside diameter of a pulley, m, its pitch diameter where the
// profile does not tell.
func tips(p *catalog.Pulley) float64 {
	return orElse(p.Profile.OutsideDiameter(p.Teeth), p.Profile.PitchDiameter(p.Teeth))
}

// Face is the width in m of the widest belt that runs on both pulleys; NaN
// where neither says.
func Face(a, b *catalog.Pulley) float64 { return lower(a.Width, b.Width) }

// RunsOn reports whether a belt of a width runs on a face, both in m. What is
// not known may.
func RunsOn(width, face float64) bool { return !(width > face) || drive.AtMost(width, face) }

// HoldsAt reports whether a mount holds motor and wheel at a centre distance in
// m.
func HoldsAt(m *catalog.Mount, centre float64) bool {
	return drive.AtLeast(centre, m.CentreMin) && drive.AtMost(centre, m.CentreMax)
}

// BeltedRadius is the outside radius in m of a wheel pulley with its belt, or of a
// sprocket with its chain, whose plates stand on the pitch circle; NaN where the
// profile does not tell.
func BeltedRadius(p *catalog.Pulley) float64 {
	if c := p.Profile.Chain; c != nil {
		return (p.Profile.PitchDiameter(p.Teeth) + c.Plate) / 2
	}
	return float64(p.Profile.OutsideDiameter(p.Teeth)/2) + beltBack
}

// chooseBelt picks one of the belts that centres gives, and sets what follows from
// it. decidable is false where there are no belts, or no mount.
func (d *Drive) chooseBelt(belts []fitted, decidable bool) {
	d.belt = Undecided
	if !decidable {
		return
	}
	d.belt = Fail
	face := Face(d.MotorPulley, d.WheelPulley)
	middle := (d.Mount.CentreMin + d.Mount.CentreMax) / 2
	var best *fitted
	first := sort.Search(len(belts), func(i int) bool { return drive.AtLeast(belts[i].centre, d.Mount.CentreMin) })
	for i := first; i < len(belts) && HoldsAt(d.Mount, belts[i].centre); i++ {
		f := &belts[i]
		if !RunsOn(f.belt.Width, face) || !f.belt.Closes() {
			continue
		}
		if best == nil || betterBelt(f, best, middle) {
			best = f
		}
	}
	if best == nil {
		return
	}
	d.belt = Pass
	d.wear(*best)
}

// betterBelt reports whether a is chosen before b: the wider (unknown last), of chains
// the one that bears more, then the nearer to the middle of the mount's range, then the lower id.
func betterBelt(a, b *fitted, middle float64) bool {
	wa, wb := orElse(a.belt.Width, 0), orElse(b.belt.Width, 0)
	if a.belt.Profile.Chained() {
		wa, wb = a.belt.BreakingLoad(), b.belt.BreakingLoad()
	}
	if !equal(wa, wb) {
		return wa > wb
	}
	da, db := math.Abs(a.centre-middle), math.Abs(b.centre-middle)
	// Ties are judged on the scale of the centre distance: two belts at equal
	// distances on either side differ only by rounding.
	if math.Abs(da-db) > drive.Tolerance*math.Max(a.centre, b.centre) {
		return da < db
	}
	return a.belt.ID < b.belt.ID
}

// equal reports whether a and b are equal within the tolerance.
func equal(a, b float64) bool { return drive.AtMost(a, b) && drive.AtLeast(a, b) }

// wear puts the belt on the pulleys.
func (d *Drive) wear(f fitted) {
	d.Belt, d.Centre = f.belt, f.centre
	a, b := d.MotorPulley, d.WheelPulley
	da, db := a.Profile.PitchDiameter(a.Teeth), b.Profile.PitchDiameter(b.Teeth)
	teeth := min(a.Teeth, b.Teeth)
	d.Mesh = drive.WholeTeethInMesh(teeth, drive.WrapAngle(f.centre, da, db))
}

// idler reports whether an idler adds wrap that Mesh does not count.
func (d *Drive) idler() bool { return d.Mount != nil && d.Mount.Idler }
